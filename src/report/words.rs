//! Numbers, places and names as people say them.

use crate::place::{Place, Side};

/// A probability as a per cent: whole figures, finer only near 0 and 100
pub fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent < 0.1 {
        "under 0.1 %".to_owned()
    } else if percent > 99.9 {
        "over 99.9 %".to_owned()
    } else if !(1.0..=99.0).contains(&percent) {
        format!("{percent:.1} %")
    } else {
        format!("{percent:.0} %")
    }
}

/// A probability as a word
pub fn likely(share: f64) -> &'static str {
    match share {
        share if share >= 0.95 => "almost certain",
        share if share >= 0.80 => "very likely",
        share if share >= 0.55 => "likely",
        share if share >= 0.30 => "possible",
        share if share >= 0.10 => "less likely",
        share if share >= 0.02 => "unlikely",
        _ => "very unlikely",
    }
}

/// A name or grade without its underscores
pub fn plain(name: &str) -> String {
    name.replace('_', " ")
}

/// A place with a capital, to start a line with; empty for the machine as a whole
pub fn place_first(place: &Place) -> String {
    let side = |side: &Side| match side {
        Side::Left => "Left",
        Side::Right => "Right",
    };
    match place {
        Place::Machine => String::new(),
        Place::Side(at) => side(at).to_owned(),
        Place::Numbered { side: at, part, number } => format!("{} {} {number}", side(at), plain(part)),
    }
}

/// Minutes or hours, without needless decimals
pub fn minutes(minutes: f64) -> String {
    if minutes < 1.0 { "under a minute".to_owned() } else { format!("{minutes:.0} min") }
}

/// A number without needless decimals
pub fn figure(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The text with a capital at the start
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(0.0002, "under 0.1 %")]
    #[case(0.004, "0.4 %")]
    #[case(0.914, "91 %")]
    #[case(0.9949, "99.5 %")]
    #[case(1.0, "over 99.9 %")]
    fn shares_in_per_cent(#[case] share: f64, #[case] text: &str) {
        assert_eq!(percent(share), text);
    }
}
