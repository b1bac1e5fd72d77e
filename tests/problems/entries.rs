//! What stands under `src/problem/explained/`: an entry for each code, and no other.

use pinboss::problem::code::{Code, Group};
use pinboss::problem::explained::explained;
use rstest::rstest;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

#[test]
fn no_two_codes_share_a_slug() {
    let slugs: BTreeSet<&str> = Code::ALL.iter().map(|code| code.slug()).collect();
    assert_eq!(slugs.len(), Code::ALL.len());
}

#[test]
fn every_code_has_an_entry() {
    for code in Code::ALL {
        assert!(explained(*code).is_some(), "{} has no entry, or one that cannot be read", code.slug());
    }
}

/// The text of a group has the entries of its codes in the order of the table, and none without a code
#[rstest]
#[case(Group::Files, "files")]
#[case(Group::Form, "form")]
#[case(Group::Names, "names")]
#[case(Group::Numbers, "numbers")]
#[case(Group::Whole, "whole")]
#[case(Group::Cases, "cases")]
fn the_text_of_a_group_holds_the_entries_of_its_codes(#[case] group: Group, #[case] name: &str) {
    let path = format!("src/problem/explained/{name}.md");
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap();
    let heads: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("## ")).collect();
    let own = Code::ALL.iter().filter(|code| code.group() == group).map(|code| code.slug());
    assert_eq!(heads, own.collect::<Vec<_>>());
}
