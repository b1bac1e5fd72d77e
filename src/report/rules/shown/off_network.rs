//! Everything in the rules that is no node of the network: measures, checks, remedies, parts, kinds, states, sizes, the scale.

use super::formula;
use super::lines;
use crate::invariant::Hold;
use crate::model::drawn::Drawn;
use crate::model::test::Test;
use crate::model::{
    CauseId, Check, CheckId, Common, ConditionId, Effect, Extent, FactId, Hidden, KindId, MeasureId, Model,
    Part, PartId, RemedyId, Size, StateId, SymptomId,
};
use crate::report::rules::entry::{self, Entry, in_brief};
use crate::report::rules::gate::clause;
use crate::report::words::{capital, counted, figure, minutes, plain};
use std::collections::BTreeSet;

/// The symptoms that a cause or condition leads to, by way of conditions or not
pub(super) fn symptoms_of(model: &Model, hidden: Hidden) -> BTreeSet<SymptomId> {
    let mut open = vec![hidden];
    let mut seen = BTreeSet::from([hidden]);
    let mut symptoms = BTreeSet::new();
    while let Some(next) = open.pop() {
        let leads = |effect: &Effect| {
            effect.lines.iter().any(|line| line.parents.iter().any(|parent| parent.of == next))
        };
        for (number, condition) in model.conditions.iter().enumerate() {
            let id = Hidden::Condition(ConditionId(number));
            if leads(condition) && seen.insert(id) {
                open.push(id);
            }
        }
        let shown = model.symptoms.iter().enumerate().filter(|(_, symptom)| leads(&symptom.effect));
        symptoms.extend(shown.map(|(number, _)| SymptomId(number)));
    }
    symptoms
}

/// The checks that show any of some symptoms
pub(super) fn checks_that_show(model: &Model, symptoms: &BTreeSet<SymptomId>) -> Vec<String> {
    let shows = |check: &&Check| check.shows.iter().any(|shown| symptoms.contains(shown));
    let words = |check: &Check| format!("{}, {}", in_brief(&check.common), minutes(check.minutes));
    model.checks.iter().filter(shows).map(words).collect()
}

/// `On the front idler, one of them on each side.`
pub(super) fn on_part(model: &Model, part: PartId) -> String {
    format!("On the {}.", model[part].common.label)
}

/// What hangs on a fact, with how it does
pub(super) fn hanging_on(model: &Model, id: FactId) -> Vec<String> {
    let asks = |test: &Test| test.facts().any(|fact| fact == id);
    let effect = |effect: &Effect| {
        asks(&effect.common.gate)
            || effect.lines.iter().any(|line| asks(&line.test))
            || effect.leaks.iter().any(|leak| asks(&leak.test))
    };
    let gates = |common: &&Common| asks(&common.gate);
    let causes = model
        .causes
        .iter()
        .filter(|it| asks(&it.common.gate) || it.chances.iter().any(|chance| asks(&chance.test)));
    let facts = model.facts.iter().filter(|it| it.shares.iter().any(|(test, _)| asks(test)));
    let conditions = model.conditions.iter().filter(|it| effect(it));
    let symptoms = model.symptoms.iter().filter(|it| effect(&it.effect));
    let measures = model.measures.iter().map(|it| &it.common).filter(gates);
    let checks = model.checks.iter().map(|it| &it.common).filter(gates);
    let remedies = model.remedies.iter().map(|it| &it.common).filter(gates);
    let drawn = |part: &&Part| part.drawn.iter().any(|(_, test)| asks(test));
    let parts = model.parts.iter().filter(|it| gates(&&it.common) || drawn(it)).map(|it| &it.common);
    let mut hanging: Vec<String> = facts
        .map(|it| &it.common)
        .chain(causes.map(|it| &it.common))
        .chain(conditions.map(|it| &it.common))
        .chain(symptoms.map(|it| &it.effect.common))
        .chain(measures)
        .chain(checks)
        .chain(remedies)
        .chain(parts)
        .map(in_brief)
        .collect();
    let rows = |size: &&Size| {
        let dimensions = size.dimensions.values().flatten().any(|row| asks(&row.test));
        dimensions || size.life.values().flatten().any(|(_, test)| asks(test))
    };
    if model.sizes.values().any(|size| rows(&size)) {
        hanging.push("sizes or lives of the size classes".to_owned());
    }
    hanging
}

