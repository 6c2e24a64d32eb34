//! What two sets of cells differ in besides what they were made of: days, hands, designs, lots, doses.

use super::NodeKind;
use super::difference::{Presence, presence};

/// Something that a code has.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Feature {
    /// What it is a value of.
    pub what: FeatureKind,
    /// The value in words.
    pub value: String,
}

/// What a feature is a value of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FeatureKind {
    /// A supplier's lot, of whatever went in by however many steps.
    Lot,
    /// The day on which it was made.
    Day,
    /// Who entered it.
    Author,
    /// Who built it, if that was not who entered it.
    Operator,
    /// The cell design.
    Design,
    /// What differs from the design.
    Deviation,
    /// The block of the building order.
    Block,
}

/// All features of one code, and its doses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Profile {
    /// The features.
    pub features: Vec<Feature>,
    /// What is in it of each kind, in grams.
    pub doses: Vec<(NodeKind, f64)>,
}

/// What two sets have of features and doses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contrast {
    /// Every feature, what tells the sets apart best first.
    pub features: Vec<FeatureRow>,
    /// The doses of each kind.
    pub doses: Vec<DoseRow>,
}

/// One feature in both sets.
#[derive(Debug, Clone, PartialEq)]
pub struct FeatureRow {
    /// The feature.
    pub feature: Feature,
    /// So many codes of the first set have it.
    pub first: usize,
    /// So many of the second.
    pub second: usize,
    /// Both together.
    pub presence: Presence,
}

/// The doses of one kind in both sets.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseRow {
    /// Electrolyte, cathode mix.
    pub kind: NodeKind,
    /// In the first set.
    pub first: Option<Doses>,
    /// In the second set.
    pub second: Option<Doses>,
}

/// Doses of several cells, in grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doses {
    /// Of so many cells.
    pub cells: usize,
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// The mean.
    pub mean: f64,
}

impl FeatureKind {
    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Lot => "supplier's lot",
            Self::Day => "made on",
            Self::Author => "author",
            Self::Operator => "built by",
            Self::Design => "design",
            Self::Deviation => "deviation",
            Self::Block => "block",
        }
    }

    /// Its name for scripts.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Lot => "lot",
            Self::Day => "day",
            Self::Author => "author",
            Self::Operator => "operator",
            Self::Design => "design",
            Self::Deviation => "deviation",
            Self::Block => "block",
        }
    }
}

impl Contrast {
    /// What two sets differ in.
    pub fn between(first: &[Profile], second: &[Profile]) -> Self {
        let mut known: Vec<&Feature> =
            first.iter().chain(second).flat_map(|profile| &profile.features).collect();
        known.sort_unstable();
        known.dedup();
        let mut features: Vec<FeatureRow> =
            known.into_iter().map(|feature| row(feature, first, second)).collect();
        features.sort_by_key(|row| row.presence);
        let doses = NodeKind::ALL.into_iter().filter_map(|kind| {
            let (first, second) = (doses(first, kind), doses(second, kind));
            (first.is_some() || second.is_some()).then_some(DoseRow { kind, first, second })
        });
        Self { features, doses: doses.collect() }
    }
}

fn row(feature: &Feature, first: &[Profile], second: &[Profile]) -> FeatureRow {
    let count = |set: &[Profile]| {
        set.iter().filter(|profile| profile.features.binary_search(feature).is_ok()).count()
    };
    let (one, other) = (count(first), count(second));
    let presence = presence(one, first.len(), other, second.len());
    FeatureRow { feature: feature.clone(), first: one, second: other, presence }
}

fn doses(set: &[Profile], kind: NodeKind) -> Option<Doses> {
    let of_one = |profile: &Profile| {
        let of_kind = profile.doses.iter().filter(|(of, _)| *of == kind).map(|(_, grams)| *grams);
        of_kind.reduce(|sum, grams| sum + grams)
    };
    let all: Vec<f64> = set.iter().filter_map(of_one).collect();
    let least = all.iter().copied().reduce(f64::min)?;
    let most = all.iter().copied().reduce(f64::max)?;
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    Some(Doses { cells: all.len(), least, most, mean })
}

impl Profile {
    /// The same with its features in order and each once.
    pub fn sorted(mut self) -> Self {
        self.features.sort_unstable();
        self.features.dedup();
        self
    }
}
