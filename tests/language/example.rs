//! The language's own example block, which is the contract of the language.

use crate::language::said::take;
use pinboss::syntax::tree::Sort;

const EXAMPLE: &str = include_str!("example.rules");

#[test]
fn every_line_of_the_example_is_read() {
    let taken = take(&[EXAMPLE]);
    let count = |sort| {
        taken.files[0].declarations.iter().filter(|declaration| declaration.sort.value == sort).count()
    };
    assert_eq!(Sort::ALL.map(count), [1, 1, 1, 4, 2, 3, 2, 5, 3, 1, 1, 3, 2]);
    assert!(taken.files[0].unread.is_empty());
}

/// The example leaves out blocks to stay short: their names are told, and nothing else is wrong with it
#[test]
fn the_example_lacks_only_the_blocks_it_leaves_out() {
    let taken = take(&[EXAMPLE]);
    let sorted = taken.problems.sorted();
    let told: Vec<&str> = sorted.iter().map(|problem| problem.message.as_str()).collect();
    assert_eq!(
        told,
        [
            "no part is called `chain`",
            "no fact is called `layout`",
            "no kind is called `fitting`",
            "no fact is called `bushings`",
            "no kind is called `duty`",
            "no cause or condition is called `frame_bent`",
            "no cause or condition is called `seals_at_end`",
            "no cause or condition is called `roller_seal_leaks`",
            "no cause or condition is called `pivot_worn`",
            "no measure is called `roller_tread`",
            "no measure is called `bushing_rev`",
            "no fact is called `impact`",
            "no fact is called `abrasion`",
            "no cause or condition is called `bosses_reached`",
            "no symptom is called `idler_cracked`",
            "no measure is called `sag_clean`",
            "no state is called `packed`",
            "no state is called `hot`",
        ]
    );
}

/// With the blocks that it leaves out the example has no error
#[test]
fn the_example_made_whole_has_no_error() {
    let rest = r#"
kind fitting: "fitting" counts against fitter
kind duty: "duty" counts against nobody
state packed: "packed"
state hot: "hot from work"
part chain, each side: "chain"
fact layout: "layout"
    choices oval 60%, elevated 40%
fact bushings, each side: "bushings"
    choices first_side 80%, turned 20%
fact impact: "impact"
    choices low 60%, high 40%
fact abrasion: "abrasion"
    choices low 60%, high 40%
cause frame_bent, each side: "bent frame"
    kind duty
    chance 1% of sides
cause seals_at_end, each side: "seals at their end"
    kind duty
    chance 1% of sides
cause roller_seal_leaks, each roller: "seal leaks"
    kind duty
    chance 1% of rollers
cause pivot_worn, each side: "worn pivot"
    kind duty
    chance 1% of sides
cause bosses_reached, each side: "bosses reached"
    kind duty
    chance 1% of sides
measure roller_tread, each roller: "tread"
    unit mm   range 100 to 300   error 0.5
measure bushing_rev, each side: "bushing"
    unit mm   range 40 to 80   error 0.2
measure sag_clean, each side: "sag"
    unit mm   range 0 to 200   error 3
symptom idler_cracked, each side: "cracked idler"
    without 1%
"#;
    assert_eq!(take(&[EXAMPLE, rest]).errors(), Vec::<String>::new());
}
