//! From a request to a plan.

use std::sync::Arc;

use super::budget::{amount_budget, ratio_budget};
use super::correction::{Correction, balance_reading};
use super::error::PlanError;
use super::flag::Flag;
use super::limiting::{flag_shortages, largest_batch, limiting};
use super::plan_type::{Line, LineKind, LiquidVolume, Plan, RatioResult};
use super::ratio::counted_parts;
use super::request::PlanRequest;
use super::size::{Dose, Size};
use super::solve::{UnitBatch, UnitLine, solve};
use super::supply::Supply;
use super::targets::TargetLine;
use super::window::{no_step_inside, too_coarse, window};
use crate::component::{Component, ComponentId, ComponentTable, Composition, RatioBasis};
use crate::quantity::{Density, Mass, Relative, Volume};

/// Between the densities of gases and those of liquids and solids, in g/mL.
const LEAST_DENSITY: Density = Density::new(0.1);

/// Plans a batch.
///
/// `table` gives water its entry, should water have to be added.
pub fn plan(request: PlanRequest, table: &ComponentTable) -> Result<Plan, PlanError> {
    refuse_bad_air(&request)?;
    refuse_bad_densities(&request)?;
    if request.tolerance.value <= Relative::ZERO {
        return Err(PlanError::NoTolerance);
    }
    let unit = solve(&request)?;
    let units = units(&request, &unit)?;
    let mut lines = lines(&request, &unit, units, table);
    let mass: Mass = lines.iter().map(|line| line.weigh).sum();
    let ratios = ratios(&request, &lines);
    let guard = guard(&request, &lines);
    for line in &mut lines {
        finish(line, &request, mass, guard);
    }
    let limiting = limiting(&request, &unit, units);
    if let Some(limiting) = &limiting {
        flag_shortages(&mut lines, limiting);
    }
    let volume = request.solution_density().map(|density| mass / density.value.value);
    let composition = composition(&lines);
    let surplus = unit.surplus_water * units;
    let dry_first = (Mass::ZERO < surplus).then_some(surplus);
    Ok(Plan { request, lines, composition, mass, volume, ratios, guard, limiting, dry_first })
}

fn refuse_bad_air(request: &PlanRequest) -> Result<(), PlanError> {
    match &request.air {
        Some(air) if LEAST_DENSITY <= air.0.value => Err(PlanError::BadAir { air: air.0.value.get() }),
        _ => Ok(()),
    }
}

/// Nothing that is weighed is lighter than the lightest liquids; heavier than air, all the more.
fn refuse_bad_densities(request: &PlanRequest) -> Result<(), PlanError> {
    let given = |supply: &Supply| Some((supply.component.to_string(), supply.density.as_ref()?.value.value));
    match request.supplies.iter().filter_map(given).find(|(_, density)| *density <= LEAST_DENSITY) {
        Some((name, density)) => Err(PlanError::BadDensity { name, density: density.get() }),
        None => Ok(()),
    }
}

/// How many ratio units the size means.
fn units(request: &PlanRequest, unit: &UnitBatch) -> Result<f64, PlanError> {
    let density = || {
        let density = request.solution_density().map(|density| density.value.value);
        density.filter(|density| Density::ZERO < *density)
    };
    let by_volume = |volume: Volume| match density() {
        Some(density) => Ok(volume * density),
        None => Err(PlanError::DensityNeeded { what: request.size.text(), by_size: true }),
    };
    let units = match &request.size {
        Size::Mass(mass) => mass.value / unit.mass(),
        Size::DryPure(_) if unit.dry_pure() <= Mass::ZERO => return Err(PlanError::NothingDry),
        Size::DryParts(_) if unit.dry_parts() <= Mass::ZERO => return Err(PlanError::NothingDry),
        Size::DryPure(mass) => mass.value / unit.dry_pure(),
        Size::DryParts(mass) => mass.value / unit.dry_parts(),
        Size::Volume(volume) => by_volume(volume.value)? / unit.mass(),
        Size::Amount(_) if request.recipe.proportions.basis == RatioBasis::Mass => {
            return Err(PlanError::AmountOfMassRatio);
        }
        Size::Amount(amount) => amount.value.get(),
        Size::Cells { cells, dose, spare } => {
            let dose = match dose {
                Dose::Mass(mass) => mass.value,
                Dose::Volume(volume) => by_volume(volume.value)?,
            };
            let spare = spare.as_ref().map_or(0.0, |spare| spare.value.get());
            dose * f64::from(*cells) * (1.0 + spare) / unit.mass()
        }
        Size::Stock => return largest_batch(request, unit),
    };
    if units.is_finite() && 0.0 < units { Ok(units) } else { Err(PlanError::EmptyBatch) }
}

