//! What the shipped rules have done about a machine: which jobs are planned together, which are not, and by when.

use crate::support::shipped::{Bench, SHIPPED, dozer};
use pinboss::place::{Place, Side};
use pinboss::plan::prices::Terms;
use pinboss::plan::record::Job;
use pinboss::plan::{Plan, plan};
use pinboss::wear;
use rstest::rstest;
use std::fs;
use std::path::Path;

fn planned(bench: &Bench) -> Plan {
    let (model, ground) = (&SHIPPED.model, &bench.ground);
    let worn = wear::worn(model, &ground.machine, &ground.readings);
    plan(model, ground, bench.weighing().ranks().unwrap(), &worn, &Terms::default())
}

fn shipped(case: &str) -> Bench {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases").join(format!("{case}.yaml"));
    Bench::of(&fs::read_to_string(path).unwrap())
}

/// Every job with the hours from now of its visit, or those by which it is due on site
fn timed(plan: &Plan) -> impl Iterator<Item = (f64, &Job)> {
    let in_visits = plan.visits.iter().flat_map(|visit| visit.jobs.iter().map(move |job| (visit.at, job)));
    in_visits.chain(plan.on_site.iter().map(|job| (job.due, job)))
}

/// Every job as `remedy place`, with its hours
fn jobs(plan: &Plan) -> Vec<(String, f64)> {
    timed(plan).map(|(at, job)| (format!("{} {}", job.named.name, job.named.place), at)).collect()
}

