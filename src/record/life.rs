//! The life of one batch, as the records tell it.

use super::batch::{
    Added, AppearanceSeen, Blended, Finished, FrozenPlan, Permit, PropertyMeasured, Rejected, Released,
    Started, WaterMeasured, Weighed,
};
use super::code::Code;

/// How far a batch has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BatchStatus {
    /// Being weighed.
    Started,
    /// Made, not yet judged, or changed since it was.
    Finished,
    /// Meets its recipe's limits, or was let pass with a reason.
    Released,
    /// Not to be used.
    Rejected,
}

impl BatchStatus {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Started, Self::Finished, Self::Released, Self::Rejected];

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Started => "started",
            Self::Finished => "finished",
            Self::Released => "released",
            Self::Rejected => "rejected",
        }
    }

    /// The status of a word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|status| status.word() == word)
    }
}

/// Why a mass of a batch changed. Whatever is none of these was dispensed: into cells, blends, other batches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// A component or another batch was put in.
    PutIn,
    /// What was there after making differs from what was put in.
    Loss,
    /// Given to waste.
    Waste,
    /// Titrated.
    Sample,
    /// Weighed back.
    WeighedBack,
}

impl Reason {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::PutIn, Self::Loss, Self::Waste, Self::Sample, Self::WeighedBack];

    /// Its words, as stored.
    pub const fn words(self) -> &'static str {
        match self {
            Self::PutIn => "put in",
            Self::Loss => "loss in making",
            Self::Waste => "waste",
            Self::Sample => "sample for water",
            Self::WeighedBack => "weighed back",
        }
    }
}

/// A record with its place in the history.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded<T> {
    /// Sequence of its entry.
    pub entry: u64,
    /// The record.
    pub what: T,
}

/// How a batch began.
#[derive(Debug, Clone, PartialEq)]
pub enum Origin {
    /// From a plan.
    Planned(Box<Started>),
    /// Out of several others.
    Blended(Blended),
}

/// Something put in.
#[derive(Debug, Clone, PartialEq)]
pub enum PutIn {
    /// A component.
    Component(Box<Weighed>),
    /// Some of another batch.
    Batch(Added),
}

/// An amount that came or went.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Sequence of its entry.
    pub entry: u64,
    /// Grams, negative for what went.
    pub grams: f64,
    /// Why, in words.
    pub reason: String,
}

/// All that the records say of one batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchLife {
    /// Its code.
    pub code: Code,
    /// What it is called.
    pub name: String,
    /// How far it has come.
    pub status: BatchStatus,
    /// How it began.
    pub origin: Origin,
    /// What was put in, in order.
    pub put_in: Vec<Recorded<PutIn>>,
    /// The end of making it.
    pub finished: Option<Recorded<Finished>>,
    /// Its release; it holds only while the status says so.
    pub released: Option<Recorded<Released>>,
    /// Its rejection.
    pub rejected: Option<Recorded<Rejected>>,
    /// Water, in order.
    pub water: Vec<Recorded<WaterMeasured>>,
    /// Looks, in order.
    pub appearance: Vec<Recorded<AppearanceSeen>>,
    /// Properties, in order.
    pub properties: Vec<Recorded<PropertyMeasured>>,
    /// Every gram that came or went, in order.
    pub movements: Vec<Movement>,
}

impl BatchLife {
    /// The plan; `None` for a blend.
    pub fn plan(&self) -> Option<&FrozenPlan> {
        match &self.origin {
            Origin::Planned(started) => Some(&started.plan),
            Origin::Blended(_) => None,
        }
    }

    /// What lets the work go on in spite of alerts that block.
    pub fn permit(&self) -> Option<&Permit> {
        match &self.origin {
            Origin::Planned(started) => started.permit.as_ref(),
            Origin::Blended(blended) => blended.permit.as_ref(),
        }
    }

    /// The same of its beginning and of everything that was added later.
    pub fn permits(&self) -> impl Iterator<Item = &Permit> {
        let of_additions = self.put_in.iter().filter_map(|put| match &put.what {
            PutIn::Component(weighed) => weighed.permit.as_ref(),
            PutIn::Batch(added) => added.permit.as_ref(),
        });
        self.permit().into_iter().chain(of_additions)
    }

    /// What is left, in grams.
    pub fn left_g(&self) -> f64 {
        self.left_before_g(u64::MAX)
    }

    /// What was left before an entry, in grams.
    pub fn left_before_g(&self, entry: u64) -> f64 {
        let before = self.movements.iter().filter(|movement| movement.entry < entry);
        // An empty sum of floats is −0.
        0.0 + before.map(|movement| movement.grams).sum::<f64>()
    }

    /// What was made: all that was put in, less what was lost in making, in grams.
    pub fn total_g(&self) -> f64 {
        self.sum(&[Reason::PutIn, Reason::Loss])
    }

    /// What was put in, in grams.
    pub fn put_in_g(&self) -> f64 {
        self.sum(&[Reason::PutIn])
    }

    /// What was lost in making, in grams; negative for a gain.
    pub fn lost_g(&self) -> f64 {
        0.0 - self.sum(&[Reason::Loss])
    }

    /// What went to waste and into samples, in grams.
    pub fn wasted_g(&self) -> f64 {
        0.0 - self.sum(&[Reason::Waste, Reason::Sample])
    }

    /// What went into samples for water, in grams.
    pub fn sampled_g(&self) -> f64 {
        0.0 - self.sum(&[Reason::Sample])
    }

    /// What went into cells, blends and other batches, in grams.
    pub fn dispensed_g(&self) -> f64 {
        let own = |movement: &&Movement| Reason::ALL.iter().all(|reason| reason.words() != movement.reason);
        0.0 - self.movements.iter().filter(own).map(|movement| movement.grams).sum::<f64>()
    }

    /// What weighing back found beyond the books, in grams; negative if there was less.
    pub fn difference_g(&self) -> f64 {
        self.sum(&[Reason::WeighedBack])
    }

    fn sum(&self, reasons: &[Reason]) -> f64 {
        let fits = |movement: &&Movement| reasons.iter().any(|reason| reason.words() == movement.reason);
        // An empty sum of floats is −0.
        0.0 + self.movements.iter().filter(fits).map(|movement| movement.grams).sum::<f64>()
    }
}
