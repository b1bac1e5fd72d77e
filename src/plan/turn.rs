//! Whether a part that can be given its life once more is worth it: what must last, against what is won.

use crate::ground::Ground;
use crate::machine::{Answer, Supposed};
use crate::model::{FactId, Lasts, MeasureId, Model, Remedy, RemedyId, Renewed};
use crate::place::{Place, Side};
use crate::plan::pace::{self, State};
use crate::plan::prices::Terms;
use crate::plan::record::{Share, TurnDecision, Unread, Verdict};
use crate::plan::ways::ways;
use crate::wear::trend::LIMIT;
use crate::wear::{Worn, normal};
use std::collections::BTreeSet;

/// The decision for every remedy that gives a part its life once more, at each place where it may be done; to renew it on parts
/// that must last is a way of its own only where it can no longer be turned.
///
/// When the most worn face comes to its figure, what must last has so many hours left. The turn wins a share of the hours
/// that the first side runs from new to 100 %. It pays where what is left is at least the share of what is won that the
/// rules ask for (common practice: rail left against the hours of the second side).
pub fn turns(model: &Model, ground: &Ground, worn: &[Worn], terms: &Terms) -> Vec<TurnDecision> {
    let mut all = Vec::new();
    for id in (0..model.remedies.len()).map(RemedyId) {
        let remedy = &model[id];
        if remedy.lasts.is_empty() || remedy.renews.is_empty() {
            continue;
        }
        for place in ground.machine.places(model, remedy.common.extent) {
            match ground.offers(model, remedy, &place) {
                Answer::No => {}
                Answer::Yes => all.push(decided(model, ground, worn, terms, (id, &place))),
                Answer::Hangs(facts) => {
                    all.push(TurnDecision {
                        verdict: Verdict::Open,
                        unknown: labels(model, &facts),
                        ..decided(model, ground, worn, terms, (id, &place))
                    });
                }
            }
        }
    }
    let turned: Vec<Place> =
        all.iter().filter(|it| it.turns && it.may_be_done()).map(|it| it.named.place.clone()).collect();
    all.retain(|it| it.turns || !turned.contains(&it.named.place));
    let places: BTreeSet<Place> = all.iter().map(|turn| turn.named.place.clone()).collect();
    for place in places {
        let here: Vec<&TurnDecision> = all.iter().filter(|turn| turn.named.place == place).collect();
        let ways = ways(model, ground, worn, terms, &here);
        let first = all.iter_mut().find(|turn| turn.named.place == place);
        first.into_iter().for_each(|turn| turn.ways.clone_from(&ways));
    }
    all
}

fn decided(
    model: &Model,
    ground: &Ground,
    worn: &[Worn],
    terms: &Terms,
    (id, place): (RemedyId, &Place),
) -> TurnDecision {
    let remedy = &model[id];
    let state = |measure: MeasureId| pace::state(model, ground, worn, measure, place);
    let (rows, unknown) = rows(model, ground, remedy, place);
    let can_be_read = |measure: &MeasureId| {
        ground.machine.holds(model, &model[*measure].common.gate, place, &Supposed::new()) != Answer::No
    };
    let unread =
        remedy.renews.iter().map(|it| it.measure).filter(|it| state(*it).is_none() && can_be_read(it));
    let mut turn = TurnDecision {
        remedy: id,
        named: model.subject(id, place),
        turns: remedy.turns(),
        verdict: Verdict::Open,
        instead: None,
        face: None,
        due: None,
        lasts: None,
        left: None,
        won: None,
        share: rows.iter().map(|row| row.share).reduce(f64::max),
        chance: None,
        deciding: None,
        cost: terms.cost(id, remedy).0,
        per_hour: None,
        unread: unread.map(|id| Unread::of(model, id)).collect(),
        unknown: Vec::new(),
        ways: Vec::new(),
    };
    let faces = remedy.renews.iter().filter_map(|it| Some((it, state(it.measure)?)));
    let most = faces.max_by(|(_, a), (_, b)| a.percent.total_cmp(&b.percent));
    if let Some((renewed, face)) = &most {
        turn.face = Some(Share { term: model.term(renewed.measure), percent: face.percent });
        turn.due = face.hours_to(renewed.from);
        turn.won = rows.first().map(|row| row.again * face.life_to(LIMIT)).filter(|won| won.is_finite());
        if renewed.to.is_some_and(|to| face.percent > to) {
            turn.verdict = Verdict::TooLate;
            return turn;
        }
    }
    let Some(measure) = rows.first().map(|row| row.measure) else { return turn };
    match state(measure) {
        Some(lasts) => {
            turn.lasts = Some(Share { term: model.term(measure), percent: lasts.percent });
            turn.left = lasts.hours_to(LIMIT).zip(turn.due).map(|(left, due)| (left - due).max(0.0));
        }
        None => turn.unread.push(Unread::of(model, measure)),
    }
    if let (Some(face), Some(lasts)) = (most.map(|(renewed, face)| Face { renewed, face }), state(measure)) {
        judge(model, &mut turn, &rows, &face, (measure, &lasts));
        if turn.verdict == Verdict::Open {
            turn.unknown = labels(model, &unknown);
        }
    }
    turn
}

