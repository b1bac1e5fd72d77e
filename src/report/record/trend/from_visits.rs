//! From the trend of a machine to the report of it.

use super::{
    ClosingGap, DueWork, Ends, HeldRow, PartRate, PartRates, PartWear, PlannedWork, PointRow, Trend,
    UsualRate, VisitRow, WhenNew,
};
use crate::case::Inspection;
use crate::ground::Ground;
use crate::model::Model;
use crate::place::Side;
use crate::plan::either::put_back_by;
use crate::plan::record::{Call, Plan};
use crate::plan::running::renewed;
use crate::report::record::diagnosis::NOTICE;
use crate::report::record::hours_left;
use crate::report::words::{figure, whole};
use crate::units::Unit;
use crate::wear::history::{Doubt, History, Taken};
use crate::wear::line::{Errors, Line, nine_of_ten};
use crate::wear::rate::{By, Left, points};
use crate::wear::trend::{LIMIT, PartTrend};
use crate::wear::{self};

/// A visit that a report is made from
#[derive(Clone, Copy)]
pub struct VisitMade<'a> {
    /// Name of its file
    pub file: &'a str,
    /// Digest of the file
    pub digest: &'a str,
    /// The inspection as written
    pub inspection: &'a Inspection,
    /// The inspection in the terms of the rules
    pub ground: &'a Ground,
}

/// The report of a trend over visits in the order of hours; all figures come from the stages before
pub fn report(
    model: &Model,
    visits: &[VisitMade<'_>],
    trend: &wear::trend::Trend,
    plan: Option<&Plan>,
    rules_digest: &str,
) -> Trend {
    let last = visits.last();
    let labels = Labels { model, visits, plan, longest_life: trend.longest_life };
    let numbers = |side: Side| {
        let ends = trend.ends(side);
        let number = |end: &&PartTrend| trend.parts.iter().position(|part| std::ptr::eq(part, *end));
        ends.iter().filter_map(number).collect()
    };
    Trend {
        machine: last.map_or_else(String::new, |last| last.inspection.machine.tag.value.clone()),
        size: last.and_then(|last| last.ground.machine.size.clone()),
        rules_digest: rules_digest.to_owned(),
        visits: visits.iter().map(visit).collect(),
        parts: trend.parts.iter().map(|part| labels.part(part)).collect(),
        outdated: trend.outdated.clone(),
        ends: Ends { left: numbers(Side::Left), right: numbers(Side::Right) },
        contacts: trend.contacts.iter().map(|it| labels.contact(it)).collect(),
        turns: plan.map_or_else(Vec::new, |plan| plan.turns.clone()),
        work: plan.map_or_else(Vec::new, work),
        sides: trend.sides.clone(),
        odd: trend.odd.clone(),
        steps: trend.steps.clone(),
        misfit: last.and_then(|last| last.ground.misfit.clone()),
        held: held(visits),
        notice: NOTICE,
    }
}

/// The work of each visit that something worn calls for
fn work(plan: &Plan) -> Vec<PlannedWork> {
    let worn = |call: &Call| matches!(call, Call::Worn { .. });
    let jobs = plan.visits.iter().flat_map(|visit| visit.jobs.iter().map(move |job| (visit.at, job)));
    jobs.filter(|(_, job)| job.calls.iter().any(worn))
        .map(|(within, job)| PlannedWork {
            within,
            place: job.named.place.to_string(),
            label: job.named.label.clone(),
        })
        .collect()
}

fn visit(made: &VisitMade<'_>) -> VisitRow {
    VisitRow {
        file: made.file.to_owned(),
        case: made.inspection.title.value.clone(),
        case_digest: made.digest.to_owned(),
        hours: made.ground.machine.hours,
        on: made.inspection.visit.on.as_ref().map(|on| on.value.clone()),
    }
}

fn held(visits: &[VisitMade<'_>]) -> Vec<HeldRow> {
    let rows = visits.iter().enumerate().flat_map(|(visit, made)| {
        made.ground.held.iter().map(move |held| HeldRow { visit, held: held.clone() })
    });
    rows.collect()
}

/// What labels and units come from
struct Labels<'a> {
    model: &'a Model,
    visits: &'a [VisitMade<'a>],
    plan: Option<&'a Plan>,
    longest_life: Option<f64>,
}

