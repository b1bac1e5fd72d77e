//! The work plan: the cheapest visits, what calls for work, the turn, prices, and what no plan may do.

mod by_itself;
mod off_by_an_error;
mod pace;
mod prices;
mod shipped;
mod visits;
mod whole;
