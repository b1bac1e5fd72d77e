//! What a name of the rules means, for the person who meets it on a screen or in a case file.

use crate::model::formula::Formula;
use crate::model::named::{self, Named};
use crate::model::{
    Basis, Cause, CauseId, Check, Common, ConditionId, Effect, Extent, Fact, Hidden, How, Measure, MeasureId,
    Model, Remedy, Setting, Sign, Spans, Symptom, SymptomId,
};
use crate::problem::code::{Code, Severity};
use crate::report::prose::Prose;
use crate::report::rules::explain;
use crate::report::rules::gate::{self, clause};
use crate::report::rules::shown::formula;
use crate::report::words::{capital, figure, minutes, percent, plain};
use serde::Serialize;
use std::collections::BTreeSet;

/// Head of the short table of sizes, which a longer one takes the place of
pub(super) const FIRST_ROWS: &str = "Per cent worn, first row of each size class";

/// One name with what the rules say of it
#[derive(Debug, Serialize)]
pub struct Entry {
    /// The name
    pub id: String,
    /// What sort of thing it is: cause, symptom, check…
    pub sort: &'static str,
    /// Its label
    pub label: String,
    /// The places it has: `machine`, `each side`, `each roller`
    pub places: String,
    /// Headed paragraphs, in the order of reading
    pub says: Vec<Says>,
}

/// A headed paragraph or list
#[derive(Debug, Serialize)]
pub struct Says {
    /// What it is about
    pub about: &'static str,
    /// Its lines
    pub lines: Vec<String>,
}

impl Entry {
    pub(super) fn new(model: &Model, sort: &'static str, common: &Common) -> Self {
        let places = match common.extent {
            Extent::Machine => "machine".to_owned(),
            Extent::Side => "each side".to_owned(),
            Extent::Each(part) => format!("each {}", model[part].common.name),
        };
        let mut entry =
            Entry { id: common.name.clone(), sort, label: common.label.clone(), places, says: Vec::new() };
        entry.say("What it is", common.text.iter().cloned());
        entry
    }

    /// Adds a paragraph, unless it is empty
    pub(super) fn say(&mut self, about: &'static str, lines: impl IntoIterator<Item = String>) {
        let lines: Vec<String> = lines.into_iter().collect();
        if !lines.is_empty() {
            self.says.push(Says { about, lines });
        }
    }

    pub(super) fn based(mut self, common: &Common) -> Self {
        let basis = common.basis.as_ref().map(|basis| match basis {
            Basis::CommonPractice => "common practice".to_owned(),
            Basis::Estimate => "an estimate, to be corrected by whoever knows better".to_owned(),
            Basis::Source(source) => source.clone(),
        });
        self.say("Where the rule comes from", basis);
        self
    }
}

/// The entry of a name; none when the rules do not know it
pub fn entry(model: &Model, name: &str) -> Option<Entry> {
    Some(match named::named(model, name)? {
        Named::Cause(id) => of_cause(model, &model[id]),
        Named::Condition(id) => of_condition(model, &model[id]),
        Named::Symptom(id) => of_symptom(model, &model[id]),
        Named::Measure(id) => of_measure(model, &model[id]),
        Named::Check(id) => of_check(model, &model[id]),
        Named::Remedy(id) => of_remedy(model, &model[id]),
        Named::Fact(id) => of_fact(model, &model[id]),
        Named::Part(id) => of_small(model, "part", &model[id].common),
        Named::Kind(id) => of_small(model, "kind of cause", &model[id].common),
        Named::State(id) => of_small(model, "state of the machine", &model[id].common),
        Named::Size(_) | Named::Scale => return None,
    })
}

pub(super) fn of_small(model: &Model, sort: &'static str, common: &Common) -> Entry {
    Entry::new(model, sort, common).based(common)
}

/// The entry of a problem code
pub fn of_code(code: Code) -> Entry {
    let places = match code.severity() {
        Severity::Error => "error: nothing is computed until it is mended",
        Severity::Warning => "warning: legal, but doubtful",
    };
    Entry {
        id: code.slug().to_owned(),
        sort: "problem with a file",
        label: code.title().to_owned(),
        places: places.to_owned(),
        says: explain::in_short(code).map(|(about, words)| Says { about, lines: vec![words] }).into(),
    }
}

