//! The elements and their atomic weights, from `data/elements.csv`.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::sync::LazyLock;

use crate::quantity::MolarMass;

/// A chemical element, or deuterium (`D`), the one isotope with a symbol of its own here.
#[derive(Clone, Copy)]
pub struct Element(&'static Row);

/// An abridged standard atomic weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtomicWeight {
    /// The tabulated value.
    pub value: MolarMass,
    /// Standard uncertainty. The tabulated ± bounds a normal material and is taken as the half-width of a
    /// rectangular distribution, so this is that half-width over √3 (JCGM 100:2008, 4.3.7).
    pub standard_uncertainty: MolarMass,
}

struct Row {
    atomic_number: u8,
    symbol: &'static str,
    name: &'static str,
    weight: Option<AtomicWeight>,
}

static TABLE: LazyLock<Vec<Row>> =
    LazyLock::new(|| include_str!("../../data/elements.csv").lines().filter_map(row).collect());

/// One line of the table. A line that is none (a comment, the heading) is left out, since the program must
/// not fail on its own data; the tests show that no element is missing.
fn row(line: &'static str) -> Option<Row> {
    let mut fields = line.split(',');
    let atomic_number = fields.next()?.parse().ok()?;
    let (symbol, name) = (fields.next()?, fields.next()?);
    let weight = atomic_weight(fields.next()?, fields.next()?);
    Some(Row { atomic_number, symbol, name, weight })
}

fn atomic_weight(value: &str, half_width: &str) -> Option<AtomicWeight> {
    let (value, half_width): (f64, f64) = (value.parse().ok()?, half_width.parse().ok()?);
    Some(AtomicWeight {
        value: MolarMass::new(value),
        standard_uncertainty: MolarMass::new(half_width / 3f64.sqrt()),
    })
}

impl Element {
    /// The element with this symbol, upper and lower case as in the symbol.
    pub fn from_symbol(symbol: &str) -> Option<Self> {
        Self::all().find(|element| element.symbol() == symbol)
    }

    /// All elements by atomic number, deuterium after hydrogen.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(Self)
    }

    /// The symbol, such as `Zn`.
    pub fn symbol(self) -> &'static str {
        self.0.symbol
    }

    /// The IUPAC name, in lower case.
    pub fn name(self) -> &'static str {
        self.0.name
    }

    /// The number of protons, 1 to 118.
    pub fn atomic_number(self) -> u8 {
        self.0.atomic_number
    }

    /// The abridged standard atomic weight; `None` for an element that has no characteristic isotopic
    /// composition on earth, such as technetium.
    pub fn weight(self) -> Option<AtomicWeight> {
        self.0.weight
    }

    /// Elements sort by atomic number; the symbol tells hydrogen (first) from deuterium.
    fn rank(self) -> (u8, bool) {
        (self.0.atomic_number, self.0.symbol == "D")
    }
}

impl PartialEq for Element {
    fn eq(&self, other: &Self) -> bool {
        self.rank() == other.rank()
    }
}

impl Eq for Element {}

impl PartialOrd for Element {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Element {
    fn cmp(&self, other: &Self) -> Ordering {
        self.rank().cmp(&other.rank())
    }
}

impl Hash for Element {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.rank().hash(state);
    }
}

impl fmt::Debug for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.symbol)
    }
}

impl fmt::Display for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.0.symbol)
    }
}
