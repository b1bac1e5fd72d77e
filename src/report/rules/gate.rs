//! Tests of the rules in words.

use crate::model::Model;
use crate::model::test::{Bound, Spot, Term, Test};
use crate::report::words::{figure, plain};

/// ` (bushings: turned; side: left)`, or nothing for a test that always holds
pub fn in_words(model: &Model, test: &Test) -> String {
    if test.always() {
        return String::new();
    }
    let terms = test.terms.iter().map(|term| {
        let (subject, wanted) = term_in_words(model, term);
        format!("{subject}: {wanted}")
    });
    format!(" ({})", terms.collect::<Vec<_>>().join("; "))
}

/// ` where bushings are turned and the side is left`, or nothing for a test that always holds
pub fn clause(model: &Model, test: &Test) -> String {
    if test.always() {
        return String::new();
    }
    let terms = test.terms.iter().map(|term| {
        let (subject, wanted) = term_in_words(model, term);
        let the = if matches!(term, Term::Side(_) | Term::Spot { .. }) { "the " } else { "" };
        let verb = if subject.contains(" a side") || subject.contains(" on the ") || subject.ends_with('s') {
            "are"
        } else {
            "is"
        };
        format!("{the}{subject} {verb} {wanted}")
    });
    format!(" where {}", terms.collect::<Vec<_>>().join(" and "))
}

/// What a term asks about, and what it asks of it
fn term_in_words(model: &Model, term: &Term) -> (String, String) {
    match term {
        Term::Fact { fact, choices } => {
            let fact = &model[*fact];
            let named = choices.iter().filter_map(|choice| fact.choices.get(*choice));
            let named: Vec<String> = named.map(|choice| plain(choice)).collect();
            (plain(&fact.common.name), named.join(" or "))
        }
        Term::Count { part, bound } => (format!("{} a side", model[*part].plural()), bounds(bound)),
        Term::Hours(bound) => ("hours on the meter".to_owned(), bounds(bound)),
        Term::Side(side) => ("side".to_owned(), side.word().to_owned()),
        Term::Spot { part, spots, negated } => {
            let spots: Vec<&str> = spots.iter().map(|spot| spot_in_words(*spot)).collect();
            let not = if *negated { "not " } else { "" };
            (model[*part].common.name.clone(), format!("{not}{}", spots.join(" or ")))
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
