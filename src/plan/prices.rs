//! What work costs: in a workshop's own money by its prices, else in the units of the rules.

use crate::case::prices::Prices;
use crate::model::{Model, Remedy, RemedyId};
use crate::plan::record::Priced;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems, did_you_mean};
use std::collections::BTreeMap;

/// What an hour of labour comes to in the units of the rules: remedies that are labour alone cost about this much an
/// hour in the shipped rules (estimate)
pub const UNITS_AN_HOUR: f64 = 50.0;
/// What it costs that a machine stands for a visit, in the units of the rules: four hours' labour (estimate)
const UNITS_A_VISIT: f64 = 200.0;
/// Hours up to the next planned stop, by which work is due that does not say when (common practice)
pub const NEXT_STOP: f64 = 500.0;
/// Hours ahead that are planned for when nothing else is asked for
pub const HORIZON: f64 = 1_000.0;

/// What work is priced by
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    /// The word for the money; none for the units of the rules
    pub currency: Option<String>,
    /// An hour of labour
    pub labour: f64,
    /// A visit
    pub visit: f64,
    /// An hour that the machine stands for work
    pub standing: f64,
    /// Parts and bought-in work of each remedy, labour left out
    pub prices: BTreeMap<RemedyId, f64>,
    /// What a unit of the rules comes to
    pub unit: f64,
    /// Hours ahead that are planned for
    pub horizon: f64,
}

impl Default for Terms {
    fn default() -> Self {
        Terms {
            currency: None,
            labour: UNITS_AN_HOUR,
            visit: UNITS_A_VISIT,
            standing: 0.0,
            prices: BTreeMap::new(),
            unit: 1.0,
            horizon: HORIZON,
        }
    }
}

impl Terms {
    /// What a workshop asks; every name of a remedy that the rules do not have is a problem
    pub fn of(prices: &Prices, model: &Model) -> (Terms, Problems) {
        let mut problems = Problems::default();
        let known = |name: &str| model.remedies.iter().position(|remedy| remedy.common.name == name);
        let mut bound = BTreeMap::new();
        for (name, price) in &prices.remedies {
            match known(&name.value) {
                Some(number) => {
                    bound.insert(RemedyId(number), price.value);
                }
                None => problems.push(unknown(model, &name.value, name.at)),
            }
        }
        let labour = prices.labour.as_ref().map_or(UNITS_AN_HOUR, |labour| labour.value);
        let unit = labour / UNITS_AN_HOUR;
        let terms = Terms {
            currency: prices.currency.as_ref().map(|word| word.value.clone()),
            labour,
            visit: prices.visit.as_ref().map_or(UNITS_A_VISIT * unit, |visit| visit.value),
            standing: prices.standing.as_ref().map_or(0.0, |hour| hour.value),
            prices: bound,
            unit,
            horizon: HORIZON,
        };
        (terms, problems)
    }

    /// What an hour of work in a visit costs: labour, and the machine that stands
    pub fn hour(&self) -> f64 {
        self.labour + self.standing
    }

    /// Hours from now by which all planned work is done
    pub fn end(&self) -> f64 {
        self.horizon + NEXT_STOP
    }

    /// What work must save on the whole to be worth a visit of its own: what the visit costs, and no less than four hours'
    /// labour
    pub fn alone(&self) -> f64 {
        self.visit.max(UNITS_A_VISIT * self.unit)
    }

    /// What a remedy costs by itself, and where that is from.
    ///
    /// By the workshop's price and its labour; without one by what the rules say it costs, labour included, an hour of
    /// labour being worth 50 of their units; without that by its hours alone.
    pub fn cost(&self, id: RemedyId, remedy: &Remedy) -> (f64, Priced) {
        let standing = remedy.hours * self.standing;
        let (cost, priced) = match (self.prices.get(&id), remedy.costs) {
            (Some(price), _) => (price + remedy.hours * self.labour, Priced::Listed),
            (None, Some(costs)) => ((costs * self.unit).max(remedy.hours * self.labour), Priced::Rules),
            (None, None) => (remedy.hours * self.labour, Priced::Hours),
        };
        (cost + standing, priced)
    }
}

fn unknown(model: &Model, name: &str, at: crate::source::Span) -> Problem {
    let names = model.remedies.iter().map(|remedy| remedy.common.name.as_str());
    let otherwise = "`pinboss words NAME` tells the names of what is done about a cause";
    Problem::new(Code::CaseUnknownName, at, format!("no remedy is called `{name}`"))
        .help(did_you_mean(name, names, otherwise))
}
