//! The language's own example block, which is the contract of the language.

use pinboss::source::Sources;
use pinboss::syntax::{self, tree::Sort};

const EXAMPLE: &str = include_str!("example.rules");

#[test]
fn every_line_of_the_example_is_read() {
    let mut sources = Sources::default();
    let id = sources.add("example.rules", EXAMPLE);
    let (file, problems) = syntax::parse(&sources, id);
    let said: Vec<String> = problems
        .sorted()
        .iter()
        .map(|problem| format!("{:?} {}", sources.place(problem.at), problem.message))
        .collect();
    assert_eq!(said, Vec::<String>::new());
    let count = |sort| file.declarations.iter().filter(|declaration| declaration.sort.value == sort).count();
    assert_eq!(Sort::ALL.map(count), [1, 1, 1, 4, 2, 3, 2, 5, 3, 1, 1, 3, 2]);
}
