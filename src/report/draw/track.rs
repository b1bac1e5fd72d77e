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
