//! What every stage of the check works with.

use super::names::Names;
use crate::model::Model;
use crate::problem::Problems;

/// What a stage of the check needs at hand: the model as far as it stands, the names, the problems so far
pub(super) struct CheckContext<'a> {
    pub(super) model: &'a Model,
    pub(super) names: &'a Names<'a>,
    pub(super) problems: &'a mut Problems,
}
