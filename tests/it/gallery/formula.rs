//! Faults of formulas.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("bad_formula", &["formula", "C5H14ClNO", "ZnSo4·7H2O"]),
    // One of every kind, as they come from papers and from slips of the finger.
    Case::of(
        "bad_formula",
        &[
            "formula",
            "",
            "Xx",
            "ZnCL2",
            "Tc2O7",
            "zncl2",
            "Zn Cl2",
            "H2O!",
            "(CH3",
            "CH3)",
            "(CH3]",
            "()",
            "·H2O",
            "(ZnCl2·H2O)",
            "MgCl2.6.H2O",
            "2",
            "C0H4",
            "C02H4",
            "C99999999999",
            "CaSO4.0.5H2O",
            "C1.5H2",
            "C1e5",
            "ZnSO4·xH2O",
            "H-2O",
            "SO4-2",
            "SO4^x",
            "Zn^2+O",
            "ZnCl2^2+·H2O",
            "CH2=CH2",
            "[Ch]Cl",
            "((C1000)1000)1000",
        ],
    ),
];
