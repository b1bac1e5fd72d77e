//! A plan against the errors of what was read: no reading that is off by the error of its gauge moves the cost by more than the
//! plan said it might, and nothing past its limit is left without work or a word.

use crate::support::shipped::{SHIPPED, consultation};
use pinboss::consultation::Consultation;
use pinboss::machine::Answer;
use pinboss::model::{How, MeasureId, RemedyId};
use pinboss::place::{Place, within};
use pinboss::plan::record::{Call, Verdict};
use proptest::prelude::*;
use proptest::sample::Index;

/// Measures read on each side, with their new size and limit in the medium class
const READ: [(&str, f64, f64); 7] = [
    ("link_height", 112.0, 103.5),
    ("bushing_fwd", 59.0, 54.8),
    ("bushing_rev", 59.0, 54.8),
    ("four_link_pitch", 800.0, 809.0),
    ("idler_depth", 22.0, 33.0),
    ("sprocket_root", 0.0, 6.0),
    ("sprocket_tip", 16.0, 7.0),
];

/// Readings in mm, those of the left first, each drawn as a share of the way from new to the limit
fn sizes(worn: &[f64]) -> Vec<f64> {
    let sizes = READ.iter().cycle().zip(worn);
    sizes.map(|((_, new, limit), worn)| ((new + (limit - new) * worn) * 100.0).round() / 100.0).collect()
}

fn asked(hours: u32, read: &[f64]) -> Consultation {
    let side = |values: &[f64]| {
        let told = READ.iter().zip(values).map(|((name, ..), value)| format!("{name}: {value} mm"));
        told.collect::<Vec<_>>().join(", ")
    };
    let (left, right) = read.split_at(READ.len());
    consultation(&format!(
        "case: drawn\nmachine: {{tag: P1, hours: {hours}, size: medium, facts: {{chain_type: sealed_lubricated, rollers: 7, \
         impact: low, abrasion: moderate, bushings: first_side}}}}\nparts: [{{part: chain, on: 0 h, turned: never}}, \
         {{part: sprocket, on: 0 h}}, {{part: idler, on: 0 h}}]\nvisit: {{state: [cleaned]}}\nseen: {{left: {{read: \
         {{{}}}}}, right: {{read: {{{}}}}}}}\n",
        side(left),
        side(right)
    ))
}

/// Standard error of one reading of a measure, in mm, and which way it goes as it wears
fn error(number: usize) -> (f64, f64) {
    let (name, new, limit) = READ[number % READ.len()];
    let measure = SHIPPED.model.measures.iter().find(|it| it.common.name == name).unwrap();
    let How::Read { error, unit, .. } = measure.how else { panic!("{name} is read") };
    (unit.from_base(error), f64::signum(limit - new))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// One reading worse by its gauge's error is weighed as a case of its own, and what that costs lies within what was said
    #[test]
    fn the_cost_stays_within_what_was_said(
        hours in 400_u32..6000,
        worn in prop::collection::vec(0.02_f64..1.3, 2 * READ.len()),
        off in any::<Index>(),
    ) {
        let read = sizes(&worn);
        let before = asked(hours, &read);
        prop_assume!(before.ground().misfit.is_none() && before.ground().held.is_empty());
        let said = before.swing().unwrap();
        let number = off.index(read.len());
        let (error, way) = error(number);
        let mut worse = read.clone();
        worse[number] = ((worse[number] + way * error) * 100.0).round() / 100.0;
        let after = asked(hours, &worse);
        prop_assume!(after.ground().misfit.is_none() && after.ground().held.is_empty());
        let cost = after.plan().unwrap().cost;
        prop_assert!(
            (said.lower - 1.0..=said.upper + 1.0).contains(&cost),
            "{cost} is not within {} to {}", said.lower, said.upper
        );
    }

    /// What is past its limit is renewed, or a decision says that it is run out, or that nobody can say yet
    #[test]
    fn nothing_past_its_limit_is_without_a_word(
        hours in 400_u32..6000,
        worn in prop::collection::vec(0.3_f64..1.3, 2 * READ.len()),
    ) {
        let own = asked(hours, &sizes(&worn));
        prop_assume!(own.ground().misfit.is_none());
        for part in own.worn().iter().filter(|it| it.percent >= 100.0) {
            prop_assert!(
                is_worked_on(&own, part.measure, &part.place) || is_decided(&own, part.measure, &part.place),
                "{} {} at {} %: {:#?}",
                SHIPPED.model[part.measure].common.name, part.place, part.percent, own.plan().unwrap().visits
            );
        }
    }
}

fn is_worked_on(own: &Consultation, measure: MeasureId, place: &Place) -> bool {
    let mut jobs = own.plan().unwrap().visits.iter().flat_map(|visit| &visit.jobs);
    jobs.any(|job| {
        let renews = |call: &Call| matches!(call, Call::Worn { measure: of, .. } if *of == measure);
        within(place, &job.named.place)
            && (job.calls.iter().any(renews)
                || SHIPPED.model[job.remedy].renews.iter().any(|it| it.measure == measure))
    })
}

/// A decision on turning tells of it, or the rules have no work for it on this machine
fn is_decided(own: &Consultation, measure: MeasureId, place: &Place) -> bool {
    let renews = |remedy: RemedyId| SHIPPED.model[remedy].renews.iter().any(|it| it.measure == measure);
    let mut turns = own.plan().unwrap().turns.iter();
    let told = turns
        .any(|turn| within(place, &turn.named.place) && renews(turn.remedy) && turn.verdict != Verdict::Turn);
    let mut remedies =
        SHIPPED.model.remedies.iter().filter(|it| it.renews.iter().any(|of| of.measure == measure));
    told || !remedies.any(|it| own.ground().offers(&SHIPPED.model, it, place) != Answer::No)
}
