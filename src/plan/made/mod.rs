//! From what was really put in to what the batch is: composition, ratios and water with their uncertainty.
//! The way back of a plan's corrections.

mod batch;
mod content;
mod estimate;
mod measured;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use estimate::Estimate;

use super::balance::{Balance, Weighing};
use super::correction::true_mass;
use super::plan_type::RatioResult;
use crate::component::{Component, Composition, Quality, RatioBasis};
use crate::quantity::{Amount, Budget, Density, Mass, MassFraction};
use content::{MassSource, add_mass, portion};

/// One thing really put in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MadeAddition<'a> {
    /// What it was.
    pub content: MadeContent<'a>,
    /// The net mass that the display showed; above 0.
    pub reading: Mass,
    /// The balance; `None` leaves the weighing out of the budgets and says so there.
    pub balance: Option<&'a Balance>,
    /// Corrects the reading for air buoyancy.
    pub in_air: Option<InAir>,
}

/// Where something put in came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MadeContent<'a> {
    /// A component out of a bottle.
    Component {
        /// The component.
        component: &'a Arc<Component>,
        /// The bottle's quality.
        quality: &'a Quality,
        /// What to call the bottle in the budgets. Portions of one component with the same bottle share
        /// its deviations, others do not.
        bottle: Option<&'a str>,
    },
    /// Some of another batch.
    Batch {
        /// Its code.
        code: &'a str,
        /// What it is.
        made: &'a Made,
    },
}

/// Where a mass was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct InAir {
    /// Density of the air.
    pub air: Density,
    /// Density of what was weighed.
    pub sample: Density,
}

/// How a batch is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MadeAs<'a> {
    /// What the ratio counts.
    pub basis: RatioBasis,
    /// The parts of the ratio in the recipe's order, water among them if it is one. Ratios are against the
    /// first.
    pub parts: &'a [Arc<Component>],
    /// How it was weighed. `Cumulative` takes the additions for one series into one flask, in this order.
    pub weighing: Weighing,
}

/// What a batch is. It can be put into another batch, with all that is known of its uncertainty.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Made {
    /// What is in it, the ratio's parts first and in their order.
    pub composition: Composition,
    /// Its mass.
    pub mass: Mass,
    /// Each part that is in against the first part; none before the first part is in.
    pub ratios: Vec<RatioResult>,
    /// Its water.
    pub water: MadeWater,
    /// The quantities behind it, each with its budget.
    pub estimates: Estimates,
}

/// Water of a batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MadeWater {
    /// Its mass, from moisture, crystal water and addition.
    pub mass: Mass,
    /// Of the whole batch.
    pub fraction: MassFraction,
    /// Sources of the fraction's uncertainty; sensitivities are those of the fraction.
    pub budget: Budget,
}

/// What a batch's numbers are made from.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Estimates {
    /// Mass in grams.
    pub mass: Estimate,
    /// Water in grams.
    pub water: Estimate,
    /// Components other than water.
    pub components: Vec<ComponentEstimate>,
    /// What is neither a component nor water, in grams.
    pub unknown: f64,
    /// The sources that are this batch's own weighings, which another batch can't share.
    pub weighings: Vec<String>,
}

/// One component of a batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ComponentEstimate {
    /// The component.
    pub component: Arc<Component>,
    /// Acceptor or donor of this batch or of one that went in.
    pub in_ratio: bool,
    /// Grams without crystal water.
    pub anhydrous: f64,
    /// Moles; `None` without a formula.
    pub amount: Option<Estimate>,
    /// Grams of the component as a recipe names it, with the crystal water of its formula.
    pub named: Estimate,
}

/// What `additions` make. Additions of no mass change nothing.
pub fn made(additions: &[MadeAddition<'_>], view: &MadeAs<'_>) -> Made {
    let mut estimates = Estimates::default();
    let put_in: Vec<_> = additions.iter().filter(|addition| Mass::ZERO < addition.reading).collect();
    for (place, addition) in put_in.iter().enumerate() {
        let sources = mass_sources(&put_in, place, view.weighing);
        for source in &sources {
            if !estimates.weighings.contains(&source.name) {
                estimates.weighings.push(source.name.clone());
            }
        }
        estimates.put_in(addition, &sources, view.parts);
    }
    Made::of(estimates, view)
}

/// The sources of one mass: the weighing itself, or the two readings that it is the difference of.
fn mass_sources(put_in: &[&MadeAddition<'_>], place: usize, weighing: Weighing) -> Vec<MassSource> {
    let Some(addition) = put_in.get(place) else { return Vec::new() };
    let factor = addition.mass() / addition.reading;
    let source = |name: String, sensitivity: f64, u: fn(&Balance) -> f64| MassSource {
        name,
        sensitivity: sensitivity * factor,
        standard_uncertainty: addition.balance.map(u),
    };
    match weighing {
        Weighing::Cumulative => {
            let reading = |balance: &Balance| balance.reading_variance().sqrt();
            vec![source(reading_after(place), -1.0, reading), source(reading_after(place + 1), 1.0, reading)]
        }
        Weighing::Each => {
            let name = addition.content.name();
            let times = put_in.iter().take(place + 1).filter(|other| other.content.name() == name).count();
            // The first is called as in a plan.
            let again = if 1 < times { format!(", weighing {times}") } else { String::new() };
            vec![source(format!("mass of {name}{again}"), 1.0, |balance| balance.net_uncertainty().get())]
        }
    }
}

/// Each reading but the first and the last belongs to two masses.
fn reading_after(weighings: usize) -> String {
    match weighings {
        0 => "reading before weighing 1".to_owned(),
        number => format!("reading after weighing {number}"),
    }
}

impl MadeContent<'_> {
    fn name(&self) -> &str {
        match self {
            Self::Component { component, .. } => component.id.as_str(),
            Self::Batch { code, .. } => code,
        }
    }
}

impl MadeAddition<'_> {
    /// The mass put in.
    pub fn mass(&self) -> Mass {
        self.in_air.map_or(self.reading, |place| true_mass(self.reading, place.sample, place.air))
    }
}

