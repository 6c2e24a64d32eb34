//! Plans of random mixtures: the grams, put back through the bottles, say what the recipe asked.

use meltbook::plan::{Dose, LineKind, Plan, PlanError, PlanRequest, Size, plan};
use meltbook::quantity::{Mass, Relative};
use proptest::prelude::*;
use proptest::sample::select;

use super::mixture::{Flask, Mixture, Water, mixture};
use crate::setup::{balance, grams, table, typed};

/// How large the batch is, whatever the mixture.
#[derive(Debug, Clone, Copy)]
struct Batch {
    kind: usize,
    value: f64,
    spare: u32,
}

const KINDS: usize = 8;

fn batch() -> impl Strategy<Value = Batch> {
    let value = (1u32..100_000).prop_map(|value| f64::from(value) / 100.0);
    (0..KINDS, value, 0u32..40).prop_map(|(kind, value, spare)| Batch { kind, value, spare })
}

impl Batch {
    fn size(&self, mixture: &Mixture, factor: f64) -> Size {
        let value = self.value * factor;
        let millilitres = || typed(&format!("{value} mL"));
        let spare = Some(typed(&format!("{} %", self.spare)));
        match self.kind {
            1 => Size::DryPure(grams(value)),
            2 => Size::DryParts(grams(value)),
            3 => Size::Volume(millilitres()),
            4 if !mixture.by_mass => Size::Amount(typed(&format!("{value} mmol"))),
            5 => Size::Cells { cells: 8, dose: Dose::Mass(grams(value)), spare },
            6 => Size::Cells { cells: 3, dose: Dose::Volume(millilitres()), spare },
            7 => Size::Stock,
            _ => Size::Mass(grams(value)),
        }
    }

    fn request(&self, mixture: &Mixture, factor: f64) -> PlanRequest {
        let mut request = mixture.request(self.size(mixture, factor));
        if self.kind == 7 {
            let first = &mixture.parts[0].0.id;
            request.supplies.retain(|supply| supply.component != *first);
            request.supplies.push(mixture.stocked(first.as_str(), self.value * factor));
        }
        request
    }

    /// What the size says, as made and as asked.
    fn statement(&self, mixture: &Mixture, flask: &Flask<'_>, plan: &Plan) -> (f64, f64) {
        let spare = 1.0 + f64::from(self.spare) / 100.0;
        match self.kind {
            1 => (flask.dry_pure(), self.value),
            2 => (flask.dry_parts(), self.value),
            3 => (flask.mass() / mixture.density, self.value),
            4 if !mixture.by_mass => (flask.ratio_units()[0] * 1e3, self.value),
            5 => (flask.mass(), self.value * 8.0 * spare),
            6 => (flask.mass() / mixture.density, self.value * 3.0 * spare),
            7 => (plan.lines[0].weigh.get(), self.value),
            _ => (flask.mass(), self.value),
        }
    }
}

/// The plan, or `None` where the additions leave no room, which is a legal answer.
fn planned(request: PlanRequest) -> Result<Option<Plan>, TestCaseError> {
    match plan(request, table()) {
        Ok(plan) => Ok(Some(plan)),
        Err(PlanError::NoRoom) => Ok(None),
        Err(error) => Err(TestCaseError::fail(error.to_string())),
    }
}

fn weighed(plan: &Plan) -> Vec<(String, f64)> {
    plan.lines.iter().map(|line| (line.component.id.to_string(), line.weigh.get())).collect()
}

fn close(made: f64, asked: f64, what: &str) -> Result<(), TestCaseError> {
    let off = (made - asked).abs();
    prop_assert!(off <= 1e-9 * asked.abs(), "{what}: {made}, not {asked}");
    Ok(())
}

/// Everything that the recipe says, checked from the grams alone.
pub fn check_statements(mixture: &Mixture, flask: &Flask<'_>, dry_first: f64) -> Result<(), TestCaseError> {
    let mut units = flask.ratio_units();
    if 0.0 < dry_first && matches!(mixture.water, Water::InRatio(_)) {
        units.pop();
    }
    for unit in &units {
        close(*unit, units[0], "ratio")?;
    }
    for (made, asked) in flask.additions() {
        close(made, asked, "addition")?;
    }
    let water = flask.water() - dry_first;
    match mixture.water {
        Water::Unsaid => {}
        Water::Target(percent) => close(100.0 * water / (flask.mass() - dry_first), percent, "water")?,
        Water::InRatio(ratio) if mixture.by_mass => close(water / ratio, units[0], "water")?,
        Water::InRatio(ratio) => close(water / 18.015 / ratio, units[0], "water")?,
    }
    Ok(())
}

