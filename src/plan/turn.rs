//! Whether a part that can be given its life once more is worth it: what must last, against what is won.

use crate::ground::Ground;
use crate::machine::{Answer, Supposed};
use crate::model::{FactId, MeasureId, Model, Remedy, RemedyId};
use crate::place::{Place, Side};
use crate::plan::pace;
use crate::plan::record::{Share, Turn, Unread, Verdict};
use crate::wear::Worn;

/// The decision for every remedy that gives a part its life once more, at each place where it may be done.
///
/// When the most worn face comes to its figure, what must last has so many hours left. The turn wins a share of the hours
/// that the first side runs from new to 100 %. It pays where what is left is at least the share of what is won that the
/// rules ask for (common practice: rail left against the hours of the second side).
pub fn turns(model: &Model, ground: &Ground, worn: &[Worn]) -> Vec<Turn> {
    let mut all = Vec::new();
    for id in (0..model.remedies.len()).map(RemedyId) {
        let remedy = &model[id];
        if remedy.lasts.is_empty() || remedy.renews.is_empty() {
            continue;
        }
        for place in ground.machine.places(model, remedy.common.extent) {
            match ground.offers(model, remedy, &place) {
                Answer::No => {}
                Answer::Yes => all.push(decided(model, ground, worn, id, &place)),
                Answer::Hangs(untold) => {
                    all.push(Turn {
                        verdict: Verdict::Open,
                        untold: labels(model, &untold),
                        ..decided(model, ground, worn, id, &place)
                    });
                }
            }
        }
    }
    all
}

fn decided(model: &Model, ground: &Ground, worn: &[Worn], id: RemedyId, place: &Place) -> Turn {
    let remedy = &model[id];
    let state = |measure: MeasureId| pace::state(model, ground, worn, measure, place);
    let (rows, untold) = rows(model, ground, remedy, place);
    let unread = remedy.renews.iter().map(|it| it.measure).filter(|it| state(*it).is_none());
    let mut turn = Turn {
        remedy: id,
        named: model.subject(id, place),
        verdict: Verdict::Open,
        instead: None,
        face: None,
        due: None,
        lasts: None,
        left: None,
        won: None,
        share: rows.iter().map(|row| row.share).reduce(f64::max),
        unread: unread.map(|id| Unread::of(model, id)).collect(),
        untold: Vec::new(),
    };
    let faces = remedy.renews.iter().filter_map(|it| Some((it, state(it.measure)?)));
    let most = faces.max_by(|(_, a), (_, b)| a.percent.total_cmp(&b.percent));
    if let Some((renewed, face)) = most {
        turn.face = Some(Share { term: model.term(renewed.measure), percent: face.percent });
        turn.due = face.hours_to(renewed.from);
        turn.won = rows.first().map(|row| row.again * face.life_to(100.0)).filter(|won| won.is_finite());
        if renewed.to.is_some_and(|to| face.percent > to) {
            turn.verdict = Verdict::TooLate;
            return turn;
        }
    }
    let Some(measure) = rows.first().map(|row| row.measure) else { return turn };
    match state(measure) {
        Some(lasts) => {
            turn.lasts = Some(Share { term: model.term(measure), percent: lasts.percent });
            turn.left = lasts.hours_to(100.0).zip(turn.due).map(|(left, due)| (left - due).max(0.0));
        }
        None => turn.unread.push(Unread::of(model, measure)),
    }
    if let (Some(left), Some(won)) = (turn.left, turn.won) {
        let pays = |share: f64| left >= share * won;
        let least = rows.iter().map(|row| row.share).fold(f64::INFINITY, f64::min);
        turn.verdict = match turn.share {
            Some(most) if pays(most) => Verdict::Turn,
            _ if !pays(least) => Verdict::RunOut,
            _ => Verdict::Open,
        };
        if turn.verdict == Verdict::Open {
            turn.untold = labels(model, &untold);
        }
    }
    turn
}

fn labels(model: &Model, facts: &[(FactId, Option<Side>)]) -> Vec<String> {
    facts.iter().map(|(fact, _)| model[*fact].common.label.clone()).collect()
}

/// The lines that can hold at a place, with the facts nobody told on which it hangs which of them is first
fn rows<'m>(
    model: &'m Model,
    ground: &Ground,
    remedy: &'m Remedy,
    place: &Place,
) -> (Vec<&'m crate::model::Lasts>, Vec<(FactId, Option<Side>)>) {
    let (mut rows, mut untold) = (Vec::new(), Vec::new());
    for row in &remedy.lasts {
        match ground.machine.holds(model, &row.test, place, &Supposed::new()) {
            Answer::No => {}
            Answer::Yes => {
                rows.push(row);
                break;
            }
            Answer::Hangs(facts) => {
                rows.push(row);
                untold.extend(facts);
            }
        }
    }
    (rows, untold)
}
