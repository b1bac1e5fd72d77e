//! Some of a row that were read, taken for all of it.
//!
//! The usual walk takes the first, the middle and the last roller (common practice). What lies between two that were read is
//! taken on the line between them, what lies before the first or behind the last as that. How far one lies off the line is
//! told by how far each that was read lies off the line between its neighbours (Gasser, Sroka and Jennen-Steinmetz, Residual
//! variance and residual pattern in nonlinear regression, Biometrika 73, 1986; from memory).

/// Least number of a row that tells how far one lies off the line between others
const A_ROW: usize = 3;

/// Whether so many of a row stand for all of it
pub(super) fn is_enough(read: usize, all: usize) -> bool {
    read >= A_ROW || are_most(read, all)
}

/// Whether most of some places were read, two at least
pub(super) fn are_most(read: usize, all: usize) -> bool {
    read >= 2 && 2 * read > all
}

/// The weights of those read, by where they are along the row, in the mean of some places; none of an empty row
pub fn weights(read: &[f64], places: &[f64]) -> Vec<f64> {
    let mut weights = vec![0.0; read.len()];
    for &place in places {
        for (at, share) in between(read, place) {
            if let Some(weight) = weights.get_mut(at) {
                *weight += share / places.len() as f64;
            }
        }
    }
    weights
}

/// What the unread of some places leave open of their mean, as a multiple of the scatter of one: their own, and that of those
/// from which they are taken
pub fn left_open(read: &[f64], places: &[f64]) -> f64 {
    let unread: Vec<f64> = places.iter().copied().filter(|place| !read.contains(place)).collect();
    if unread.is_empty() {
        return 0.0;
    }
    let taken: f64 = weights(read, &unread).iter().map(|weight| weight * weight).sum();
    let count = unread.len() as f64;
    libm::sqrt(count + count * count * taken) / places.len() as f64
}

/// How far one of a row lies off the line along it, as a standard deviation, from those read in order; of two it is what
/// parts them, as none tells a slope from a scatter
pub fn scatter(read: &[f64], values: &[f64]) -> f64 {
    let row: Vec<(f64, f64)> = read.iter().copied().zip(values.iter().copied()).collect();
    let off = row.windows(A_ROW).filter_map(|three| match three {
        [(a, before), (b, own), (c, after)] => {
            let (one, other) = ((c - b) / (c - a), (b - a) / (c - a));
            let off = one * before + other * after - own;
            Some(off * off / (one * one + other * other + 1.0))
        }
        _ => None,
    });
    let variance = match row.as_slice() {
        [(_, one), (_, other)] => (one - other) * (one - other) / 2.0,
        row => off.sum::<f64>() / row.len().saturating_sub(2).max(1) as f64,
    };
    libm::sqrt(variance)
}

/// The one or two of those read from which a place is taken, each with its share
fn between(read: &[f64], place: f64) -> Vec<(usize, f64)> {
    let before = read.iter().rposition(|at| *at <= place);
    let after = read.iter().position(|at| *at >= place);
    match (before, after) {
        (Some(one), Some(other)) if one != other => {
            let at = |number: usize| read.get(number).copied().unwrap_or(place); // else: it is not in the row
            let share = (place - at(one)) / (at(other) - at(one));
            vec![(one, 1.0 - share), (other, share)]
        }
        (Some(one), _) | (None, Some(one)) => vec![(one, 1.0)],
        (None, None) => Vec::new(),
    }
}
