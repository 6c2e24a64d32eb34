//! Mixtures made at random, as a person would type them, and what they mean. The arithmetic here goes the
//! other way round than the program's: from the grams on the balance and the definitions of assay,
//! moisture and form to what is in the flask. It shares no code with the planning.

use std::fmt;
use std::sync::Arc;

use meltbook::component::Component;
use meltbook::plan::{PlanRequest, Size, Supply};
use meltbook::recipe::SolutionDensity;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use crate::setup::{bottle, request, table, typed};

/// Molar mass of water from the abridged weights (IUPAC 2021), in g/mol.
const WATER: f64 = 18.015;

/// How much of an addition.
#[derive(Debug, Clone, Copy)]
pub enum Per {
    /// Percent by mass of the final batch.
    Batch(f64),
    /// mol per kg of dry parts.
    Solvent(f64),
    /// mol per litre of final solution.
    Litre(f64),
}

/// What is said about water.
#[derive(Debug, Clone, Copy)]
pub enum Water {
    /// Nothing.
    Unsaid,
    /// Percent by mass of the final batch.
    Target(f64),
    /// A number in the ratio.
    InRatio(f64),
}

/// A mixture as asked for.
#[derive(Clone)]
pub struct Mixture {
    pub by_mass: bool,
    pub parts: Vec<(Arc<Component>, f64)>,
    pub additions: Vec<(Arc<Component>, Per)>,
    pub water: Water,
    pub bottles: Vec<Bottle>,
    /// Of the final solution, in g/mL.
    pub density: f64,
}

/// A bottle by what its label says, in percent.
#[derive(Clone)]
pub struct Bottle {
    pub component: Arc<Component>,
    pub form: Option<f64>,
    pub assay: Option<f64>,
    pub basis: &'static str,
    pub moisture: Option<f64>,
}

/// What some grams out of a bottle hold, in grams.
#[derive(Debug, Clone, Copy, Default)]
pub struct Content {
    pub anhydrous: f64,
    pub water: f64,
    pub rest: f64,
}

fn anhydrous_molar_mass(component: &Component) -> Option<f64> {
    component.formula.as_ref().map(|formula| formula.anhydrous_molar_mass().get())
}

/// Grams of the form with `water` moles of crystal water per gram of anhydrous substance.
fn growth(component: &Component, water: f64) -> f64 {
    anhydrous_molar_mass(component).map_or(1.0, |mass| (mass + water * WATER) / mass)
}

impl Bottle {
    fn plain(component: &Arc<Component>) -> Self {
        Self { component: Arc::clone(component), form: None, assay: None, basis: "dried", moisture: None }
    }

    fn crystal_water(&self) -> f64 {
        self.form.unwrap_or_else(|| self.component.crystal_water())
    }

    /// As a flag.
    pub fn flag(&self) -> String {
        let mut flag = self.component.id.to_string();
        let mut add = |key: &str, value: Option<String>| {
            flag.extend(value.map(|value| format!(" {key}={value}")));
        };
        add(
            "form",
            self.form.map(|water| if water == 0.0 { "anhydrous".into() } else { format!("{water}H2O") }),
        );
        add("assay", self.assay.map(|assay| format!("{assay}%")));
        add("basis", self.assay.map(|_| self.basis.to_owned()));
        add("moisture", self.moisture.map(|moisture| format!("{moisture}%")));
        flag
    }

    /// What `gross` grams hold, by the definitions of section "quality" of a certificate:
    /// dried: the assay is of what is left after drying; as-is: of the content; as-hydrate: of the content,
    /// counted as the hydrate, so that above 100 % some crystal water is gone.
    pub fn content(&self, gross: f64) -> Content {
        let moisture = self.moisture.unwrap_or(0.0) / 100.0;
        let growth = growth(&self.component, self.crystal_water());
        let dry = gross * (1.0 - moisture);
        let in_form = match (self.assay, self.basis) {
            (None, _) => dry,
            (Some(assay), "dried") => dry * assay / 100.0,
            (Some(assay), _) => gross * assay / 100.0,
        };
        let anhydrous = in_form / growth;
        let water = (gross * moisture + in_form - anhydrous).min(gross - anhydrous);
        Content { anhydrous, water, rest: gross - anhydrous - water }
    }
}

/// As a person would type it, so that a failure can be tried by hand.
impl fmt::Debug for Mixture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let bottles: Vec<String> = self.bottles.iter().map(Bottle::flag).collect();
        write!(f, "{:?} at {} g/mL from {bottles:?}", self.text(), self.density)
    }
}

