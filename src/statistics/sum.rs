//! Sums that keep their digits.

/// A sum whose rounding error does not grow with the number of terms (A. Neumaier, Z. Angew. Math. Mech. 54
/// (1974) 39). Zero for no terms.
pub fn sum(terms: impl IntoIterator<Item = f64>) -> f64 {
    let (mut total, mut lost) = (0.0_f64, 0.0_f64);
    for term in terms {
        let next = total + term;
        lost += if term.abs() <= total.abs() { (total - next) + term } else { (term - next) + total };
        total = next;
    }
    total + lost
}
