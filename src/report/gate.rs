//! Tests of the rules in words.

use super::words::{figure, plain};
use crate::model::Model;
use crate::model::test::{Bound, Spot, Term, Test};

/// ` (bushings: turned; side: left)`, or nothing for a test that always holds
pub fn in_words(model: &Model, test: &Test) -> String {
    if test.always() {
        return String::new();
    }
    let terms: Vec<String> = test.terms.iter().map(|term| term_in_words(model, term)).collect();
    format!(" ({})", terms.join("; "))
}

fn term_in_words(model: &Model, term: &Term) -> String {
    match term {
        Term::Fact { fact, choices } => {
            let fact = &model[*fact];
            let named = choices.iter().filter_map(|choice| fact.choices.get(*choice));
            let named: Vec<String> = named.map(|choice| plain(choice)).collect();
            format!("{}: {}", plain(&fact.common.name), named.join(" or "))
        }
        Term::Count { part, bound } => format!("{} a side: {}", model[*part].plural(), bounds(bound)),
        Term::Hours(bound) => format!("hours on the meter: {}", bounds(bound)),
        Term::Side(side) => format!("side: {}", side.word()),
        Term::Spot { part, spots, negated } => {
            let spots: Vec<&str> = spots.iter().map(|spot| spot_in_words(*spot)).collect();
            let not = if *negated { "not " } else { "" };
            format!("{}: {not}{}", model[*part].common.name, spots.join(" or "))
        }
    }
}

fn bounds(bound: &Bound) -> String {
    match bound {
        Bound::Over(from) => format!("over {}", figure(*from)),
        Bound::Under(to) => format!("under {}", figure(*to)),
        Bound::OneOf(figures, negated) => {
            let figures: Vec<String> = figures.iter().map(|one| figure(*one)).collect();
            format!("{}{}", if *negated { "not " } else { "" }, figures.join(" or "))
        }
    }
}

fn spot_in_words(spot: Spot) -> &'static str {
    match spot {
        Spot::First => "the first",
        Spot::Last => "the last",
        Spot::FrontHalf => "in the front half",
        Spot::RearHalf => "in the rear half",
    }
}
