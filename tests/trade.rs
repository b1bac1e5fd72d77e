//! What the shipped rules say of machines, held against facts of the trade and against strip-down.

mod cases;
mod cautions;
mod contradictions;
mod discriminations;
mod others;
mod plain;
mod published;
mod readings;
mod scenarios;
mod sag;
mod shipped;
mod simulated;
mod wear_published;
mod whole;
mod work;