fn of_cause(model: &Model, cause: &Cause) -> Entry {
    let mut entry = Entry::new(model, "cause", &cause.common);
    let kind = &model[cause.kind];
    entry.say("What sort of cause", [format!("{}; it counts against {}", kind.common.label, kind.against)]);
    let chances = cause.chances.iter().map(|chance| {
        let noun = model.noun(chance.noun);
        format!("{} of {noun}{}", percent(chance.share), gate::in_words(model, &chance.test))
    });
    entry.say("How often it is there before anything is seen", chances);
    let hidden = model.causes.iter().position(|it| it == cause).map(|number| Hidden::Cause(CauseId(number)));
    brings_about(model, hidden, &mut entry);
    entry.based(&cause.common)
}

fn of_condition(model: &Model, condition: &Effect) -> Entry {
    let mut entry = Entry::new(model, "condition", &condition.common);
    entry.say(
        "Grades",
        [condition.grades.names.iter().map(|name| plain(name)).collect::<Vec<_>>().join(", ")],
    );
    comes_from(model, condition, &mut entry);
    let number = model.conditions.iter().position(|it| it == condition);
    let hidden = number.map(|number| Hidden::Condition(ConditionId(number)));
    brings_about(model, hidden, &mut entry);
    entry.based(&condition.common)
}

fn of_symptom(model: &Model, symptom: &Symptom) -> Entry {
    let effect = &symptom.effect;
    let mut entry = Entry::new(model, "symptom", &effect.common);
    entry.say("Grades, the normal one first", [effect.grades.names.join(", ")]);
    let number = model.symptoms.iter().position(|it| it == symptom).map(SymptomId);
    let shown = model.checks.iter().filter(|check| number.is_some_and(|id| check.shows.contains(&id)));
    entry.say("How to see it", shown.map(|check| in_short(model, check)));
    if let Some((formula, _)) = &symptom.reading {
        let mut labels: Vec<String> =
            formula.readings().iter().map(|id| in_brief(&model[*id].common)).collect();
        labels.dedup();
        entry.say("Or by reading", labels);
    }
    comes_from(model, effect, &mut entry);
    entry.based(&effect.common)
}

pub(super) fn of_measure(model: &Model, measure: &Measure) -> Entry {
    let mut entry = Entry::new(model, "measure", &measure.common);
    if let Some(text) = entry.says.first_mut() {
        text.about = "Where and how";
    }
    match &measure.how {
        How::Read { unit, range, error, worst } => {
            let shown = |base: f64| figure(unit.from_base(base));
            let step = error / unit.step_to_base(1.0);
            entry.say("Of several values", worst.then(|| "the most worn counts".to_owned()));
            entry.say(
                "How it is read",
                [format!(
                    "in {}, from {} to {}; one careful reading strays by about {}",
                    unit.word(),
                    shown(range.0),
                    shown(range.1),
                    figure(step)
                )],
            );
        }
        How::Reckoned => {}
    }
    let over = |it: &Spans| {
        format!("{} {} between {} {}", it.count, plain(&it.of), it.count + 1, plain(&it.between))
    };
    entry.say("It goes over", measure.spans.as_ref().map(over));
    let anew = "what was read before its part was turned says nothing of the wear since";
    entry.say("After a turn", measure.anew.then(|| anew.to_owned()));
    let from: BTreeSet<MeasureId> = measure.sums.iter().flat_map(|(sum, _)| sum.measures()).collect();
    let labels = from.iter().map(|id| in_brief(&model[*id].common));
    entry.say(if measure.how == How::Reckoned { "Reckoned from" } else { "Else reckoned from" }, labels);
    if let Some(against) = &measure.against {
        let expected = match &against.formula {
            Formula::Measure(id) => in_brief(&model[*id].common),
            sum => formula::formula(model, sum),
        };
        entry.say("What it should come to", [expected]);
        entry.say("If it reads more", against.more.clone());
        entry.say("If it reads less", against.less.clone());
    }
    let advice = measure.advice.iter();
    entry.say("To mind", advice.map(|(text, test)| format!("{text}{}", gate::in_words(model, test))));
    entry.say("Instruments", measure.needs.iter().cloned());
    let number = model.measures.iter().position(|it| it == measure).map(MeasureId);
    let reads = model.checks.iter().filter(|check| number.is_some_and(|id| check.reads.contains(&id)));
    entry.say("Taken in", reads.map(|check| in_short(model, check)));
    let sizes = model.sizes.iter().filter_map(|(name, size)| {
        let row = size.dimensions.get(&number?)?.first()?;
        let unit = measure.unit();
        let shown = |size: &f64| format!("{} {}", figure(unit.from_base(*size)), unit.word());
        let points = row.points.iter().map(|(size, worn)| format!("{} is {} %", shown(size), figure(*worn)));
        Some(format!("{name}: {}", points.collect::<Vec<_>>().join(", ")))
    });
    entry.say(FIRST_ROWS, sizes);
    entry.based(&measure.common)
}

