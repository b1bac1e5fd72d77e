//! Rules and a case given as text, read through every stage that a command reads them through.

use super::rules;
use pinboss::case;
use pinboss::ground::{Ground, find_hidden, ground};
use pinboss::infer::Limits;
use pinboss::model::Model;
use pinboss::place::{Place, Side};
use pinboss::problem::Problems;
use pinboss::reason::{Diagnosis, Ranked, Settings, Weighing};
use pinboss::source::Sources;
use std::sync::Arc;

/// A case held against its rules
pub struct Setting {
    pub model: Arc<Model>,
    pub ground: Arc<Ground>,
}

/// Words of the scale, one kind, one part a side and numbered rollers: what nearly every set of test rules starts with
pub const START: &str = "\
scale
    always 100%   usually 85%   often 60%   sometimes 30%   seldom 8%
kind upkeep: \"upkeep put off\" counts against owner
state packed: \"packed\"
state hot: \"hot from work\"
state cleaned: \"scraped and dry\"
part idler, each side: \"front idler\"
part roller, each side, numbered 2 to 9: \"bottom roller\"
";

/// Reads rules (after [`START`]) and a case; both must be without an error
pub fn set(rules: &str, case: &str) -> Setting {
    let rules = rules::read([("test.rules", format!("{START}{rules}"))]);
    assert!(!rules.problems.any_error(), "{}", told(&rules.problems, &rules.sources));
    bind(rules.model, case)
}

/// Reads a case and binds it to rules; it must be without an error
pub fn bind(model: Model, case: &str) -> Setting {
    let mut sources = Sources::default();
    let id = sources.add("case.yaml", case);
    let (inspection, mut problems) = case::read(&sources, id);
    let (ground, said) = ground(&model, &inspection.unwrap());
    problems.append(said);
    assert!(!problems.any_error(), "{}", told(&problems, &sources));
    Setting { model: Arc::new(model), ground: Arc::new(ground) }
}

/// All problems, in one text
pub fn told(problems: &Problems, sources: &Sources) -> String {
    rules::told(problems, sources).join("\n")
}

impl Setting {
    /// The case weighed as far as it is asked
    pub fn weighing(&self) -> Weighing {
        Weighing::new(Arc::clone(&self.model), Arc::clone(&self.ground))
    }

    /// The same within other limits, for the next checks too
    pub fn weighing_within(&self, limits: &Limits) -> Weighing {
        let settings = Settings { limits: limits.clone(), often: limits.clone(), ..Settings::default() };
        self.weighing().within(settings)
    }

    /// The whole diagnosis
    pub fn diagnose(&self) -> Diagnosis {
        self.weighing().exactly().unwrap().clone()
    }

    /// Probability of a cause or condition at a place, written as in a case: `idler_out_of_line left`
    pub fn probability(&self, name: &str) -> f64 {
        let (name, place) = split(name);
        let hidden = find_hidden(&self.model, name).unwrap_or_else(|| panic!("no `{name}`"));
        let found = self.weighing().places(hidden).unwrap();
        found.iter().find(|one| one.place == place).map_or(0.0, |one| one.probability)
    }

    /// A cause of the diagnosis
    pub fn cause<'d>(&self, diagnosis: &'d Diagnosis, name: &str) -> &'d Ranked {
        let (name, place) = split(name);
        let named = |one: &&Ranked| self.model.common(one.hidden).name == name && one.place == place;
        diagnosis.causes.iter().find(named).unwrap_or_else(|| panic!("no `{name}`"))
    }
}

/// `slope_work`, `flange_worn left`, `oil_streak left roller 3`
pub fn split(name: &str) -> (&str, Place) {
    let words: Vec<&str> = name.split(' ').collect();
    let side = |word: &str| Side::from_word(word).unwrap();
    match words.as_slice() {
        [name] => (name, Place::Machine),
        [name, at] => (name, Place::Side(side(at))),
        [name, at, part, number] => (
            name,
            Place::Numbered { side: side(at), part: (*part).to_owned(), number: number.parse().unwrap() },
        ),
        _ => panic!("`{name}` is no name with a place"),
    }
}