pub(super) fn of_measure(model: &Model, id: MeasureId) -> Entry {
    let measure = &model[id];
    let mut entry = entry::of_measure(model, measure);
    entry.says.retain(|says| says.about != entry::FIRST_ROWS);
    let sums = measure.sums.iter();
    let sentences =
        sums.map(|(sum, test)| format!("{}{}.", capital(&formula::formula(model, sum)), clause(model, test)));
    entry.say("How it is reckoned", sentences);
    let rows = model.sizes.iter().flat_map(|(name, size)| {
        let rows = size_rows(model, size, id).into_iter().chain(life_rows(model, size, id));
        rows.map(|row| format!("{name}: {row}")).collect::<Vec<_>>()
    });
    entry.say("Sizes and life by size class, the first row that holds", rows);
    let symptoms = model
        .symptoms
        .iter()
        .filter(|it| it.reading.as_ref().is_some_and(|(expression, _)| expression.measures().contains(&id)));
    let facts = model
        .facts
        .iter()
        .filter(|it| it.derived.as_ref().is_some_and(|(expression, _)| expression.measures().contains(&id)));
    let measures = model.measures.iter().filter(|it| {
        let against = it.against.iter().map(|against| &against.formula);
        it.sums.iter().map(|(sum, _)| sum).chain(against).any(|sum| sum.measures().contains(&id))
    });
    let users = symptoms.map(|it| &it.effect.common).chain(facts.map(|it| &it.common));
    entry.say("Used by", users.chain(measures.map(|it| &it.common)).map(in_brief));
    let remedies = model.remedies.iter().filter(|it| it.makes_new(id));
    entry.say("Remedies that renew it", remedies.map(|it| in_brief(&it.common)));
    entry
}

fn size_rows(model: &Model, size: &Size, id: MeasureId) -> Vec<String> {
    let unit = model[id].unit();
    let shown = |value: f64| format!("{} {}", figure(unit.from_base(value)), unit.word());
    let rows = size.dimensions.get(&id).map(Vec::as_slice).unwrap_or_default(); // else: none are given
    let texts = rows.iter().map(|row| {
        let points: Vec<String> = match row.points.as_slice() {
            [(new, _)] => vec![format!("{} new", shown(*new))],
            points => {
                points.iter().map(|(at, worn)| format!("{} is {} %", shown(*at), figure(*worn))).collect()
            }
        };
        let after = match row.after {
            times if times > 1.0 => format!(", after that {} times as fast", figure(times)),
            _ => String::new(),
        };
        format!("{}{after}{}", points.join(", "), clause(model, &row.test))
    });
    texts.collect()
}

fn life_rows(model: &Model, size: &Size, id: MeasureId) -> Vec<String> {
    let rows = size.life.get(&id).map(Vec::as_slice).unwrap_or_default(); // else: none are given
    rows.iter().map(|(hours, test)| format!("{} h to 100 %{}", figure(*hours), clause(model, test))).collect()
}

pub(super) fn of_check(model: &Model, id: CheckId) -> Entry {
    let check = &model[id];
    let mut entry = entry::of_check(model, check);
    let causes = model.causes.iter().enumerate().filter(|(number, _)| {
        symptoms_of(model, Hidden::Cause(CauseId(*number)))
            .iter()
            .any(|symptom| check.shows.contains(symptom))
    });
    entry.say("Causes it can speak of", causes.map(|(_, cause)| in_brief(&cause.common)));
    entry
}

pub(super) fn of_remedy(model: &Model, id: RemedyId) -> Entry {
    entry::of_remedy(model, &model[id])
}

/// `As the front wheel.`
fn drawn(model: &Model, (drawn, test): &(Drawn, Test)) -> String {
    let words = drawn.words();
    let text = match drawn {
        Drawn::BottomRow(Some(count)) | Drawn::TopRow(Some(count)) => {
            format!("As the {words}, {count} in it")
        }
        Drawn::Frame(share) | Drawn::TopRun(share) => {
            format!("Along the {words}, at {} % from the front", figure(share * 100.0))
        }
        _ => format!("As the {words}"),
    };
    format!("{text}{}.", clause(model, test))
}

