//! Drawn graphs: every node once, no two boxes on one another, no arrow through a box of its cluster, the figures of the
//! diagnosis, and text that no label can break.

use crate::support::program::{answer, pinboss};
use pinboss::report::draw::graph::{Edge, Graph, Node, Sort, dot::dot, svg::svg};
use pinboss::report::words::percent;
use proptest::prelude::*;
use roxmltree::Document;
use rstest::rstest;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Left, top, right, bottom
type Area = [f64; 4];

/// The box of every node by its id, and how many nodes there are
fn boxes(document: &Document) -> (BTreeMap<String, Area>, usize) {
    let is_node = |node: &roxmltree::Node| {
        node.attribute("class").is_some_and(|class| class.split(' ').any(|word| word == "node"))
    };
    let nodes: Vec<roxmltree::Node> = document.descendants().filter(is_node).collect();
    let count = nodes.len();
    let area = |node: &roxmltree::Node| {
        let is_shape = |child: &roxmltree::Node| child.attribute("class") == Some("shape");
        let shape = node.children().find(is_shape).unwrap();
        let number = |name: &str| shape.attribute(name).unwrap().parse::<f64>().unwrap();
        match shape.attribute("points") {
            None => {
                let (x, y) = (number("x"), number("y"));
                [x, y, x + number("width"), y + number("height")]
            }
            Some(points) => {
                points.split(' ').fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |area, point| {
                    let (x, y) = point.split_once(',').unwrap();
                    let (x, y): (f64, f64) = (x.parse().unwrap(), y.parse().unwrap());
                    [area[0].min(x), area[1].min(y), area[2].max(x), area[3].max(y)]
                })
            }
        }
    };
    (nodes.iter().map(|node| (node.attribute("id").unwrap().to_owned(), area(node))).collect(), count)
}

fn overlapping(boxes: &BTreeMap<String, Area>) -> Vec<(String, String)> {
    let all: Vec<(&String, &Area)> = boxes.iter().collect();
    let mut found = Vec::new();
    for (number, (name, a)) in all.iter().enumerate() {
        for (other, b) in &all[number + 1..] {
            if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
                found.push(((*name).clone(), (*other).clone()));
            }
        }
    }
    found
}

/// Points along the arrows that stay inside their cluster, a row for each
fn arrows_inside(document: &Document) -> Vec<Vec<(f64, f64)>> {
    let inside = document.descendants().filter(|node| {
        let class = node.attribute("class").unwrap_or_default();
        class.starts_with("edge")
            && !class.contains("far")
            && node.parent_element().unwrap().attribute("class") == Some("edges")
    });
    inside
        .map(|path| {
            let numbers: Vec<f64> = path
                .attribute("d")
                .unwrap()
                .split(|letter: char| letter.is_alphabetic() || letter == ' ')
                .filter(|text| !text.is_empty())
                .map(|text| text.parse().unwrap())
                .collect();
            let points: Vec<(f64, f64)> = numbers.chunks(2).map(|pair| (pair[0], pair[1])).collect();
            let mut along = Vec::new();
            for piece in points.windows(4).step_by(3) {
                for step in 0..=20 {
                    let t = f64::from(step) / 20.0;
                    let u = 1.0 - t;
                    let at = |of: fn(&(f64, f64)) -> f64| {
                        let weights = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
                        piece.iter().zip(weights).map(|(point, weight)| of(point) * weight).sum::<f64>()
                    };
                    along.push((at(|point| point.0), at(|point| point.1)));
                }
            }
            along
        })
        .collect()
}

fn holds(area: &Area, point: (f64, f64)) -> bool {
    let slack = 0.5;
    area[0] + slack < point.0
        && point.0 < area[2] - slack
        && area[1] + slack < point.1
        && point.1 < area[3] - slack
}

