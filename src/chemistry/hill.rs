//! The Hill order: carbon, hydrogen, then by symbol; all by symbol without carbon
//! (Hill, J. Am. Chem. Soc. 22 (1900) 478). Deuterium goes by its symbol, D.

use super::atom_counts::AtomCounts;
use super::element::Element;
use super::formula::{Formula, Part};

/// The elements and their counts in Hill order.
pub(super) fn ordered(atoms: &AtomCounts) -> Vec<(Element, f64)> {
    let mut ordered: Vec<_> = atoms.iter().collect();
    let organic = ordered.iter().any(|(element, _)| element.symbol() == "C");
    let rank = |symbol: &str| match symbol {
        "C" if organic => 0,
        "H" if organic => 1,
        _ => 2,
    };
    ordered.sort_by_key(|(element, _)| (rank(element.symbol()), element.symbol()));
    ordered
}

/// The whole formula in Hill order; its parts apart where a total is not whole.
pub(super) fn formula(formula: &Formula) -> String {
    let all = formula.all_atoms();
    let atoms = if all.are_whole() { text(&all) } else { parts(&formula.parts) };
    atoms + &charge(formula.charge)
}

fn parts(parts: &[Part]) -> String {
    let part = |part: &Part| number(part.count) + &text(&part.atoms);
    parts.iter().map(part).collect::<Vec<_>>().join("·")
}

fn text(atoms: &AtomCounts) -> String {
    ordered(atoms).into_iter().map(|(element, count)| format!("{element}{}", number(count))).collect()
}

/// A count, nothing for one.
fn number(count: f64) -> String {
    if count == 1.0 { String::new() } else { count.to_string() }
}

fn charge(charge: i32) -> String {
    let sign = if charge < 0 { '-' } else { '+' };
    match charge.unsigned_abs() {
        0 => String::new(),
        1 => format!("^{sign}"),
        size => format!("^{size}{sign}"),
    }
}