pub(super) fn of_part(model: &Model, id: PartId) -> Entry {
    let part = &model[id];
    let mut entry = Entry::new(model, "part", &part.common);
    let how_many = part.numbered.map(|(least, most)| match least == most {
        true => format!("{least} on each side."),
        false => format!("From {least} to {most} on each side; the fact `{}` says how many.", part.plural()),
    });
    entry.say("How many", how_many);
    entry.say("Wears against", part.rubs.map(|other| in_brief(&model[other].common)));
    entry.say("In the picture of a side", part.drawn.iter().map(|line| drawn(model, line)));
    let gate = clause(model, &part.common.gate);
    entry.say(
        "Only",
        Some(gate).filter(|gate| !gate.is_empty()).map(|gate| format!("It is there only{gate}.")),
    );
    let on_it = |common: &&Common| common.part == Some(id) || common.extent == Extent::Each(id);
    let of = |all: &mut dyn Iterator<Item = &Common>| all.filter(on_it).map(in_brief).collect::<Vec<_>>();
    entry.say("Causes on it", of(&mut model.causes.iter().map(|it| &it.common)));
    entry.say("Conditions on it", of(&mut model.conditions.iter().map(|it| &it.common)));
    entry.say("Symptoms on it", of(&mut model.symptoms.iter().map(|it| &it.effect.common)));
    entry.say("Measures on it", of(&mut model.measures.iter().map(|it| &it.common)));
    entry.based(&part.common)
}

pub(super) fn of_kind(model: &Model, id: KindId) -> Entry {
    let kind = &model[id];
    let mut entry = Entry::new(model, "kind of cause", &kind.common);
    entry.places = "for any place".to_owned();
    entry.say("Counts against", [kind.against.clone()]);
    let causes = model.causes.iter().filter(|cause| cause.kind == id);
    let sentences = causes.map(|cause| {
        let often = lines::chances(model, &cause.chances);
        format!("{}. {}", capital(&in_brief(&cause.common)), often.join(" "))
    });
    entry.say("Causes of this kind", sentences);
    entry.based(&kind.common)
}

pub(super) fn of_state(model: &Model, id: StateId) -> Entry {
    let state = &model[id];
    let mut entry = Entry::new(model, "state of the machine", &state.common);
    let order: Vec<String> = model.states.iter().map(|it| plain(&it.common.name)).collect();
    entry.say("The order that cannot be gone back", [order.join(", ")]);
    let of = |which: fn(&Check, StateId) -> bool| {
        let checks = model.checks.iter().filter(move |check| which(check, id));
        checks.map(|check| in_brief(&check.common)).collect::<Vec<_>>()
    };
    entry.say("Checks that need it", of(|check, id| check.needs_state == Some(id)));
    entry.say("Checks that bring it about", of(|check, id| check.makes == Some(id)));
    entry.say("Checks that end it", of(|check, id| check.ends.contains(&id)));
    entry.based(&state.common)
}

pub(super) fn of_size(model: &Model, name: &str) -> Entry {
    let size = model.sizes.get(name).hold("a size class is found by its name");
    let mut entry = Entry {
        id: name.to_owned(),
        sort: "size class",
        label: size.label.clone(),
        places: "of whole machines".to_owned(),
        says: Vec::new(),
    };
    let rows = |of: fn(&Model, &Size, MeasureId) -> Vec<String>| {
        let measures = (0..model.measures.len()).map(MeasureId);
        let texts = measures.flat_map(|id| {
            let label = in_brief(&model[id].common);
            of(model, size, id).into_iter().map(move |row| format!("{label}: {row}"))
        });
        texts.collect::<Vec<_>>()
    };
    entry.say("Sizes, the first row that holds", rows(size_rows));
    entry.say("Life, the first row that holds", rows(life_rows));
    let spread = Some(size.spread).filter(|spread| *spread > 0.0);
    entry.say(
        "Spread of life between machines on one site",
        spread.map(|spread| format!("{} % either way (one standard deviation)", figure(spread * 100.0))),
    );
    entry
}

pub(super) fn of_scale(model: &Model) -> Entry {
    let mut entry = Entry {
        id: "scale".to_owned(),
        sort: "scale",
        label: "what the words of frequency stand for".to_owned(),
        places: "the same for all rules".to_owned(),
        says: Vec::new(),
    };
    entry.say("Words", model.scale.iter().map(|(word, share)| format!("{word}: {}", counted(*share))));
    entry
}
