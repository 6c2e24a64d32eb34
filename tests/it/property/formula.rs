//! Formulas made at random: what is printed is read again, brackets multiply, nothing panics.

use std::collections::BTreeMap;

use meltbook::chemistry::{Element, Formula, water_molar_mass};
use proptest::prelude::*;

/// A formula as a tree, so that its atoms are known without the parser.
#[derive(Debug, Clone)]
enum Unit {
    Atom(Element, u32),
    Group(Vec<Unit>, char, u32),
}

fn element() -> impl Strategy<Value = Element> {
    let weighable: Vec<Element> = Element::all().filter(|element| element.weight().is_some()).collect();
    prop::sample::select(weighable)
}

fn count() -> impl Strategy<Value = u32> {
    prop_oneof![3 => Just(1u32), 2 => 1u32..30]
}

fn units() -> impl Strategy<Value = Vec<Unit>> {
    let atom = (element(), count()).prop_map(|(element, count)| Unit::Atom(element, count));
    let unit = atom.prop_recursive(4, 24, 4, |unit| {
        let bracket = prop::sample::select(vec!['(', '[', '{']);
        (prop::collection::vec(unit, 1..4), bracket, count())
            .prop_map(|(units, bracket, count)| Unit::Group(units, bracket, count))
    });
    prop::collection::vec(unit, 1..5)
}

/// A count before a part in quarters, and the part.
fn parts() -> impl Strategy<Value = Vec<(u32, Vec<Unit>)>> {
    prop::collection::vec((prop_oneof![Just(4u32), 1u32..40], units()), 1..4)
}

fn subscript(count: u32) -> String {
    if count == 1 { String::new() } else { count.to_string() }
}

fn print(units: &[Unit]) -> String {
    let unit = |unit: &Unit| match unit {
        Unit::Atom(element, count) => format!("{element}{}", subscript(*count)),
        Unit::Group(units, open, count) => {
            let close = match open {
                '(' => ')',
                '[' => ']',
                _ => '}',
            };
            format!("{open}{}{close}{}", print(units), subscript(*count))
        }
    };
    units.iter().map(unit).collect()
}

fn add_atoms(units: &[Unit], times: f64, atoms: &mut BTreeMap<Element, f64>) {
    for unit in units {
        match unit {
            Unit::Atom(element, count) => *atoms.entry(*element).or_insert(0.0) += times * f64::from(*count),
            Unit::Group(units, _, count) => add_atoms(units, times * f64::from(*count), atoms),
        }
    }
}

fn print_parts(parts: &[(u32, Vec<Unit>)], dot: &str) -> String {
    let count =
        |quarters: u32| if quarters == 4 { String::new() } else { (f64::from(quarters) / 4.0).to_string() };
    parts.iter().map(|(quarters, units)| count(*quarters) + &print(units)).collect::<Vec<_>>().join(dot)
}

fn read(text: &str) -> Formula {
    text.parse().unwrap_or_else(|error| panic!("{text:?}: {error:?}"))
}

fn atoms(formula: &Formula) -> BTreeMap<Element, f64> {
    formula.atoms().collect()
}

/// The fault, if any, points into the text; an accepted formula has a finite positive molar mass.
fn check_any(text: &str) -> Result<(), TestCaseError> {
    match text.parse::<Formula>() {
        Ok(formula) => {
            let mass = formula.molar_mass().get();
            prop_assert!(mass.is_finite() && 0.0 < mass, "{text:?}: {mass}");
            prop_assert!(
                0.0 < formula.anhydrous_molar_mass().get() && formula.anhydrous_molar_mass().get() <= mass
            );
        }
        Err(error) => {
            prop_assert!(text.get(error.span.clone()).is_some(), "{text:?}: {:?}", error.span);
            let message = error.to_string();
            prop_assert!(!message.ends_with('.') && !message.starts_with(|c: char| c.is_ascii_uppercase()));
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn printed_formula_has_the_same_atoms(parts in parts(), dot in prop::sample::select(vec!["·", "•", " * ", "⋅"])) {
        let text = print_parts(&parts, dot);
        prop_assume!(text.chars().count() <= 1000);
        let mut expected = BTreeMap::new();
        parts.iter().for_each(|(quarters, units)| add_atoms(units, f64::from(*quarters) / 4.0, &mut expected));
        // Quarters are exact in binary, so the sums are too.
        prop_assert_eq!(atoms(&read(&text)), expected);
    }

    #[test]
    fn hill_formula_reads_as_the_same_substance(parts in parts()) {
        let text = print_parts(&parts, "·");
        prop_assume!(text.chars().count() <= 1000);
        let formula = read(&text);
        // A count behind an element is read up to a million, though brackets may multiply to more.
        prop_assume!(formula.atoms().all(|(_, atoms)| atoms <= 1e6));
        let again = read(&formula.hill());
        prop_assert_eq!(atoms(&again), atoms(&formula));
        prop_assert_eq!(again.hill(), formula.hill());
    }

    #[test]
    fn hill_formula_does_not_depend_on_order(units in units(), seed in any::<u64>()) {
        let mut shuffled = units.clone();
        let turn = seed as usize % shuffled.len();
        shuffled.rotate_left(turn);
        if seed % 2 == 0 {
            shuffled.reverse();
        }
        prop_assert_eq!(read(&print(&units)).hill(), read(&print(&shuffled)).hill());
    }

    #[test]
    fn brackets_multiply_and_juxtaposition_adds(a in units(), b in units(), times in 2u32..100) {
        let (a, b) = (print(&a), print(&b));
        let mass = |text: &str| read(text).molar_mass().get();
        let expected = f64::from(times) * mass(&a) + mass(&b);
        let given = mass(&format!("({a}){times}{b}"));
        prop_assert!((given - expected).abs() <= 1e-12 * expected);
    }

    #[test]
    fn mass_fractions_add_up_to_one(parts in parts()) {
        let text = print_parts(&parts, "·");
        prop_assume!(text.chars().count() <= 1000);
        let formula = read(&text);
        let sum: f64 = formula.mass_fractions().iter().map(|(_, fraction)| fraction.get()).sum();
        prop_assert!((sum - 1.0).abs() < 1e-12);
    }

    #[test]
    fn dried_formula_and_its_water_make_the_whole(units in units(), quarters in 1u32..100) {
        let water = f64::from(quarters) / 4.0;
        // Zinc, so that the first part is not water itself.
        let formula = read(&format!("Zn{}·{water}H2O", print(&units)));
        prop_assert_eq!(formula.crystal_water(), water);
        let whole = formula.anhydrous_molar_mass() + water_molar_mass() * water;
        prop_assert!((whole / formula.molar_mass() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn no_text_panics(text in any::<String>()) {
        check_any(&text)?;
    }

    #[test]
    fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        check_any(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn no_text_of_formula_characters_panics(
        text in "[A-Za-z0-9(){}\\[\\]·•⋅.*^+\\-−₀-₉⁰²³⁺⁻½⅔, =/é😀]{0,40}",
    ) {
        check_any(&text)?;
    }

    #[test]
    fn no_damaged_formula_panics(parts in parts(), at in any::<prop::sample::Index>(), damage in any::<char>()) {
        let mut text = print_parts(&parts, ".");
        let places: Vec<usize> = text.char_indices().map(|(place, _)| place).collect();
        text.insert(places[at.index(places.len())], damage);
        check_any(&text)?;
    }
}
