//! Why liquids can't be blended or a mixture can't be brought to a wish.

/// A rule that a blend breaks.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BlendError {
    /// Nothing to blend.
    #[error("there is no liquid")]
    NoLiquid,
    /// A liquid of no mass.
    #[error("there is nothing of {text}")]
    EmptyLiquid {
        /// The recipe or batch.
        text: String,
    },
    /// A ratio of which the mixture holds nothing, so that any amount would do.
    #[error("the mixture holds none of the components of the ratio that is asked for")]
    NothingOfRatio,
    /// A water content that leaves no room.
    #[error("a water content of {percent} wt% leaves no room for anything else")]
    AllWater {
        /// As asked, in wt%.
        percent: String,
    },
}

impl BlendError {
    /// The stable name.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::NoLiquid => "no_liquid",
            Self::EmptyLiquid { .. } => "empty_liquid",
            Self::NothingOfRatio => "nothing_of_ratio",
            Self::AllWater { .. } => "all_water",
        }
    }

    /// The way out.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::NoLiquid => "Give one, as in --liquid \"ChCl:urea 1:2 mass=60g\".",
            Self::EmptyLiquid { .. } => "Give it a mass above 0, as in mass=60g.",
            Self::NothingOfRatio => "Check the names, or plan a batch of that ratio.",
            Self::AllWater { .. } => "Ask for less than 100 wt%.",
        }
    }
}