fn lines(request: &PlanRequest, unit: &UnitBatch, units: f64, table: &ComponentTable) -> Vec<Line> {
    let proportions = &request.recipe.proportions;
    let dry_parts = proportions.parts.iter().filter(|part| !part.component.is_water());
    let parts = dry_parts.zip(&unit.parts).map(|(part, line)| (LineKind::Part { ratio: part.ratio }, line));
    let additions = proportions.additions.iter().zip(&unit.additions);
    let additions =
        additions.map(|(a, line)| (LineKind::Addition { asked: a.amount.text().to_owned() }, line));
    let mut lines: Vec<Line> =
        parts.chain(additions).map(|(kind, line)| bare_line(request, kind, line, units)).collect();
    if let Some(line) = water_line(request, unit, table) {
        let ratio = proportions.parts.iter().find(|part| part.component.is_water()).map(|part| part.ratio);
        let kind = ratio.map_or(LineKind::Water, |ratio| LineKind::Part { ratio });
        lines.push(bare_line(request, kind, &line, units));
    }
    if request.air.is_some() {
        correct_all_or_none(&mut lines);
    }
    lines
}

/// Readings of some components alone would bias the ratio more than none: most of the correction is the
/// same for all and cancels in the ratio.
fn correct_all_or_none(lines: &mut [Line]) {
    if lines.iter().all(|line| line.reading.is_some()) {
        return;
    }
    for line in lines {
        if line.reading.take().is_none() {
            line.flags.push(Flag::BuoyancyNotCorrected);
        }
    }
}

/// A line with nothing yet said about its uncertainty.
fn bare_line(request: &PlanRequest, kind: LineKind, line: &UnitLine, units: f64) -> Line {
    let correction = line.correction.scaled(units);
    let component = Arc::clone(&line.component);
    let reading = request.air.as_ref().and_then(|air| {
        let (density, _) = liquid_or_solid_density(request, &component, &line.supply)?;
        Some(balance_reading(correction.gross, density, air.0.value))
    });
    let mut bare = Line {
        molar_mass: component.molar_mass(),
        amount: component.molar_mass().map(|molar_mass| correction.as_asked / molar_mass),
        kind,
        supply: line.supply.clone(),
        correction,
        weigh: correction.gross,
        reading,
        rounded: None,
        volume: volume(request, &component, &line.supply, correction.gross),
        weighing_uncertainty: request.balance.as_ref().map(|balance| balance.net_uncertainty()),
        amount_budget: Default::default(),
        window: None,
        flags: Vec::new(),
        component,
    };
    bare.amount_budget = amount_budget(&bare, request.balance.as_ref());
    bare
}

/// Added water as a line; `None` if none is to be added.
fn water_line(request: &PlanRequest, unit: &UnitBatch, table: &ComponentTable) -> Option<UnitLine> {
    if unit.added_water <= Mass::ZERO {
        return None;
    }
    let in_ratio = request.recipe.proportions.parts.iter().find(|part| part.component.is_water());
    let component = in_ratio.map(|part| &part.component).or_else(|| table.get(Component::WATER))?;
    let supply = request.supply(&component.id);
    let correction = Correction::of(unit.added_water, component, &Default::default());
    Some(UnitLine { component: Arc::clone(component), supply, correction })
}

fn volume(request: &PlanRequest, component: &Component, supply: &Supply, mass: Mass) -> Option<LiquidVolume> {
    if !component.is_liquid() {
        return None;
    }
    let (density, source) = liquid_or_solid_density(request, component, supply)?;
    Some(LiquidVolume { volume: mass / density, density, source })
}