/// The same of what jobs make needless: what it was for is done by then
fn needless(plan: &Plan) -> Vec<(String, f64)> {
    let all = timed(plan).flat_map(|(at, job)| job.instead_of.iter().map(move |own| (at, own)));
    all.map(|(at, own)| (format!("{} {}", own.name, own.place), at)).collect()
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
        let by_others = needless(plan);
        let mut all = done.iter().chain(&by_others);
        assert!(all.any(|(job, at)| job == name && *at <= by), "not {want}: {done:?} {by_others:?}");
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
    let bench =
        dozer(OILED, "{part: chain, on: 2900 h, turned: never}", &format!("{DUE}, found: {{{found}}}}}"));
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
#[case::whips("levee_dozer_whipping_track", &["set_sag left by 50"])]
#[case::hangs("rock_cut_dozer_split_bushing", &["set_sag left by 50"])]
#[case::valve("forest_dozer_slack_track", &["renew_valve right by 50"])]
#[case::tight("site_dozer_tight_tracks", &["set_sag right by 50"])]
#[case::hardly_likely("barn_dozer_stood_long", &[])]
#[case::valve_hardly_likely("marsh_dozer_slack_tracks", &[])]
fn the_sag_of_a_track_is_set_once(#[case] case: &str, #[case] wanted: &[&str]) {
    let found = planned(&shipped(case));
    does_of(&found, wanted, &[]);
    for side in [Side::Left, Side::Right].map(Place::Side) {
        let done = found.jobs().filter(|job| job.named.place == side);
        let labels = done.map(|job| SHIPPED.model[job.remedy].common.label.as_str());
        let sets: Vec<&str> =
            labels.filter(|label| label.contains("the sag") || label.contains("slack")).collect();
        assert!(sets.len() < 2, "{side}: {sets:?}");
    }
}

/// NAVEDTRA 14081, ch. 11: a slack track and spent teeth let bushings climb; what is not long in the pitch gains nothing by a turn
#[test]
fn a_chain_that_jumps_is_not_turned_for_it() {
    does(
        &shipped("ramp_dozer_jumps_backing"),
        &["set_sag left"],
        &["turn_for_pitch left", "turn_bushings left", "find_jump left"],
    );
    does(
        &shipped("estate_dozer_spent_teeth"),
        &["fit_teeth left"],
        &["turn_for_pitch left", "turn_bushings left", "find_jump left"],
    );
}

/// A sealed chain at its pitch limit gets most of it back by a turn, an oiled one nothing, nor does one on rails near their
/// limit: these are changed
#[rstest]
#[case::sealed("sealed", "link_height: 110 mm", &["turn_for_pitch left"], &["renew_chain left"])]
#[case::oiled("sealed_lubricated", "link_height: 110 mm", &["renew_chain left"], &["turn_for_pitch left"])]
#[case::low_rails("sealed", "link_height: 105 mm", &["renew_chain left"], &["turn_for_pitch left"])]
fn a_turn_for_the_pitch(
    #[case] chain: &str,
    #[case] rail: &str,
    #[case] wanted: &[&str],
    #[case] spared: &[&str],
) {
    let facts = format!(
        "chain_type: {chain}, impact: low, abrasion: moderate, bushings: {{left: first_side, right: first_side}}"
    );
    let read =
        format!("left: {{looked: [tape_groups, gauge_links], read: {{four_link_pitch: PITCH, {rail}}}}}");
    let pitch = LONG_PITCH.iter().find(|(own, _)| *own == chain).unwrap().1;
    does(
        &dozer(&facts, "{part: chain, on: 3500 h, turned: never}", &read.replace("PITCH", pitch)),
        wanted,
        spared,
    );
}

/// What a chain of each kind measures over four links near its limit, in the medium class of the rules
const LONG_PITCH: [(&str, &str); 2] = [("sealed", "813.5 mm"), ("sealed_lubricated", "808 mm")];

/// The turn and the running out are two remedies, and a reading tells which
#[test]
fn rails_near_their_limit_leave_no_turn() {
    let chain = |rail: &str| {
        let seen = format!(
            "left: {{looked: [look_bushings, gauge_links], read: {{bushing_rev: 55.1 mm, bushing_fwd: 55.1 mm, link_height: {rail} mm}}}}"
        );
        dozer(OILED, "{part: chain, on: 2900 h, turned: never}", &seen)
    };
    does(&chain("110"), &["turn_bushings left"], &["run_chain_out left"]);
    does(&chain("105"), &[], &["turn_bushings left"]);
    let label = |name: &str| {
        SHIPPED.model.remedies.iter().find(|it| it.common.name == name).unwrap().common.label.as_str()
    };
    for name in ["turn_bushings", "turn_for_pitch", "turn_under_new_teeth", "renew_all_seals"] {
        assert!(!label(name).contains("else"), "{name} is two remedies in one: {}", label(name));
    }
}

/// What a remedy costs holds its labour, an hour of which is 50 units
#[test]
fn no_remedy_costs_less_than_its_labour() {
    let under =
        SHIPPED.model.remedies.iter().filter(|it| it.costs.is_none_or(|costs| costs < 50.0 * it.hours));
    let under: Vec<_> = under.map(|it| (&it.common.name, it.hours, it.costs)).collect();
    assert!(under.is_empty(), "{under:?}");
}

/// Common practice: metal in the oil is looked at before the gears turn again, and no oil is filled in twice
#[rstest]
#[case::empty("drive_oil_level: empty", &["fill_one_drive left by 0"], &["open_drive left", "fill_drives left", "reseal_hub left"])]
#[case::metal("drive_oil_level: empty, drive_oil_looks: metal", &["open_drive left by 0"], &["fill_one_drive left", "fill_drives left", "reseal_hub left"])]
#[case::both("drive_oil_level: low, drive_oil_looks: both", &["open_drive left by 0"], &["fill_one_drive left", "fill_drives left"])]
fn a_drive_with_metal_in_it_is_opened(#[case] found: &str, #[case] wanted: &[&str], #[case] spared: &[&str]) {
    does(
        &dozer("", "", &format!("left: {{looked: [plug_drives, wipe_hub], found: {{{found}}}}}")),
        wanted,
        spared,
    );
}

#[test]
fn wire_is_cut_out_before_the_seal_is_renewed_and_oil_filled_once() {
    let right = ["fill_one_drive right", "fill_drives right", "clear_wire right"];
    let left = ["fill_one_drive left", "fill_drives left"];
    let wanted = ["open_drive left by 0", "reseal_hub right by 0"];
    does(&shipped("salt_dozer_whole_day"), &wanted, &[&right[..], &left].concat());
}

/// Common practice: oil that runs can wait for the next service, a bearing that runs hot cannot
#[rstest]
#[case("left: {looked: [wipe_idler, walk_hot_rollers], found: {idler_oil: running, idler_hot: hot}}", &["reseal_hot_idler left by 10"], &["reseal_idler left"])]
#[case("left: {looked: [wipe_idler, walk_hot_rollers], found: {idler_oil: running}}", &["reseal_idler left"], &["reseal_hot_idler left"])]
#[case("left: {roller 3: {found: {oil_streak: yes, roller_hot: yes}}}", &["change_hot_roller left roller 3 by 50"], &["change_roller left roller 3"])]
#[case("left: {roller 3: {found: {oil_streak: yes, roller_hot: yes, roller_not_turning: yes}}}", &["change_stopped_roller left roller 3 by 10"], &["change_hot_roller left roller 3", "change_roller left roller 3"])]
#[case("left: {roller 3: {found: {oil_streak: yes}}}", &["change_roller left roller 3"], &["change_hot_roller left roller 3"])]
fn what_runs_hot_is_mended_sooner(#[case] seen: &str, #[case] wanted: &[&str], #[case] spared: &[&str]) {
    does(&dozer("", "", seen), wanted, spared);
}

#[test]
fn a_rear_idler_that_runs_hot_is_resealed_before_it_works_on() {
    does(
        &shipped("gravel_dozer_front_tube"),
        &["reseal_hot_rear_idler right by 10"],
        &["reseal_rear_idler right"],
    );
}

/// One place, one job: what the bigger one takes along is not planned beside it
#[rstest]
#[case::swapped_once("dam_dozer_brace", &["swap_rollers machine"], &["turn_rollers right", "turn_rollers left"])]
#[case::rolled_tube("gravel_dozer_front_tube", &["renew_tube_guides left"], &["find_tilt left", "straighten_yoke left"])]
#[case::light_pins("rock_cut_dozer_split_bushing", &["oversize_pins right", "lower_grousers machine"], &["straighten_chain right", "refit_shoes left", "refit_shoes right"])]
#[case::all_shoes("gravel_bank_dozer_shoe_bolts", &["draw_up_shoes machine"], &["refit_shoes left", "refit_shoes right"])]
fn work_at_one_place_is_done_once(#[case] case: &str, #[case] wanted: &[&str], #[case] spared: &[&str]) {
    does(&shipped(case), wanted, spared);
}

/// A roller taken out needs no new seal and no new bolts beside
#[rstest]
#[case("roller_wire: yes, oil_streak: yes", "cut_out_wire left roller 3", "change_roller left roller 3")]
#[case(
    "roller_proud: yes, roller_fitted_lately: yes, oil_streak: yes",
    "match_roller left roller 3",
    "change_roller left roller 3"
)]
#[case(
    "roller_bolts: yes, roller_fitted_lately: yes, oil_streak: yes",
    "change_roller left roller 3",
    "torque_roller left roller 3"
)]
fn a_roller_comes_out_once(#[case] found: &str, #[case] wanted: &str, #[case] spared: &str) {
    does(&dozer("", "", &format!("left: {{roller 3: {{found: {{{found}}}}}}}")), &[wanted], &[spared]);
}