fn check_plan(mixture: &Mixture, batch: &Batch, plan: &Plan) -> Result<(), TestCaseError> {
    let masses = weighed(plan);
    let flask = mixture.flask(&masses);
    let dry_first = plan.dry_first.map_or(0.0, Mass::get);
    check_statements(mixture, &flask, dry_first)?;
    let (made, asked) = batch.statement(mixture, &flask, plan);
    close(made, asked, "size")?;
    for (id, mass) in &masses {
        prop_assert!(0.0 < *mass && mass.is_finite(), "{id}: {mass}");
    }
    close(flask.mass(), plan.mass.get(), "sum")?;
    close(plan.composition.mass().get(), plan.mass.get(), "composition")?;
    let unsure = 1e-9 * plan.mass.get();
    prop_assert!((plan.composition.water.get() - flask.water()).abs() <= unsure, "water of the plan");
    prop_assert!((plan.composition.unknown.get() - flask.rest()).abs() <= unsure, "unknown of the plan");
    close(plan.composition.dry_solvent().get(), flask.dry_parts(), "solvent")?;
    // Too wet: what must go first is told, and no water is added.
    if plan.dry_first.is_some() {
        prop_assert!(0.0 < dry_first && dry_first <= flask.water() * (1.0 + 1e-9), "{dry_first}");
        prop_assert!(plan.line("water").is_none());
    }
    Ok(())
}

fn balance_text() -> impl Strategy<Value = String> {
    let d = select(vec!["0.1", "0.01", "0.001", "0.0001", "0.05", "0.002"]);
    (d, prop::option::of(1u32..30), prop::option::of(1u32..30)).prop_map(|(d, repeatability, linearity)| {
        let step: f64 = d.parse().unwrap();
        let key = |key: &str, tenths: Option<u32>| {
            tenths.map_or(String::new(), |t| format!(" {key}={}g", step * f64::from(t) / 10.0))
        };
        format!("d={d}g{}{}", key("repeatability", repeatability), key("linearity", linearity))
    })
}

proptest! {
    #[test]
    fn grams_say_what_the_recipe_asked(mixture in mixture(), batch in batch()) {
        let Some(plan) = planned(batch.request(&mixture, 1.0))? else { return Ok(()) };
        check_plan(&mixture, &batch, &plan)?;
    }

    #[test]
    fn masses_scale_with_the_size(mixture in mixture(), batch in batch(), factor in 1u32..1000) {
        let factor = f64::from(factor) / 64.0;
        let Some(plan) = planned(batch.request(&mixture, 1.0))? else { return Ok(()) };
        let Some(scaled) = planned(batch.request(&mixture, factor))? else { return Ok(()) };
        prop_assert_eq!(plan.lines.len(), scaled.lines.len());
        for (line, other) in plan.lines.iter().zip(&scaled.lines) {
            prop_assert_eq!(&line.component.id, &other.component.id);
            close(other.weigh.get(), line.weigh.get() * factor, "scaled")?;
        }
    }

    #[test]
    fn plan_is_equal_after_json(mixture in mixture(), batch in batch(), text in prop::option::of(balance_text())) {
        let balance = text.as_deref().map(balance);
        let Some(plan) = planned(PlanRequest { balance, ..batch.request(&mixture, 1.0) })? else { return Ok(()) };
        let json = serde_json::to_string(&plan).unwrap();
        let again: Plan = serde_json::from_str(&json).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert!(again == plan, "{}", first_difference(&json, &serde_json::to_string(&again).unwrap()));
    }

    #[test]
    fn rounded_masses_are_steps_of_the_display(
        mixture in mixture(), batch in batch(), text in balance_text(),
    ) {
        let balance = Some(balance(&text));
        let Some(plan) = planned(PlanRequest { balance, ..batch.request(&mixture, 1.0) })? else { return Ok(()) };
        let step = plan.request.balance.as_ref().unwrap().readability.get();
        for line in &plan.lines {
            let rounded = line.rounded.unwrap().get();
            let steps = rounded / step;
            prop_assert!((steps - steps.round()).abs() <= 1e-6, "{rounded} in steps of {step}");
            let off = (rounded - line.target().get()).abs();
            prop_assert!(off <= step / 2.0 * (1.0 + 1e-6), "{rounded} for {}", line.target());
            // No dust behind the last digit: the display could show it.
            prop_assert!(rounded.to_string().len() <= 12, "{rounded}");
        }
    }

    /// Any two masses at any ends of their windows keep their ratio within the tolerance, and still do so
    /// if the guard band is used up by the balance.
    #[test]
    fn windows_keep_every_ratio(
        mixture in mixture(), batch in batch(), text in prop::option::of(balance_text()), tolerance in 1u32..50,
    ) {
        let balance = text.as_deref().map(balance);
        let mut request = PlanRequest { balance, ..batch.request(&mixture, 1.0) };
        request.tolerance.value = Relative::new(f64::from(tolerance) / 1000.0);
        let Some(plan) = planned(request)? else { return Ok(()) };
        check_windows(&mixture, &plan)?;
    }
}

