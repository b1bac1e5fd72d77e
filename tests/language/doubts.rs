//! What is legal and doubtful: told as a warning, and only once the rules hold together.

use crate::language::said::take;
use pinboss::problem::code::{Code, Severity};
use rstest::rstest;

/// Rules with nothing doubtful in them
const SOUND: &str = r#"
kind upkeep: "put off" counts against owner
part chain, each side: "chain"
part sprocket, each side: "sprocket" rubs chain
cause tight, each side: "kept tight"
    kind upkeep
    chance 5% of sides
    basis estimate
cause packed: "packed"
    kind upkeep
    chance 5% of machines
    basis "A book, page 3"
condition scrubbed, each side: "tooth and bushing scrub"
    with tight: 60%
    with packed: 60%
    basis common practice
symptom tip, each side, of sprocket: "worn tip"
    with scrubbed: 60%
    basis estimate
symptom band, each side, of chain: "worn band"
    with scrubbed: 60%
    basis estimate
measure gap, each side, of chain: "gap"
    unit mm range 0 to 60 error 1
symptom wide, each side, of chain: "wide gap"
    from gap: no, yes over 5 mm
    with tight: 10%
    basis estimate
check look, each side: "Photograph tooth and bushing"
    shows tip, band
    takes 2 min
check measure_gap, each side: "Measure the gap"
    reads gap
    takes 2 min
remedy ease, each side: "Ease the track"
    fixes tight
    takes 1 h
remedy clean: "Clean the tracks"
    fixes packed
    takes 2 h
"#;

fn warnings(text: &str) -> Vec<String> {
    let taken = take(&[text]);
    assert_eq!(taken.errors(), Vec::<String>::new());
    let sorted = taken.problems.sorted();
    assert!(sorted.iter().all(|problem| problem.code.severity() == Severity::Warning));
    let shown = sorted.iter();
    shown.map(|it| format!("{} | {} | {}", it.code.slug(), taken.sources.slice(it.at), it.message)).collect()
}

#[test]
fn sound_rules_are_not_doubted() {
    assert_eq!(warnings(SOUND), Vec::<String>::new());
}

#[rustfmt::skip] // One row, one line.
#[rstest]
// A contact pair is two witnesses only where one condition stands between
#[case("symptom band, each side, of chain: \"worn band\"\n    with scrubbed: 60%",
       "symptom band, each side, of chain: \"worn band\"\n    with tight: 5%", &[])]
#[case("with scrubbed: 60%", "with tight: 5%\n    with packed: 5%",
       &["condition-nothing-shows | scrubbed | nothing can show `scrubbed`", "contact-pair | band | `tip` and `band` are seen on parts that rub, and share `tight` and `packed`"])]
// A cause is seen through every condition on the way, and through nothing else
#[case("with packed: 60%", "without 1%", &["cause-nothing-shows | packed | nothing can show `packed`"])]
#[case("with scrubbed: 60%", "without 1%", &["condition-nothing-shows | scrubbed | nothing can show `scrubbed`"])]
// A symptom is shown by a check, or by all readings it is made from
#[case("shows tip, band", "shows tip", &["symptom-no-check-shows | band | no check shows `band`"])]
#[case("reads gap", "shows tip", &["symptom-no-check-shows | wide | no check shows `wide`"])]
#[case("reads gap", "shows wide", &[])]
// A condition that nothing shows takes its causes with it: one mistake, one problem
#[case("condition scrubbed,", "condition lost, each side: \"x\"\n    with packed: 60%\n    basis estimate\ncondition scrubbed,",
       &["condition-nothing-shows | lost | nothing can show `lost`"])]
#[case("with packed: 60%\n    basis common practice", "basis common practice\ncondition lost, each side: \"x\"\n    with packed: 60%\n    basis estimate",
       &["condition-nothing-shows | lost | nothing can show `lost`"])]
// Whoever finds a cause asks what to do
#[case("fixes packed", "fixes scrubbed", &["cause-nothing-fixes | packed | no remedy fixes `packed`"])]
// A remedy is called for by what can be there, and by what is read and has a worn size
#[case("chance 5% of machines", "chance 0% of machines",
       &["remedy-for-nothing | packed | `packed` has a chance of 0 %, so that there is nothing to fix"])]
#[case("fixes packed", "fixes packed\n    renews gap from 90%",
       &["remedy-for-nothing | gap | `gap` has no worn size in any size class, so that it is never due"])]
#[case("remedy clean:", "dimensions medium: \"x\"\n    gap 20 mm\nremedy clean: \"x\"\n    renews gap from 90%\nremedy clean_up:",
       &["remedy-for-nothing | gap | `gap` has no worn size in any size class, so that it is never due"])]
