//! Strengths that a ratio hangs on: each figure told by walking through every state, and none that reaches further left out.

use crate::assess::weight::{RULES, against, assessed, by_enumeration, case, decibans};
use crate::support::setting::{Setting, set};
use pinboss::assess::hangs::Hang;
use pinboss::ground::{self, Ground};
use pinboss::model::{CauseId, ConditionId, Model, SymptomId};
use pinboss::network::NodeId;
use pinboss::reason::robust::{Block, Strength, one_step};
use rstest::rstest;
use std::sync::Arc;

/// The ratio by enumeration with one strength at another value
fn with(own: &Setting, causes: &[NodeId], strength: Strength, share: f64) -> f64 {
    let (mut model, mut moved) = (Model::clone(&own.model), Ground::clone(&own.ground));
    strength.put(&mut model, share);
    moved.network = ground::empty(&model, own.ground.machine.clone()).network;
    by_enumeration(&Setting { model: Arc::new(model), ground: Arc::new(moved) }, causes)
}

fn strengths(model: &Model) -> Vec<Strength> {
    let causes = (0..model.causes.len()).map(|number| Block::Cause(CauseId(number)));
    let conditions = (0..model.conditions.len()).map(|number| Block::Condition(ConditionId(number)));
    let symptoms = (0..model.symptoms.len()).map(|number| Block::Symptom(SymptomId(number)));
    causes.chain(conditions).chain(symptoms).flat_map(|block| block.strengths(model)).collect()
}

/// How far the ratio goes within a step of each strength of the rules, the furthest first
fn by_trying_all(own: &Setting, causes: &[NodeId], now: f64) -> Vec<f64> {
    let reach = |strength: Strength| {
        let (down, up) = one_step(&own.model, strength.of(&own.model).unwrap());
        let up = up.min(strength.most(&own.model));
        let away = |share: f64| (with(own, causes, strength, share) - now).abs();
        away(down).max(away(up))
    };
    let mut all: Vec<f64> = strengths(&own.model).into_iter().map(reach).collect();
    all.sort_by(|a, b| b.total_cmp(a));
    all
}

#[rstest]
#[case::one_sign("thin: heavy", "owner")]
#[case::two("thin: heavy, dirty: yes", "owner")]
#[case::for_the_fitter("thin: heavy, dirty: no", "fitter")]
#[case::hardly_any("thin: slight", "owner")]
#[case::against_it("thin: none, dirty: no", "owner")]
fn every_ratio_told_is_worked_out_and_none_reaches_further(#[case] found: &str, #[case] party: &str) {
    let own = set(RULES, &case(found));
    let assessment = assessed(&own, "thin left");
    let against = against(&assessment, party);
    let (now, causes) = (decibans(against), &against.party.causes);
    let hangs = against.hangs.as_ref().unwrap();
    assert!(!hangs.is_empty());
    for Hang { strength, from, down, up, .. } in hangs {
        assert!(down.0 < *from && *from < up.0);
        for (share, told) in [down, up] {
            assert!((with(&own, causes, *strength, *share) - told).abs() < 1e-8, "{strength:?}");
        }
    }
    let told: Vec<f64> = hangs.iter().map(|hang| hang.reach(now)).collect();
    for (told, most) in told.iter().zip(by_trying_all(&own, causes, now)) {
        assert!((told - most).abs() < 1e-8, "{told} {most}");
    }
}

/// What speaks for it and what speaks against it nearly cancel out
#[rstest]
#[case("thin: none, dirty: yes")]
#[case("thin: {saw: slight, sure: 60%}, dirty: no")]
fn where_a_ratio_passes_one_it_does_so_at_the_strength_told(#[case] found: &str) {
    let own = set(RULES, &case(found));
    let assessment = assessed(&own, "thin left");
    let turning: Vec<(&[NodeId], f64, Hang)> = (assessment.against.iter())
        .flat_map(|own| {
            let hangs = own.hangs.iter().flatten().filter(|hang| hang.turns_at.is_some());
            hangs.map(|hang| (own.party.causes.as_slice(), decibans(own), *hang))
        })
        .collect();
    assert!(!turning.is_empty());
    for (causes, now, hang) in turning {
        let at = hang.turns_at.unwrap();
        assert!(hang.down.0 <= at && at <= hang.up.0);
        let before = at + (hang.from - at).signum() * 1e-4;
        assert_eq!(with(&own, causes, hang.strength, before) > 0.0, now > 0.0, "{hang:?}");
        assert_ne!(with(&own, causes, hang.strength, at) > 0.0, now > 0.0, "{hang:?}");
    }
}
