//! Texts: what is printed is read again as the same, and no text whatever makes a reader panic.

use meltbook::component::{ComponentTable, Quality, read_components};
use meltbook::input::{Faults, FlagValue};
use meltbook::plan::Balance;
use meltbook::quantity::{
    Amount, Density, DensitySlope, FractionInterval, Mass, MassFraction, Molality, MolarEnthalpy, MolarMass,
    Molarity, MoleFraction, Quantity, Relative, Temperature, TemperatureDifference, TimeSpan, Typed, Volume,
    parse_number,
};
use meltbook::recipe::{is_shorthand, read_recipe, read_shorthand};
use proptest::prelude::*;
use proptest::sample::select;

use super::mixture::mixture;
use crate::setup::{recipe, table};

/// A fault is fit to be shown: its place lies in its text, and it reads as the house's faults do.
fn check_faults(faults: &Faults) -> Result<(), TestCaseError> {
    prop_assert!(!faults.is_empty());
    for fault in faults {
        if let Some(excerpt) = &fault.place.excerpt {
            prop_assert!(excerpt.text.get(excerpt.span.clone()).is_some(), "{fault:?}");
            let (line, column) = excerpt.line_and_column();
            prop_assert!(0 < line && 0 < column);
        }
        prop_assert!(!fault.place.to_string().is_empty());
        prop_assert!(!fault.message.is_empty() && !fault.message.ends_with('.'), "{}", fault.message);
        let hint = fault.hint.as_deref().unwrap_or("None.");
        prop_assert!(hint.ends_with(['.', '?']), "{hint}");
    }
    Ok(())
}

fn check_typed<T: Quantity>(text: &str) -> Result<(), TestCaseError> {
    match Typed::<T>::parse(text) {
        Ok(typed) => prop_assert_eq!(typed.text, text.trim()),
        Err(error) => {
            let vowel = error.noun.starts_with(['a', 'e', 'i', 'o', 'u']);
            let rule =
                format!("{:?} is not {} {}: ", error.given, if vowel { "an" } else { "a" }, error.noun);
            prop_assert!(error.to_string().starts_with(&rule), "{error}");
            prop_assert!(Typed::<T>::parse(error.example).is_ok(), "{}", error.example);
        }
    }
    Ok(())
}

/// Every reader on one text.
fn check_readers(text: &str) -> Result<(), TestCaseError> {
    let _ = (parse_number(text), is_shorthand(text), text.parse::<meltbook::chemistry::Formula>());
    let _ = (table().find(text), FractionInterval::parse(text), text.parse::<meltbook::component::Cas>());
    check_typed::<Mass>(text)?;
    check_typed::<Amount>(text)?;
    check_typed::<Density>(text)?;
    check_typed::<MassFraction>(text)?;
    check_typed::<Relative>(text)?;
    check_typed::<Temperature>(text)?;
    check_typed::<TimeSpan>(text)?;
    check_typed::<Molarity>(text)?;
    let faults = [
        read_shorthand("RECIPE", text, table()).err(),
        read_recipe("recipe.toml", text, table()).err(),
        read_components("table.toml", text, &ComponentTable::default()).err(),
        read_flag(text).err(),
    ];
    faults.iter().flatten().try_for_each(check_faults)
}

fn read_flag(text: &str) -> Result<(), Faults> {
    let oxalic_acid = table().get("oxalic-acid").unwrap();
    let flag = FlagValue::parse("--bottle", text, &Quality::KEYS)?;
    let quality = Quality::from_flag(&flag, oxalic_acid, table());
    quality?;
    Balance::from_flag(&FlagValue::parse("--balance", text, &Balance::KEYS)?).map(|_| ())
}

/// What the notations are made of, so that random text comes close to meaning something.
const PIECES: [&str; 76] = [
    "ChCl",
    "urea",
    "ZnCl2",
    "water",
    "carbon",
    "oxalic-acid",
    "thymol",
    "polytetrafluoroethylene",
    ":",
    "1",
    "2",
    "0",
    "-1",
    "1e400",
    "1e-320",
    "0.5",
    "1,5",
    "1.234,5",
    "inf",
    "NaN",
    " ",
    " + ",
    "+",
    " to ",
    "to",
    " by mass",
    "wt%",
    " wt%",
    "%",
    "ppm",
    "mol%",
    " mol/kg ",
    " mol/L ",
    "mol/",
    " g",
    "mg",
    " °C",
    "µ",
    "\u{2212}",
    "±",
    "..",
    ">=",
    "≥",
    "=",
    "assay=",
    "basis=",
    "dried",
    "as-is",
    "as-hydrate",
    "moisture=",
    "form=",
    "7H2O",
    "dihydrate",
    "anhydrous",
    "assay_u=",
    "d=",
    "repeatability=",
    "\t",
    "\n",
    "\"",
    "'",
    "[[part]]\n",
    "[water]\n",
    "ratio = ",
    "component = ",
    "basis = \"mole\"\n",
    "amount = ",
    "target = ",
    "[[component]]\n",
    "id = \"x\"\n",
    "cas = ",
    "67-48-1",
    "formula = \"",
    "é",
    "😀",
    "\u{0}",
];

