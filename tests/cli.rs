//! What a person sees: runs of the program with their whole output, the README's own run among them.
//!
//! `TRYCMD=overwrite cargo test --test cli` writes the outputs anew; read them before you keep them, and shorten README's
//! run again with `...`.

#[test]
fn runs_print_what_they_printed() {
    let runs = trycmd::TestCases::new();
    runs.default_bin_name("pinboss").env("COLUMNS", "100").env("NO_COLOR", "1");
    runs.case("README.md").case("tests/cli/*.md");
}
