//! From trees to a model: names, places, numbers and loops, with everything wrong told in one run.

mod against;
mod attributes;
mod cause;
mod cautions;
mod clauses;
mod context;
mod declared;
mod doubt;
mod drawn;
mod effect;
mod fact;
mod formula;
mod grades;
mod hazards;
mod loops;
mod measure;
mod names;
mod never;
mod parent;
mod readings;
mod reached;
mod reckoned;
mod share;
mod situation;
mod test;
mod value;
mod wide;
mod work;
mod written;

use crate::model::Model;
use crate::problem::Problems;
use crate::syntax::short;
use crate::syntax::tree::{File, Sort};
use names::Names;

/// The model that rule files mean, and everything wrong or doubtful in them.
///
/// The model may be computed with only when the problems hold no error.
pub fn check(files: &[File]) -> (Model, Problems) {
    let (whole, mut problems) = short::written_out(files);
    let hazards = hazards::declared(files, &mut problems);
    let files = whole.as_slice();
    let names = names::collect(files, &mut problems);
    clauses::check(&names, &mut problems);
    let mut model = outline(&names, &mut problems);
    model.hazards = hazards;
    model.index_names();
    fill(&mut model, &names, &mut problems);
    loops::check(&mut model, &mut problems);
    reckoned::check(&model, &mut problems);
    readings::check(&model, &mut problems);
    wide::check(&model, &mut problems);
    let all_read =
        files.iter().all(|file| file.unread.is_empty() && !file.declarations.iter().any(|it| it.broken));
    if all_read && !problems.any_error() {
        reached::check(&model, &names, &mut problems);
        cautions::check(&model, &names, &mut problems);
    }
    if all_read && !problems.any_error() {
        doubt::check(&model, &names, &mut problems);
    }
    (model, problems)
}

/// Every block with its name, places, grades, forms and choices, and nothing yet of what ties it to others
fn outline(names: &Names<'_>, problems: &mut Problems) -> Model {
    let mut model = Model { scale: fact::scale(names, problems), ..Model::default() };
    for sort in Sort::ALL {
        for (_, declaration) in names.of(sort) {
            let common = attributes::common(declaration, names, problems);
            match sort {
                Sort::Scale | Sort::Dimensions | Sort::Life => {}
                Sort::Kind => model.kinds.push(cause::kind(declaration, common, problems)),
                Sort::State => model.states.push(crate::model::State { common }),
                Sort::Part => model.parts.push(attributes::part(declaration, common, names, problems)),
                Sort::Fact => model.facts.push(fact::outline(declaration, common, problems)),
                Sort::Cause => model.causes.push(cause::outline(declaration, common, problems)),
                Sort::Condition => model.conditions.push(grades::effect(declaration, common, problems)),
                Sort::Symptom => model.symptoms.push(grades::symptom(declaration, common, problems)),
                Sort::Measure => model.measures.push(measure::outline(declaration, common, problems)),
                Sort::Check => model.checks.push(work::check_outline(common)),
                Sort::Remedy => model.remedies.push(work::remedy_outline(common)),
            }
        }
    }
    model
}

/// What ties the blocks to one another
fn fill(model: &mut Model, names: &Names<'_>, problems: &mut Problems) {
    attributes::gates(model, names, problems);
    drawn::fill(model, names, problems);
    fact::fill(model, names, problems);
    cause::fill(model, names, problems);
    effect::fill(model, names, problems);
    measure::fill(model, names, problems);
    measure::sizes(model, names, problems);
    work::fill(model, names, problems);
}
