//! Which remedies are called for, where, by when, and what each costs and saves.
//!
//! A remedy is called for by what it fixes (causes and conditions, by their probability) or by what it renews (worn parts, by
//! their per cent).
//!
//! A cause or condition counts only where something that was seen speaks for it: its odds must be at least a deciban over
//! those it had before. Else every machine would get all the cheap remedies of the rules. A remedy that fixes several causes
//! counts the likeliest of them, which is a lower bound on the chance that one of them is there. What is rather not there than
//! there is to be looked at, and stands in no visit; only where a rule names a lower floor may the machine not be worked for
//! less. A condition that is there because of something else, which another remedy at its place mends, calls for nothing. A
//! sign that a remedy mends by itself calls for it whatever brought it about.
//!
//! A worn part is due the hours of `within` after it comes to the remedy's figure, or that many hours from now where it is past
//! that already; but never later than when it is used up, or comes to the second figure of the remedy. Once past that it is
//! overdue, which does not forbid work. What is renewed before its limit is so before it may be used up by the errors of what was
//! read (one chance in twenty), but not before its figure.

use crate::ground::mended::{self, CALLED_FROM};
use crate::ground::{Ground, Observation};
use crate::machine::{Answer, Supposed};
use crate::model::subject::Subject;
use crate::model::{Extent, Hidden, MeasureId, Model, Remedy, RemedyId, SymptomId};
use crate::place::{Place, within};
use crate::plan::order::brings_about;
use crate::plan::pace;
use crate::plan::prices::{NEXT_STOP, Terms};
use crate::plan::record::{
    Call, Job, MayTake, Shared, Suspected, TurnDecision, Unread, Verdict, Watched, When,
};
use crate::plan::standstill;
use crate::reason::{Ranked, Ranks, is_spoken_for};
use crate::wear::Worn;
use crate::wear::trend::LIMIT;

/// Probability over which something is rather there than not: under it there is a look, and no work
const WORK_OVER: f64 = 0.5;
/// Probability from which something is watched that is not worth mending yet
const WATCH_FROM: f64 = 0.1;

impl Job {
    /// What an hour of life thrown away costs
    pub fn per_hour(&self) -> f64 {
        self.life.filter(|life| *life > 0.0).map_or(0.0, |life| self.cost / life)
    }

    /// Does what another job was called for as well, by the time that was due
    pub fn takes_over(&mut self, other: &Job) {
        self.has_calls_of(other);
        self.instead_of.push(other.named.clone());
        self.is_due_by(other.due, other.when);
    }

    /// Is done instead of one that would give its life once more to what it renews: that is run out until then, but not
    /// past where it is used up
    pub fn instead(&mut self, other: &Job) {
        let ends = other.calls.iter().filter_map(|call| match call {
            Call::Worn { ends, .. } => Some(*ends),
            Call::Hidden(_) | Call::Seen { .. } => None,
        });
        let ends = ends.fold(f64::INFINITY, f64::min).max(other.due);
        self.has_calls_of(other);
        self.instead_of.push(other.named.clone());
        self.is_due_by(ends, if ends <= 0.0 { When::Overdue } else { When::ByHours });
    }

    /// Puts off one whose wear it puts back, and is due by the time that was due
    pub fn puts_off(&mut self, other: &Job) {
        self.has_calls_of(other);
        self.chance = 1.0;
        self.expected_saving = saving(self.loss, self.chance, self.cost);
        self.put_off.push(other.named.clone());
        self.is_due_by(other.due, other.when);
    }

    fn has_calls_of(&mut self, other: &Job) {
        let here = |call: &Call| match call.clone() {
            Call::Worn { named, measure, percent, from, reached, ends, may_end, places, worst } => {
                let named = Subject { place: self.named.place.clone(), ..named };
                Call::Worn { named, measure, percent, from, reached, ends, may_end, places, worst }
            }
            hidden => hidden,
        };
        let all = other.calls.iter().map(here);
        let new: Vec<Call> = all.filter(|call| !self.calls.contains(call)).collect();
        self.calls.extend(new);
    }

    fn is_due_by(&mut self, due: f64, when: When) {
        if due < self.due || when == When::Now {
            (self.due, self.when) =
                (due.min(self.due), if when == When::NextStop { self.when } else { when });
        }
    }
}