/// The bottle's own density if given, else the table's at the temperature of the liquids.
fn liquid_or_solid_density(
    request: &PlanRequest,
    component: &Component,
    supply: &Supply,
) -> Option<(Density, String)> {
    if let Some(given) = &supply.density {
        let at = given.at.as_ref().map_or(String::new(), |at| format!(" at {}", at.text));
        return Some((given.value.value, format!("given: {}{at}", given.value.text)));
    }
    if component.is_liquid() {
        let (density, entry) = component.density_at(request.liquids_at.value)?;
        return Some((density, entry.source.clone()));
    }
    component.density.first().map(|entry| (entry.value, entry.source.clone()))
}

fn ratios(request: &PlanRequest, lines: &[Line]) -> Vec<RatioResult> {
    let basis = request.recipe.proportions.basis;
    let balance = request.balance.as_ref();
    let targets: Vec<TargetLine> = lines.iter().map(|line| TargetLine::of(line, basis)).collect();
    let planned = counted_parts(&targets, &[]);
    let rounded = balance.map(|balance| {
        let factor = |line: &TargetLine| balance.round(line.target) / line.target;
        counted_parts(&targets, &targets.iter().map(factor).collect::<Vec<_>>())
    });
    let parts: Vec<(usize, &Line)> =
        lines.iter().enumerate().filter(|(_, line)| matches!(line.kind, LineKind::Part { .. })).collect();
    let Some(((first_at, first), others)) = parts.split_first() else { return Vec::new() };
    let over_first = |counted: &[(ComponentId, f64)], at: usize| {
        counted.get(at).zip(counted.first()).map(|((_, part), (_, first))| part / first)
    };
    let ratio = |(place, (at, line)): (usize, &(usize, &Line))| {
        Some(RatioResult {
            component: Arc::clone(&line.component),
            to: Arc::clone(&first.component),
            value: over_first(&planned, place)?,
            rounded: rounded
                .as_ref()
                .and_then(|rounded| over_first(rounded, place))
                .filter(|r| r.is_finite()),
            budget: ratio_budget(lines, (*at, *first_at), basis, balance, request.weighing),
        })
    };
    (1..).zip(others).filter_map(ratio).collect()
}

/// The largest relative expanded uncertainty (k = 2) of any two parts' ratio.
fn guard(request: &PlanRequest, lines: &[Line]) -> f64 {
    let basis = request.recipe.proportions.basis;
    let is_part = |line: &Line| matches!(line.kind, LineKind::Part { .. });
    let parts: Vec<usize> = (0..lines.len()).filter(|&index| is_part(&lines[index])).collect();
    let pairs = parts.iter().flat_map(|&a| parts.iter().filter(move |&&b| a < b).map(move |&b| (b, a)));
    let expanded = |pair| {
        2.0 * ratio_budget(lines, pair, basis, request.balance.as_ref(), request.weighing)
            .standard_uncertainty()
    };
    pairs.map(expanded).fold(0.0, f64::max)
}

/// Rounding, window and flags, which need the whole batch.
fn finish(line: &mut Line, request: &PlanRequest, batch: Mass, guard: f64) {
    let tolerance = request.tolerance.value.get();
    line.window = window(line.target(), tolerance, guard);
    if line.window.is_none() {
        line.flags.push(Flag::ToleranceUsedUp { tolerance, expanded: guard });
    }
    let Some(balance) = &request.balance else { return };
    if let Some(flag) = line.window.and_then(|window| no_step_inside(window, batch, balance)) {
        line.window = None;
        line.flags.push(flag);
    }
    let rounded = balance.round(line.target());
    if rounded <= Mass::ZERO {
        line.flags.push(Flag::RoundsToZero);
    }
    line.rounded = Some(rounded);
    line.flags.extend(too_coarse(line.target(), batch, tolerance, balance));
    let minimum = balance.minimum_weight();
    if request.minimum_weight && line.target() < minimum {
        line.flags.push(Flag::BelowMinimumWeight { minimum });
    }
}

fn composition(lines: &[Line]) -> Composition {
    let mut composition = Composition::default();
    for line in lines {
        if line.component.is_water() {
            composition.water = composition.water + line.weigh;
            continue;
        }
        let in_ratio = matches!(line.kind, LineKind::Part { .. });
        composition.add(&line.component, line.amount, line.correction.anhydrous, in_ratio);
        composition.water = composition.water + line.correction.water();
        composition.unknown = composition.unknown + line.correction.impurity;
    }
    composition
}
