//! A recipe file (TOML) with all its faults at once.

use std::sync::Arc;

use super::amount::{addition_amount, mass_fraction};
use super::check::{Places, check};
use super::limit::limits;
use super::procedure::Procedure;
use super::recipe_type::{Recipe, SolutionDensity};
use crate::component::{Addition, Component, ComponentTable, Part, Proportions, RatioBasis};
use crate::input::{Faults, Field, Place, TableReader, TomlFile, did_you_mean};
use crate::quantity::{MassFraction, Relative, Typed};

/// Reads a recipe file. `origin` is its path as the person would name it.
pub fn read_recipe(origin: &str, text: &str, table: &ComponentTable) -> Result<Recipe, Faults> {
    TomlFile::new(origin, text).read(|root| recipe(root, text, table))
}

fn recipe(root: &TableReader<'_>, text: &str, table: &ComponentTable) -> Option<Recipe> {
    let name = root.required_name("name");
    let source = root.string("source").map(|field| field.value.to_owned());
    let note = root.string("note").map(|field| field.value.to_owned());
    let basis = basis(root);
    let ratio_tolerance = ratio_tolerance(root);
    let density = density(root);
    let parts = each(root, "part", |reader| part(reader, table));
    let additions = each(root, "addition", |reader| addition(reader, table));
    let water = root.table("water").and_then(|reader| water(&reader));
    let procedure = root.table("procedure").map(|reader| procedure(&reader)).unwrap_or_default();
    let limits = root.table("limits").map(|reader| limits(&reader)).unwrap_or_default();
    if !root.has("part") {
        root.fault(
            "no_part",
            "the recipe has no part",
            root.span(),
            "Add [[part]] with component and ratio.",
        );
    }
    let (parts, part_places) = parts?;
    let (additions, addition_places) = additions?;
    let (water, water_place) = water.unzip();
    let proportions = Proportions { basis: basis?, parts, additions, water };
    let places =
        Places { parts: part_places, additions: addition_places, water: water_place.unwrap_or_default() };
    check(&proportions, &places).iter().for_each(|fault| root.file().push(fault.clone()));
    let text = text.to_owned();
    Some(Recipe { name: name?, text, source, note, proportions, ratio_tolerance, density, procedure, limits })
}

fn basis(root: &TableReader<'_>) -> Option<RatioBasis> {
    let field = root.required_string("basis")?;
    let basis = [RatioBasis::Mole, RatioBasis::Mass].into_iter().find(|basis| basis.word() == field.value);
    if basis.is_none() {
        let hint = did_you_mean(field.value, ["mole", "mass"], "Write basis = \"mole\" or \"mass\".");
        root.fault("bad_basis", format!("unknown basis {:?}", field.value), field.span, hint);
    }
    basis
}

fn ratio_tolerance(root: &TableReader<'_>) -> Option<Typed<Relative>> {
    let field = root.quantity::<Relative>("ratio_tolerance")?;
    if field.value.value <= Relative::ZERO || Relative::new(1.0) <= field.value.value {
        let message = format!("the ratio tolerance {} must lie between 0 and 100 %", field.value.text);
        root.fault("bad_tolerance", message, field.span, "Write it like \"1 %\".");
        return None;
    }
    Some(field.value)
}

fn density(root: &TableReader<'_>) -> Option<SolutionDensity> {
    let value = root.quantity("density").map(|field| field.value);
    let at = root.quantity("density_at");
    let source = root.string("density_source").map(|field| field.value.to_owned());
    if let (None, Some(at)) = (&value, &at) {
        root.fault(
            "density_missing",
            "density_at is given without density",
            at.span.clone(),
            "Add density = \"…\".",
        );
    }
    Some(SolutionDensity { value: value?, at: at.map(|field| field.value), source })
}

/// The entries of a list with their places; `None` if one is faulty, which is then reported.
fn each<T>(
    root: &TableReader<'_>,
    key: &'static str,
    read: impl Fn(&TableReader<'_>) -> Option<T>,
) -> Option<(Vec<T>, Vec<Place>)> {
    let mut values = Vec::new();
    let mut places = Vec::new();
    let mut whole = true;
    for reader in root.tables(key) {
        let value = read(&reader);
        reader.finish();
        whole &= value.is_some();
        values.extend(value);
        places.push(reader.file().place(reader.span()));
    }
    whole.then_some((values, places))
}

fn part(reader: &TableReader<'_>, table: &ComponentTable) -> Option<Part> {
    let component = component(reader, table);
    let ratio = reader.number("ratio");
    if !reader.has("ratio") {
        reader.fault("missing_key", "the key \"ratio\" is missing", reader.span(), "Add ratio = … here.");
    }
    let ratio = ratio.filter(|field| positive(reader, field));
    Some(Part { component: component?, ratio: ratio?.value })
}

fn positive(reader: &TableReader<'_>, field: &Field<f64>) -> bool {
    let fits = 0.0 < field.value && field.value <= 1e6;
    if !fits {
        let message = format!("the ratio {} must be above 0 and at most 1000000", field.value);
        reader.fault("bad_ratio", message, field.span.clone(), "Leave the part out if there is none of it.");
    }
    fits
}

fn addition(reader: &TableReader<'_>, table: &ComponentTable) -> Option<Addition> {
    let component = component(reader, table);
    let amount = reader.required_string("amount").and_then(|field| {
        let place = reader.file().place(field.span);
        addition_amount(field.value, place).map_err(|fault| reader.file().push(fault)).ok()
    });
    Some(Addition { component: component?, amount: amount? })
}

fn component(reader: &TableReader<'_>, table: &ComponentTable) -> Option<Arc<Component>> {
    let field = reader.required_string("component")?;
    match table.find(field.value) {
        Ok(component) => Some(Arc::clone(component)),
        Err(error) => {
            reader.file().push(error.fault(reader.file().place(field.span)));
            None
        }
    }
}

fn water(reader: &TableReader<'_>) -> Option<(Typed<MassFraction>, Place)> {
    let field = reader.required_string("target");
    reader.finish();
    let field = field?;
    let place = reader.file().place(field.span);
    let target = mass_fraction(field.value, place.clone()).map_err(|fault| reader.file().push(fault)).ok()?;
    Some((target, place))
}

fn procedure(reader: &TableReader<'_>) -> Procedure {
    let text = |key| reader.string(key).map(|field| field.value.to_owned());
    let lines = |key| reader.strings(key).into_iter().map(|field| field.value.to_owned()).collect();
    let procedure = Procedure {
        dry_first: lines("dry_first"),
        heat: reader.quantity("heat").map(|field| field.value),
        time: reader.quantity("time").map(|field| field.value),
        atmosphere: text("atmosphere"),
        end: text("end"),
        steps: lines("steps"),
        hot: lines("hot"),
        after: lines("after"),
    };
    reader.finish();
    procedure
}