/// What jobs are made from
pub struct Planner<'a> {
    /// The rules
    pub model: &'a Model,
    /// The case bound to them
    pub ground: &'a Ground,
    /// How likely causes and conditions are
    pub ranks: Ranks<'a>,
    /// How worn what was read is
    pub worn: &'a [Worn],
    /// Prices and the hours planned for
    pub terms: &'a Terms,
    /// Whether what can be turned is
    pub turns: &'a [TurnDecision],
}

impl Planner<'_> {
    /// Everything that is called for on a machine, and what is not worth mending yet
    ///
    /// Where only bounds on a probability are known, work is called for by the lower one, but by the upper one where the
    /// machine may not be run until it is done.
    pub fn jobs(&self) -> (Vec<Job>, Vec<Watched>) {
        let mut jobs = Vec::new();
        for id in (0..self.model.remedies.len()).map(RemedyId) {
            for place in self.ground.machine.places(self.model, self.model[id].common.extent) {
                if !self.is_ruled_out(id, &place) {
                    jobs.extend(self.job(id, &place));
                }
            }
        }
        let watched = self.watched(&jobs);
        (jobs, watched)
    }

    /// Adds what jobs take along: work on parts so far worn that they are not left beside what a job makes new, done with it
    pub fn with_what_goes_along(&self, mut jobs: Vec<Job>) -> Vec<Job> {
        for taker in jobs.clone() {
            for &(id, from) in &self.model[taker.remedy].along {
                if let Some(place) = place_along(&taker, id) {
                    self.take_along(&mut jobs, &taker, (id, &place), from);
                }
            }
        }
        jobs
    }

    /// Adds one remedy at a place to what a job takes along, where its parts are so far worn; where nothing was read of them, what
    /// to read
    fn take_along(&self, jobs: &mut Vec<Job>, taker: &Job, (id, place): (RemedyId, &Place), from: f64) {
        let remedy = &self.model[id];
        let (calls, offered) =
            (self.taken_along(remedy, place, from), self.ground.offers(self.model, remedy, place));
        let planned = jobs.iter_mut().find(|job| job.remedy == id && job.named.place == *place);
        // What is taken along is not used up because what takes it is.
        let when = if taker.when == When::Overdue { When::ByHours } else { taker.when };
        match planned {
            _ if offered == Answer::No || self.is_ruled_out(id, place) => {}
            Some(job) if !calls.is_empty() && taker.due < job.due => {
                job.is_due_by(taker.due, when);
                job.taken_by = Some(taker.named.clone());
            }
            None if !calls.is_empty() => {
                let job = self.made(id, place, (calls, 1.0, f64::INFINITY));
                jobs.push(Job { due: taker.due, when, taken_by: Some(taker.named.clone()), ..job });
            }
            None if offered == Answer::Yes => {
                let may_take = self.may_take(id, place, from);
                let own = jobs.iter_mut().find(|job| job.named == taker.named);
                own.into_iter().for_each(|job| job.may_take.extend(may_take.clone()));
            }
            _ => {}
        }
    }

    /// Whether a remedy that gives life again is not to be done at a place: a reading has still to decide it; what must last does
    /// not or it comes too late, for itself or for one of which the one makes the other needless; or it renews what can still be
    /// turned
    fn is_ruled_out(&self, id: RemedyId, place: &Place) -> bool {
        let remedy = &self.model[id];
        if remedy.lasts.is_empty() {
            return false;
        }
        let mut here = self.turns.iter().filter(|turn| turn.named.place == *place);
        if here.clone().any(|turn| turn.remedy == id && turn.waits_for_a_reading()) {
            return true;
        }
        let can_be_turned = !remedy.turns() && !remedy.renews.is_empty();
        if can_be_turned && !here.clone().any(|turn| turn.remedy == id) {
            return true;
        }
        let goes_with = |turn: &TurnDecision| {
            turn.remedy == id
                || self.model[turn.remedy].spares.contains(&id)
                || remedy.spares.contains(&turn.remedy)
        };
        here.any(|turn| matches!(turn.verdict, Verdict::RunOut | Verdict::TooLate) && goes_with(turn))
    }

    /// The job that a remedy is at a place; none where nothing calls for it
    fn job(&self, id: RemedyId, place: &Place) -> Option<Job> {
        let remedy = &self.model[id];
        if self.ground.offers(self.model, remedy, place) == Answer::No {
            return None;
        }
        let cost = self.terms.cost(id, remedy).0;
        let loss = self.loss(remedy);
        let asked = Asked { remedy, cost, loss };
        let calling =
            self.spoken(remedy, place).filter(|it| asked.calls(it) && !self.is_of_another(remedy, it));
        let calling: Vec<&Ranked> = calling.collect();
        let worn = self.worn_out(remedy, place);
        let (seen, sure) = self.seen(remedy, place);
        if calling.is_empty() && seen.is_empty() && worn.is_empty() {
            return None;
        }
        let chance = calling.iter().map(|it| it.within.lower).fold(sure, f64::max);
        let chance = if worn.is_empty() { chance } else { 1.0 };
        let life = worn.iter().map(|(_, life)| *life).fold(f64::INFINITY, f64::min);
        let hidden = calling.iter().map(|it| Call::Hidden(Suspected::of(self.model, it)));
        let calls: Vec<Call> =
            seen.into_iter().chain(hidden).chain(worn.iter().map(|(call, _)| call.clone())).collect();
        Some(self.made(id, place, (calls, chance, life)))
    }

    /// A remedy at a place as a job: what calls for it, its chance, and the life of what it renews
    fn made(&self, id: RemedyId, place: &Place, (calls, chance, life): (Vec<Call>, f64, f64)) -> Job {
        let remedy = &self.model[id];
        let (cost, priced) = self.terms.cost(id, remedy);
        let loss = self.loss(remedy);
        let (due, when) = due(&calls, remedy, self.terms);
        Job {
            remedy: id,
            named: self.model.subject(id, place),
            finds_out: remedy.finds_out,
            floor: remedy.forbids_over.filter(|_| when == When::Now && chance <= WORK_OVER),
            when,
            due,
            hours: remedy.hours,
            cost,
            priced,
            loss,
            chance,
            expected_saving: saving(loss, chance, cost),
            calls,
            left: remedy.left.as_ref().map(|(text, _)| text.clone()),
            cautions: remedy.cautions.clone(),
            instead_of: Vec::new(),
            put_off: Vec::new(),
            gives_life_again: !remedy.lasts.is_empty(),
            undecided: false,
            taken_by: None,
            may_take: Vec::new(),
            together: None,
            shares: self.shared(remedy, place),
            life: Some(life).filter(|life| life.is_finite()),
        }
    }

    /// What of a remedy's parts is so far worn that another takes it along
    fn taken_along(&self, remedy: &Remedy, place: &Place, from: f64) -> Vec<Call> {
        let found = remedy.renews.iter().filter_map(|renewed| {
            let state = pace::state(self.model, self.ground, self.worn, renewed.measure, place)?;
            (state.percent >= from).then(|| Call::Worn {
                named: self.model.subject(renewed.measure, place),
                measure: renewed.measure,
                percent: state.percent,
                from,
                reached: 0.0,
                ends: state.hours_to(LIMIT).unwrap_or(self.terms.end()), // else: no hours tell when
                may_end: state.hours_to(LIMIT).unwrap_or(self.terms.end()),
                places: state.places,
                worst: state.worst_by(from),
            })
        });
        found.collect()
    }

    /// A remedy of whose parts nothing was read or graded by eye, with what would have to be read
    fn may_take(&self, id: RemedyId, place: &Place, from: f64) -> Option<MayTake> {
        let remedy = &self.model[id];
        let is_here = |id: &MeasureId| {
            let gate = &self.model[*id].common.gate;
            self.ground.machine.holds(self.model, gate, place, &Supposed::new()) == Answer::Yes
        };
        let measures: Vec<MeasureId> = remedy.renews.iter().map(|it| it.measure).filter(is_here).collect();
        let is_read = |id: &MeasureId| pace::state(self.model, self.ground, self.worn, *id, place).is_some();
        let tells = |own: &Observation| {
            let reading = self.model[own.symptom].reading.as_ref();
            reading.is_some_and(|(formula, _)| formula.readings().iter().any(|it| measures.contains(it)))
        };
        let mut seen = self.ground.observations.iter().filter(|own| within(&own.place, place));
        if measures.is_empty() || measures.iter().any(is_read) || seen.any(tells) {
            return None;
        }
        Some(MayTake {
            named: self.model.subject(id, place),
            from,
            hours: remedy.hours,
            cost: self.terms.cost(id, remedy).0,
            unread: measures.into_iter().map(|id| Unread::of(self.model, id)).collect(),
        })
    }

    /// The signs at a place that call for a remedy by themselves, with the chance of the surest
    fn seen(&self, remedy: &Remedy, place: &Place) -> (Vec<Call>, f64) {
        let (mut calls, mut surest) = (Vec::new(), 0.0_f64);
        for sign in &remedy.mends {
            let all = self.ground.observations.iter();
            for own in all.filter(|own| own.symptom == sign.symptom && within(&own.place, place)) {
                let probability = mended::chance(self.model, own, &sign.grades);
                if probability > CALLED_FROM {
                    surest = surest.max(probability);
                    calls.push(Call::Seen {
                        named: self.model.subject(own.symptom, &own.place),
                        symptom: own.symptom,
                        grade: self.model[own.symptom].effect.grades.name(own.grade).to_owned(),
                        probability,
                    });
                }
            }
        }
        (calls, surest)
    }

    /// What a remedy fixes at a place that something seen speaks for, likeliest first
    fn spoken<'d>(&'d self, remedy: &'d Remedy, place: &'d Place) -> impl Iterator<Item = &'d Ranked> {
        let all = self.ranks.all();
        let here = move |own: &Place| {
            within(own, place) || (*own == Place::Machine && matches!(place, Place::Side(_)))
        };
        all.filter(move |it| remedy.fixes.contains(&it.hidden) && here(&it.place))
            .filter(|it| is_spoken_for(it.prior, it.within.upper))
    }

    /// Whether a condition is there, most likely, because of what another repair at its place mends, and not because of
    /// what this one does.
    ///
    /// What is only set right has to be so in any case, and so has what a remedy is for by itself. A habit, the site or a look
    /// mends no part.
    fn is_of_another(&self, remedy: &Remedy, ranked: &Ranked) -> bool {
        let near = |it: &&Ranked| within(&it.place, &ranked.place) || within(&ranked.place, &it.place);
        let before = || {
            let all = self.ranks.all().filter(near);
            all.filter(|it| brings_about(self.model, it.hidden, ranked.hidden))
        };
        let own = |it: &&Ranked| remedy.fixes.contains(&it.hidden);
        let repaired = |it: &Ranked| {
            let mut remedies = self.ground.remedies(self.model, it.hidden, &it.place);
            remedies.any(|other| other.common.extent != Extent::Machine && takes_parts(other))
        };
        takes_parts(remedy)
            && before().any(|it| own(&it))
            && !before().filter(own).any(|it| it.within.upper >= WATCH_FROM)
            && before().any(|it| !own(&it) && it.within.lower > WORK_OVER && repaired(it))
    }

    /// The measures it renews that are past their figure or come to it within the horizon, each with its life
    fn worn_out(&self, remedy: &Remedy, place: &Place) -> Vec<(Call, f64)> {
        let found = remedy.renews.iter().filter_map(|renewed| {
            let state = pace::state(self.model, self.ground, self.worn, renewed.measure, place)?;
            let reached = state.hours_to(renewed.from)?;
            let late = renewed.to.is_some_and(|to| state.percent > to);
            if reached > self.terms.horizon || late {
                return None;
            }
            let (measure, from) = (renewed.measure, renewed.from);
            let last = renewed.to.unwrap_or(100.0).max(from); // else: it may be done until the part is worn out
            let ends = state.hours_to(last)?;
            // A row is judged by its mean; an odd part of it is matched by itself.
            let soonest = state.left.filter(|_| state.places == 1 && renewed.to.is_none());
            let call = Call::Worn {
                named: self.model.subject(measure, place),
                measure,
                percent: state.percent,
                from,
                reached,
                ends,
                may_end: soonest.map_or(ends, |left| left.lower.min(ends)),
                places: state.places,
                worst: state.worst_by(from),
            };
            Some((call, state.life_to(from)))
        });
        found.collect()
    }

    /// What is brought about for a remedy, and where; none when that takes longer than all of the remedy
    fn shared(&self, remedy: &Remedy, place: &Place) -> Option<Shared> {
        let state = remedy.state?;
        let maker = &self.model[self.model.maker(state)?];
        let hours = maker.minutes / 60.0;
        let place = maker.common.extent.seen_from(place);
        (hours <= remedy.hours).then_some(Shared { state, place, hours })
    }

    /// What is spoken for, likely enough to be watched or worth a look, and mended by no job
    fn watched(&self, jobs: &[Job]) -> Vec<Watched> {
        let called = |wanted: &dyn Fn(Hidden, &Place) -> bool| {
            let mut calls = jobs.iter().flat_map(|job| &job.calls);
            calls.any(|call| matches!(call, Call::Hidden(own) if wanted(own.hidden, &own.named.place)))
        };
        let mended = |it: &Ranked| called(&|hidden, place| hidden == it.hidden && *place == it.place);
        // What comes of a cause that is mended goes with it.
        let goes = |it: &Ranked| {
            called(&|hidden, place| {
                brings_about(self.model, hidden, it.hidden)
                    && (within(place, &it.place) || within(&it.place, place))
                    && self.remedies(it).any(|(_, remedy)| self.is_of_another(remedy, it))
            })
        };
        // What another cause calls for at its place mends this one as well.
        let done = |it: &Ranked| {
            let near =
                |job: &&Job| within(&it.place, &job.named.place) || within(&job.named.place, &it.place);
            self.remedies(it).any(|(id, _)| jobs.iter().filter(near).any(|job| job.remedy == id))
        };
        let all = self.ranks.all();
        let stands = jobs.iter().any(|job| job.when == When::Now);
        let open = all.filter(|it| {
            is_spoken_for(it.prior, it.within.upper)
                && (it.within.upper >= WATCH_FROM || self.is_worth_a_look(it))
        });
        let open = open.filter(|it| !mended(it) && !goes(it) && !done(it));
        open.map(|it| {
            let dear = self.cheapest(it);
            let waits = self.remedies(it).filter_map(|(_, remedy)| remedy.within);
            Watched::Hidden {
                suspected: Suspected::of(self.model, it),
                check: looked_at(self.model, it.hidden, stands),
                costs: dear.map(|(cost, _)| cost),
                loss: dear.and_then(|(_, loss)| loss),
                look: waits.reduce(f64::min),
            }
        })
        .collect()
    }

    /// Whether mending something would pay by its chance, though it is too unlikely for work
    fn is_worth_a_look(&self, ranked: &Ranked) -> bool {
        self.remedies(ranked).any(|(id, remedy)| {
            let asked = Asked { remedy, cost: self.terms.cost(id, remedy).0, loss: self.loss(remedy) };
            asked.pays(ranked)
        })
    }

    /// What is lost if a remedy is left, in the money of the terms; none where the rules do not say
    fn loss(&self, remedy: &Remedy) -> Option<f64> {
        let loss = remedy.left.as_ref().map(|(_, loss)| *loss).filter(|loss| *loss > 0.0);
        loss.map(|loss| loss * self.terms.unit)
    }

    /// What can be done about something
    fn remedies(&self, ranked: &Ranked) -> impl Iterator<Item = (RemedyId, &Remedy)> {
        let remedies = self.ground.remedies(self.model, ranked.hidden, &ranked.place);
        let known = remedies.filter_map(|remedy| {
            Some((RemedyId(self.model.remedies.iter().position(|it| std::ptr::eq(it, remedy))?), remedy))
        });
        known.filter(|(id, _)| !self.is_ruled_out(*id, &ranked.place))
    }

    /// What the cheapest remedy of something costs, and what is lost by its chance
    fn cheapest(&self, ranked: &Ranked) -> Option<(f64, Option<f64>)> {
        let priced = self.remedies(ranked).map(|(id, remedy)| {
            let loss = self.loss(remedy).map(|loss| loss * ranked.within.upper);
            (self.terms.cost(id, remedy).0, loss)
        });
        priced.min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// Where a job takes a remedy along: where it is done itself, or, of the same remedy, on the other side
fn place_along(taker: &Job, id: RemedyId) -> Option<Place> {
    match &taker.named.place {
        place if id != taker.remedy => Some(place.clone()),
        Place::Side(side) => Some(Place::Side(side.other())),
        Place::Machine | Place::Numbered { .. } => None,
    }
}

/// Whether a remedy is a repair: no look, and nothing that only sets right what is there
fn takes_parts(remedy: &Remedy) -> bool {
    !remedy.finds_out && remedy.sets_right.is_none()
}

/// What doing work saves on the whole, by its chance; none where the rules do not say what is lost
fn saving(loss: Option<f64>, chance: f64, cost: f64) -> Option<f64> {
    loss.map(|loss| chance * loss - cost)
}

/// Label of the quickest check that shows what a cause or condition brings about at once; on a machine that must stand, of one that
/// does not move it
fn looked_at(model: &Model, hidden: Hidden, stands: bool) -> Option<String> {
    let shows = |id: SymptomId| {
        let lines = &model[id].effect.lines;
        lines.iter().any(|line| line.parents.iter().any(|parent| parent.of == hidden))
    };
    let checks = model.checks.iter().filter(|check| check.shows.iter().any(|id| shows(*id)));
    let checks = checks.filter(|check| !(stands && standstill::is_moved(check)));
    let quickest = checks.min_by(|a, b| a.minutes.total_cmp(&b.minutes));
    quickest.map(|check| check.common.label.clone())
}

/// A remedy with what speaks for and against it, in the money of the terms
struct Asked<'a> {
    remedy: &'a Remedy,
    cost: f64,
    loss: Option<f64>,
}