/// The most worn of what a turn renews
struct Face<'m> {
    renewed: &'m Renewed,
    face: State,
}

/// Probability from which a turn pays, and under which it does not, whatever the errors of what was read
const SURE: f64 = 0.8;

/// Decides by how likely what must last outlasts the share of what is won.
///
/// What is left over, in hours, carries the errors of both readings; that of a pace from new is the reading's own error
/// once more.
fn judge(
    model: &Model,
    turn: &mut TurnDecision,
    rows: &[&Lasts],
    own: &Face<'_>,
    (measure, lasts): (MeasureId, &State),
) {
    let shares = rows.iter().map(|row| row.share);
    let (Some(most), Some(least)) = (shares.clone().reduce(f64::max), shares.reduce(f64::min)) else {
        return;
    };
    let Some(pays) = pays(rows, own, lasts, most) else { return };
    let least = self::pays(rows, own, lasts, least).map_or(pays.chance, |it| it.chance);
    turn.chance = Some(pays.chance);
    let reachable = turn.left.map_or(0.0, |left| left.min(turn.won.unwrap_or(left))); // else: all that is left
    turn.per_hour = (reachable > 0.0).then(|| turn.cost / reachable);
    turn.verdict = match pays.chance {
        chance if chance >= SURE => Verdict::Turn,
        _ if least <= 1.0 - SURE => Verdict::RunOut,
        _ if (least - pays.chance).abs() > f64::EPSILON => Verdict::Open,
        _ => {
            let decides = if pays.by_face { own.renewed.measure } else { measure };
            turn.deciding = Some(Unread::of(model, decides));
            Verdict::Either
        }
    };
}

/// How likely a turn pays for a share of what it wins
struct Pays {
    chance: f64,
    /// The face leaves more open than what must last
    by_face: bool,
}

fn pays(rows: &[&Lasts], own: &Face<'_>, lasts: &State, share: f64) -> Option<Pays> {
    let Face { renewed, face } = own;
    let again = rows.first()?.again;
    let (pace, rail_pace) = (face.per_hour?, lasts.per_hour?);
    let due = face.hours_to(renewed.from)?;
    // Past its limit it has less than no hours left, so that its error does not make it last.
    let over = (LIMIT - lasts.percent) / rail_pace - due - share * again * face.life_to(LIMIT);
    let of_rail = if lasts.own_pace { LIMIT / (lasts.percent.max(1.0) * rail_pace) } else { 1.0 / rail_pace };
    let ahead = if face.percent < renewed.from { renewed.from } else { 0.0 };
    let of_face = if face.own_pace {
        (ahead + share * again * LIMIT) / (face.percent.max(1.0) * pace)
    } else {
        f64::from(u8::from(ahead > 0.0)) / pace
    };
    let (rail_error, face_error) = (of_rail * lasts.sigma, of_face * face.sigma);
    let chance = normal::at_least_nothing(over, libm::hypot(rail_error, face_error));
    Some(Pays { chance, by_face: face_error > rail_error })
}

fn labels(model: &Model, facts: &[(FactId, Option<Side>)]) -> Vec<String> {
    facts.iter().map(|(fact, _)| model[*fact].common.label.clone()).collect()
}

/// The lines that can hold at a place, with the facts not given on which it hangs which of them is first
fn rows<'m>(
    model: &'m Model,
    ground: &Ground,
    remedy: &'m Remedy,
    place: &Place,
) -> (Vec<&'m Lasts>, Vec<(FactId, Option<Side>)>) {
    let (mut rows, mut unknown) = (Vec::new(), Vec::new());
    for row in &remedy.lasts {
        match ground.machine.holds(model, &row.test, place, &Supposed::new()) {
            Answer::No => {}
            Answer::Yes => {
                rows.push(row);
                break;
            }
            Answer::Hangs(facts) => {
                rows.push(row);
                unknown.extend(facts);
            }
        }
    }
    (rows, unknown)
}