impl Mixture {
    /// In the trade's notation.
    pub fn text(&self) -> String {
        let (mut names, mut numbers): (Vec<String>, Vec<String>) =
            self.parts.iter().map(|(component, ratio)| (component.id.to_string(), ratio.to_string())).unzip();
        if let Water::InRatio(ratio) = self.water {
            names.push("water".to_owned());
            numbers.push(ratio.to_string());
        }
        let basis = if self.by_mass { " by mass" } else { "" };
        let mut text = format!("{} {}{basis}", names.join(":"), numbers.join(":"));
        for (component, per) in &self.additions {
            text += &match per {
                Per::Batch(percent) => format!(" + {percent} wt% {}", component.id),
                Per::Solvent(molality) => format!(" + {molality} mol/kg {}", component.id),
                Per::Litre(molarity) => format!(" + {molarity} mol/L {}", component.id),
            };
        }
        if let Water::Target(percent) = self.water {
            text += &format!(" to {percent} wt% water");
        }
        text
    }

    /// A request by the route of a person.
    pub fn request(&self, size: Size) -> PlanRequest {
        let supplies = self.bottles.iter().map(|own| bottle(&own.flag())).collect();
        let value = typed(&format!("{} g/mL", self.density));
        let density = Some(SolutionDensity { value, at: None, source: None });
        PlanRequest { supplies, density, ..request(&self.text(), size) }
    }

    /// The supply of a component with a stock.
    pub fn stocked(&self, id: &str, stock: f64) -> Supply {
        let own = self.bottles.iter().find(|own| own.component.id.as_str() == id);
        let flag = own.map_or_else(|| id.to_owned(), Bottle::flag);
        Supply { stock: Some(crate::setup::grams(stock)), ..bottle(&flag) }
    }

    /// What some grams of a component hold, out of its bottle.
    pub fn content(&self, component: &Arc<Component>, gross: f64) -> Content {
        let own = self.bottles.iter().find(|own| own.component.id == component.id).cloned();
        own.unwrap_or_else(|| Bottle::plain(component)).content(gross)
    }

    /// What is in the flask.
    pub fn flask(&self, grams: &[(String, f64)]) -> Flask<'_> {
        Flask { mixture: self, grams: grams.to_vec() }
    }
}

/// A mixture and what was weighed of each component.
pub struct Flask<'m> {
    mixture: &'m Mixture,
    grams: Vec<(String, f64)>,
}

impl Flask<'_> {
    fn gross(&self, id: &str) -> f64 {
        self.grams.iter().filter(|(own, _)| own == id).map(|(_, grams)| grams).sum()
    }

    fn content(&self, component: &Arc<Component>) -> Content {
        self.mixture.content(component, self.gross(component.id.as_str()))
    }

    fn components(&self) -> impl Iterator<Item = &Arc<Component>> {
        let parts = self.mixture.parts.iter().map(|(component, _)| component);
        parts.chain(self.mixture.additions.iter().map(|(component, _)| component))
    }

    pub fn mass(&self) -> f64 {
        self.grams.iter().map(|(_, grams)| grams).sum()
    }

    /// Water from everywhere.
    pub fn water(&self) -> f64 {
        self.gross("water") + self.components().map(|component| self.content(component).water).sum::<f64>()
    }

    /// Neither components nor water.
    pub fn rest(&self) -> f64 {
        self.components().map(|component| self.content(component).rest).sum()
    }

    /// Of the parts other than water.
    pub fn dry_parts(&self) -> f64 {
        self.mixture.parts.iter().map(|(component, _)| self.content(component).anhydrous).sum()
    }

    /// Of parts and additions.
    pub fn dry_pure(&self) -> f64 {
        self.components().map(|component| self.content(component).anhydrous).sum()
    }

    fn moles(&self, component: &Arc<Component>) -> f64 {
        self.content(component).anhydrous / anhydrous_molar_mass(component).unwrap()
    }

    /// Grams of the component as the recipe names it.
    fn as_named(&self, component: &Arc<Component>) -> f64 {
        self.content(component).anhydrous * growth(component, component.crystal_water())
    }

    /// What the ratio counts of each part over its number, water last: all equal if the ratio holds.
    pub fn ratio_units(&self) -> Vec<f64> {
        let counted = |component| {
            if self.mixture.by_mass { self.as_named(component) } else { self.moles(component) }
        };
        let mut units: Vec<f64> =
            self.mixture.parts.iter().map(|(component, ratio)| counted(component) / ratio).collect();
        if let Water::InRatio(ratio) = self.mixture.water {
            let water = if self.mixture.by_mass { self.water() } else { self.water() / WATER };
            units.push(water / ratio);
        }
        units
    }

    /// Each addition's statement: as made and as asked.
    pub fn additions(&self) -> Vec<(f64, f64)> {
        let statement = |(component, per): &(Arc<Component>, Per)| match *per {
            Per::Batch(percent) => (100.0 * self.as_named(component) / self.mass(), percent),
            Per::Solvent(molality) => (self.moles(component) / (self.dry_parts() / 1000.0), molality),
            Per::Litre(molarity) => {
                (self.moles(component) / (self.mass() / self.mixture.density / 1000.0), molarity)
            }
        };
        self.mixture.additions.iter().map(statement).collect()
    }
}

