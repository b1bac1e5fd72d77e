//! The line a declaration starts on: every keyword, its places, its label.

use crate::language::said::declaration;
use crate::language::shown::{clause, head};
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("scale", "scale scale", &[])]
#[case("kind upkeep: \"put off\" counts against owner", "kind upkeep \"put off\" against=owner", &[])]
#[case("state cleaned: \"scraped and dry\"", "state cleaned \"scraped and dry\"", &[])]
#[case("part idler, each side: \"front idler\"", "part idler each=side \"front idler\"", &[])]
#[case("part roller, each side, numbered: \"roller\"", "part roller each=side numbered \"roller\"", &[])]
#[case("part roller, each side, numbered 5 to 9: \"roller\"", "part roller each=side numbered=5..9 \"roller\"", &[])]
#[case("part sprocket, each side: \"s\"  rubs chain", "part sprocket each=side \"s\"", &["rubs chain"])]
#[case("part rear, each side: \"r\"  only where layout is high", "part rear each=side \"r\"", &["gate if layout=high"])]
#[case("fact chain_age, each side: \"age\"", "fact chain_age each=side \"age\"", &[])]
#[case("cause slope: \"slope\"  kind duty  chance 6% of machines", "cause slope \"slope\"", &["kind duty", "chance 6% of=machines"])]
#[case("condition toe, each side, of frame: \"toe\"", "condition toe each=side of=frame \"toe\"", &[])]
#[case("symptom streak, each roller: \"streak\"", "symptom streak each=roller \"streak\"", &[])]
#[case("measure height, each side, of chain: \"h\"", "measure height each=side of=chain \"h\"", &[])]
#[case("dimensions medium: \"20 t class; invented\"", "dimensions medium \"20 t class; invented\"", &[])]
#[case("life medium: \"hours\"   spread 18%", "life medium \"hours\"", &["spread 18"])]
#[case("check sight, each side: \"Sight along\"", "check sight each=side \"Sight along\"", &[])]
#[case("remedy shim, each side: \"Shim\"", "remedy shim each=side \"Shim\"", &[])]
#[case("cause a1_b2:\"no space\"", "cause a1_b2 \"no space\"", &[])]
#[case("cause a :  \"spaces\"  # and a comment", "cause a \"spaces\"", &[])]
fn a_head_reads_to(#[case] line: &str, #[case] expected: &str, #[case] on_the_line: &[&str]) {
    let declaration = declaration(line);
    assert_eq!(head(&declaration), expected);
    let clauses: Vec<String> = declaration.clauses.iter().map(|it| clause(&it.value)).collect();
    assert_eq!(clauses, on_the_line);
}