impl Labels<'_> {
    fn part(&self, part: &PartTrend) -> PartWear {
        let PartTrend { history, rates, young, by, left, due, against } = part;
        let measure = &self.model[history.measure];
        let unit = measure.unit();
        let last = history.points.last();
        let left_by = |by: By| rates.left(by, history, LIMIT).map(|left| self.left(left));
        let line = |by: By| rates.line(by).map(|line| rate(line, left_by(by)));
        PartWear {
            measure: measure.common.name.clone(),
            place: history.place.to_string(),
            label: measure.common.label.clone(),
            part: measure.common.part.map(|part| self.model[part].common.label.clone()),
            unit: unit.word(),
            read: last.map_or(0.0, |last| unit.from_base(last.read)),
            visit: last.map_or(0, |last| last.visit),
            percent: last.map_or(0.0, |last| last.percent),
            sigma: last.map_or(0.0, |last| last.sigma),
            give_or_take: last.map_or(0.0, |last| nine_of_ten(last.sigma)),
            hours_of: if history.since.is_some() { "part" } else { "machine" },
            hours: history.now,
            new: new(history),
            turned: history.turned,
            young: *young,
            points: history.points.iter().map(|taken| point(taken, unit)).collect(),
            rates: PartRates {
                from_new: line(By::FromNew),
                last_two: line(By::LastTwo),
                all: line(By::All),
                usual: rates.usual.map(|usual| UsualRate { usual, left: left_by(By::Usual) }),
                change: rates.change,
            },
            by: by.map(named),
            left: left.map(|left| self.left(left)),
            due: due
                .iter()
                .filter(|_| !self.is_planned(history))
                .filter_map(|due| self.due(due, history))
                .collect(),
            against: *against,
            ahead: by.map_or_else(Vec::new, |by| rates.ahead(by, history, LIMIT, self.longest_life)),
            limit: LIMIT,
            left_out: history.left_out.clone(),
            doubts: history.doubts.iter().map(|doubt| self.doubt(doubt, history, unit)).collect(),
        }
    }

    /// Whether the plan renews what a history is of
    fn is_planned(&self, history: &History) -> bool {
        let visits = self.plan.map_or(&[][..], |plan| &plan.visits); // else: nothing is planned
        renewed(self.model, visits, history.measure, &history.place).is_some()
    }

    /// Work that puts wear back by giving life once more, where it may still pay
    fn put_back_by(&self, history: &History) -> Option<String> {
        let turn = put_back_by(self.model, &self.plan?.turns, history.measure, &history.place)?;
        Some(turn.named.label.clone())
    }

    fn due(&self, due: &wear::trend::Due, history: &History) -> Option<DueWork> {
        let remedy = self.model.remedies.get(due.remedy)?;
        let common = &remedy.common;
        Some(DueWork {
            id: common.name.clone(),
            label: common.label.clone(),
            put_back_by: self.put_back_by(history).filter(|_| remedy.lasts.is_empty()),
            percent: due.percent,
            within: remedy.within,
            gives_life_again: !remedy.lasts.is_empty(),
            left: due.left.map(|left| self.left(left)),
        })
    }

    /// What does not go together, as a sentence and a question
    fn doubt(&self, doubt: &Doubt, history: &History, unit: Unit) -> String {
        let read = |visit: usize| {
            let taken = history.points.iter().find(|taken| taken.visit == visit);
            taken.map_or_else(String::new, |taken| {
                format!("{} {}", figure(unit.from_base(taken.read)), unit.word())
            })
        };
        match *doubt {
            Doubt::Younger { before, after } => format!(
                "At {} it read {}, at {} {}: wear does not go back. Was it changed or turned between? Then tell when under \
                 `parts`, as `on` or `turned`. If not, one of the readings is off: read it again.",
                self.at(before),
                read(before),
                self.at(after),
                read(after)
            ),
            Doubt::HoursDiffer { before, first, after, second } => format!(
                "The visit at {} tells that it went on at {} h, that at {} tells {} h. One of them is wrong: correct the \
                 list of `parts`.",
                self.at(before),
                whole(first),
                self.at(after),
                whole(second)
            ),
            Doubt::NoHoursOn => "It went on, or was turned, at this very visit, and is worn already. If it was fitted used, its \
                                 hours tell nothing."
                .to_owned(),
        }
    }

    /// A visit by its hours, or by its number where they are not told
    fn at(&self, visit: usize) -> String {
        let hours = self.visits.get(visit).and_then(|made| made.ground.machine.hours);
        hours.map_or_else(|| format!("visit {}", visit + 1), |hours| format!("{} h", whole(hours)))
    }

    fn contact(&self, contact: &wear::contact::Contact) -> ClosingGap {
        let measure = &self.model[contact.measure];
        let unit = measure.unit();
        ClosingGap {
            measure: measure.common.name.clone(),
            place: contact.place.to_string(),
            label: measure.common.label.clone(),
            gap: unit.from_base(contact.gap),
            sigma: unit.from_base(contact.sigma),
            give_or_take: unit.from_base(nine_of_ten(contact.sigma)),
            unit: unit.word(),
            per_hour: contact.line.map(|line| unit.from_base(line.slope)),
            left: contact.left.map(|left| self.left(left)),
        }
    }

    fn left(&self, left: Left) -> hours_left::HoursLeft {
        let Left { hours, lower, upper } = left;
        hours_left::HoursLeft { hours, lower, upper, longest: self.longest_life }
    }
}

fn named(by: By) -> &'static str {
    match by {
        By::FromNew => "from_new",
        By::LastTwo => "last_two",
        By::All => "all",
        By::Usual => "usual",
    }
}

fn new(history: &History) -> Option<WhenNew> {
    let since = history.since?;
    let sigma = points(history).first().map_or(0.0, |start| start.sigma);
    Some(WhenNew { at: since.at, turned: since.turned, sigma })
}

fn point(taken: &Taken, unit: Unit) -> PointRow {
    PointRow {
        visit: taken.visit,
        hours: taken.hours,
        read: unit.from_base(taken.read),
        percent: taken.percent,
        sigma: taken.error,
        give_or_take: nine_of_ten(taken.error),
    }
}

fn rate(line: &Line, left: Option<hours_left::HoursLeft>) -> PartRate {
    PartRate {
        per_hour: line.slope,
        per_hour_sigma: line.slope_sigma(),
        at_zero: line.at(0.0),
        at_zero_sigma: line.sigma_at(0.0),
        scatter: match line.errors {
            Errors::Readings => None,
            Errors::Scatter { ratio, .. } => Some(ratio),
        },
        quantile: line.quantile(),
        left,
    }
}