fn pieces() -> impl Strategy<Value = String> {
    prop::collection::vec(select(&PIECES[..]), 0..14).prop_map(|pieces| pieces.concat())
}

/// A recipe file with one place damaged.
fn damaged_file() -> impl Strategy<Value = String> {
    let file = include_str!("../../../recipes/choline-chloride-ethylene-glycol-zinc-chloride.toml");
    let places: Vec<usize> = file.char_indices().map(|(at, _)| at).collect();
    (select(places), 0usize..12, select(&PIECES[..])).prop_map(move |(at, cut, piece)| {
        let rest: String = file[at..].chars().skip(cut).collect();
        format!("{}{piece}{rest}", &file[..at])
    })
}

proptest! {
    #[test]
    fn no_text_panics(text in any::<String>()) {
        check_readers(&text)?;
    }

    #[test]
    fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..120)) {
        check_readers(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn no_pieces_of_the_notations_panic(text in pieces()) {
        check_readers(&text)?;
    }

    #[test]
    fn no_damaged_file_panics(text in damaged_file()) {
        check_readers(&text)?;
    }

    #[test]
    fn no_damaged_table_panics(at in 0usize..6000, cut in 0usize..40, piece in select(&PIECES[..])) {
        let file = include_str!("../../../data/components/salts.toml");
        let start = (0..=at).rev().find(|at| file.is_char_boundary(*at)).unwrap();
        let rest: String = file[start..].chars().skip(cut).take(6000).collect();
        let text = format!("{}{piece}{rest}", &file[..start]);
        if let Err(faults) = read_components("table.toml", &text, &ComponentTable::default()) {
            check_faults(&faults)?;
        }
    }

    #[test]
    fn shorthand_is_read_back(mixture in mixture()) {
        let asked = recipe(&mixture.text());
        let again = recipe(&asked.shorthand());
        prop_assert_eq!(&again.proportions, &asked.proportions);
        prop_assert!(is_shorthand(&asked.shorthand()));
    }

    #[test]
    fn quantities_are_read_back(share in 0.0f64..1.0, exponent in -12i32..9) {
        check_read_back::<Mass>(share, exponent)?;
        check_read_back::<Amount>(share, exponent)?;
        check_read_back::<MolarMass>(share, exponent)?;
        check_read_back::<Volume>(share, exponent)?;
        check_read_back::<Density>(share, exponent)?;
        check_read_back::<Molality>(share, exponent)?;
        check_read_back::<Molarity>(share, exponent)?;
        check_read_back::<MassFraction>(share, exponent)?;
        check_read_back::<MoleFraction>(share, exponent)?;
        check_read_back::<Relative>(share, exponent)?;
        check_read_back::<MolarEnthalpy>(share, exponent)?;
        check_read_back::<TimeSpan>(share, exponent)?;
        check_read_back::<TemperatureDifference>(share, exponent)?;
        check_read_back::<DensitySlope>(share, exponent)?;
    }

    #[test]
    fn temperature_is_read_back(kelvin in 0.0f64..1e4) {
        let again: Temperature = Temperature::from_kelvin(kelvin).to_string().parse().unwrap();
        prop_assert!((again.kelvin() - kelvin).abs() <= 1e-8);
    }
}

/// A printed quantity is read as the same double; one printed in percent may be off by its last digit.
fn check_read_back<T>(share: f64, exponent: i32) -> Result<(), TestCaseError>
where
    T: Quantity + std::fmt::Display + std::ops::Sub<Output = T> + std::ops::Div<Output = f64>,
{
    let wide = (2.0 * share - 1.0) * 10f64.powi(exponent);
    let value = T::from_base(wide.clamp(T::LOW, T::HIGH));
    let text = value.to_string();
    let again = Typed::<T>::parse(&text).map_err(|error| TestCaseError::fail(error.to_string()))?;
    let off = (again.value - value) / value;
    prop_assert!(off.is_nan() || off.abs() <= f64::EPSILON, "{text}: {}", again.value);
    Ok(())
}
