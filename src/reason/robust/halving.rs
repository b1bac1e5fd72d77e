//! Where on the way from one number to another something changes, by halving.

/// How near it is found
pub const NEAR: f64 = 1e-6;

/// A number within [`NEAR`] behind the place where something changes on the way from `near` to `far`.
///
/// `is_past` says of a number on the way whether the change lies behind it, as it does at `far` itself. What is given is `far`,
/// or the last number of which it said yes.
///
/// # Errors
/// As `is_past`.
pub fn first_past<E>(near: f64, far: f64, mut is_past: impl FnMut(f64) -> Result<bool, E>) -> Result<f64, E> {
    let (mut near, mut far) = (near, far);
    while (far - near).abs() > NEAR {
        let middle = f64::midpoint(near, far);
        *(if is_past(middle)? { &mut far } else { &mut near }) = middle;
    }
    Ok(far)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    #[test]
    fn it_is_found_on_the_far_side_from_either_end() {
        for (near, far, past) in [(0.0, 1.0, 0.3), (1.0, 0.0, 0.3), (-4.0, 9.0, -1.5)] {
            let is_past = |at: f64| Ok::<bool, Infallible>((at >= past) == (far >= past));
            let Ok(found) = first_past(near, far, is_past);
            assert!((found - past).abs() <= NEAR && (found >= past) == (far >= past), "{found}");
        }
    }
}