pub(super) fn of_check(model: &Model, check: &Check) -> Entry {
    let mut entry = Entry::new(model, "check", &check.common);
    entry.say("Beware", check.cautions.iter().cloned());
    entry.say("Takes", [minutes(check.minutes)]);
    entry.say("Tools", check.needs.iter().cloned());
    entry.say("Access", check.access.clone());
    entry.say("The machine must be", check.needs_state.map(|state| model[state].common.label.clone()));
    entry.say("Makes the machine", check.makes.map(|state| model[state].common.label.clone()));
    entry.say("Puts an end to", check.ends.iter().map(|state| model[*state].common.label.clone()));
    entry.say("Shows", check.shows.iter().map(|id| in_brief(&model[*id].effect.common)));
    entry.say("Reads", check.reads.iter().map(|id| in_brief(&model[*id].common)));
    entry.based(&check.common)
}

/// A sign with the grades of it that count
fn in_grades(model: &Model, sign: &Sign) -> String {
    let effect = &model[sign.symptom].effect;
    let grades: Vec<String> = sign.grades.iter().map(|grade| plain(effect.grades.name(*grade))).collect();
    format!("{}: {}", in_brief(&effect.common), grades.join(" or "))
}

pub(super) fn of_remedy(model: &Model, remedy: &Remedy) -> Entry {
    let mut entry = Entry::new(model, "remedy", &remedy.common);
    entry.say("Beware", remedy.cautions.iter().cloned());
    let signs = remedy.signs.iter().map(|sign| in_grades(model, sign));
    entry.say("Only where it was seen or read so, or is normal and nobody looked", signs);
    let done = if remedy.finds_out { "Finds out about, before anything is mended" } else { "Mends" };
    entry.say(done, remedy.fixes.iter().map(|hidden| in_brief(model.common(*hidden))));
    entry.say(
        "Takes no parts",
        remedy.sets_right.map(|when| match when {
            Setting::BehindRepairs => "what is there is set right, behind the repairs of a visit".to_owned(),
            Setting::Last => "what is there is set right, at the very end of a visit".to_owned(),
        }),
    );
    let on_site = remedy.on_site.then(|| "in no visit, by those who work the machine".to_owned());
    entry.say("Done where the machine works", on_site);
    let mends = remedy.mends.iter().map(|sign| in_grades(model, sign));
    entry.say("Called for by itself by", mends);
    let renews = remedy.renews.iter();
    entry.say(
        "Renews",
        renews.map(|it| {
            let to =
                it.to.map_or_else(String::new, |to| format!("; past {} % it comes too late", figure(to)));
            format!("{}, from {} % worn{to}", in_brief(&model[it.measure].common), figure(it.from))
        }),
    );
    entry.say(
        "Pays only while there is life left in",
        remedy.lasts.iter().map(|it| {
            let (share, again) = (figure(it.share * 100.0), figure(it.again * 100.0));
            let what = in_brief(&model[it.measure].common);
            let test = clause(model, &it.test);
            format!("{what}: for {share} % of what is won, which is {again} % of a first life{test}")
        }),
    );
    let along = remedy.along.iter();
    entry.say(
        "Takes along",
        along.map(|(id, from)| format!("{}, from {} % worn", in_brief(&model[*id].common), figure(*from))),
    );
    entry.say("Needless once it is done", remedy.spares.iter().map(|id| in_brief(&model[*id].common)));
    entry.say("The machine is brought to be", remedy.state.map(|state| model[state].common.label.clone()));
    entry.say("Work", [format!("{} h", figure(remedy.hours))]);
    entry.say("Costs about", remedy.costs.map(|costs| format!("{} (units of the rules)", figure(costs))));
    entry.say(
        "Due within",
        remedy.within.map(|hours| match hours {
            hours if hours <= 0.0 => match remedy.forbids_over {
                Some(floor) => {
                    format!("before the machine works again, from a chance of {} on", percent(floor))
                }
                None => "before the machine works again".to_owned(),
            },
            hours => format!("{} working hours", figure(hours)),
        }),
    );
    entry.say(
        "If not done",
        remedy.left.iter().map(|(text, loses)| format!("{text} (about {} lost)", figure(*loses))),
    );
    entry.based(&remedy.common)
}

fn of_fact(model: &Model, fact: &Fact) -> Entry {
    let mut entry = Entry::new(model, "fact", &fact.common);
    let last = fact.shares.last().map_or(&[][..], |(_, shares)| shares.as_slice());
    let choices = fact.choices.iter().zip(last);
    entry.say(
        "Choices, and how many machines have them where nothing else is told",
        choices.map(|(choice, share)| format!("{choice}: {}", percent(*share))),
    );
    entry.say("How to tell", fact.tell.iter().map(|(text, taken)| format!("{text} ({})", minutes(*taken))));
    entry.based(&fact.common)
}

