//! Which other causes a finding moves that bears on a cause without being brought about by it, on figures had by hand.

use super::{IDLER, machine};
use crate::support::setting::{Setting, set};
use pinboss::ground::Origin;
use rstest::rstest;

/// Chance of the toe, given whether the frame is bent
fn toe(bent: bool) -> f64 {
    if bent { 1.0 - 0.2 * 0.99 } else { 0.01 }
}

/// Probability that the frame is bent, given a rubbed flange, and given a gouged sprocket besides or a sound one
fn bent(gouge: Option<bool>) -> f64 {
    let mut of = [0.0; 2];
    for (bent, off, toed) in (0..8).map(|bits| (bits & 1 == 1, bits & 2 == 2, bits & 4 == 4)) {
        let share = |yes: bool, chance: f64| if yes { chance } else { 1.0 - chance };
        let still = |yes: bool, chance: f64| if yes { 1.0 - chance } else { 1.0 };
        let rubbed = 1.0 - still(off, 0.6) * still(toed, 0.5) * 0.98;
        let gouged = 1.0 - still(toed, 0.7) * 0.99;
        let seen = gouge.map_or(1.0, |yes| share(yes, gouged));
        of[usize::from(bent)] += share(bent, 0.05) * share(off, 0.1) * share(toed, toe(bent)) * rubbed * seen;
    }
    of[1] / (of[0] + of[1])
}

fn names(setting: &Setting, seen_of: &str) -> Vec<(String, f64, f64)> {
    let diagnosis = setting.diagnose();
    let step = &setting.cause(&diagnosis, seen_of).reasons[1];
    let named = step.rivals.iter().map(|rival| match setting.ground.origin(rival.node) {
        Some(Origin::Cause(id, _)) => (setting.model[*id].common.name.clone(), rival.from, rival.to),
        other => panic!("{other:?} is no cause"),
    });
    named.collect()
}

#[rstest]
#[case::up_with_what_speaks_against("yes", true)]
#[case::down_with_what_speaks_for("no", false)]
fn the_rival_is_named_with_where_it_goes(#[case] gouge: &str, #[case] yes: bool) {
    let setting = set(IDLER, &machine(&format!("{{found: {{rubbed: yes, gouge: {gouge}}}}}")));
    let named = names(&setting, "off");
    let [(name, from, to)] = named.as_slice() else { panic!("{named:?}") };
    assert_eq!(name, "bent");
    assert!((from - bent(None)).abs() < 1e-9, "{from} is not {}", bent(None));
    assert!((to - bent(Some(yes))).abs() < 1e-9, "{to} is not {}", bent(Some(yes)));
    assert_eq!(to > from, yes);
}

#[test]
fn what_the_cause_itself_brings_about_names_no_rival() {
    let setting = set(IDLER, &machine("{found: {rubbed: yes, shims: yes}}"));
    for cause in &setting.diagnose().causes {
        for step in &cause.reasons {
            assert!(step.way.is_none() || step.rivals.is_empty(), "{step:?}");
        }
    }
}

/// The gouge has a cause more, which nothing else that was seen comes from: it is no cause of the same signs
#[test]
fn a_cause_of_other_signs_is_no_rival() {
    let rules = IDLER.replace("    with toe: 70%", "    with blunt: 90%\n    with toe: 70%")
        + "cause blunt: \"sprocket blunt\"\n    kind upkeep\n    chance 20% of machines\n    basis estimate\n";
    let setting = set(&rules, &machine("{found: {rubbed: yes, gouge: no}}"));
    let named = names(&setting, "off");
    assert_eq!(named.iter().map(|(name, ..)| name.as_str()).collect::<Vec<_>>(), ["bent"]);
}

/// A rival so rare that no finding moves it by a hundredth is not worth a word
#[test]
fn a_rival_that_hardly_moves_is_not_named() {
    let rules = IDLER.replace("chance 5% of machines", "chance 0.1% of machines");
    let setting = set(&rules, &machine("{found: {rubbed: yes, gouge: no}}"));
    assert_eq!(names(&setting, "off"), []);
}
