//! All forms of a grounded case: sound XML, true numbers, names that any program takes.

use crate::export::tables::{Found, Table, multiplied};
use crate::support::setting::{Setting, set};
use pinboss::ground::Ground;
use pinboss::infer::Finding;
use pinboss::infer::enumerate::enumerate;
use pinboss::network::plain::plain;
use pinboss::report::rules::export::names::Names;
use pinboss::report::rules::export::{Export, Node, State, bif, export, xmlbif};
use roxmltree::Document;
use rstest::rstest;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One block of every sort and shape: an untold fact, forms, two arms, alternatives, a ladder with several parents
const RULES: &str = "
fact soil: \"what it works in\"
    choices sand 30%, clay 70%
    tell \"Ask.\" takes 1 min
cause slope: \"work across a slope & <banks>\"
    kind upkeep
    chance 10% of machines, toward one side
cause bent: \"frame bent\"
    kind upkeep
    chance 20% of machines where soil is clay
    chance 4% of machines
condition toe: \"where the frame points\"
    grades toed_in < straight > toed_out
    with bent: 50% toed_in, 40% toed_out
    without 1% toed_in, 2% toed_out
symptom flange, each side, of idler: \"flange worn\"
    grades none, inboard | outboard, both
    with slope toward this side: 30% inboard
    with slope toward the other side: 20% outboard
    with toe toed_in: 60% inboard
    with toe toed_out: 70% outboard
    without 2% inboard, 3% outboard, 1% both
symptom noise: \"noise\"
    grades none, some, much
    with bent: 30% some, 60% much
    with slope: 25% some
    with toe toed_in and slope: 80% much
    without 5% some where soil is sand
    without 1% much
check listen: \"Listen\"
    shows flange, noise
    takes 1 min
";

