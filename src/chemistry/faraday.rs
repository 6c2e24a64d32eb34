//! The charge of a mole of electrons.

/// The Faraday constant in C/mol (CODATA 2022; exact in the SI, the product of the elementary charge and the
/// Avogadro constant).
pub const FARADAY: f64 = 96_485.332_123_310_02;
