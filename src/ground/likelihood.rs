//! From the likelihood of each named grade to that of each state of its node.

use crate::model::Symptom;

/// Likelihood of each state: the sum over the grades that show in it, so that on two arms a grade says nothing of the
/// other arm, and normal speaks of both
pub fn likelihood(symptom: &Symptom, of_grade: impl Fn(usize) -> f64) -> Vec<f64> {
    let grades = &symptom.effect.grades;
    (0..grades.states())
        .map(|state| {
            let shown = (0..grades.names.len()).filter(|&grade| grades.shows(grade, state));
            shown.map(&of_grade).sum()
        })
        .collect()
}
