//! Findings that hardly go together, on rules whose figures can be had by hand.

use crate::support::setting::{Setting, set};
use pinboss::infer::Finding;
use pinboss::infer::enumerate::enumerate;
use pinboss::reason::evidence::findings;
use pinboss::reason::fit::{HARDLY, Hardly};
use rstest::rstest;

/// A leak of oil is nearly always seen and nearly always felt; knocks come of wear and show in four ways, each now and then
const RULES: &str = "\
cause seal: \"seal failed\"
    kind upkeep
    chance 20% of machines
    basis estimate
cause rough: \"bearing worn\"
    kind upkeep
    chance 20% of machines
    basis estimate
symptom streak: \"oil run down\"
    with seal: 99%
    without 0.1%
    basis estimate
symptom dry: \"oil low\"
    with seal: 99%
    without 0.1%
    basis estimate
symptom knock: \"knock\"
    with rough: 95%
    without 0.2%
    basis estimate
symptom shake: \"shakes\"
    with rough: 70%
    without 1%
    basis estimate
symptom warm: \"warm\"
    with rough: 70%
    without 1%
    basis estimate
symptom chips: \"chips in the oil\"
    with rough: 70%
    without 1%
    basis estimate
symptom noise: \"noise\"
    with rough: 70%
    without 1%
    basis estimate
check look: \"Look\"
    shows streak, dry, knock, shake, warm, chips, noise
    takes 2 min
";

fn seen(found: &str) -> Setting {
    set(
        RULES,
        &format!(
            "case: c\nmachine: {{tag: T, facts: {{rollers: 3}}}}\nseen:\n  machine: {{found: {{{found}}}}}\n"
        ),
    )
}

fn hardly(setting: &Setting) -> Option<Hardly> {
    setting.diagnose().fit.unwrap().hardly
}

fn names(setting: &Setting, hardly: &Hardly) -> Vec<String> {
    let own = hardly.observations.iter().map(|number| &setting.ground.observations[*number]);
    own.map(|own| setting.model[own.symptom].effect.common.name.clone()).collect()
}

/// Conflict of some observations by going through all states
fn conflict(setting: &Setting, members: &[usize]) -> f64 {
    let all = findings(&setting.ground);
    let some: Vec<Finding> = members.iter().map(|member| all[*member].clone()).collect();
    let log = |findings: &[Finding]| enumerate(&setting.ground.network, findings).log_evidence;
    let singly: f64 = some.iter().map(|one| log(std::slice::from_ref(one))).sum();
    (singly - log(&some)) / std::f64::consts::LN_2
}

#[test]
fn oil_run_down_and_none_missing_hardly_go_together() {
    let setting = seen("streak: yes, dry: no, shake: yes, warm: yes");
    let found = hardly(&setting).unwrap();
    assert_eq!(names(&setting, &found), ["streak", "dry"]);
    let streak = 0.2 * (1.0 - 0.01 * 0.999) + 0.8 * 0.001;
    let full = 0.2 * 0.01 * 0.999 + 0.8 * 0.999;
    let both = 0.2 * (1.0 - 0.01 * 0.999) * 0.01 * 0.999 + 0.8 * 0.001 * 0.999;
    assert!((found.conflict - libm::log2(streak * full / both)).abs() < 1e-9);
    assert!(found.conflict > HARDLY && found.smallest);
}

#[rstest]
#[case::they_belong_together("streak: yes, dry: yes")]
#[case::they_have_nothing_to_do_with_each_other("streak: yes, knock: yes, shake: yes")]
#[case::one_normal_sign_in_four_is_nothing_much("knock: yes, shake: yes, warm: yes, chips: no")]
#[case::all_is_normal("streak: no, dry: no, knock: no, shake: no")]
#[case::one_alone("streak: yes")]
fn findings_that_may_well_be_are_left_alone(#[case] found: &str) {
    assert_eq!(hardly(&seen(found)), None);
}

#[rstest]
#[case::of_two("streak: yes, dry: no, knock: yes, shake: no", 2)]
#[case::of_several("knock: yes, shake: no, warm: no, chips: no, noise: no", 4)]
fn none_can_be_left_out_and_no_smaller_set_does_as_badly(#[case] found: &str, #[case] size: usize) {
    let setting = seen(found);
    let told = hardly(&setting).unwrap();
    assert_eq!(told.observations.len(), size, "{:?}", names(&setting, &told));
    assert!((told.conflict - conflict(&setting, &told.observations)).abs() < 1e-9);
    let count = setting.ground.observations.len();
    for bits in 1..1_u32 << count {
        let some: Vec<usize> = (0..count).filter(|number| bits >> number & 1 == 1).collect();
        if some.len() < size {
            assert!(conflict(&setting, &some) <= HARDLY, "{some:?} is smaller");
        }
        assert!(some.len() != size || conflict(&setting, &some) <= told.conflict + 1e-9, "{some:?} is worse");
    }
    assert!(told.smallest);
}

/// Two seldom seen together, but what brings both about is just as rare: a rare case, and no contradiction
#[test]
fn what_a_cause_explains_is_no_contradiction() {
    let rules = format!(
        "{RULES}cause cracked: \"case cracked\"\n    kind upkeep\n    chance 0.1% of machines\n    basis estimate\n"
    )
    .replace("symptom streak: \"oil run down\"\n", "symptom streak: \"oil run down\"\n    with cracked: 99%\n");
    let case = "case: c\nmachine: {tag: T, facts: {rollers: 3}}\nseen:\n  machine: {found: {streak: yes, dry: no}}\n";
    let setting = set(&rules, case);
    let conflict = setting.diagnose().fit.unwrap().conflict;
    assert!(conflict > HARDLY, "{conflict}: they hardly go together by themselves");
    let cracked = setting.diagnose();
    let cracked = setting.cause(&cracked, "cracked");
    assert!(libm::log2(cracked.probability / cracked.prior) > conflict, "but one cause has grown by more");
    assert_eq!(hardly(&setting), None);
}
