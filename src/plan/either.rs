//! To give a part its life once more, or to renew it: one of the two, never both within one life.
//!
//! What a turn puts back is what its remedies renew, and the measure whose wear by itself shows a condition that they fix
//! (pitch).

use crate::invariant::Hold;
use crate::model::formula::Formula;
use crate::model::{Hidden, MeasureId, Model, RemedyId};
use crate::place::{Place, within};
use crate::plan::jobs::due;
use crate::plan::prices::Terms;
use crate::plan::record::{Call, Job, TurnDecision, Verdict};
use fixedbitset::FixedBitSet;

/// Settles every pair of jobs of which one gives a part its life once more and the other renews it.
///
/// What is called for by nothing but wear that the first puts back is put off by it: a turn puts the clock of the pitch
/// back. Where anything else calls for the new part, the first is needless, unless what must last for it was read and may
/// last; then the new part waits for what the first does not put back.
pub fn settle(model: &Model, mut jobs: Vec<Job>, turns: &[TurnDecision], terms: &Terms) -> Vec<Job> {
    let mut gone = FixedBitSet::with_capacity(jobs.len());
    for new in 0..jobs.len() {
        let again: Vec<usize> =
            (0..jobs.len()).filter(|other| *other != new && !gone.contains(*other)).collect();
        let again: Vec<usize> = again.into_iter().filter(|it| is_other_way(model, &jobs, *it, new)).collect();
        let Some(job) = jobs.get(new).filter(|_| !gone.contains(new) && !again.is_empty()).cloned() else {
            continue;
        };
        let back: Vec<(MeasureId, f64)> =
            again.iter().map(|it| of(&jobs, *it)).flat_map(|it| put_back(model, it.remedy)).collect();
        let rest: Vec<Call> = job.calls.iter().filter(|call| !is_put_back(call, &back)).cloned().collect();
        let pays = |it: &Job| {
            turns.iter().any(|turn| turn.named.place == it.named.place && may_pay(turn))
                && rest.iter().all(|call| must_last(model, it.remedy, call))
        };
        if rest.is_empty() {
            again.iter().for_each(|it| jobs.get_mut(*it).hold(NUMBERED).puts_off(&job));
            gone.insert(new);
        } else if again.iter().map(|it| of(&jobs, *it)).all(pays) {
            let job = jobs.get_mut(new).hold(NUMBERED);
            (job.due, job.when) = due(&rest, &model[job.remedy], terms);
            job.calls = rest;
        } else {
            let needless: Vec<Job> = again.iter().map(|it| of(&jobs, *it)).cloned().collect();
            let job = jobs.get_mut(new).hold(NUMBERED);
            needless.iter().for_each(|it| job.instead(it));
            gone.extend(again);
        }
    }
    let kept = jobs.into_iter().enumerate().filter(|(number, _)| !gone.contains(*number));
    kept.map(|(_, job)| job).collect()
}

/// Marks what renews a part while a reading has still to decide whether it can be given its life once more instead; after
/// [`needless`], for what is done in any case waits for nothing
pub fn mark_undecided<'p>(model: &Model, jobs: impl Iterator<Item = &'p mut Job>, turns: &[TurnDecision]) {
    for job in jobs {
        job.undecided = turns.iter().any(|turn| waits_for(model, job, turn));
    }
}

/// Whether a reading decides if a part is given its life once more, instead of a job that renews it
fn waits_for(model: &Model, job: &Job, turn: &TurnDecision) -> bool {
    turn.waits_for_a_reading()
        && model[job.remedy].lasts.is_empty()
        && within(&turn.named.place, &job.named.place)
        && model[job.remedy].renews.iter().any(|it| model[turn.remedy].makes_new(it.measure))
}

/// Whether what was read speaks for a turn, or leaves it to a fact that is not given
fn may_pay(turn: &TurnDecision) -> bool {
    turn.pays() || (turn.left.is_some() && !turn.unknown.is_empty())
}

/// Why a job has its number
const NUMBERED: &str = "jobs that are settled stay in their list";

fn of(jobs: &[Job], number: usize) -> &Job {
    jobs.get(number).hold(NUMBERED)
}

