//! Pinboss: from wear signs on a crawler tractor's undercarriage to ranked causes and next checks.
//!
//! What flows through the crate goes one way, and the modules stand in that order:
//!
//! 1. texts and places ([`source`], [`place`], [`units`], [`problem`]);
//! 2. rule files: text to tree ([`syntax`]), tree to meaning ([`model`], [`check`]);
//! 3. case files: text to an inspection as written ([`case`]), and the machine it tells of ([`machine`]);
//! 4. readings to per cent worn ([`wear`]);
//! 5. rules and case to a network with findings ([`network`], [`ground`]);
//! 6. network and findings to posteriors ([`infer`]);
//! 7. posteriors to reasons and next checks ([`reason`]);
//! 8. posteriors to the weight of the evidence for and against each party ([`assess`]);
//! 9. causes and wear to a work plan ([`plan`]), and everything of one case, worked out as it is asked for ([`consultation`]);
//! 10. cases tried against rules ([`trial`]);
//! 11. all of it to what a reader is told ([`report`]), and rules to what their author is told in an editor ([`editor`]),
//!     by the commands ([`command`]).
//!
//! Below all of them stands [`invariant`]: what cannot happen, and what becomes of it.

pub mod invariant;
pub mod source;
pub mod place;
pub mod units;
pub mod problem;
pub mod syntax;
pub mod model;
pub mod check;
pub mod case;
pub mod machine;
pub mod wear;
pub mod network;
pub mod ground;
pub mod infer;
pub mod reason;
pub mod assess;
pub mod plan;
pub mod consultation;
pub mod trial;
pub mod report;
#[cfg(feature = "editor")]
pub mod editor;
pub mod command;
