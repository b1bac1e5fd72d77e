//! Where something changes, found by halving.

use pinboss::reason::robust::halving::{NEAR, first_past};
use std::convert::Infallible;

#[test]
fn it_is_found_on_the_far_side_from_either_end() {
    for (near, far, past) in [(0.0, 1.0, 0.3), (1.0, 0.0, 0.3), (-4.0, 9.0, -1.5)] {
        let is_past = |at: f64| Ok::<bool, Infallible>((at >= past) == (far >= past));
        let Ok(found) = first_past(near, far, is_past);
        assert!((found - past).abs() <= NEAR && (found >= past) == (far >= past), "{found}");
    }
}
