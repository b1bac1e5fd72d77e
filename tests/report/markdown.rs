//! What is told, laid out as Markdown: what belongs together stands together, in its order, and no word steers the layout.

use pinboss::report::form::markdown::markdown;
use pinboss::report::prose::Prose;
use rstest::rstest;

/// A check that begins a chapter, with its caution before its number as it is told
fn a_check() -> Prose {
    let mut prose = Prose::new();
    prose.heading("What to look at next");
    prose.gap();
    prose.caution(4, "Keep clear.");
    prose.entry(4, 1, "Look at it");
    prose.say(4, "How.");
    prose
}

#[test]
fn every_sort_of_piece_has_its_markdown() {
    let mut prose = a_check();
    prose.step(4, true, "it", "shown");
    prose.step(4, false, "it", "not shown");
    prose.named(4, "To do", "mend it");
    prose.gap();
    prose.cautions_as_before(4, &["Keep clear.".to_owned(), "Block it.".to_owned()]);
    prose.item(4, "one");
    prose.item(4, "two");
    prose.passage("An example");
    prose.lines(2, "cause x\n\n  prior rare");
    let told = "\
## What to look at next

### 1. Look at it

> **Caution.** Keep clear.

How.

Speaks for it:

- shown

Speaks against it:

- not shown

**To do:** mend it

> **Caution.** Keep clear.

> **Caution.** Block it.

- one
- two

### An example

    cause x

      prior rare
";
    assert_eq!(markdown(prose), told);
}

#[rstest]
#[case("2. of *three*", "2\\. of \\*three\\*")]
#[case("- a_b <i>", "\\- a\\_b \\<i\\>")]
#[case("wear 3.5 %,\n60 - 40", "wear 3.5 %, 60 - 40")]
#[case("# no heading", "\\# no heading")]
fn words_steer_nothing(#[case] words: &str, #[case] safe: &str) {
    let mut prose = Prose::new();
    prose.say(0, words);
    assert_eq!(markdown(prose), format!("{safe}\n"));
}

#[test]
fn a_caution_before_a_number_comes_right_after_its_title() {
    let told = "## What to look at next\n\n### 1. Look at it\n\n> **Caution.** Keep clear.\n\nHow.\n";
    assert_eq!(markdown(a_check()), told);
}

/// Each step begins where the one before it ended, so that none is put out of its order
#[rstest]
#[case::each_sense_is_a_list(
    &[(false, "c"), (true, "a"), (true, "b")],
    "Speaks against it:\n\n- c\n\nSpeaks for it:\n\n- a\n- b\n"
)]
#[case::by_turns(
    &[(true, "2 to 8"), (false, "8 to 4"), (true, "4 to 6")],
    "Speaks for it:\n\n- 2 to 8\n\nSpeaks against it:\n\n- 8 to 4\n\nSpeaks for it:\n\n- 4 to 6\n"
)]
fn steps_are_lists_in_their_order(#[case] steps: &[(bool, &str)], #[case] told: &str) {
    let mut prose = Prose::new();
    for (speaks_for, words) in steps {
        prose.step(4, *speaks_for, "it", words);
    }
    assert_eq!(markdown(prose), told);
}

/// On paper nobody turns back for it; on a screen it stands just above
#[test]
fn a_caution_told_before_is_told_again() {
    let mut prose = Prose::new();
    prose.cautions_as_before(4, &["Keep clear.".to_owned()]);
    prose.entry(4, 2, "The same on the left");
    assert_eq!(markdown(prose), "### 2. The same on the left\n\n> **Caution.** Keep clear.\n");
}

#[test]
fn a_heading_with_nothing_beneath_is_left_out() {
    let mut prose = Prose::new();
    prose.heading("Nothing");
    prose.heading("Something");
    prose.lines(4, "a\nb");
    assert_eq!(markdown(prose), "## Something\n\n    a\n    b\n");
}