/// Words that tell of a job that takes the chain's pull off, or alters how long the loop is
const LOOSENS: [&str; 16] = [
    "change the roller",
    "hot roller",
    "part-worn roller",
    "reshelled",
    "swap rollers",
    "front and rear rollers",
    "new chain",
    "fit a new chain",
    "turn pins",
    "wet turn",
    "links out",
    "idler in the middle",
    "guide strips",
    "carrier roller",
    "the rear idler",
    "change the yoke",
];

/// Common practice: whoever takes out what the chain runs on lets its pull off first, and sets the sag after
#[test]
fn who_loosens_the_chain_sets_its_sag() {
    let mut met = 0;
    for remedy in &SHIPPED.model.remedies {
        let label = remedy.common.label.to_lowercase();
        if !LOOSENS.iter().any(|words| label.contains(words)) {
            continue;
        }
        met += 1;
        let said = remedy.cautions.join(" ");
        for words in ["relief", "aside", "eye protection", "set the sag"] {
            assert!(said.contains(words), "{}: not \"{words}\" in {said}", remedy.common.name);
        }
        if label.contains("roller") && !label.contains("carrier") {
            for words in ["rib machine and frame|machine as well as the frame|machine and frame both", "cool"]
            {
                assert!(
                    words.split('|').any(|any| said.contains(any)),
                    "{}: not \"{words}\" in {said}",
                    remedy.common.name
                );
            }
        }
    }
    assert!(met >= 25, "{met}");
}
