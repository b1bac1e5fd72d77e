//! Everything a reader may be told, in the forms he can have it in; no form computes a number.

pub mod problems;
