//! What could stand where the author types.

use crate::editor::marked::third;
use pinboss::editor::complete::{Offers, complete};
use rstest::rstest;

const HEAD: &str = "symptom mark, each side: \"mark\"\n    grades none, faint, deep\n    basis estimate\n";

fn offers(text: &str) -> Offers {
    let (rules, cursor) = third(text);
    complete(&rules, cursor)
}

fn words(offers: &Offers) -> Vec<&str> {
    offers.list.iter().map(|offer| offer.word.as_str()).collect()
}

#[rustfmt::skip] // One row, one place.
#[rstest]
#[case("    ‸", &["with", "mirror", "without", "gives way to", "shared", "from", "counts", "seen", "only where", "text"])]
#[case("    wi‸", &["with", "mirror", "without", "gives way to", "shared", "from", "counts", "seen", "only where", "text"])]
#[case("    with ‸", &["off_line", "seal_failed", "slope", "toe"])]
#[case("    with    of‸", &["off_line", "seal_failed", "slope", "toe"])]
#[case("    with toe ‸", &["toed_in", "toed_out", "and", "on", "toward"])]
#[case("    with off_line ‸", &["inboard", "outboard", "and", "on", "toward"])]
#[case("    with slope toward ‸", &["this side", "the other side"])]
#[case("    with seal_failed on ‸", &["either side", "any roller"])]
#[case("    with seal_failed on any ‸", &["roller"])]
#[case("    mirror toe ‸", &["toed_in", "toed_out", "and", "on", "toward"])]
#[case("    with toe and ‸", &["off_line", "seal_failed", "slope", "toe"])]
#[case("    with toe: ‸", &["always", "often", "seldom"])]
#[case("    with toe: often ‸", &["faint", "deep", "slowly", "where"])]
#[case("    with toe: 5% ‸", &["faint", "deep", "slowly", "where"])]
#[case("    with toe: 5% faint, ‸", &["always", "often", "seldom"])]
#[case("    with toe: 5% faint ‸", &["slowly", "where"])]
#[case("    with toe: 5% faint where ‸", &["chain_type", "age", "side", "hours", "rollers"])]
#[case("    with toe: 5% faint where age ‸", &["is", "is not", "are", "over", "under"])]
#[case("    with toe: 5% faint where age is ‸", &["early", "late", "not"])]
#[case("    with toe: 5% faint where age is not ‸", &["early", "late"])]
#[case("    with toe: 5% faint where age is late ‸", &["or", "and"])]
#[case("    with toe: 5% faint where age is late and side is ‸", &["left", "right", "not"])]
#[case("    without ‸", &["always", "often", "seldom"])]
#[case("    only ‸", &["where"])]
#[case("    only where chain_type is ‸", &["sealed", "dry", "not"])]
#[case("    gives way to ‸", &["edge", "streak", "wet", "close", "mark"])]
#[case("    from ‸", &["gap", "worn", "loss", "new", "limit", "pace", "life", "hours of", "turn of", "half of", "mean of", "largest of", "smallest of", "spread of", "lead of"])]
#[case("    from worn ‸", &["gap"])]
#[case("    from hours of ‸", &["idler", "roller"])]
#[case("    from mean of gap across ‸", &["sides", "rollers", "front half of", "rear half of"])]
#[case("    from gap: ‸", &["none", "faint", "deep"])]
#[case("    from gap: none, faint ‸", &["over", "under"])]
#[case("    basis ‸", &["common practice", "estimate"])]
#[case("    seen 5% ‸", &["of"])]
#[case("    seen 5% of ‸", &["machines", "sides", "rollers"])]
#[case("    with toe: 5‸", &[])]
#[case("    text \"with ‸", &[])]
#[case("    # with ‸", &[])]
fn on_a_line_of_a_symptom(#[case] line: &str, #[case] expected: &[&str]) {
    assert_eq!(words(&offers(&format!("{HEAD}{line}\n"))), expected);
}