/// Whether a job gives its life once more to what another renews
fn is_other_way(model: &Model, jobs: &[Job], again: usize, new: usize) -> bool {
    let (Some(again), Some(new)) = (jobs.get(again), jobs.get(new)) else { return false };
    let mut spared = spares(model, new.remedy);
    let is_spared = spared.contains(&again.remedy);
    spared.push(new.remedy);
    !model[again.remedy].lasts.is_empty()
        && model[new.remedy].lasts.is_empty()
        && spared.iter().any(|id| model[*id].lasts.is_empty() && !model[*id].renews.is_empty())
        && within(&again.named.place, &new.named.place)
        && is_spared
}

/// Whether a call is wear that is put back, and not past the figure up to which it can be
fn is_put_back(call: &Call, back: &[(MeasureId, f64)]) -> bool {
    let Call::Worn { measure, percent, .. } = call else { return false };
    back.iter().any(|(own, to)| own == measure && percent <= to)
}

/// Whether a call is wear of what must last for a remedy to pay
fn must_last(model: &Model, remedy: RemedyId, call: &Call) -> bool {
    matches!(call, Call::Worn { measure, .. } if model[remedy].lasts.iter().any(|row| row.measure == *measure))
}

/// The measures that a remedy puts back, or one that it makes needless, each with the per cent past which it does not:
/// those it renews, and those whose wear by itself shows a condition that it fixes
fn put_back(model: &Model, remedy: RemedyId) -> Vec<(MeasureId, f64)> {
    let mut all = spares(model, remedy);
    all.push(remedy);
    all.retain(|id| !model[*id].lasts.is_empty());
    let to = all.iter().flat_map(|id| &model[*id].renews).filter_map(|it| it.to).fold(100.0, f64::max);
    let renewed = all.iter().flat_map(|id| &model[*id].renews).map(|it| it.measure);
    let fixed: Vec<Hidden> = all.iter().flat_map(|id| &model[*id].fixes).copied().collect();
    let shown = model.symptoms.iter().filter_map(|symptom| {
        let Some((Formula::Worn(measure), _)) = &symptom.reading else { return None };
        let mut parents = symptom.effect.lines.iter().flat_map(|line| &line.parents);
        parents.any(|parent| fixed.contains(&parent.of)).then_some(*measure)
    });
    renewed.chain(shown).map(|measure| (measure, to)).collect()
}

/// The turn, where it may still pay, that puts back how worn a measure of its part is at a place
pub fn put_back_by<'t>(
    model: &Model,
    turns: &'t [TurnDecision],
    measure: MeasureId,
    place: &Place,
) -> Option<&'t TurnDecision> {
    let part = |id: MeasureId| model[id].common.part;
    let is_of_part =
        |turn: &TurnDecision| model[turn.remedy].renews.iter().any(|it| part(it.measure) == part(measure));
    turns
        .iter()
        .filter(|turn| turn.turns && turn.may_be_done() && turn.named.place == *place)
        .find(|turn| is_of_part(turn) && put_back(model, turn.remedy).iter().any(|(own, _)| *own == measure))
}

/// Marks as needless every turn that cannot be said yet where work that makes it needless is planned instead
pub fn needless<'p>(model: &Model, turns: &mut [TurnDecision], planned: impl Iterator<Item = &'p Job>) {
    let planned: Vec<(RemedyId, &Place, Vec<RemedyId>)> =
        planned.map(|job| (job.remedy, &job.named.place, spares(model, job.remedy))).collect();
    for turn in turns.iter_mut().filter(|turn| turn.verdict == Verdict::Open) {
        let again = |remedy: &RemedyId| !model[*remedy].lasts.is_empty();
        let turned = planned.iter().any(|(remedy, place, _)| again(remedy) && turn.named.place == **place);
        let by = planned.iter().find(|(remedy, place, spared)| {
            within(&turn.named.place, place) && spared.contains(&turn.remedy) && !again(remedy)
        });
        if let Some((remedy, ..)) = by.filter(|_| !turned) {
            turn.verdict = Verdict::Needless;
            turn.instead = Some(model.subject(*remedy, &turn.named.place));
        }
    }
}

/// What a remedy makes needless, and what that makes needless, and so on; never itself
pub fn spares(model: &Model, remedy: RemedyId) -> Vec<RemedyId> {
    let mut all: Vec<RemedyId> = Vec::new();
    let mut open = vec![remedy];
    while let Some(next) = open.pop() {
        for &spared in &model[next].spares {
            if spared != remedy && !all.contains(&spared) {
                all.push(spared);
                open.push(spared);
            }
        }
    }
    all
}