impl Estimates {
    fn put_in(&mut self, addition: &MadeAddition<'_>, sources: &[MassSource], parts: &[Arc<Component>]) {
        let mass = addition.mass();
        let mut own = Estimate::of(mass.get());
        add_mass(&mut own, sources, 1.0);
        match addition.content {
            MadeContent::Component { component, .. } if component.is_water() => self.water.add(own.clone()),
            MadeContent::Component { component, quality, bottle } => {
                let origin =
                    bottle.map_or(component.id.to_string(), |bottle| format!("{} in {bottle}", component.id));
                let portion = portion(component, quality, &origin, mass, sources);
                self.water.add(portion.water);
                self.unknown += portion.correction.impurity.get();
                self.add_component(ComponentEstimate {
                    component: Arc::clone(component),
                    in_ratio: parts.iter().any(|part| part.id == component.id),
                    anhydrous: portion.correction.anhydrous.get(),
                    amount: portion.amount,
                    named: portion.named,
                });
            }
            MadeContent::Batch { code, made } => self.put_in_batch(code, made, mass, sources),
        }
        self.mass.add(own);
    }

    fn add_component(&mut self, more: ComponentEstimate) {
        let known = self.components.iter_mut().find(|known| known.component.id == more.component.id);
        let Some(known) = known else {
            self.components.push(more);
            return;
        };
        known.in_ratio |= more.in_ratio;
        known.anhydrous += more.anhydrous;
        known.named.add(more.named);
        known.amount = known.amount.take().zip(more.amount).map(|(mut sum, more)| {
            sum.add(more);
            sum
        });
    }

    /// What the ratio counts of a part; `None` if nothing of it is in, or if it has no moles.
    fn counted(&self, part: &Component, basis: RatioBasis) -> Option<Estimate> {
        let counted = match basis {
            _ if part.is_water() => Some(self.counted_water(part, basis)),
            RatioBasis::Mole => self.component(part)?.amount.clone(),
            RatioBasis::Mass => Some(self.component(part)?.named.clone()),
        };
        counted.filter(|counted| 0.0 < counted.value)
    }

    fn component(&self, part: &Component) -> Option<&ComponentEstimate> {
        self.components.iter().find(|own| own.component.id == part.id)
    }

    fn counted_water(&self, water: &Component, basis: RatioBasis) -> Estimate {
        let (RatioBasis::Mole, Some(formula)) = (basis, &water.formula) else { return self.water.clone() };
        let molar_mass = formula.molar_mass().get();
        let mut counted = self.water.scaled(1.0 / molar_mass);
        let u = formula.molar_mass_uncertainty().get();
        counted.budget.add(format!("molar mass of {}", water.id), -counted.value / molar_mass, u);
        counted
    }
}

impl Made {
    fn of(mut estimates: Estimates, view: &MadeAs<'_>) -> Self {
        let rank = |own: &ComponentEstimate| view.parts.iter().position(|part| part.id == own.component.id);
        estimates.components.sort_by_key(|own| rank(own).unwrap_or(usize::MAX));
        let share = estimates.water.share_of(&estimates.mass);
        Self {
            mass: Mass::new(estimates.mass.value),
            ratios: ratios(&estimates, view),
            water: MadeWater {
                mass: Mass::new(estimates.water.value),
                fraction: MassFraction::new(share.value),
                budget: share.budget,
            },
            composition: composition(&estimates),
            estimates,
        }
    }
}

fn composition(estimates: &Estimates) -> Composition {
    let mut composition = Composition {
        water: Mass::new(estimates.water.value),
        unknown: Mass::new(estimates.unknown),
        ..Composition::default()
    };
    for own in &estimates.components {
        let amount = own.amount.as_ref().map(|amount| Amount::new(amount.value));
        composition.add(&own.component, amount, Mass::new(own.anhydrous), own.in_ratio);
    }
    composition
}

/// Each part that is in, against the first part.
fn ratios(estimates: &Estimates, view: &MadeAs<'_>) -> Vec<RatioResult> {
    let Some((first, others)) = view.parts.split_first() else { return Vec::new() };
    let Some(to) = estimates.counted(first, view.basis) else { return Vec::new() };
    let ratio = |part: &Arc<Component>| {
        let counted = estimates.counted(part, view.basis)?;
        Some(RatioResult {
            component: Arc::clone(part),
            to: Arc::clone(first),
            value: counted.value / to.value,
            rounded: None,
            budget: counted.relative_over(&to),
        })
    };
    others.iter().filter_map(ratio).collect()
}

impl MadeWater {
    /// Standard uncertainty of the fraction.
    pub fn standard_uncertainty(&self) -> MassFraction {
        MassFraction::new(self.budget.standard_uncertainty())
    }
}
