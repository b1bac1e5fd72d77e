//! What is told of a case, as records that JSON writes as they stand: every figure and every name, no sentence laid out.

pub mod assess;
pub mod batch;
pub mod chance;
pub mod diagnosis;
#[cfg(feature = "page")]
pub mod document;
pub mod evidence;
pub mod hours_left;
pub mod mending;
pub mod robust;
pub mod since;
pub mod trend;
pub mod trial;
pub mod why;
