//! What rules mean in numbers: each figure had by hand from the words of the language.

mod gates;
mod joint;
mod noisy;
mod places;
mod shares;
