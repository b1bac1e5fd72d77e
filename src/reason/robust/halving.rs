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
