//! Case files without a fault: what is read from them, and where each piece stands.

use crate::case_reading::{Reading, read, with};
use pinboss::case::{
    Fitted, Found, GivenFact, Inspection, Machine, NameAt, Photo, Read, Seen, SeenAt, Truth, Turned, Visit,
};
use pinboss::place::{Place, Side};
use pinboss::source::{Sources, Span, Spanned};
use pinboss::units::{Quantity, Unit};
use rstest::rstest;

/// One of everything; machine, place and figures are invented
const VISIT: &str = r#"
case: clay pit dozer, autumn walk-round
machine:
  tag: K3
  hours: 4180 h
  size: medium
  facts:
    chain_type: sealed                      # read off the pin ends
    rollers: 6
    chain_age: {left: mid, right: late}
parts:
  - {part: chain, on: 0 h, turned: 2900 h}
  - {part: roller, at: right 2, on: 3650}
  - part: idler
    at: left
visit: {on: 2028-02-29, by: "R. T.", place: pit 5, state: [packed, hot]}
seen:
  machine: {looked: [walk_round]}
  left:
    looked: [sight_idler,
             walk_rollers]
    found:
      flange_worn: {saw: outboard, sure: 85%}
      joint_hot: {joints: [4, 17], of: 37}
      packed_links: yes
    read:   {link_height: [108.4 mm, 4 1/4 in], frame_toe_in: -3 mm}
    roller 4: {found: {oil_streak: yes}, photos: {oil_streak: k3-04.jpg}}
  right:
    read:   {bushing_rev: {value: 57.1 mm, void: "jaws on packed clay"}}
    not_possible: {roller_play: "guard in the way"}
in_question: [bushing_thin right]
earlier: [k3-spring.yaml]
photos: {left idler: k3-01.jpg, left roller 4: [k3-02.jpg, k3-03.jpg], flange_worn right: k3-05.jpg, right roller 2 oil_streak: k3-06.jpg, dirt: k3-07.jpg}
truth: {present: [frame_toe toed_in left, roller_seal_leaks left roller 4], absent: [slope_work]}
"#;

#[test]
fn a_visit_is_read_as_written() {
    let reading = read(VISIT);
    let at = |piece: &str| first(&reading, piece);
    let expected = Inspection {
        source: reading.id,
        title: text("clay pit dozer, autumn walk-round"),
        machine: Machine {
            tag: text("K3"),
            hours: Some(told(4180.0)),
            size: Some(text("medium")),
            sizes: Vec::new(),
            sizes_file: None,
            facts: vec![
                fact("chain_type", None, "sealed"),
                fact("rollers", None, "6"),
                fact("chain_age", Some(Side::Left), "mid"),
                fact("chain_age", Some(Side::Right), "late"),
            ],
        },
        parts: vec![
            fitted("chain", None, Some(0.0), Some(2900.0)),
            fitted("roller", Some(roller(Side::Right, 2)), Some(3650.0), None),
            fitted("idler", Some(Place::Side(Side::Left)), None, None),
        ],
        visit: Visit {
            on: Some(text("2028-02-29")),
            by: Some(text("R. T.")),
            place: Some(text("pit 5")),
            state: texts(&["packed", "hot"]),
        },
        seen: vec![
            SeenAt { looked: texts(&["walk_round"]), ..nothing_at(Place::Machine) },
            SeenAt {
                looked: texts(&["sight_idler", "walk_rollers"]),
                found: left_findings(at("{joints: [4, 17], of: 37}")),
                read: vec![
                    reads("link_height", &[mm(108.4), inches(4.25)], None),
                    reads("frame_toe_in", &[mm(-3.0)], None),
                ],
                ..nothing_at(Place::Side(Side::Left))
            },
            SeenAt {
                found: vec![grade("oil_streak", "yes")],
                photos: vec![(text("oil_streak"), text("k3-04.jpg"))],
                ..nothing_at(roller(Side::Left, 4))
            },
            SeenAt {
                read: vec![reads("bushing_rev", &[mm(57.1)], Some("jaws on packed clay"))],
                not_possible: vec![(text("roller_play"), "guard in the way".to_owned())],
                ..nothing_at(Place::Side(Side::Right))
            },
        ],
        in_question: vec![NameAt {
            name: text("bushing_thin"),
            grade: None,
            place: Some(told(Place::Side(Side::Right))),
            at: at("bushing_thin right"),
        }],
        earlier: texts(&["k3-spring.yaml"]),
        photos: vec![
            photo(Place::Side(Side::Left), "idler", "k3-01.jpg"),
            photo(roller(Side::Left, 4), "roller", "k3-02.jpg"),
            photo(roller(Side::Left, 4), "roller", "k3-03.jpg"),
            photo(Place::Side(Side::Right), "flange_worn", "k3-05.jpg"),
            photo(roller(Side::Right, 2), "oil_streak", "k3-06.jpg"),
            photo(Place::Machine, "dirt", "k3-07.jpg"),
        ],
        truth: Some(Truth {
            sound: None,
            present: vec![
                NameAt {
                    name: text("frame_toe"),
                    grade: Some(text("toed_in")),
                    place: Some(told(Place::Side(Side::Left))),
                    at: at("frame_toe toed_in left"),
                },
                NameAt {
                    name: text("roller_seal_leaks"),
                    grade: None,
                    place: Some(told(roller(Side::Left, 4))),
                    at: at("roller_seal_leaks left roller 4"),
                },
            ],
            absent: vec![NameAt { name: text("slope_work"), grade: None, place: None, at: at("slope_work") }],
        }),
        expect: None,
    };
    assert_eq!(reading.clean().unwrap(), &expected);
}

