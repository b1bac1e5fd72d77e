//! What rules mean in numbers: each figure had by hand from the words of the language.

mod gates;
mod joint;
mod near;
mod noisy;
mod places;
mod readings;
mod shared;
mod shares;
mod times;
