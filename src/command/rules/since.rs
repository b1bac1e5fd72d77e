//! The same cases by an older set of rules: what differs between the sets, what that moved, and which block moved it.

use super::tries::{self, Tried, Written};
use crate::case::Inspection;
use crate::check;
use crate::command::rulebook::Rulebook;
use crate::ground;
use crate::model::Model;
use crate::problem::Problems;
use crate::reason::Weighing;
use crate::report::record::{self, since::Since};
use crate::source::Sources;
use crate::syntax::change::{self, Change};
use crate::syntax::short;
use crate::syntax::tree::File;
use crate::trial::since::{By, Chances, Mix, attribute, chances, moved};
use crate::trial::{self, Extent};
use std::sync::Arc;

/// Most changed blocks that are tried one by one: each asks for two sets of rules to be checked and every case that moved
/// to be weighed by both
const MOST_TRIED: usize = 60;

/// Rules with one block changed or changed back; no model when they do not hold together
struct Mixed {
    with: Option<Arc<Model>>,
    without: Option<Arc<Model>>,
}

/// What moved since the old rules; `tried` holds each case by the new ones
pub(super) fn since(
    old: &Rulebook,
    new: &Rulebook,
    cases: &[Written],
    tried: &[Option<Tried>],
    extent: Extent,
    sources: &Sources,
) -> Since {
    // What is said in short and what is written out is no change.
    let (old_files, new_files) = (short::written_out(&old.files).0, short::written_out(&new.files).0);
    let changes = change::changes(&old_files, &new_files);
    let mut mixed: Option<Vec<Mixed>> = None;
    let mut since = record::since::since(&changes, sources);
    for (case, tried) in cases.iter().zip(tried) {
        let Some(now) = tried else { continue };
        let mut said = Problems::default();
        let file = sources.name(case.id);
        let bare = bare(case);
        let before = tries::one(&old.model, case, extent, &mut Problems::default())
            .or_else(|| tries::one(&old.model, &bare, extent, &mut said));
        let Some(before) = before else {
            let why = said.sorted().first().map_or_else(String::new, |problem| problem.message.clone());
            since.cases.push(record::since::not_before(file, why));
            continue;
        };
        let new_by = By { model: &new.model, ground: now.weighing.ground(), trial: &now.trial };
        let old_by = By { model: &old.model, ground: before.weighing.ground(), trial: &before.trial };
        let mut moved = moved(old_by, new_by);
        if !moved.moves.is_empty() && changes.len() <= MOST_TRIED {
            let mixed = mixed.get_or_insert_with(|| mix(&old_files, &new_files, &changes));
            attribute(&mut moved, &mixes(mixed, &bare));
        }
        since.cases.push(record::since::case(file, &now.trial.claims, &moved, &changes, sources));
    }
    since.too_many_to_tell_apart = changes.len() > MOST_TRIED;
    since
}

/// A case without its claims: these may name what other rules do not have
fn bare(case: &Written) -> Written {
    let inspection = Inspection { truth: None, expect: None, ..case.inspection.clone() };
    Written { id: case.id, inspection }
}

/// For each change the old rules with it, and the new rules without it
fn mix(old: &[File], new: &[File], changes: &[Change]) -> Vec<Mixed> {
    let model = |files: Vec<File>| {
        let (model, problems) = check::check(&files);
        (!problems.any_error()).then(|| Arc::new(model))
    };
    let mixed = |change: &Change| Mixed {
        with: model(change::with(old, change)),
        without: model(change::without(new, change)),
    };
    changes.iter().map(mixed).collect()
}

/// A case by each of the mixed sets
fn mixes(mixed: &[Mixed], case: &Written) -> Vec<Mix> {
    let weighed = |model: &Option<Arc<Model>>| weighed(model.as_ref()?, case);
    let mix = |(change, own): (usize, &Mixed)| Mix {
        change,
        with: weighed(&own.with),
        without: weighed(&own.without),
    };
    mixed.iter().enumerate().map(mix).collect()
}

/// Chances of all causes; none when the case does not go with these rules
fn weighed(model: &Arc<Model>, case: &Written) -> Option<Chances> {
    let (ground, problems) = ground::ground(model, &case.inspection);
    if problems.any_error() {
        return None;
    }
    let weighing = Weighing::new(Arc::clone(model), ground).within(trial::settings());
    Some(chances(model, weighing.causes().ok()?))
}
