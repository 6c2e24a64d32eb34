//! What is shown of candidates.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::caution::{Alert, Scheme};
use crate::component::Component;
use crate::compose::candidates::{
    Combination, Facts, Graded, IdealLiquidus, Limits, MeasuredMelting, Place, SeenLiquid, SignalLevel,
    Standing,
};
use crate::input::Warning;

/// Everything that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidatesView {
    /// The candidates in their order.
    pub candidates: Vec<Candidate>,
    /// How many combinations were left out since a component would meet itself.
    pub with_itself: usize,
    /// How many were left out since the same composition is there already.
    pub again: usize,
    /// What was asked.
    pub limits: Limits,
    /// Some of it as typed.
    pub texts: LimitTexts,
    /// Which components were combined.
    pub lists: Vec<CandidateList>,
    /// At which ratios.
    pub ratios: CandidateRatios,
    /// Prices in force.
    pub prices: CandidatePrices,
    /// What is in the house.
    pub stock: CandidateStock,
    /// Whose rules classify mixtures.
    pub scheme: Scheme,
    /// How many are shown at most.
    pub top: usize,
    /// Only those that meet every limit.
    pub only_meeting: bool,
    /// What to know beside it.
    pub warnings: Vec<Warning>,
}

/// Limits as typed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LimitTexts {
    /// "25 °C".
    pub liquid_at: Option<String>,
    /// "80 EUR/kg".
    pub price: Option<String>,
    /// "50 g".
    pub in_house: Option<String>,
}

/// The components of one place.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidateList {
    /// The flag without its dashes: "acceptor".
    pub flag: String,
    /// The components, each once.
    pub components: Vec<Arc<Component>>,
    /// Which they are, in words.
    pub words: Vec<String>,
    /// True if nobody said which.
    pub by_default: bool,
}

/// Moles of the components in their order.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidateRatios {
    /// Each ratio.
    pub moles: Vec<Vec<f64>>,
    /// True if nobody said which.
    pub by_default: bool,
}

/// Prices that a person has given, in one currency.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CandidatePrices {
    /// Their currency; `None` without any.
    pub currency: Option<String>,
    /// Id of a component → price of a gram.
    pub per_gram: BTreeMap<String, f64>,
    /// How many come from a file.
    pub from_file: usize,
    /// How many come from bottles of the book.
    pub from_bottles: usize,
    /// Components whose bottle has a price in another currency.
    pub other_currency: Vec<(String, String)>,
}

/// What is in the house.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CandidateStock {
    /// Id of a component → grams in bottles that may be used; `None` without a book.
    pub grams: Option<BTreeMap<String, f64>>,
}

/// One candidate.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// What it is made of.
    pub combination: Combination,
    /// What limits speak of.
    pub facts: Facts,
    /// How it stands.
    pub standing: Standing,
    /// Its ideal liquidus.
    pub ideal: IdealLiquidus,
    /// Published melting points of it.
    pub measured: Vec<MeasuredMelting>,
    /// Where it was in somebody's hand as a liquid.
    pub seen: Option<SeenLiquid>,
    /// Worked recipes of it.
    pub recipes: Vec<CandidateRecipe>,
    /// What it is classified as.
    pub hazards: CandidateHazards,
    /// Alerts for its components, the gravest first.
    pub alerts: Vec<Alert>,
    /// What it costs.
    pub price: CandidatePrice,
    /// What the bottles allow.
    pub house: CandidateHouse,
}

/// A worked recipe with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidateRecipe {
    /// Its name.
    pub name: String,
    /// Where the composition comes from.
    pub source: String,
}

/// The classification of a mixture, as far as it is shown here.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidateHazards {
    /// The signal word.
    pub signal: Graded<SignalLevel>,
    /// Classes that are reached.
    pub classes: Vec<String>,
    /// H codes of a label.
    pub h_codes: Vec<String>,
    /// Classes that are presumed until a pH is measured.
    pub presumed: Option<String>,
    /// Components of which no hazard data were found.
    pub missing: Vec<String>,
}

/// What a kilogram of the liquid costs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CandidatePrice {
    /// In the currency of all prices; `None` where one is missing.
    pub per_kg: Option<f64>,
    /// Components without a price.
    pub missing: Vec<String>,
}

/// What the bottles allow.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CandidateHouse {
    /// The largest batch in grams; `None` without a book.
    pub batch_g: Option<f64>,
    /// Which component ends first.
    pub ends_first: Option<String>,
}

impl CandidatesView {
    /// How many belong to a place.
    pub fn count(&self, place: Place) -> usize {
        self.candidates.iter().filter(|own| own.standing.place() == place).count()
    }

    /// True if no candidate meets every limit.
    pub fn is_no(&self) -> bool {
        self.count(Place::Meets) == 0
    }

    /// Those that are listed: all, or those that meet every limit.
    pub fn listed(&self) -> impl Iterator<Item = &Candidate> {
        self.candidates.iter().filter(|own| !self.only_meeting || own.standing.place() == Place::Meets)
    }

    /// Those of them that people are shown.
    pub(super) fn shown(&self) -> Vec<&Candidate> {
        self.listed().take(self.top).collect()
    }
}
