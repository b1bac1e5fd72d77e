//! The ways there are with a part that can be given its life once more, side by side: run it out, give it its life again, or
//! renew what must last.

use crate::ground::Ground;
use crate::machine::Answer;
use crate::model::{MeasureId, Model, Remedy, RemedyId};
use crate::place::Place;
use crate::plan::pace::{self, State};
use crate::plan::prices::Terms;
use crate::plan::record::{TurnDecision, Verdict, Way};
use crate::wear::trend::LIMIT;
use crate::wear::{HoursLeft, Worn};

/// The ways at the place of some decisions on it; none where too little was read to tell how long they last
pub fn ways(
    model: &Model,
    ground: &Ground,
    worn: &[Worn],
    terms: &Terms,
    here: &[&TurnDecision],
) -> Vec<Way> {
    let Some(place) = here.first().map(|turn| &turn.named.place) else { return Vec::new() };
    let state = |measure: MeasureId| pace::state(model, ground, worn, measure, place);
    let label = |id: RemedyId| Some(model[id].common.label.clone());
    let mut ways = Vec::new();
    let faces = here.iter().flat_map(|turn| &model[turn.remedy].renews).filter_map(|it| state(it.measure));
    let most = faces.max_by(|a, b| a.percent.total_cmp(&b.percent));
    let first_life = most.as_ref().map_or(f64::INFINITY, |face| face.life_to(LIMIT)); // else: nothing was read of it
    ways.extend(most.and_then(|face| way(None, 0.0, Span::of(face.left?))));
    for turn in here.iter().filter(|turn| turn.verdict != Verdict::TooLate) {
        ways.extend(again(model, turn, &state).and_then(|span| way(label(turn.remedy), turn.cost, span)));
    }
    for id in (0..model.remedies.len()).map(RemedyId).filter(|id| is_new(model, ground, place, *id, here)) {
        let renewed = model[id].renews.iter().filter_map(|it| state(it.measure)).map(|it| it.life_to(LIMIT));
        let life = renewed.fold(f64::INFINITY, f64::min);
        if life.is_finite() {
            let turn = turning(model, here, terms).filter(|_| first_life < life);
            let cost = terms.cost(id, &model[id]).0 + turn.unwrap_or(0.0); // else: nothing is turned on the way
            let new = way(label(id), cost, Span { hours: life, lower: life, upper: Some(life) });
            ways.extend(new.map(|way| Way { from_new: true, turned: turn.is_some(), ..way }));
        }
    }
    ways
}

/// What it costs to turn what the decisions of a place are about, were it new
fn turning(model: &Model, here: &[&TurnDecision], terms: &Terms) -> Option<f64> {
    let faces: Vec<MeasureId> =
        here.iter().flat_map(|turn| &model[turn.remedy].renews).map(|it| it.measure).collect();
    let same = |remedy: &Remedy| {
        remedy.turns() && !remedy.lasts.is_empty() && faces.iter().any(|face| remedy.makes_new(*face))
    };
    let id = (0..model.remedies.len()).map(RemedyId).find(|id| same(&model[*id]))?;
    Some(terms.cost(id, &model[id]).0)
}

/// Hours, with those that nine of ten such parts lie between; without an upper one where no end can be told
struct Span {
    hours: f64,
    lower: f64,
    upper: Option<f64>,
}

impl Span {
    fn of(HoursLeft { hours, lower, upper, .. }: HoursLeft) -> Self {
        Span { hours, lower, upper }
    }

    fn at_most(self, most: f64) -> Self {
        let upper = self.upper.map_or(most, |upper| upper.min(most)); // else: it lasts longer than that
        Span { hours: self.hours.min(most), lower: self.lower.min(most), upper: Some(upper) }
    }
}

fn way(label: Option<String>, cost: f64, Span { hours, lower, upper }: Span) -> Option<Way> {
    (hours > 0.0).then_some(Way { label, cost, from_new: false, turned: false, hours, lower, upper })
}

/// Hours from now until what a remedy gives its life again, or what must last for it, is worn out
fn again(model: &Model, turn: &TurnDecision, state: &dyn Fn(MeasureId) -> Option<State>) -> Option<Span> {
    let lasts = model[turn.remedy].lasts.first()?.measure;
    Some(Span::of(state(lasts)?.left?).at_most(turn.due? + turn.won?))
}

/// Whether a remedy renews what must last, instead of one that gives life again at a place
fn is_new(model: &Model, ground: &Ground, place: &Place, id: RemedyId, here: &[&TurnDecision]) -> bool {
    let remedy: &Remedy = &model[id];
    let lasting =
        here.iter().flat_map(|turn| &model[turn.remedy].lasts).any(|row| remedy.makes_new(row.measure));
    lasting
        && remedy.lasts.is_empty()
        && ground.machine.places(model, remedy.common.extent).contains(place)
        && ground.offers(model, remedy, place) != Answer::No
}