/// The names of all facts, causes, conditions and symptoms
fn names() -> BTreeSet<String> {
    let listed: Value = serde_json::from_str(&answer(&["words", "--format", "json"])).unwrap();
    let drawn = ["fact", "cause", "condition", "symptom"];
    let drawn =
        listed.as_array().unwrap().iter().filter(|one| drawn.contains(&one["sort"].as_str().unwrap()));
    drawn.map(|one| one["id"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn all_the_rules_are_drawn_once_and_apart() {
    let text = answer(&["rules", "graph"]);
    let document = Document::parse(&text).unwrap();
    let (boxes, count) = boxes(&document);
    assert_eq!(boxes.keys().cloned().collect::<BTreeSet<_>>(), names());
    assert_eq!(count, boxes.len(), "a node is drawn twice");
    assert!(count > 150);
    assert_eq!(overlapping(&boxes), []);
    let arrows = arrows_inside(&document);
    assert!(arrows.len() > 150);
    for arrow in arrows {
        let met = boxes.iter().find(|(_, area)| arrow.iter().any(|point| holds(area, *point)));
        assert_eq!(met, None, "an arrow of a cluster runs through a box");
    }
    assert!(text == answer(&["rules", "graph"]), "two runs differ");
}

#[test]
fn what_lies_around_a_name_is_what_its_rules_name() {
    let text = answer(&["rules", "graph", "--around", "idler_off_centre", "--steps", "1"]);
    let (boxes, _) = boxes(&Document::parse(&text).unwrap());
    let found: Vec<&str> = boxes.keys().map(String::as_str).collect();
    assert_eq!(found, ["frame_toe", "idler_off", "idler_off_centre"]);
}

const CASE: &str = "cases/quarry_dozer_two_faults.yaml";

/// What places have in common is a node of the network and no block of the rules, and is not drawn
#[test]
fn what_places_share_is_not_drawn() {
    let folder = tempfile::TempDir::new().unwrap();
    let put = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let rules = "kind upkeep: \"upkeep\" counts against owner\ncause lot: \"lot\"\n    kind upkeep\n    chance 2% of machines\n\
        symptom weep, each side: \"weep\"\n    with lot: 60%\n    without 5%\n    shared 70%\n\
        check look, each side: \"Look\"\n    shows weep\n    takes 2 min\n";
    put("rules/a.rules", rules);
    let case = put(
        "case.yaml",
        "case: c\nmachine: {tag: T}\nseen: {left: {looked: [look], found: {weep: yes}}, right: {looked: [look], found: {weep: yes}}}\n",
    );
    let rules = folder.path().join("rules").to_str().unwrap().to_owned();
    let text = answer(&["rules", "graph", "--case", &case, "--rules", &rules]);
    let (boxes, count) = boxes(&Document::parse(&text).unwrap());
    let ids: Vec<&str> = boxes.keys().map(String::as_str).collect();
    assert_eq!((count, ids), (3, vec!["lot-machine", "weep-left", "weep-right"]));
}

/// What is written in the nodes of a case stands in its diagnosis
#[test]
fn a_case_shows_what_was_seen_and_the_probabilities_of_the_diagnosis() {
    let text = answer(&["rules", "graph", "--case", CASE]);
    let document = Document::parse(&text).unwrap();
    let diagnosis: Value = serde_json::from_str(&answer(&["diagnose", CASE, "--format", "json"])).unwrap();
    let ranked = |list: &str| {
        let list = diagnosis[list].as_array().unwrap().clone();
        list.into_iter().map(|one| {
            let id = format!("{} {}", one["id"].as_str().unwrap(), one["place"].as_str().unwrap());
            (id.replace(' ', "-"), percent(one["probability"].as_f64().unwrap()))
        })
    };
    let expected: BTreeMap<String, String> = ranked("causes").chain(ranked("conditions")).collect();
    let mut compared = 0;
    for node in document.descendants().filter(|node| node.tag_name().name() == "g") {
        let Some(id) = node.attribute("id") else { continue };
        let words: Vec<&str> = node.descendants().filter_map(|child| child.text()).collect();
        let words = words.join(" ");
        if let Some(probability) = expected.get(id) {
            assert!(
                words.contains(&format!("Probability {probability}")),
                "{id}: {words}, not {probability}"
            );
            compared += 1;
        }
    }
    assert!(compared > 20, "{compared} compared");
    let seen = |id: &str, word: &str| {
        let node = document.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
        assert!(node.attribute("class").unwrap().contains("seen"));
        assert!(node.descendants().any(|child| child.text() == Some(word)), "{id}");
    };
    seen("flange_worn-left", "SEEN: inboard");
    seen("oil_streak-right-roller-5", "SEEN: yes");
}

#[rstest]
#[case(&["rules", "graph", "--around", "no_such_name"])]
#[case(&["rules", "graph", "--steps", "3"])]
fn a_faulty_call_is_told(#[case] arguments: &[&str]) {
    let done = pinboss(arguments);
    assert_eq!((done.status.code(), done.stdout.as_slice()), (Some(2), b"".as_slice()));
}

/// Braces and quotes of a DOT text: every string is closed, every brace is, and each statement ends
fn sound(text: &str) -> Vec<String> {
    let (mut depth, mut strings, mut open, mut escaped) = (0_i32, Vec::new(), None::<String>, false);
    for letter in text.chars() {
        match &mut open {
            Some(string) if escaped => {
                string.push(if letter == 'n' { '\n' } else { letter });
                escaped = false;
            }
            Some(_) if letter == '\\' => escaped = true,
            Some(string) if letter == '"' => {
                strings.push(std::mem::take(string));
                open = None;
            }
            Some(string) => string.push(letter),
            None if letter == '"' => open = Some(String::new()),
            None => {
                depth += i32::from(letter == '{') - i32::from(letter == '}');
                assert!(depth >= 0);
                assert!(letter.is_ascii(), "{letter} stands outside of quotes");
            }
        }
    }
    assert_eq!((depth, open), (0, None));
    strings
}

#[test]
fn the_rules_in_dot_name_every_node_and_close_what_they_open() {
    let text = answer(&["rules", "graph", "--to", "dot"]);
    let strings = sound(&text);
    for name in names() {
        assert!(strings.contains(&name), "{name}");
        assert_eq!(text.matches(&format!("    \"{name}\" [")).count(), 1, "{name}");
    }
    assert!(text.matches("subgraph cluster_").count() >= 9);
}

fn node(number: usize, cluster: usize, label: &str) -> Node {
    Node {
        id: format!("n{number}"),
        name: format!("n{number}"),
        label: label.to_owned(),
        sort: Sort::ALL[number % 4],
        cluster,
        lines: Vec::new(),
        seen: number.is_multiple_of(5),
        abnormal: false,
    }
}

#[test]
fn no_label_breaks_the_text() {
    let label = "gap of 5\" & \\ <less> 'worn'";
    let graph = Graph {
        title: label.to_owned(),
        clusters: vec![label.to_owned()],
        nodes: vec![node(0, 0, label)],
        edges: Vec::new(),
    };
    assert_eq!(sound(&dot(&graph)).iter().filter(|text| *text == label).count(), 3);
    let text = svg(&graph);
    let document = Document::parse(&text).unwrap();
    let texts: Vec<&str> = document.descendants().filter_map(|node| node.text()).collect();
    assert!(texts.iter().filter(|text| text.contains(label)).count() >= 4, "{texts:?}");
}

#[test]
fn nothing_to_draw_is_said() {
    let text = svg(&Graph { title: "sound".to_owned(), ..Graph::default() });
    assert!(text.contains("Nothing was found out of order"));
    assert!(Document::parse(&text).is_ok());
}

prop_compose! {
    /// Edges run from lower to higher numbers, so that there is no ring
    fn graphs()(count in 1_usize..24, clusters in 1_usize..5)(
        homes in prop::collection::vec(0..clusters, count),
        pairs in prop::collection::btree_set((0..count, 0..count), 0..3 * count),
        labels in prop::collection::vec("[a-zäö ]{1,60}", count),
        clusters in Just(clusters),
    ) -> Graph {
        let nodes = homes.iter().zip(&labels).enumerate();
        let edges: BTreeSet<Edge> =
            pairs.into_iter().filter(|(from, to)| from < to).map(|(from, to)| Edge { from, to }).collect();
        Graph {
            title: "any".to_owned(),
            clusters: (0..clusters).map(|number| format!("part {number}")).collect(),
            nodes: nodes.map(|(number, (home, label))| node(number, *home, label)).collect(),
            edges: edges.into_iter().collect(),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_graph_is_drawn_whole_and_apart(graph in graphs()) {
        let text = svg(&graph);
        let document = Document::parse(&text).unwrap();
        let (boxes, count) = boxes(&document);
        prop_assert_eq!(count, graph.nodes.len());
        prop_assert_eq!(overlapping(&boxes), []);
        let arrows = document.descendants().filter(|node| node.attribute("class").is_some_and(|class| class.starts_with("edge")));
        prop_assert_eq!(arrows.filter(|node| node.children().any(|child| child.has_tag_name("title"))).count(), graph.edges.len());
        for arrow in arrows_inside(&document) {
            prop_assert!(!boxes.values().any(|area| arrow.iter().any(|point| holds(area, *point))));
        }
        prop_assert_eq!(text, svg(&graph));
    }
}