const CASE: &str = "
case: \"trial & error <1>\"
machine: {tag: \"T1\", facts: {}}
visit: {on: 2026-05-11, by: \"M. K.\"}
seen:
  machine: {looked: [listen], found: {noise: {saw: some, sure: 80%}}}
  left: {found: {flange: both}}
";

fn exported(most: usize) -> (Arc<Ground>, Export) {
    let Setting { model, ground } = set(RULES, CASE);
    let plain = plain(&ground.network, most).unwrap();
    let export = export(&model, &ground, &plain, ("trial & error <1>", "T1"), ("sha256:1", "sha256:2"));
    (ground, export)
}

/// The tables of an XMLBIF text, by its own words alone
fn read(text: &str) -> Vec<Table> {
    let document = Document::parse(text).unwrap();
    let tag = |name: &'static str| document.descendants().filter(move |node| node.has_tag_name(name));
    let child = |node: roxmltree::Node<'_, '_>, name: &str| -> Vec<String> {
        node.children()
            .filter(|child| child.has_tag_name(name))
            .map(|child| child.text().unwrap().to_owned())
            .collect()
    };
    let names: Vec<String> = tag("VARIABLE").map(|variable| child(variable, "NAME").remove(0)).collect();
    let place = |name: &String| names.iter().position(|known| known == name).unwrap();
    let sorted = |variable| child(variable, "PROPERTY").contains(&"sort = auxiliary".to_owned());
    tag("VARIABLE")
        .zip(tag("DEFINITION"))
        .map(|(variable, definition)| Table {
            name: child(definition, "FOR").remove(0),
            states: child(variable, "OUTCOME").len(),
            auxiliary: sorted(variable),
            parents: child(definition, "GIVEN").iter().map(place).collect(),
            entries: child(definition, "TABLE")[0]
                .split_whitespace()
                .map(|entry| entry.parse().unwrap())
                .collect(),
        })
        .collect()
}

/// The tables of a BIF text, by its own words alone
fn read_bif(text: &str) -> Vec<Table> {
    let lines: Vec<&str> = text.lines().filter(|line| !line.starts_with("//")).collect();
    let between = |line: &str, open: char, close: char| -> Vec<String> {
        let inner = line.split(open).nth(1).unwrap().split(close).next().unwrap().to_owned();
        inner.split(['|', ',']).map(|word| word.trim().to_owned()).filter(|word| !word.is_empty()).collect()
    };
    let mut variables: Vec<(String, Vec<String>)> = Vec::new();
    for (line, next) in lines.iter().zip(&lines[1..]) {
        if let Some(name) = line.strip_prefix("variable ") {
            let states = between(next, '{', '}');
            assert!(next.starts_with(&format!("  type discrete [ {} ]", states.len())), "{next}");
            variables.push((name.trim_end_matches(" {").to_owned(), states));
        }
    }
    let place = |name: &String| variables.iter().position(|(known, _)| known == name).unwrap();
    let mut tables: Vec<Table> = Vec::new();
    for line in lines.iter().skip_while(|line| !line.starts_with("probability")) {
        let numbers = |part: &str| -> Vec<f64> {
            part.trim_end_matches(';').split(',').map(|entry| entry.trim().parse().unwrap()).collect()
        };
        if line.starts_with("probability") {
            let names = between(line, '(', ')');
            tables.push(Table {
                name: names[0].clone(),
                states: variables[place(&names[0])].1.len(),
                auxiliary: names[0].starts_with("auxiliary"),
                parents: names[1..].iter().map(place).collect(),
                entries: Vec::new(),
            });
        } else if let Some(row) = line.strip_prefix("  table ") {
            tables.last_mut().unwrap().entries = numbers(row);
        } else if *line != "}" {
            // Each row stands at the place that its states say, whatever the order of the lines.
            let table = tables.last_mut().unwrap();
            let states = between(line, '(', ')');
            let row = table.parents.iter().zip(&states).fold(0, |row, (parent, state)| {
                let known = &variables[*parent].1;
                row * known.len() + known.iter().position(|own| own == state).unwrap()
            });
            let size =
                table.states * table.parents.iter().map(|it| variables[*it].1.len()).product::<usize>();
            table.entries.resize(size, f64::NAN);
            let entries = numbers(line.split(')').nth(1).unwrap());
            table.entries[row * table.states..][..table.states].copy_from_slice(&entries);
        }
    }
    tables
}

/// Plain multiplication of what stands in the text gives what enumeration gives on the network of the rules
#[rstest]
fn each_form_tells_the_network(
    #[values(1, 64, usize::MAX)] most: usize,
    #[values("bif", "xmlbif")] form: &str,
) {
    let (ground, export) = exported(most);
    let tables = match form {
        "bif" => read_bif(&bif::bif(&export)),
        _ => read(&xmlbif::xmlbif(&export)),
    };
    assert_eq!(tables.iter().any(|table| table.auxiliary), most < usize::MAX);
    let place = |name: &String| tables.iter().position(|table| table.name == *name).unwrap();
    let found: Vec<Found> =
        export.findings.iter().map(|it| (place(&it.node), it.likelihood.clone())).collect();
    assert_eq!(found.len(), 3);
    let seen = ground.observations.iter();
    let seen: Vec<Finding> =
        seen.map(|own| Finding { node: own.node, likelihood: own.likelihood.clone() }).collect();
    let expected = enumerate(&ground.network, &seen);
    let (total, marginals) = multiplied(&tables, &found);
    assert!((libm::log(total) - expected.log_evidence).abs() < 1e-12);
    assert_eq!(marginals.len(), ground.network.len());
    for (node, (index, marginal)) in ground.network.nodes().zip(marginals) {
        let true_name = &export.nodes.iter().find(|it| it.name == tables[index].name).unwrap().true_name;
        assert_eq!(true_name, ground.network.name(node));
        for (got, expected) in marginal.iter().zip(expected.marginal(node).unwrap()) {
            assert!((got - expected).abs() < 1e-12, "{true_name}: {got} instead of {expected}");
        }
    }
}

#[test]
fn the_xml_is_laid_out_as_the_format_asks() {
    let (_, export) = exported(64);
    let text = xmlbif::xmlbif(&export);
    let document = Document::parse(&text).unwrap();
    let root = document.root_element();
    assert_eq!((root.tag_name().name(), root.attribute("VERSION")), ("BIF", Some("0.3")));
    let elements = |node: roxmltree::Node<'_, '_>| -> Vec<String> {
        node.children()
            .filter(|node| node.is_element())
            .map(|node| node.tag_name().name().to_owned())
            .collect()
    };
    assert_eq!(elements(root), ["NETWORK"]);
    let network = root.first_element_child().unwrap();
    let tags = elements(network);
    assert_eq!(tags[0], "NAME");
    let known: BTreeSet<&str> = tags[1..].iter().map(String::as_str).collect();
    assert_eq!(known, BTreeSet::from(["DEFINITION", "PROPERTY", "VARIABLE"]));
    for variable in network.children().filter(|node| node.has_tag_name("VARIABLE")) {
        assert_eq!(variable.attribute("TYPE"), Some("nature"));
        let tags = elements(variable);
        assert_eq!(tags.iter().filter(|tag| *tag == "NAME").count(), 1);
        assert!(tags.iter().filter(|tag| *tag == "OUTCOME").count() >= 2);
    }
    let label = "label = work across a slope & <banks>";
    assert!(document.descendants().any(|node| node.text() == Some(label)), "escaped and read back");
}

#[test]
fn numbers_keep_every_digit() {
    let (_, export) = exported(64);
    let tables = read(&xmlbif::xmlbif(&export));
    let entries: Vec<f64> = export.nodes.iter().flat_map(|node| node.table.concat()).collect();
    assert_eq!(entries, tables.into_iter().flat_map(|table| table.entries).collect::<Vec<_>>());
    let tables = read_bif(&bif::bif(&export));
    assert_eq!(entries, tables.into_iter().flat_map(|table| table.entries).collect::<Vec<_>>());
    let likelihoods = export.findings.iter().flat_map(|finding| finding.likelihood.clone());
    let all: Vec<f64> = entries.into_iter().chain(likelihoods).collect();
    // One number on a line; the JSON reader at hand may round the last digit.
    let text = pinboss::report::json(&export).unwrap();
    let numbers = text.lines().filter_map(|line| line.trim().trim_end_matches(',').parse::<f64>().ok());
    assert_eq!(all, numbers.collect::<Vec<_>>());
    for (node, row) in export.nodes.iter().flat_map(|node| node.table.iter().map(move |row| (node, row))) {
        assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{}", node.name);
    }
}

#[rstest]
#[case::fact("soil_machine", "fact", &["sand", "clay"])]
#[case::sided("slope_machine", "cause", &["absent", "left", "right"])]
#[case::plain("bent_machine", "cause", &["absent", "present"])]
#[case::arms("toe_machine", "condition", &["straight", "toed_out", "toed_in", "toed_in_and_toed_out"])]
#[case::alternatives("flange_right", "symptom", &["none", "inboard", "outboard", "both"])]
#[case::auxiliary("auxiliary_1_of_noise_machine", "auxiliary", &["none", "some", "much"])]
fn nodes_and_states_have_the_names_of_the_rules(
    #[case] name: &str,
    #[case] sort: &str,
    #[case] states: &[&str],
) {
    let (_, export) = exported(64);
    let node = export.nodes.iter().find(|node| node.name == name).unwrap();
    assert_eq!(node.sort, sort);
    assert_eq!(node.states.iter().map(|state| state.name.as_str()).collect::<Vec<_>>(), states);
    assert_eq!(node.states.last().unwrap().shows.len(), if name == "toe_machine" { 2 } else { 1 });
}

#[rstest]
#[case::place("flange_worn left roller 3", "flange_worn_left_roller_3")]
#[case::marks("a<b>&\"c\"", "a_b___c_")]
#[case::other_letters("Kjærulff", "Kj_rulff")]
#[case::digit("3rd", "n_3rd")]
#[case::underscore("_x", "n__x")]
#[case::empty("", "n_")]
#[case::like_an_auxiliary("auxiliary_1_of_x", "n_auxiliary_1_of_x")]
fn unsafe_names_become_safe(#[case] name: &str, #[case] safe: &str) {
    assert_eq!(Names::default().real(name), safe);
}

#[test]
fn names_that_come_out_alike_are_told_apart() {
    let mut names = Names::default();
    let given: Vec<String> = ["a b", "a_b", "a_b_2", "a-b"].map(|name| names.real(name)).to_vec();
    assert_eq!(given, ["a_b", "a_b_2", "a_b_2_2", "a_b_3"]);
    assert_eq!(names.auxiliary("a b", 1), "auxiliary_1_of_a_b");
    assert_eq!(names.auxiliary("a_b", 1), "auxiliary_1_of_a_b_2");
}

/// Whatever stands in a label, the text stays what it is
#[test]
fn no_text_breaks_a_form() {
    let strange = "]]> <!-- &amp; \u{0} \u{b} \u{ffff} \r\n\t \u{1f69c} \"'";
    let state = |name: &str| State { name: name.to_owned(), shows: vec![strange.to_owned()] };
    let node = Node {
        name: "x".to_owned(),
        true_name: strange.to_owned(),
        sort: "cause",
        id: strange.to_owned(),
        place: strange.to_owned(),
        label: strange.to_owned(),
        states: vec![state("no"), state("yes")],
        parents: Vec::new(),
        table: vec![vec![1.0 - 1e-300, 1e-300]],
    };
    let titled = strange.to_owned();
    let export = Export {
        case: titled.clone(),
        machine: titled.clone(),
        rules_digest: titled.clone(),
        case_digest: titled,
        nodes: vec![node],
        findings: Vec::new(),
    };
    assert_eq!(read_bif(&bif::bif(&export))[0].entries, [1.0, 1e-300]);
    let text = xmlbif::xmlbif(&export);
    assert_eq!(read(&text)[0].entries, [1.0, 1e-300]);
    let label = strange.replace(['\u{0}', '\u{b}', '\u{ffff}'], "\u{fffd}");
    let document = Document::parse(&text).unwrap();
    assert!(document.descendants().any(|node| node.text() == Some(&format!("label = {label}"))));
}