#[case("remedy clean:", "dimensions medium: \"x\"\n    gap 20 mm 0%, 4 mm 100%\nremedy clean: \"x\"\n    renews gap from 90%\nremedy clean_up:", &[])]
#[case("fixes packed\n    takes 2 h", "fixes packed\n    renews pitch from 90%\nmeasure pitch, each side: \"x\"\n    unit mm range 0 to 60 error 1\ndimensions medium: \"x\"\n    pitch 20 mm 0%, 24 mm 100%",
       &["remedy-for-nothing | pitch | no check reads `pitch`, so that nobody learns when it is due"])]
// What is declared is used
#[case("part chain,", "kind duty: \"x\" counts against nobody\npart chain,", &["name-never-used | duty | no cause is of the kind `duty`"])]
#[case("part chain,", "state cleaned: \"x\"\npart chain,", &["name-never-used | cleaned | no check needs, makes or ends `cleaned`"])]
#[case("part chain,", "state cleaned: \"x\"\ncheck scrape: \"x\"\n    makes cleaned takes 2 min\npart chain,", &[])]
#[case("part chain,", "part bar: \"x\"\npart chain,", &["name-never-used | bar | nothing is seen or measured on `bar`"])]
#[case("part chain,", "fact layout: \"x\"\n    choices oval 60%, raised 40%\npart chain,", &["name-never-used | layout | no rule tests `layout`"])]
#[case("part chain,", "measure pitch, each side: \"x\"\n    unit mm range 0 to 60 error 1\npart chain,", &["name-never-used | pitch | nothing is made of `pitch`"])]
#[case("part chain,", "measure half_gap, each side: \"x\"\n    is half of gap\npart chain,", &[])]
// A basis on every cause, condition and symptom
#[case("basis \"A book, page 3\"", "text \"What it is.\"", &["no-basis | packed | `packed` does not say where it comes from"])]
#[case("basis common practice", "text \"What it is.\"", &["no-basis | scrubbed | `scrubbed` does not say where it comes from"])]
fn a_doubt_is_told(#[case] sound: &str, #[case] doubtful: &str, #[case] told: &[&str]) {
    assert!(SOUND.contains(sound), "{sound}");
    assert_eq!(warnings(&SOUND.replace(sound, doubtful)), told);
}

/// Facts that hang on each other: a dry chain has no bushings to be turned wet
const FACTS: &str = r#"
fact chain: "x"
    choices dry 20%, sealed 50%, greased 30%
fact turned: "x"
    choices no 100%, yes 0% where chain is dry
    choices no 60%, yes 40%
fact seals, each side: "x"
    choices none 100%, old 0% where turned is no
    choices none 50%, old 50%
kind upkeep: "put off" counts against owner
cause bent, each side: "x"
    kind upkeep
    chance 5% of sides
    basis estimate
condition loose, each side: "x"
    grades none, some, much
    with bent: 30% some, 30% much
    without 1% some where turned is yes
    basis estimate
symptom sign, each side: "x"
    grades none, slight, heavy
    with bent: 50% slight where seals are old
    with loose some: 40% slight
    with loose much: 30% slight, 50% heavy
    without 2% slight
    basis estimate
check look, each side: "Look"
    shows sign
    takes 2 min
remedy mend, each side: "Mend it"
    fixes bent
"#;

#[test]
fn facts_that_hang_on_each_other_are_not_doubted() {
    assert_eq!(warnings(FACTS), Vec::<String>::new());
}

#[rustfmt::skip] // One row, one line.
#[rstest]
// Choices without a share together, through one fact and through two
#[case("where seals are old", "where seals are old and chain is dry and turned is yes",
       &["gate-without-share | seals are old and chain is dry and turned is yes | the facts give no share to any machine that passes this test"])]
#[case("where seals are old", "where chain is dry and seals are old",
       &["gate-without-share | chain is dry and seals are old | the facts give no share to any machine that passes this test"])]
#[case("where seals are old", "where chain is not dry and seals are old", &[])]
// A line is told with its block's gate, and a gate without a share is told alone
#[case("    without 2% slight", "    only where chain is dry\n    without 2% slight",
       &["gate-without-share | seals are old | the facts give no share to any machine that passes this test"])]
#[case("    without 2% slight", "    only where chain is dry and turned is yes\n    without 2% slight",
       &["gate-without-share | chain is dry and turned is yes | the facts give no share to any machine that passes this test"])]