#[test]
fn what_is_expected_is_read_as_written() {
    let reading = read(&with(
        "expect:\n  first: a left\n  over: {b toed_in left: 60%}\n  under: {c: 2.5%}\n  next: {d: 3}\n  unexplained: [e right]\n  held:\n  weight: owner over 12.5\n",
    ));
    let expect = reading.clean().unwrap().expect.as_ref().unwrap();
    let names = |list: &[NameAt]| list.iter().map(|name| name.name.value.clone()).collect::<Vec<_>>();
    assert_eq!(
        (names(&expect.first), names(&expect.unexplained)),
        (vec!["a".to_owned()], vec!["e".to_owned()])
    );
    let (name, share) = &expect.over[0];
    assert_eq!(name.grade, Some(text("toed_in")));
    assert_eq!(name.place, Some(told(Place::Side(Side::Left))));
    assert_eq!((share.value, reading.sources.slice(name.at)), (0.6, "b toed_in left"));
    assert_eq!((expect.under[0].1.value, expect.next[0].1.value, expect.held.len()), (0.025, 3, 0));
    let weight = &expect.weight[0];
    assert_eq!((weight.party.value.as_str(), weight.over, weight.ratio.value), ("owner", true, 12.5));
}

fn left_findings(joints: Span) -> Vec<Found> {
    let unsure = Seen::Unsure { grade: text("outboard"), sure: told(0.85) };
    let counted =
        Seen::Counted { noun: text("joints"), which: vec![told(4), told(17)], of: told(37), at: joints };
    let found = |symptom: &str, seen| Found { symptom: text(symptom), seen };
    vec![found("flange_worn", unsure), found("joint_hot", counted), grade("packed_links", "yes")]
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case::as_typed(VISIT.to_owned())]
#[case::with_a_byte_order_mark(format!("\u{feff}{VISIT}"))]
#[case::with_carriage_returns(VISIT.replace('\n', "\r\n"))]
#[case::behind_foreign_letters(format!("# Zwölf Räder, 十二の車輪 🚜\n{VISIT}"))]
#[case::as_a_marked_document(format!("---\n{VISIT}...\n"))]
fn every_piece_stands_where_it_is_said_to(#[case] text: String) {
    let reading = read(&text);
    let case = reading.clean().unwrap();
    let slice = |at| reading.sources.slice(at);
    assert_eq!(slice(case.title.at), "clay pit dozer, autumn walk-round");
    assert_eq!(slice(case.machine.hours.as_ref().unwrap().at), "4180 h");
    assert_eq!(slice(case.machine.facts[2].name.at), "chain_age");
    assert_eq!(slice(case.machine.facts[3].value.at), "late");
    assert_eq!(slice(case.parts[1].at.as_ref().unwrap().at), "right 2");
    assert_eq!(slice(case.parts[2].at.as_ref().unwrap().at), "left");
    assert_eq!(slice(case.visit.by.as_ref().unwrap().at), "R. T.");
    assert_eq!(slice(case.visit.state[1].at), "hot");
    let [machine, left, roller, right] = case.seen.as_slice() else {
        panic!("four places were looked at");
    };
    assert_eq!(slice(machine.place.at), "machine");
    assert_eq!(slice(roller.place.at), "roller 4");
    assert_eq!(slice(left.looked[1].at), "walk_rollers");
    assert_eq!(slice(left.read[0].values[1].at), "4 1/4 in");
    assert_eq!(slice(roller.photos[0].1.at), "k3-04.jpg");
    assert_eq!(
        slice(right.read[0].void.as_ref().unwrap().at),
        "jaws on packed clay"
    );
    let Seen::Counted { which, at, .. } = &left.found[1].seen else {
        panic!("joints were counted");
    };
    assert_eq!(slice(*at), "{joints: [4, 17], of: 37}");
    assert_eq!(slice(which[1].at), "17");
    let present = &case.truth.as_ref().unwrap().present;
    assert_eq!(slice(present[0].grade.as_ref().unwrap().at), "toed_in");
    assert_eq!(
        slice(present[1].place.as_ref().unwrap().at),
        "left roller 4"
    );
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case::plain("bench 2", "bench 2", "bench 2")]
#[case::foreign("Prüfstand 十二", "Prüfstand 十二", "Prüfstand 十二")]
#[case::with_a_comment("bench 2   # the far one", "bench 2", "bench 2")]
#[case::over_lines("bench 2,\n    by the\n\n    gate", "bench 2, by the\ngate", "bench 2,\n    by the\n\n    gate")]
#[case::double(r#""bench 2""#, "bench 2", "bench 2")]
#[case::escaped(r#""b\u00e4nk \"2\" \\""#, "bänk \"2\" \\", r#"b\u00e4nk \"2\" \\"#)]
#[case::single("'the ''far'' one'", "the 'far' one", "the ''far'' one")]
#[case::folded(">-\n    bench 2,\n    far end\n", "bench 2, far end", ">-\n    bench 2,\n    far end")]
#[case::kept("|\n    bench 2\n\n    far end\n  # end", "bench 2\n\nfar end", "|\n    bench 2\n\n    far end")]
#[case::padded("'  bench 2 '", "bench 2", "bench 2")]
#[case::yes("yes", "yes", "yes")]
#[case::null("null", "null", "null")]
#[case::hexadecimal("0x10", "0x10", "0x10")]
#[case::exponent("1e3", "1e3", "1e3")]
#[case::long_number("00.100", "00.100", "00.100")]
#[case::infinite("-.inf", "-.inf", "-.inf")]
#[case::with_a_percent_sign("70%", "70%", "70%")]
fn texts_are_taken_as_written_in_every_style(
    #[case] written: &str,
    #[case] value: &str,
    #[case] under: &str,
) {
    let reading = read(&with(&format!("visit:\n  place: {written}\n  by: M\n")));
    let visit = &reading.clean().unwrap().visit;
    let place = visit.place.as_ref().unwrap();
    assert_eq!(place.value, value);
    assert_eq!(reading.sources.slice(place.at), under);
    assert_eq!(reading.sources.slice(visit.by.as_ref().unwrap().at), "M");
}

