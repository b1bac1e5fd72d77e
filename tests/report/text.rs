//! What is told, laid out as plain text.

use pinboss::report::form::text::text;
use pinboss::report::prose::Prose;

#[test]
fn every_sort_of_piece_has_its_mark() {
    let mut prose = Prose::new();
    prose.say(0, "A machine");
    prose.heading_beside("Visit within 250 h", " (meter 4,250)");
    prose.caution(4, "Keep clear.");
    prose.entry(4, 1, "Look at it, and then look at it once more");
    prose.step(4, true, "it", "for");
    prose.step(4, false, "it", "against");
    prose.named(4, "To do", "mend it");
    prose.gap();
    prose.cautions_as_before(4, &["Keep clear.".to_owned()]);
    prose.entry(4, 12, "The same");
    prose.item(2, "one of a list");
    prose.passage("Left as it is");
    prose.lines(4, "cause x\n\n  prior rare");
    let told = "\
A machine

VISIT WITHIN 250 H (meter 4,250)
    CAUTION: Keep clear.
 1. Look at it, and then look at it
    once more
    + for
    - against
    To do: mend it

    CAUTION: the same as for the
             check before.
12. The same
  - one of a list

Left as it is
    cause x

      prior rare
";
    assert_eq!(text(&prose, 36), told);
}

#[test]
fn cautions_that_there_are_none_of_are_not_told_again() {
    let mut prose = Prose::new();
    prose.cautions_as_before(4, &[]);
    assert_eq!(text(&prose, 80), "");
}
