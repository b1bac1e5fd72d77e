//! How a block stands before anything is seen, in words and for programs.

use super::lines::quoted;
use crate::invariant::Hold;
use crate::model::{Common, Extent, Hidden, Model};
use crate::reason::standing::{Block, Reasons, Standing};
use crate::report::rules::entry::{Entry, in_brief};
use crate::report::words::{capital, count, counted, counted_roughly, hundreds, listed, out_of};
use serde::Serialize;

/// Most reasons shown for each grade
const MOST_REASONS: usize = 5;
/// Least probability of a reason that is told
const WORTH_TELLING: f64 = 0.005;
/// Most symptoms shown of a cause or condition
const MOST_SYMPTOMS: usize = 12;

/// The figures, for programs
#[derive(Debug, Serialize)]
pub struct Figures {
    /// Share of places in each grade, form or choice
    pub shares: Vec<Share>,
    /// Share of machines that have it anywhere
    pub anywhere: Option<f64>,
    /// What is behind each grade
    pub reasons: Vec<Behind>,
    /// How often the symptoms below it show
    pub leads_to: Vec<Below>,
}

/// A share under a name
#[derive(Debug, Serialize)]
pub struct Share {
    /// Grade, form, choice or cause
    pub name: String,
    /// From 0 to 1
    pub share: f64,
}

/// What is behind a grade
#[derive(Debug, Serialize)]
pub struct Behind {
    /// The grade
    pub grade: String,
    /// Causes with their probabilities given the grade, likeliest first
    pub causes: Vec<Share>,
    /// Probability that none of them is there
    pub none: f64,
}

/// A symptom below a cause or condition
#[derive(Debug, Serialize)]
pub struct Below {
    /// Its name
    pub id: String,
    /// Share of its places that show it with the cause or condition there
    pub with: f64,
    /// And with it not there
    pub without: f64,
}

/// Names of the states that shares are told of, the normal or absent one first
fn names(model: &Model, block: Block) -> Vec<String> {
    match block {
        Block::Fact(id) => model[id].choices.clone(),
        Block::Hidden(Hidden::Cause(id)) => {
            std::iter::once("absent".to_owned()).chain(model[id].forms.names()).collect()
        }
        Block::Hidden(Hidden::Condition(id)) => model[id].grades.names.clone(),
        Block::Symptom(id) => model[id].effect.grades.names.clone(),
    }
}

fn common(model: &Model, block: Block) -> &Common {
    match block {
        Block::Fact(id) => &model[id].common,
        Block::Hidden(hidden) => model.common(hidden),
        Block::Symptom(id) => &model[id].effect.common,
    }
}

/// The figures under their names
pub(super) fn figures(model: &Model, block: Block, standing: &Standing) -> Figures {
    let names = names(model, block);
    let share = |(name, share): (&String, &f64)| Share { name: name.clone(), share: *share };
    let behind = |reasons: &Reasons| Behind {
        grade: names.get(reasons.grade).cloned().hold("every grade has a name"),
        causes: reasons
            .causes
            .iter()
            .map(|(id, share)| Share { name: model[*id].common.name.clone(), share: *share })
            .collect(),
        none: reasons.none,
    };
    Figures {
        shares: names.iter().zip(&standing.shares).map(share).collect(),
        anywhere: standing.anywhere,
        reasons: standing.reasons.iter().map(behind).collect(),
        leads_to: standing
            .leads_to
            .iter()
            .map(|one| Below {
                id: model[one.symptom].effect.common.name.clone(),
                with: one.with,
                without: one.without,
            })
            .collect(),
    }
}

/// Says the figures
pub(super) fn say(model: &Model, block: Block, standing: &Standing, entry: &mut Entry) {
    let common = common(model, block);
    if standing.shares.is_empty() {
        let why = match block {
            Block::Fact(_) => "The case tells it.",
            Block::Hidden(_) | Block::Symptom(_) => "It has no place on this machine.",
        };
        entry.say("All told", [why.to_owned()]);
        return;
    }
    entry.say("All told", all_told(model, block, standing, common));
    entry.say(
        "Likeliest reasons, several of which may be there at once",
        standing.reasons.iter().filter(|one| !one.causes.is_empty()).map(|one| reasons(model, block, one)),
    );
    let brought_out = standing.leads_to.iter().filter(|one| one.with > one.without).take(MOST_SYMPTOMS);
    let sentences = brought_out.map(|one| {
        let symptom = &model[one.symptom].effect.common;
        format!(
            "{}: {} {} show it, without it {}.",
            capital(&in_brief(symptom)),
            counted_roughly(one.with),
            model.noun(symptom.extent),
            counted_roughly(one.without)
        )
    });
    entry.say("Where it is there, all other causes included", sentences);
}

/// How many places have it, and how many machines
fn all_told(model: &Model, block: Block, standing: &Standing, common: &Common) -> Vec<String> {
    let names = names(model, block);
    let noun = model.noun(common.extent);
    let skipped = usize::from(!matches!(block, Block::Fact(_)));
    let shares: Vec<f64> = standing.shares.iter().skip(skipped).copied().collect();
    let of = out_of(&shares);
    let parts: Vec<String> = names
        .iter()
        .skip(skipped)
        .zip(&shares)
        .map(|(name, share)| format!("{} {}", count(*share, of), quoted(name)))
        .collect();
    let normal = standing.shares.first().copied().unwrap_or(1.0); // else: it has no place on this machine
    let verb = if matches!(block, Block::Symptom(_)) { "show it" } else { "have it" };
    let mut sentences = match block {
        Block::Fact(_) => vec![format!("Of {} {noun}: {}.", hundreds(of), listed(&parts))],
        _ if parts.len() == 1 => vec![format!("{} {noun} {verb}.", capital(&counted(1.0 - normal)))],
        _ => {
            let sum = capital(&counted(1.0 - normal));
            vec![format!("{sum} {noun} {verb}; of {}: {}.", hundreds(of), listed(&parts))]
        }
    };
    let anywhere = standing.anywhere.filter(|_| common.extent != Extent::Machine);
    sentences
        .extend(anywhere.map(|share| format!("{} machines {verb} somewhere.", capital(&counted(share)))));
    sentences
}

/// `When “inboard” is seen: idler out of line (41 of 100), …; none of its causes 12 of 100.`
fn reasons(model: &Model, block: Block, reasons: &Reasons) -> String {
    let names = names(model, block);
    let name = names.get(reasons.grade).map_or_else(String::new, |name| quoted(name));
    let seen = if matches!(block, Block::Symptom(_)) { "seen" } else { "there" };
    let causes: Vec<String> = reasons
        .causes
        .iter()
        .filter(|(_, share)| *share >= WORTH_TELLING)
        .take(MOST_REASONS)
        .map(|(id, share)| format!("{} ({})", model[*id].common.label, counted_roughly(*share)))
        .collect();
    let causes = if causes.is_empty() { "no cause comes near".to_owned() } else { causes.join(", ") };
    format!(
        "When {name} is {seen}: {causes}; {} times none of the causes is there.",
        counted_roughly(reasons.none)
    )
}