#[test]
fn a_key_left_open_says_nothing() {
    let reading = read(&with("parts:\nvisit:\nseen:\n  left: {found: , read: {}, looked: []}\n"));
    let case = reading.clean().unwrap();
    assert_eq!(case.parts, []);
    assert_eq!(case.seen, [nothing_at(Place::Side(Side::Left))]);
}

#[test]
fn an_empty_row_says_that_none_shows_it() {
    let reading = read(&with("seen: {left: {found: {joint_hot: {joints: [], of: 39}}}}"));
    let Seen::Counted { which, of, .. } = &reading.clean().unwrap().seen[0].found[0].seen else {
        panic!("joints were counted");
    };
    assert_eq!((which.as_slice(), of.value), ([].as_slice(), 39));
}

#[test]
fn a_numbered_part_may_stand_outside_its_side() {
    let reading = read(&with("seen: {right roller 2: {looked: [spin_roller]}}"));
    assert_eq!(reading.clean().unwrap().seen[0].place.value, roller(Side::Right, 2));
}

#[test]
fn the_cases_that_are_shipped_have_no_fault() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/cases");
    let mut sources = Sources::default();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            let bytes = std::fs::read(&path).unwrap();
            let name = path.display().to_string();
            let id = sources.add_bytes(name.as_str(), bytes).unwrap();
            let (_, problems) = pinboss::case::read(&sources, id);
            assert!(problems.is_empty(), "{name}: {problems:?}");
        }
    }
    assert!(sources.ids().count() > 0);
}

/// Place of the first piece of a text that reads so
fn first(reading: &Reading, piece: &str) -> Span {
    let text = reading.sources.text(reading.id);
    let start = text.find(piece).unwrap_or_default();
    Span { source: reading.id, start, end: start + piece.len() }
}

fn told<T>(value: T) -> Spanned<T> {
    Spanned::new(value, Span::default())
}

fn text(value: &str) -> Spanned<String> {
    told(value.to_owned())
}

fn texts(values: &[&str]) -> Vec<Spanned<String>> {
    values.iter().map(|value| text(value)).collect()
}

fn roller(side: Side, number: u32) -> Place {
    Place::Numbered { side, part: "roller".to_owned(), number }
}

fn fact(name: &str, side: Option<Side>, value: &str) -> GivenFact {
    GivenFact { name: text(name), side, value: text(value) }
}

fn fitted(part: &str, at: Option<Place>, on: Option<f64>, turned: Option<f64>) -> Fitted {
    Fitted {
        part: text(part),
        at: at.map(told),
        on: on.map(told),
        turned: turned.map(|at| told(Turned::At(at))),
    }
}

fn nothing_at(place: Place) -> SeenAt {
    SeenAt {
        place: told(place),
        looked: Vec::new(),
        found: Vec::new(),
        read: Vec::new(),
        not_possible: Vec::new(),
        photos: Vec::new(),
    }
}

fn photo(place: Place, name: &str, file: &str) -> Photo {
    Photo { place: told(place), name: text(name), file: text(file) }
}

fn grade(symptom: &str, grade: &str) -> Found {
    Found { symptom: text(symptom), seen: Seen::Grade(text(grade)) }
}

fn mm(value: f64) -> Quantity {
    Quantity { value, unit: Unit::Millimetre }
}

fn inches(value: f64) -> Quantity {
    Quantity { value, unit: Unit::Inch }
}

fn reads(measure: &str, values: &[Quantity], void: Option<&str>) -> Read {
    Read { measure: text(measure), values: values.iter().copied().map(told).collect(), void: void.map(text) }
}
