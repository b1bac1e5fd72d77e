//! What findings do to an opinion held before them, as a picture: the opinion after over the opinion before.

use crate::assess::scale::Opinion;
use crate::report::draw::field::{Axis, Field, Said};
use crate::report::record::assess::{PartyOpinion, Stands, Weight};
use crate::report::words::{percent, plain};

/// Starting opinions that are shown, in per cent
const STARTS: [f64; 9] = [1.0, 5.0, 10.0, 25.0, 50.0, 75.0, 90.0, 95.0, 99.0];

/// The starting opinions that are shown one by one, in order
pub fn shown(weight: &Weight) -> impl Iterator<Item = &Opinion> {
    let is_shown = |own: &&Opinion| STARTS.iter().any(|start| (start / 100.0 - own.from).abs() < 1e-9);
    weight.curve.iter().filter(is_shown)
}

/// An opinion before and after, in words
pub fn in_words(opinion: &Opinion, weight: &Weight) -> String {
    let [low, high] = opinion.between;
    let to = opinion_shown(opinion.to, weight.ratio, weight);
    let ends = weight.range.map(|range| {
        (opinion_shown(low, Some(range[0]), weight), opinion_shown(high, Some(range[1]), weight))
    });
    let range = match ends {
        Some((low, high)) if low != to || high != to => format!(" (from {low} to {high})"),
        _ => String::new(),
    };
    format!("{:>4} becomes {to}{range}", percent(opinion.from))
}

/// An opinion that a ratio leads to, in words; open where no more of that ratio is told
fn opinion_shown(opinion: f64, ratio: Option<f64>, weight: &Weight) -> String {
    let words = percent(opinion);
    let stands = ratio.map_or(Stands::There, |ratio| weight.stands(ratio));
    match stands {
        Stands::OrMore if words.starts_with("over") => words,
        Stands::OrLess if words.starts_with("under") => words,
        stands => words + stands.open(),
    }
}

/// What it shows, in a line
pub fn title(own: &PartyOpinion) -> String {
    format!("How probable it is that a cause was present which counts against the {}", plain(&own.party))
}

/// The picture as a part of a page that has the looks of a [`Field`]; none where the findings support neither statement
pub fn figure(own: &PartyOpinion) -> Option<String> {
    let weight = &own.weight;
    if weight.curve.is_empty() || weight.supports == Some("neither") {
        return None;
    }
    let axis = |name| Axis::over([0.0, 100.0].into_iter(), name, " %");
    let field = Field::new(axis("before the findings"), axis(""));
    let after = field.line("been", edge(weight, |opinion| opinion.to));
    let band = match weight.range {
        Some(_) => field.band(edge(weight, |own| own.between[1]), edge(weight, |own| own.between[0])),
        None => String::new(),
    };
    let as_before = field.line("as-before", [(0.0, 0.0), (100.0, 100.0)].into_iter());
    let marks: String = shown(weight).map(|own| field.mark(own.from * 100.0, own.to * 100.0)).collect();
    let steps: Vec<String> =
        shown(weight).map(|opinion| in_words(opinion, weight).trim().to_owned()).collect();
    let described = format!("The opinion after the findings over the opinion before. {}.", steps.join("; "));
    let said = Said { attributes: &Field::on_a_page(), title: &title(own), described: &described, first: "" };
    Some(field.picture(&said, &(as_before + &band + &after), &marks))
}

/// One edge of the curve in per cent, with the two opinions that no finding moves at its ends
fn edge(weight: &Weight, after: impl Fn(&Opinion) -> f64) -> impl DoubleEndedIterator<Item = (f64, f64)> {
    let moved: Vec<(f64, f64)> =
        weight.curve.iter().map(|own| (own.from * 100.0, after(own) * 100.0)).collect();
    [(0.0, 0.0)].into_iter().chain(moved).chain([(100.0, 100.0)])
}