fn comes_from(model: &Model, effect: &Effect, entry: &mut Entry) {
    let mut lines: Vec<String> = Vec::new();
    for line in &effect.lines {
        let parents: Vec<&str> = line.parents.iter().map(|it| model.common(it.of).label.as_str()).collect();
        let why = line.because.as_deref().unwrap_or(""); // else: the rules give no reason
        let sentence = format!("{}. {why}", parents.join(" together with "));
        if !lines.contains(&sentence) {
            lines.push(sentence);
        }
    }
    entry.say("What brings it about", lines.into_iter().map(|line| capital(line.trim())));
}

fn brings_about(model: &Model, hidden: Option<Hidden>, entry: &mut Entry) {
    let Some(hidden) = hidden else { return };
    let leads =
        |effect: &Effect| effect.lines.iter().any(|line| line.parents.iter().any(|it| it.of == hidden));
    let conditions = model.conditions.iter().filter(|it| leads(it)).map(|it| in_brief(&it.common));
    let symptoms = model.symptoms.iter().filter(|it| leads(&it.effect)).map(|it| in_brief(&it.effect.common));
    entry.say("What it brings about", conditions.chain(symptoms));
    let remedies = model.remedies.iter().filter(|remedy| remedy.fixes.contains(&hidden));
    entry.say("What mends it", remedies.map(|remedy| in_brief(&remedy.common)));
}

/// A label with its name behind it
pub(super) fn in_brief(common: &Common) -> String {
    format!("{} ({})", common.label, common.name)
}

/// A check in a line, its cautions behind it
fn in_short(model: &Model, check: &Check) -> String {
    let state = check
        .needs_state
        .map_or_else(String::new, |state| format!(", machine {}", model[state].common.label));
    let beware = if check.cautions.is_empty() {
        String::new()
    } else {
        format!(" Beware: {}", check.cautions.join(" "))
    };
    format!("{} ({}; {}{state}).{beware}", check.common.label, check.common.name, minutes(check.minutes))
}

/// An entry as text
pub fn text(entry: &Entry) -> Prose {
    let mut prose = Prose::new();
    prose.say(0, &format!("{}: {}", entry.id, entry.label));
    prose.say(
        0,
        &format!(
            "A {}, {}.",
            entry.sort,
            match entry.places.as_str() {
                "machine" => "one for the machine",
                places => places,
            }
        ),
    );
    for says in &entry.says {
        prose.gap();
        prose.say(0, &format!("{}:", says.about));
        for line in &says.lines {
            prose.say(2, line);
        }
    }
    prose
}

/// All names with their labels, by sort
pub fn list(model: &Model) -> Vec<Listed> {
    let causes = model.causes.iter().map(|it| ("cause", &it.common));
    let conditions = model.conditions.iter().map(|it| ("condition", &it.common));
    let symptoms = model.symptoms.iter().map(|it| ("symptom", &it.effect.common));
    let measures = model.measures.iter().map(|it| ("measure", &it.common));
    let checks = model.checks.iter().map(|it| ("check", &it.common));
    let remedies = model.remedies.iter().map(|it| ("remedy", &it.common));
    let facts = model.facts.iter().map(|it| ("fact", &it.common));
    let parts = model.parts.iter().map(|it| ("part", &it.common));
    let states = model.states.iter().map(|it| ("state", &it.common));
    let all = causes.chain(conditions).chain(symptoms).chain(measures).chain(checks).chain(remedies);
    all.chain(facts)
        .chain(parts)
        .chain(states)
        .map(|(sort, common)| Listed { sort, id: common.name.clone(), label: common.label.clone() })
        .collect()
}

/// A name in the list of all names
#[derive(Debug, Serialize)]
pub struct Listed {
    /// What sort of thing it is
    pub sort: &'static str,
    /// The name
    pub id: String,
    /// Its label
    pub label: String,
}

/// The list of all names as text
pub fn list_text(list: &[Listed]) -> Prose {
    let mut prose = Prose::new();
    let mut sort = "";
    for listed in list {
        if listed.sort != sort {
            let many = listed
                .sort
                .strip_suffix('y')
                .map_or(format!("{}s", listed.sort), |stem| format!("{stem}ies"));
            prose.heading(&many);
            sort = listed.sort;
        }
        prose.say(2, &format!("{}: {}", listed.id, listed.label));
    }
    prose
}
