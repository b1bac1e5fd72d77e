//! A track from the side, drawn as the rules have its parts stand, with a number at every place where something was found or read.

mod stands;
mod paper;

use crate::report::draw::markup::Markup;
use crate::report::draw::picture::length;
use crate::report::record::document::track::{Drawn, Spot, Track};
use crate::report::words::several;
use paper::Paper;
use stands::{FRAME, Layout, ROW_SIGN, WIDTH, is_row};

/// Looks of a track; nothing but shades of ink, and numbers that lead to the list beneath
pub const STYLE: &str = "\
.track text{font-family:system-ui,'DejaVu Sans',Verdana,sans-serif;font-size:11px;fill:var(--ink,#1b1f24)}\
.track .chain{fill:none;stroke:var(--line,#b9c0c8);stroke-width:8}\
.track .links{fill:none;stroke:var(--paper,#fff);stroke-width:8;stroke-dasharray:1.2 9}\
.track .frame{fill:var(--fill,#edf0f3);stroke:var(--line,#b9c0c8)}\
.track .wheel{fill:var(--paper,#fff);stroke:var(--soft,#4d5661);stroke-width:1.4}\
.track .teeth{fill:none;stroke:var(--soft,#4d5661);stroke-width:5;stroke-dasharray:4 4.4}\
.track .worn{fill:var(--line,#b9c0c8)}\
.track .gauge{fill:var(--paper,#fff);stroke:var(--soft,#4d5661)}\
.track .ring{fill:var(--paper,#fff);stroke:var(--ink,#1b1f24);stroke-width:1.2}\
.track .number{font-weight:bold;text-anchor:middle}\
.track .percent{text-anchor:middle}\
.track .lead{fill:none;stroke:var(--soft,#4d5661)}\
.track .way{fill:var(--soft,#4d5661)}\
.track .arrow{fill:none;stroke:var(--soft,#4d5661);stroke-width:1.4}\
@media screen and (max-width:34rem){.track text{font-size:14px}}";

/// The drawing of one track
pub fn track(track: &Track) -> String {
    let layout = Layout::of(track);
    let height = layout.height(track);
    let sign = track.spots.iter().find(|spot| is_row(spot)).filter(|_| !layout.bottom.is_empty());
    let view = format!("0 0 {} {}", length(WIDTH), length(height + sign.map_or(0.0, |_| ROW_SIGN)));
    let mut out = Markup::default();
    out.within("svg", &[("class", "track"), ("viewBox", &view), ("role", "img")], |out| {
        out.line();
        out.words("title", &[], &format!("The {} track from outside", track.side));
        out.line();
        out.words("desc", &[], &described(track));
        out.line();
        let mut paper = Paper { out, mirrored: track.side == "right" };
        paper.way();
        paper.frame(&layout);
        paper.chain(&layout.round(track));
        paper.wheels(&layout, track);
        spots(&mut paper, &layout, track, (sign, height));
    });
    out.line();
    out.into_text()
}

/// Every spot at its place; the `sign` is the one that stands for a whole row, beneath `height`
fn spots(paper: &mut Paper<'_>, layout: &Layout, track: &Track, (sign, height): (Option<&Spot>, f64)) {
    let mut on_frame = Vec::new();
    for spot in &track.spots {
        if let Some(wheel) = layout.wheel(spot) {
            paper.on_wheel(layout, wheel, spot);
        } else if let Some((at, leads_to)) = layout.beside(spot) {
            paper.beside(at, Some(leads_to), spot);
        } else if sign.is_some_and(|sign| std::ptr::eq(sign, spot)) {
            paper.row(layout, height, spot);
        } else {
            on_frame.push(spot);
        }
    }
    for (x, spot) in layout.on_frame(&on_frame).into_iter().zip(on_frame) {
        paper.beside((x, FRAME.0 + FRAME.1 / 2.0), None, spot);
    }
}

/// What is drawn, for who cannot see it
pub fn described(track: &Track) -> String {
    let front = if track.side == "right" { "right" } else { "left" };
    let label = |own: &Drawn| own.label.clone();
    let raised = if track.raised { " raised above the frame" } else { "" };
    let row = |label: &str, count: u32| match count {
        0 => format!("no {label}"),
        1 => format!("one {label}"),
        _ => several(count as usize, label, &format!("{label}s")),
    };
    let shown: Vec<String> = [
        track.front.as_ref().map(label),
        track.driven.as_ref().map(|own| label(own) + raised),
        track.rear.as_ref().map(label),
        track.bottom.as_ref().map(|(own, count)| row(&own.label, *count)),
        track.top.as_ref().and_then(|(own, count)| Some(row(&own.label, (*count)?))),
    ]
    .into_iter()
    .flatten()
    .collect();
    let shown = if shown.is_empty() { String::new() } else { format!(": {}", shown.join(", ")) };
    format!("Its front is to the {front}{shown}. The numbers are those of the list that follows.")
}

#[cfg(test)]
mod tests {
    use super::stands::{Point, RING, ROOM};
    use super::*;
    use crate::model::drawn::Drawn;
    use crate::report::record::document::track;
    use rstest::rstest;

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

    fn named(name: &str) -> track::Drawn {
        track::Drawn { name: name.to_owned(), label: name.to_owned() }
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
            layout_told: true,
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
        let drawn = track(&Track { spots, ..side(seen_from, raised, top) });
        let document = roxmltree::Document::parse(&drawn).unwrap();
        let numbers = document.descendants().filter(|node| node.attribute("class") == Some("number"));
        let mut numbers: Vec<usize> = numbers.map(|node| node.text().unwrap().parse().unwrap()).collect();
        numbers.sort_unstable();
        assert_eq!(numbers, (1..=parts.len() + 9).collect::<Vec<_>>());
        let rings: Vec<Point> = document
            .descendants()
            .filter(|node| node.attribute("class") == Some("ring"))
            .map(|node| ["cx", "cy"].map(|name| node.attribute(name).unwrap().parse().unwrap()))
            .map(|[x, y]: [f64; 2]| (x, y))
            .collect();
        for (number, one) in rings.iter().enumerate() {
            for other in &rings[number + 1..] {
                let far = (one.0 - other.0).hypot(one.1 - other.1);
                assert!(far > 2.0 * RING, "{one:?} and {other:?} lie on each other");
            }
        }
    }

    /// Rules that have nothing drawn still have every number on the frame, and no wheel is made up for them
    #[test]
    fn what_the_rules_do_not_draw_is_not_drawn() {
        let spots = vec![spot(1, None, None), spot(2, None, Some(3))];
        let drawn = track(&Track { side: "left", spots, ..Track::default() });
        assert!(!drawn.contains("wheel") && !drawn.contains("chain"), "{drawn}");
        assert_eq!(drawn.matches("class=\"ring\"").count(), 2);
    }

    #[test]
    fn parts_on_the_frame_stand_at_their_own_place_where_there_is_room() {
        let layout = Layout::of(&side("left", false, None));
        let (left, right) = layout.frame();
        let [fifth, middle, behind] = [0.2, 0.5, 0.58].map(|share| spot(1, Some(Drawn::Frame(share)), None));
        assert_eq!(layout.on_frame(&[&fifth]), [left + 0.2 * (right - left)]);
        let three = layout.on_frame(&[&behind, &spot(2, None, None), &middle]);
        assert!(three[1] + ROOM.0 <= three[0] + 1e-9 || three[2] + ROOM.0 <= three[0] + 1e-9, "{three:?}");
        assert!(three.iter().all(|x| (left..=right).contains(x)));
    }
}
