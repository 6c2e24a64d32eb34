//! The built-in component table against `tests/fixtures/components` (see its README), and what must hold
//! within it. Every file and every recipe of the project is read here.

use std::collections::{BTreeMap, HashMap};
use std::path::Path;

use approx::assert_relative_eq;
use meltbook::component::{Cas, Component, ComponentTable, Role, read_components};
use meltbook::plan::Size;
use meltbook::quantity::{Density, Mass, Temperature};
use meltbook::recipe::{Recipe, read_recipe};

use crate::setup::{grams, planned, request_of, table, told};

const FILES: [&str; 5] =
    ["acceptors.toml", "donors.toml", "salts.toml", "solvents-and-additives.toml", "cell-materials.toml"];

fn project(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn text_of(path: &str) -> String {
    std::fs::read_to_string(project(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn names_in(folder: &str) -> Vec<String> {
    let entries = std::fs::read_dir(project(folder)).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// The reader that a person's own table goes through finds no fault, and what it reads is the table.
#[test]
fn every_file_reads_without_a_fault() {
    let mut sorted = FILES.map(str::to_owned).to_vec();
    sorted.sort();
    assert_eq!(names_in("data/components"), sorted, "each file of the folder is read");
    let mut read = ComponentTable::default();
    for name in FILES {
        let text = text_of(&format!("data/components/{name}"));
        let components = read_components(name, &text, &read).map_err(told);
        for component in components.unwrap_or_else(|told| panic!("{told}")) {
            assert!(read.get(component.id.as_str()).is_none(), "{} replaces another", component.id);
            read.insert(component);
        }
    }
    assert!(read.iter().eq(table().iter()));
}

#[test]
fn table_has_the_breadth_that_is_promised() {
    let of = |role| table().with_role(role).count();
    assert!(70 <= table().len(), "{}", table().len());
    assert!(12 <= of(Role::Acceptor), "{}", of(Role::Acceptor));
    assert!(25 <= of(Role::Donor), "{}", of(Role::Donor));
    assert!(15 <= of(Role::Salt), "{}", of(Role::Salt));
}

#[test]
fn every_name_finds_its_own_component() {
    for component in table().iter() {
        let names = component.aliases.iter().chain([&component.name]);
        for name in names.map(String::as_str).chain([component.id.as_str()]) {
            assert_eq!(table().find(name).unwrap().id, component.id, "{name}");
            assert_eq!(table().find(&name.to_uppercase()).unwrap().id, component.id, "{name}");
        }
    }
}

/// One number for one substance; forms of one substance and grades of one metal share theirs.
#[test]
fn cas_numbers_are_valid_and_unique() {
    let mut owners: BTreeMap<&str, Vec<&Component>> = BTreeMap::new();
    for component in table().iter() {
        let Some(cas) = &component.cas else { continue };
        assert_eq!(cas.as_str().parse::<Cas>().as_ref(), Ok(cas), "{}", component.id);
        owners.entry(cas.as_str()).or_default().push(component);
    }
    for (cas, owners) in owners {
        let zinc = owners.iter().all(|component| component.id.as_str().starts_with("zinc"));
        let grades_of_zinc = cas == "7440-66-6" && zinc;
        let first = owners[0].hydrate_of.as_ref().unwrap_or(&owners[0].id);
        let forms = owners.iter().all(|other| other.hydrate_of.as_ref().unwrap_or(&other.id) == first);
        assert!(owners.len() == 1 || forms || grades_of_zinc, "{cas}: {owners:?}");
    }
}

#[test]
fn hydrates_are_their_parent_and_water() {
    let mut hydrates = 0;
    for component in table().iter() {
        let Some(parent) = &component.hydrate_of else { continue };
        let parent = table().get(parent.as_str()).unwrap_or_else(|| panic!("{} is not there", parent));
        let (formula, parent) = (component.formula.as_ref().unwrap(), parent.formula.as_ref().unwrap());
        let water = component.crystal_water();
        assert!(0.0 < water, "{}", component.id);
        assert_eq!(parent.crystal_water(), 0.0, "{}", component.id);
        let difference: HashMap<&str, f64> =
            formula.atoms().map(|(element, atoms)| (element.symbol(), atoms)).collect();
        for (element, atoms) in parent.atoms() {
            let symbol = element.symbol();
            let more = difference[symbol] - atoms;
            let expected = match symbol {
                "H" => 2.0 * water,
                "O" => water,
                _ => 0.0,
            };
            assert_relative_eq!(more, expected, epsilon = 1e-9);
        }
        let extra = ["H", "O"].map(|symbol| difference.contains_key(symbol));
        assert_eq!(extra, [true, true], "{}", component.id);
        hydrates += 1;
    }
    assert!(8 <= hydrates, "{hydrates}");
}

/// What our table leaves out although the tables of the fixture give it, and why.
const GAPS: [(&str, &str, &str); 12] = [
    (
        "choline-chloride",
        "melting",
        "578.15 K is decomposition; the two published melting points are extrapolated",
    ),
    ("choline-bromide", "melting", "the entry is decomposition, as for the chloride"),
    ("tetramethylammonium-chloride", "melting", "the entry is decomposition"),
    ("tetramethylammonium-bromide", "melting", "doubtful: the salt decomposes before it melts"),
    ("tetraethylammonium-chloride", "melting", "the entry is decomposition"),
    ("zinc-sulfate-heptahydrate", "melting", "the crystals lose water at and below the entry"),
    ("ammonium-chloride", "melting", "sublimes and dissociates"),
    ("ammonium-chloride", "fusion", "sublimes and dissociates"),
    ("manganese-dioxide", "melting", "gives off oxygen there"),
    ("carbon-black", "melting", "the entry is that of carbon, which sublimes at 1 bar"),
    ("graphite", "melting", "sublimes at 1 bar"),
    ("graphite", "fusion", "sublimes at 1 bar"),
];

/// Ours differs on purpose from the fixture's first table, and is the better one.
const DIFFERENT_ON_PURPOSE: [(&str, &str); 1] = [("choline-chloride", "melting")];

#[derive(serde::Deserialize)]
struct Row {
    name: String,
    cas: String,
    #[serde(rename = "melting_point_K")]
    melting_k: Option<f64>,
    #[serde(rename = "enthalpy_of_fusion_J_per_mol")]
    fusion_j_per_mol: Option<f64>,
    #[serde(rename = "density_20C_kg_m3")]
    density_20: Option<f64>,
    #[serde(rename = "density_25C_kg_m3")]
    density_25: Option<f64>,
}

/// Each value within 1e-3 of one of ours, or a gap that is listed with its reason.
#[test]
fn properties_are_those_of_the_handbooks() {
    let csv = include_str!("../../fixtures/components/properties.csv");
    let mut missing = Vec::new();
    let mut wrong = Vec::new();
    let mut rows = 0;
    for row in csv::Reader::from_reader(csv.as_bytes()).deserialize() {
        let row: Row = row.unwrap();
        rows += 1;
        let Ok(component) = table().find(&row.name).or_else(|_| table().find(&row.cas)) else {
            panic!("{} is not in the table", row.name)
        };
        let mut check = |what: &str, expected: Option<f64>, ours: Vec<f64>| {
            let Some(expected) = expected else { return };
            let fits = ours.iter().any(|value| (value / expected - 1.0).abs() <= 1e-3);
            let gap = ours.is_empty() || DIFFERENT_ON_PURPOSE.contains(&(component.id.as_str(), what));
            match (fits, gap) {
                (true, _) => {}
                (false, true) => missing.push((component.id.to_string(), what.to_owned())),
                (false, false) => wrong.push(format!("{} {what} {expected}: {ours:?}", component.id)),
            }
        };
        check("melting", row.melting_k, component.melting.iter().map(|m| m.at.kelvin()).collect());
        check("fusion", row.fusion_j_per_mol, component.fusion.iter().map(|f| f.enthalpy.get()).collect());
        let at = |celsius: f64| -> Vec<f64> {
            let here = Temperature::from_celsius(celsius);
            component.density.iter().filter_map(|d| d.at_temperature(here)).map(|d| d.get() * 1e3).collect()
        };
        check("density at 20", row.density_20, at(20.0));
        check("density at 25", row.density_25, at(25.0));
    }
    assert_eq!(rows, 78);
    let listed: Vec<_> = GAPS.iter().map(|(id, what, _)| ((*id).to_owned(), (*what).to_owned())).collect();
    assert_eq!((wrong, missing), (Vec::new(), listed));
}

fn recipes() -> Vec<Recipe> {
    let names = names_in("recipes").into_iter().filter(|name| name.ends_with(".toml"));
    let read = |name: String| {
        let path = format!("recipes/{name}");
        read_recipe(&path, &text_of(&path), table()).map_err(told).unwrap_or_else(|told| panic!("{told}"))
    };
    names.map(read).collect()
}

#[test]
fn every_recipe_plans_at_50_g() {
    let recipes = recipes();
    assert!(15 <= recipes.len(), "{}", recipes.len());
    for recipe in recipes {
        let name = recipe.name.clone();
        let plan = planned(request_of(recipe, Size::Mass(grams(50.0))));
        let sum: Mass = plan.lines.iter().map(|line| line.weigh).sum();
        assert_relative_eq!(sum.get(), 50.0, max_relative = 1e-12);
        assert_relative_eq!(plan.composition.mass().get(), 50.0, max_relative = 1e-12);
        assert!(plan.lines.iter().all(|line| Mass::ZERO < line.weigh), "{name}");
        assert!(plan.dry_first.is_none(), "{name}");
    }
}

/// A density of a solution is never far from its liquids: a slip of a unit would be.
#[test]
fn densities_are_those_of_condensed_matter() {
    let low = Density::new(0.5);
    for component in table().iter() {
        for density in &component.density {
            assert!(low < density.value && density.value < Density::new(12.0), "{}", component.id);
        }
    }
}
