//! What a component is used for.

use serde::{Deserialize, Serialize};

/// A component's part in a mixture or a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Hydrogen-bond acceptor, such as choline chloride.
    Acceptor,
    /// Hydrogen-bond donor, such as urea.
    Donor,
    /// A salt that carries the working ion or the conductivity.
    Salt,
    /// A small amount of something that changes a property.
    Additive,
    /// A molecular liquid that thins or extends the mixture, water included.
    Solvent,
    /// An active electrode material.
    Electrode,
    /// A conducting powder in an electrode.
    Conductor,
    /// What holds an electrode together.
    Binder,
}

impl Role {
    /// All roles in the order in which lists show them.
    pub const ALL: [Self; 8] = [
        Self::Acceptor,
        Self::Donor,
        Self::Salt,
        Self::Additive,
        Self::Solvent,
        Self::Electrode,
        Self::Conductor,
        Self::Binder,
    ];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Acceptor => "acceptor",
            Self::Donor => "donor",
            Self::Salt => "salt",
            Self::Additive => "additive",
            Self::Solvent => "solvent",
            Self::Electrode => "electrode",
            Self::Conductor => "conductor",
            Self::Binder => "binder",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.word() == word)
    }
}