// Odds: 1 + 0.05 · (1 - 0.5)/0.5 = 1.05 for 5 % against 50 %, under half a deciban; 1.2 for 20 %
#[case("    without 2% slight", "    with bent: 5% slight\n    without 50% slight",
       &["sign-says-little | 5% slight | `slight` or worse by this line in 5 % of places is lost in the 50 % that show it without any cause"])]
#[case("    without 2% slight", "    with bent: 20% slight\n    without 50% slight", &[])]
// Not seeing it speaks too: 85 % against 90 % leave 15 % of the places without it
#[case("    with loose much: 30% slight, 50% heavy\n    without 2% slight", "    with loose much: 95% heavy\n    with bent: 85% slight\n    without 90% slight", &[])]
// Two lines by a test: the sign says enough on one of the machines
#[case("    without 2% slight", "    with bent: 5% slight\n    without 50% slight where chain is dry\n    without 2% slight", &[])]
#[case("    without 2% slight", "    with bent: 5% slight\n    without 50% slight where chain is dry\n    without 40% slight",
       &["sign-says-little | 5% slight | `slight` or worse by this line in 5 % of places is lost in the 40 % that show it without any cause"])]
#[case("    without 2% slight", "    with bent: 5% slight where chain is dry\n    without 50% slight where chain is dry\n    without 2% slight",
       &["sign-says-little | 5% slight | `slight` or worse by this line in 5 % of places is lost in the 50 % that show it without any cause"])]
// Commoner with nothing wrong than by any cause, on every machine
#[case("    with bent: 30% some, 30% much\n    without 1% some where turned is yes", "    with bent: 20% some, 10% much\n    without 35% some, 15% much",
       &["commoner-without | 35% some | `some` or worse shows in 50 % of places without any cause, and in at most 30 % by one"])]
#[case("    with bent: 30% some, 30% much\n    without 1% some where turned is yes", "    with bent: 20% some, 10% much\n    without 35% some, 15% much where turned is yes", &[])]
#[case("    with bent: 30% some, 30% much\n    without 1% some where turned is yes", "    with bent: 20% some, 10% much\n    without 35% some, 5% much", &[])]
// A worse grade of a parent brings at least as much
#[case("30% slight, 50% heavy", "35% heavy", &["worse-shows-less | 35% heavy | `slight` or worse follows from the worse grade in 35 % of places, and from the milder one in 40 %"])]
#[case("30% slight, 50% heavy", "40% heavy", &[])]
fn a_share_in_doubt_is_told(#[case] sound: &str, #[case] doubtful: &str, #[case] told: &[&str]) {
    assert!(FACTS.contains(sound), "{sound}");
    assert_eq!(warnings(&FACTS.replace(sound, doubtful)), told);
}

/// What noisy-MAX makes of the shares, by the text-book rule written out: P(S >= g | C) = 1 - (1 - a)(1 - l). The odds of C
/// move by P(S >= g | C) / P(S >= g | not C), which is what the two warnings about `without` shares speak of.
#[rstest]
#[case(0.05, 0.50, 1.05)]
#[case(0.20, 0.50, 1.20)]
#[case(0.30, 0.50, 1.30)]
fn the_odds_that_the_warnings_speak_of(#[case] by_cause: f64, #[case] without: f64, #[case] factor: f64) {
    let both = 1.0 - (1.0 - by_cause) * (1.0 - without);
    assert!((both / without - factor).abs() < 1e-12);
    assert!((1.0 + by_cause * (1.0 - without) / without - factor).abs() < 1e-12);
    assert_eq!(factor < 1.122, by_cause < 0.1);
}

/// Rules that have no remedy at all have not come to mending yet, and their causes are not doubted for it
#[test]
fn rules_without_a_remedy_are_not_asked_for_one() {
    let (diagnosis, _) = SOUND.split_once("remedy ease").unwrap();
    assert_eq!(warnings(diagnosis), Vec::<String>::new());
}

/// Doubts are told of rules that hold together; before, they would be consequences
#[test]
fn no_doubt_is_told_beside_an_error() {
    let taken = take(&[&SOUND.replace("basis common practice", "").replace("with packed", "with paked")]);
    assert_eq!(taken.errors(), ["unknown-name | paked | no cause or condition is called `paked`"]);
    assert_eq!(taken.of(Code::NoBasis), Vec::<String>::new());
}

/// Each warning says what to do
#[test]
fn a_doubt_says_what_to_do() {
    let taken = take(&[&SOUND.replace("basis common practice", "")]);
    assert_eq!(taken.help(), "add `basis common practice`, `basis estimate`, or a source in quotes");
}
