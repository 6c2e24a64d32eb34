//! Faults of candidates.

use super::case::Case;

const FILES: &[(&str, &str)] = &[
    ("prices.csv", "component,price (EUR),amount\nChCl,45,500 g\nEG,18,1 kg\n"),
    (
        "slips.csv",
        "component,price (EUR),amount\nChCll,45,500 g\nEG,18,1 L\nglycerol,-1,1 kg\nurea,4,\nethylene-glycol,9,1 kg\n\
         thymol,9,1 kg\nthymol,8,1 kg\n",
    ),
    ("bare.csv", "component,price,amount (L)\nChCl,45,0.5\n"),
    ("other.csv", "name,cost\nChCl,45\n"),
    ("twice.csv", "component,price (EUR),amount\nChCl,45,500 g\ncholine-chloride,40,500 g\n"),
    ("below.csv", "component,price (EUR),amount\nChCl,-45,500 g\n"),
    ("nothing.csv", "component,price (EUR),amount\nChCl,45,\nEG,18,0 g\n"),
];

const fn candidates(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case { code, files: FILES, raw: &[], before: &[], arguments }
}

pub const CASES: &[Case] = &[
    candidates("unknown_component", &["candidates", "--acceptor", "ChCll", "--donor", "uera"]),
    candidates("bad_ratio", &["candidates", "--ratio", "1:0", "--ratio", "1:2:1", "--ratio", "one:two"]),
    candidates("bad_quantity", &["candidates", "--liquid-at", "25", "--in-house", "50"]),
    candidates("unknown_component", &["candidates", "--price", "slips.csv"]),
    candidates("unit_missing", &["candidates", "--price", "bare.csv"]),
    candidates("unknown_column", &["candidates", "--price", "other.csv"]),
    candidates("component_twice", &["candidates", "--price", "twice.csv"]),
    candidates("bad_price", &["candidates", "--price", "below.csv"]),
    candidates("bad_price", &["candidates", "--price-below", "80"]),
    candidates("no_amount", &["candidates", "--price", "nothing.csv"]),
    candidates("no_prices", &["candidates", "--price-below", "80 EUR/kg"]),
    candidates("other_currency", &["candidates", "--price", "prices.csv", "--price-below", "80 USD/kg"]),
    candidates("too_many_candidates", &["candidates", "--third", "donor"]),
    candidates("unknown_scheme", &["candidates", "--scheme", "gsh"]),
];
