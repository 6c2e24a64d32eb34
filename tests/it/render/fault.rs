//! Faults as a person reads them.

use meltbook::input::{Fault, Faults, Place, TomlFile};
use meltbook::quantity::{Mass, Typed};
use meltbook::report::fault;
use meltbook::report::terminal::Style;
use proptest::prelude::*;

use super::sample::any_text;
use crate::golden;

const RECIPE: &str = "name = \"Choline chloride and glycerol\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"choline-chloride\"\nratio = \"1\"\nmass = \"50 gram\"\n\n[[part]]\nratio = 2\nratoi = 3\n";

/// One fault of every kind of place.
fn sample() -> Faults {
    let mut faults = TomlFile::new("recipes/mine.toml", RECIPE)
        .read(|recipe| {
            recipe.string("name");
            recipe.string("basis");
            for part in recipe.tables("part") {
                part.required_string("component");
                part.number("ratio");
                part.quantity::<Mass>("mass");
                part.finish();
            }
            Some(())
        })
        .unwrap_err();
    let flag = "ChCl assay=98 basis=dried";
    let error = Typed::<Mass>::parse("98").unwrap_err();
    faults.push(Fault::of_quantity(&error, Place::in_text("--bottle", flag, 11..13)));
    faults.push(Fault::new("no_book", "no book here or in a folder above", Place::named("--book")));
    faults
}

#[test]
fn every_kind_of_place_has_its_picture() {
    golden::check("render/fault.txt", &fault::render(&sample(), 100, Style::Plain));
}

#[test]
fn colour_comes_on_top() {
    golden::check("render/fault-ansi.txt", &fault::render(&sample(), 100, Style::Ansi).replace('\x1b', "␛"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn no_text_moves_the_cursor(message in any_text(), origin in any_text(), text in any_text(), start in 0usize..30, length in 0usize..30, width in 0usize..100) {
        let place = Place::in_text(origin, text, start..start + length);
        let fault = Fault::new("any", message.clone(), place).with_hint(message);
        let shown = fault::render(&fault.into(), width, Style::Plain);
        prop_assert!(shown.starts_with("error[any]:"));
        prop_assert!(shown.chars().all(|c| c == '\n' || !c.is_control()));
        for line in shown.lines() {
            prop_assert_eq!(line, line.trim_end());
        }
    }
}
