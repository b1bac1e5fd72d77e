//! A track drawn from what is to be drawn: every number once and clear of the others, and no part made up.

use pinboss::model::drawn::Drawn;
use pinboss::report::draw::track::track as drawing;
use pinboss::report::record::document::track::{Drawn as Named, Spot, Track};
use roxmltree::Document;
use rstest::rstest;

/// The ring about a number
#[derive(Debug)]
struct Ring {
    x: f64,
    y: f64,
    r: f64,
}

fn rings(drawn: &str) -> Vec<Ring> {
    let document = Document::parse(drawn).unwrap();
    let rings = document.descendants().filter(|node| node.attribute("class") == Some("ring"));
    let read = rings.map(|node| ["cx", "cy", "r"].map(|name| node.attribute(name).unwrap().parse().unwrap()));
    read.map(|[x, y, r]| Ring { x, y, r }).collect()
}

/// Where the frame begins and ends
fn frame(drawn: &str) -> (f64, f64) {
    let document = Document::parse(drawn).unwrap();
    let frame = document.descendants().find(|node| node.attribute("class") == Some("frame")).unwrap();
    let [x, width]: [f64; 2] = ["x", "width"].map(|name| frame.attribute(name).unwrap().parse().unwrap());
    (x, x + width)
}

fn spot(number: usize, drawn: Option<Drawn>, along: Option<u32>) -> Spot {
    Spot {
        number,
        part: String::new(),
        drawn,
        label: String::new(),
        along,
        findings: Vec::new(),
        wear: Vec::new(),
    }
}

fn named(name: &str) -> Named {
    Named { name: name.to_owned(), label: name.to_owned() }
}

fn side(side: &'static str, raised: bool, top: Option<u32>) -> Track {
    Track {
        side,
        front: Some(named("front")),
        driven: Some(named("driven")),
        raised,
        rear: raised.then(|| named("rear")),
        bottom: Some((named("small"), 9)),
        top: Some((named("smaller"), top)),
        layout_known: true,
        looked: true,
        ..Track::default()
    }
}

/// A number that leads to the list beneath is drawn once, whatever it was found on
#[rstest]
#[case("left", false, Some(2))]
#[case("right", true, Some(1))]
#[case("right", false, None)]
#[case("left", true, Some(0))]
fn every_spot_has_its_number_apart_from_all_others(
    #[case] seen_from: &'static str,
    #[case] raised: bool,
    #[case] top: Option<u32>,
) {
    let parts = [
        Some(Drawn::TopRun(0.2)),
        Some(Drawn::FrontWheel),
        Some(if raised { Drawn::RaisedWheel } else { Drawn::DriveWheel }),
        Some(Drawn::BottomRow(None)),
        Some(Drawn::Frame(0.2)),
        Some(Drawn::Hub),
        Some(Drawn::Frame(0.5)),
        Some(Drawn::Frame(0.8)),
        Some(Drawn::Frame(0.58)),
        Some(Drawn::TopRow(top)),
        Some(Drawn::RearWheel),
        Some(Drawn::Frame(0.36)),
        Some(Drawn::Frame(0.64)),
        Some(Drawn::TopRun(0.8)),
        None,
        None,
    ];
    let whole = parts.iter().map(|drawn| (*drawn, None));
    let all = whole.chain((1..=9).map(|number| (Some(Drawn::BottomRow(None)), Some(number))));
    let spots: Vec<Spot> =
        (1..).zip(all).map(|(number, (drawn, along))| spot(number, drawn, along)).collect();
    let drawn = drawing(&Track { spots, ..side(seen_from, raised, top) });
    let document = Document::parse(&drawn).unwrap();
    let numbers = document.descendants().filter(|node| node.attribute("class") == Some("number"));
    let mut numbers: Vec<usize> = numbers.map(|node| node.text().unwrap().parse().unwrap()).collect();
    numbers.sort_unstable();
    assert_eq!(numbers, (1..=parts.len() + 9).collect::<Vec<_>>());
    let rings = rings(&drawn);
    for (number, one) in rings.iter().enumerate() {
        for other in &rings[number + 1..] {
            let far = (one.x - other.x).hypot(one.y - other.y);
            assert!(far > one.r + other.r, "{one:?} and {other:?} lie on each other");
        }
    }
}

/// Rules that have nothing drawn still have every number on the frame, and no wheel is made up for them
#[test]
fn what_the_rules_do_not_draw_is_not_drawn() {
    let spots = vec![spot(1, None, None), spot(2, None, Some(3))];
    let drawn = drawing(&Track { side: "left", spots, ..Track::default() });
    assert!(!drawn.contains("wheel") && !drawn.contains("chain"), "{drawn}");
    assert_eq!(drawn.matches("class=\"ring\"").count(), 2);
}

#[test]
fn parts_on_the_frame_stand_at_their_own_place_where_there_is_room() {
    let drawn = |spots: Vec<Spot>| drawing(&Track { spots, ..side("left", false, None) });
    let [fifth, middle, behind] = [0.2, 0.5, 0.58].map(|share| spot(1, Some(Drawn::Frame(share)), None));
    let alone = drawn(vec![fifth]);
    let (left, right) = frame(&alone);
    assert!((rings(&alone)[0].x - (left + 0.2 * (right - left))).abs() < 0.1);
    let three = rings(&drawn(vec![behind, spot(2, None, None), middle]));
    let [behind, unplaced, middle] = three.as_slice() else { panic!("{three:?}") };
    let clear = |other: &Ring| other.x + other.r + behind.r <= behind.x;
    assert!(clear(unplaced) || clear(middle), "{three:?}");
    assert!(three.iter().all(|ring| (left..=right).contains(&ring.x)));
}