impl Asked<'_> {
    /// Whether something calls for it: it is rather there than not, or over the floor that the rule names, and mending it pays
    fn calls(&self, ranked: &Ranked) -> bool {
        let likely = ranked.within.lower > WORK_OVER;
        let endangers = self.forbids() && ranked.within.upper > self.remedy.forbids_over.unwrap_or(WORK_OVER); // else: no floor is named
        self.pays(ranked) && (likely || endangers)
    }

    /// Whether it pays by its chance, or is more likely needed than not
    fn pays(&self, ranked: &Ranked) -> bool {
        let least = ranked.within.lower;
        let condition = matches!(ranked.hidden, Hidden::Condition(_));
        let likely = least > WORK_OVER && (condition || self.loss.is_none());
        likely || self.worth(if self.forbids() { ranked.within.upper } else { least }, self.cost)
    }

    fn worth(&self, chance: f64, cost: f64) -> bool {
        self.loss.is_some_and(|loss| chance * loss > cost)
    }

    /// Whether the machine may not be worked until it is done
    fn forbids(&self) -> bool {
        self.remedy.within.is_some_and(|within| within <= 0.0)
    }
}

/// Hours from now by which a remedy is due for what calls for it, and when that is in words of the trade.
///
/// What the rules let wait counts from now for a cause or a condition, and from its figure for a worn part; no part
/// waits past the hour at which it is used up.
pub fn due(calls: &[Call], remedy: &Remedy, terms: &Terms) -> (f64, When) {
    let wait = remedy.within.unwrap_or(NEXT_STOP).max(0.0); // else: the rules say nothing of haste
    let by = |call: &Call| match call {
        Call::Hidden(_) | Call::Seen { .. } => wait,
        Call::Worn { reached, may_end, .. } => (reached + wait).min(may_end.max(*reached)),
    };
    let due = calls.iter().map(by).fold(terms.end(), f64::min);
    let when = match due {
        due if wait <= 0.0 && due <= 0.0 => When::Now,
        due if due <= 0.0 => When::Overdue,
        due if wait >= NEXT_STOP && due >= wait && calls.iter().any(from_now) => When::NextStop,
        _ => When::ByHours,
    };
    (due, when)
}

/// Whether what calls for work has done so already, and not in hours to come
fn from_now(call: &Call) -> bool {
    !matches!(call, Call::Worn { reached, .. } if *reached > 0.0)
}
