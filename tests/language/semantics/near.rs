//! A fact reckoned so near a bound that either side of it may be meant.

use crate::support::setting::set;
use rstest::rstest;

const RULES: &str = "
part chain, each side: \"chain\"
measure height, each side, of chain: \"height\"
    unit mm   range 60 to 160   error 0.2
fact age, each side: \"age\"
    from    hours of chain / life height: early, mid over 40%, late over 80%
    choices early 40%, mid 30%, late 30%
    tell    \"Ask.\"  takes 1 min
dimensions medium: \"invented\"
    height 100 mm 0%, 90 mm 100%
life medium: \"invented\"
    height 1000 h
";

/// The choice passes over about each bound, evenly over a tenth of it to either side
#[rstest]
#[case(200, &[])]
#[case(360, &[])]
#[case(380, &[0.75, 0.25, 0.0])]
#[case(400, &[0.5, 0.5, 0.0])]
#[case(600, &[])]
#[case(840, &[0.0, 0.25, 0.75])]
#[case(1200, &[])]
fn a_choice_passes_over_about_its_bound(#[case] hours: u32, #[case] wanted: &[f64]) {
    let case = format!(
        "case: c\nmachine: {{tag: T, hours: {hours}, size: medium, facts: {{rollers: 3}}}}\nparts: [{{part: chain, on: 0 h}}]\n"
    );
    let machine = set(RULES, &case).ground.machine.clone();
    assert_eq!(machine.near.len(), if wanted.is_empty() { 0 } else { 2 }, "{:?}", machine.near);
    for chances in machine.near.values() {
        assert_eq!(chances.len(), wanted.len());
        for (found, wanted) in chances.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
        }
    }
}
