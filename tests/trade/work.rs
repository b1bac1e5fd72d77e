//! What the shipped rules have done about a machine: which jobs are planned together, which are not, and by when.

use crate::bench::{Bench, SHIPPED, dozer};
use pinboss::infer::Limits;
use pinboss::infer::bounds::Budget;
use pinboss::place::{Place, Side};
use pinboss::plan::prices::Terms;
use pinboss::plan::{Plan, plan};
use pinboss::{reason, wear};
use rstest::rstest;
use std::fs;
use std::path::Path;

fn planned(bench: &Bench) -> Plan {
    let (model, ground) = (&SHIPPED.model, &bench.ground);
    let found = reason::weigh(model, ground, &Limits::default(), &Budget::seconds(1.0)).unwrap();
    let worn = wear::worn(model, &ground.machine, &ground.readings);
    plan(model, ground, &found, &worn, &Terms::default())
}

fn shipped(case: &str) -> Bench {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(format!("{case}.yaml"));
    Bench::of(&fs::read_to_string(path).unwrap())
}

/// Every job as `remedy place`, with the hours from now of its visit
fn jobs(plan: &Plan) -> Vec<(String, f64)> {
    let done = plan.visits.iter().flat_map(|visit| visit.jobs.iter().map(move |job| (visit.at, job)));
    done.map(|(at, job)| (format!("{} {}", SHIPPED.model[job.remedy].common.name, job.place), at)).collect()
}

/// What is done about a machine, and what is not: `name place`, or `name place by 10` for work due within so many hours
fn does(bench: &Bench, wanted: &[&str], spared: &[&str]) {
    does_of(&planned(bench), wanted, spared);
}

/// The same of a plan
fn does_of(plan: &Plan, wanted: &[&str], spared: &[&str]) {
    let done = jobs(plan);
    for want in wanted {
        let (name, by) =
            want.split_once(" by ").map_or((*want, f64::INFINITY), |(name, by)| (name, by.parse().unwrap()));
        assert!(done.iter().any(|(job, at)| job == name && *at <= by), "not {want}: {done:?}");
    }
    for name in spared {
        assert!(
            SHIPPED.model.remedies.iter().any(|it| name.starts_with(&format!("{} ", it.common.name))),
            "{name}"
        );
        assert!(!done.iter().any(|(job, _)| job == name), "{name} all the same: {done:?}");
    }
}

const OILED: &str = "chain_type: sealed_lubricated, impact: low, abrasion: moderate, bushings: {left: first_side, right: first_side}";
/// Bushings at 93 % and rails at 24 % of their wear: time for a turn that pays
const DUE: &str =
    "left: {looked: [look_bushings], read: {bushing_rev: 55.1 mm, bushing_fwd: 57 mm, link_height: 110 mm}";

/// Common practice: what is cracked is not turned but run out under watch, and with a piece gone the chain is not worked
#[rstest]
#[case::sound("", &["turn_bushings left by 100"], &["run_chain_out left", "mend_open_joint left"])]
#[case::cracked("bushing_cracked: one", &[], &["turn_bushings left", "mend_open_joint left"])]
#[case::piece_gone("bushing_broken: one", &["mend_open_joint left by 0"], &["turn_bushings left", "run_chain_out left"])]
#[case::both("bushing_cracked: several, bushing_broken: one", &["mend_open_joint left by 0"], &["turn_bushings left", "run_chain_out left"])]
fn what_is_split_is_not_turned(#[case] found: &str, #[case] wanted: &[&str], #[case] spared: &[&str]) {
    let bench = dozer(OILED, "{part: chain, on: 2900 h}", &format!("{DUE}, found: {{{found}}}}}"));
    does(&bench, wanted, spared);
}

#[test]
fn a_machine_with_a_piece_of_a_bushing_gone_stands() {
    does(
        &shipped("rock_cut_dozer_split_bushing"),
        &["mend_open_joint left by 0"],
        &["turn_bushings left", "run_chain_out left"],
    );
}

/// One track has one sag: what is too tight and what is too slack is one job, and done with the adjuster where that is mended
#[rstest]
#[case::whips("levee_dozer_whipping_track", "set_sag left by 50")]
#[case::hangs("rock_cut_dozer_split_bushing", "set_sag left by 50")]
#[case::stood("barn_dozer_stood_long", "set_sag left by 50")]
#[case::valve("forest_dozer_slack_track", "renew_valve right by 50")]
#[case::tight("site_dozer_tight_tracks", "set_sag right by 50")]
#[case::valve_too("marsh_dozer_slack_tracks", "renew_valve left by 50")]
fn the_sag_of_a_track_is_set_once(#[case] case: &str, #[case] wanted: &str) {
    let found = planned(&shipped(case));
    does_of(&found, &[wanted], &[]);
    for side in [Side::Left, Side::Right].map(Place::Side) {
        let done = found.visits.iter().flat_map(|visit| &visit.jobs).filter(|job| job.place == side);
        let labels = done.map(|job| SHIPPED.model[job.remedy].common.label.as_str());
        let sets: Vec<&str> =
            labels.filter(|label| label.contains("the sag") || label.contains("slack")).collect();
        assert!(sets.len() < 2, "{side}: {sets:?}");
    }
}