fn check_windows(mixture: &Mixture, plan: &Plan) -> Result<(), TestCaseError> {
    let tolerance = plan.request.tolerance.value.get();
    let left = tolerance - plan.guard;
    for line in &plan.lines {
        // How far the nearest digit of the display is from the target, against the half-width by the formula.
        let target = line.target().get();
        let step = plan.request.balance.as_ref().map_or(0.0, |balance| balance.readability.get());
        let off = if 0.0 < step { ((target / step).round() * step - target).abs() } else { 0.0 };
        let reach = target * left / (2.0 + left);
        if (off - reach).abs() <= 1e-8 * target {
            continue;
        }
        prop_assert_eq!(
            line.window.is_none(),
            left <= 0.0 || reach < off,
            "{:?} {} {}",
            line.window,
            off,
            reach
        );
        let flagged = line.flags.iter().any(|flag| flag.code() == "no_step_in_window");
        prop_assert_eq!(flagged, 0.0 < left && reach < off);
        if let Some(window) = line.window {
            prop_assert!(window.low < line.target() && line.target() < window.high);
        }
    }
    let parts = mixture.parts.len();
    for first in 0..plan.lines.len() {
        for second in (0..plan.lines.len()).filter(|second| *second != first) {
            let Some((low, high)) = plan.lines[first].window.zip(plan.lines[second].window) else { continue };
            let mut masses = weighed(plan);
            masses[first].1 *= low.low / plan.lines[first].target();
            masses[second].1 *= high.high / plan.lines[second].target();
            let units = mixture.flask(&masses).ratio_units();
            for (a, b) in units.iter().take(parts).flat_map(|a| units.iter().take(parts).map(move |b| (a, b)))
            {
                prop_assert!((a / b - 1.0).abs() <= tolerance - plan.guard + 1e-9, "{a} to {b}");
            }
        }
    }
    Ok(())
}

fn first_difference(json: &str, again: &str) -> String {
    let at = json.bytes().zip(again.bytes()).position(|(a, b)| a != b).unwrap_or(0);
    let around = |text: &str| text.get(at.saturating_sub(60)..(at + 40).min(text.len())).map(str::to_owned);
    format!("{:?}\n{:?}", around(json), around(again))
}

/// The generator reaches the rooms that matter: too wet, water to add, hydrates above 100 %, no room.
#[test]
fn random_mixtures_reach_every_case() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut counts = [0usize; 5];
    for _ in 0..400 {
        let mixture = mixture().new_tree(&mut runner).unwrap().current();
        let plan = plan(mixture.request(Size::Mass(grams(50.0))), table());
        let Ok(plan) = plan else {
            counts[0] += 1;
            continue;
        };
        counts[1] += usize::from(plan.dry_first.is_some());
        counts[2] += usize::from(plan.line("water").is_some());
        let kinds = plan.lines.iter().map(|line| &line.kind);
        counts[3] += usize::from(kinds.filter(|kind| matches!(kind, LineKind::Addition { .. })).count() == 3);
        let above = |bottle: &super::mixture::Bottle| bottle.assay.is_some_and(|assay| 100.0 < assay);
        counts[4] += usize::from(mixture.bottles.iter().any(above));
    }
    let [no_room, too_wet, water_added, three_additions, above_100] = counts;
    assert!(no_room < 60, "{counts:?}");
    assert!(20 < too_wet && 80 < water_added && 60 < three_additions && 20 < above_100, "{counts:?}");
}