#[rustfmt::skip] // One row, one place.
#[rstest]
#[case("check c: \"C\"\n    shows ‸", &["edge", "streak", "wet", "close"])]
#[case("check c: \"C\"\n    shows edge, ‸", &["edge", "streak", "wet", "close"])]
#[case("check c: \"C\"\n    reads ‸", &["gap"])]
#[case("check c: \"C\"\n    while ‸", &["cleaned"])]
#[case("check c: \"C\"\n    makes ‸", &["cleaned"])]
#[case("check c: \"C\"\n    ends ‸", &["cleaned"])]
#[case("check c: \"C\"\n    access ‸", &["parked", "moved", "lifted", "records"])]
#[case("check c: \"C\"\n    takes 4 ‸", &["min", "h"])]
#[case("check c: \"C\"\n    takes 4 min  ‸", &["min", "h", "shows", "reads", "ends", "needs", "caution", "while", "makes", "access", "only where", "basis", "text"])]
#[case("remedy r: \"R\"\n    fixes ‸", &["off_line", "seal_failed", "slope", "toe"])]
#[case("remedy r: \"R\"\n    renews gap ‸", &["from"])]
#[case("remedy r: \"R\"\n    ‸", &["fixes", "mends", "renews", "along", "spares", "lasts", "caution", "finds out", "on site", "sets right", "while", "takes", "costs", "within", "left", "only where", "basis", "text"])]
#[case("remedy r: \"R\"\n    finds out\n    fixes toe  ‸", &["fixes", "mends", "renews", "along", "spares", "lasts", "caution", "on site", "sets right", "while", "takes", "costs", "within", "left", "only where", "basis", "text"])]
#[case("remedy r: \"R\"\n    finds ‸", &["out"])]
#[case("remedy r: \"R\"\n    sets ‸", &["right"])]
#[case("remedy r: \"R\"\n    sets right ‸", &["last"])]
#[case("cause c: \"C\"\n    kind ‸", &["upkeep"])]
#[case("cause c: \"C\"\n    kind    up‸", &["upkeep"])]
#[case("cause c: \"C\"\n    chance 5% of ‸", &["machines", "sides", "rollers"])]
#[case("cause c: \"C\"\n    chance 5% of sides where ‸", &["chain_type", "age", "side", "hours", "rollers"])]
#[case("symptom c, each roller: \"C\"\n    without 1% where roller is ‸", &["first", "last", "in front half", "in rear half", "not"])]
#[case("life light: \"L\"\n    ‸", &["gap", "spread", "as", "basis", "text"])]
#[case("part p, each side: \"P\"  rubs ‸", &["idler", "roller", "p"])]
#[case("symptom c, each ‸", &["side", "roller"])]
#[case("symptom c, ‸", &["each side", "each roller", "of idler", "of roller"])]
#[case("part p, ‸", &["each side", "numbered"])]
#[case("kind k: \"K\" counts against ‸", &["operator", "owner", "fitter", "maker", "site", "nobody"])]
#[case("ca‸", &["scale", "kind", "state", "part", "fact", "cause", "condition", "symptom", "measure", "dimensions", "life", "check", "remedy", "basis", "opposites", "hazard"])]
fn in_other_blocks(#[case] text: &str, #[case] expected: &[&str]) {
    assert_eq!(words(&offers(text)), expected);
}

/// What is typed of a word is replaced, and no more; what is offered says what it is
#[test]
fn an_offer_says_what_it_is_and_what_it_replaces() {
    let (rules, cursor) = third(&format!("{HEAD}    with töe, of‸\n"));
    let offers = complete(&rules, cursor);
    assert_eq!(rules.sources.slice(offers.replaces), "of");
    let (rules, cursor) = third(&format!("{HEAD}    with toe: of‸ten\n"));
    let offers = complete(&rules, cursor);
    assert_eq!(rules.sources.slice(offers.replaces), "of");
    assert_eq!(offers.list[1].detail, "60 %");
    let (rules, cursor) = third(&format!("{HEAD}    with ‸\n"));
    assert_eq!(complete(&rules, cursor).list[0].detail, "Leitrad läuft schräg");
}