/// A number with few digits, as a person types it.
fn number(low: u32, high: u32, digits: i32) -> impl Strategy<Value = f64> {
    (low..=high).prop_map(move |whole| f64::from(whole) / 10f64.powi(digits))
}

fn components() -> impl Strategy<Value = Vec<Arc<Component>>> {
    let all: Vec<Arc<Component>> = table().iter().filter(|c| !c.is_water()).cloned().collect();
    subsequence(all, 1..=9).prop_shuffle()
}

fn per() -> impl Strategy<Value = Per> {
    prop_oneof![
        number(1, 50, 1).prop_map(Per::Batch),
        number(1, 100, 2).prop_map(Per::Solvent),
        number(1, 30, 2).prop_map(Per::Litre),
    ]
}

fn water() -> impl Strategy<Value = Water> {
    prop_oneof![
        2 => Just(Water::Unsaid),
        2 => number(1, 200, 1).prop_map(Water::Target),
        1 => number(1, 500, 2).prop_map(Water::InRatio),
    ]
}

/// What a label says, before it is known of what: form, assay and moisture as shares of what is possible.
type Label = (Option<f64>, Option<f64>, &'static str, Option<f64>);

fn label() -> impl Strategy<Value = Option<Label>> {
    let form = prop::option::of(select(vec![0.0, 0.5, 1.0, 2.0, 6.0, 7.0]));
    let share = || prop::option::weighted(0.7, number(0, 1000, 3));
    let basis = select(vec!["dried", "as-is", "as-hydrate"]);
    prop::option::weighted(0.8, (form, share(), basis, share()))
}

/// Percent from 60 to the most that the label can say; moisture up to what the assay leaves.
fn labelled(component: &Arc<Component>, (form, assay, basis, moisture): Label) -> Bottle {
    let fits = component.formula.is_some() && component.crystal_water() == 0.0;
    let mut bottle = Bottle { form: form.filter(|_| fits), basis, ..Bottle::plain(component) };
    let hydrate = 0.0 < bottle.crystal_water();
    if basis == "as-hydrate" && !hydrate {
        bottle.basis = "dried";
    }
    let most = match bottle.basis {
        "as-hydrate" => (100.0 * growth(component, bottle.crystal_water()) - 0.01).min(199.0),
        _ => 100.0,
    };
    bottle.assay = assay.map(|share| typed_percent(60.0 + share * (most - 60.0)));
    let left = match (bottle.assay, bottle.basis) {
        (Some(assay), "as-is" | "as-hydrate") => (100.0 - assay).clamp(0.0, 20.0),
        _ => 20.0,
    };
    bottle.moisture = moisture.map(|share| typed_percent(share * left)).filter(|moisture| 0.0 < *moisture);
    bottle
}

fn typed_percent(percent: f64) -> f64 {
    (percent * 1e3).floor() / 1e3
}

/// Any mixture that a recipe can state.
pub fn mixture() -> impl Strategy<Value = Mixture> {
    let pieces = (
        any::<bool>(),
        components(),
        1usize..=6,
        prop::collection::vec(number(5, 1000, 2), 9),
        prop::collection::vec(per(), 3),
        water(),
        prop::collection::vec(label(), 9),
        number(90, 160, 2),
    );
    pieces.prop_filter_map("a part by moles has a formula", assemble)
}

type Pieces = (bool, Vec<Arc<Component>>, usize, Vec<f64>, Vec<Per>, Water, Vec<Option<Label>>, f64);

fn assemble((by_mass, components, parts, ratios, pers, water, labels, density): Pieces) -> Option<Mixture> {
    let parts = parts.min(components.len());
    let (parts, rest) = components.split_at(parts);
    if !by_mass && parts.iter().any(|component| component.formula.is_none()) {
        return None;
    }
    let per = |component: &Component, per| match (per, &component.formula) {
        (Per::Solvent(number) | Per::Litre(number), None) => Per::Batch(number),
        (per, _) => per,
    };
    let additions = rest.iter().zip(pers).map(|(c, p)| (Arc::clone(c), per(c, p))).collect();
    let bottles = components.iter().zip(labels).filter_map(|(c, label)| Some(labelled(c, label?))).collect();
    let parts = parts.iter().cloned().zip(ratios).collect();
    Some(Mixture { by_mass, parts, additions, water, bottles, density })
}
