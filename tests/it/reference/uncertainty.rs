//! Propagation of uncertainty against worked examples; sources in the README of
//! `tests/fixtures/statistics/uncertainty`.

use approx::assert_relative_eq;
use meltbook::chemistry::Formula;
use meltbook::plan::{Balance, Plan, PlanRequest, Size, Weighing};
use meltbook::quantity::{Budget, Mass};

use crate::setup::{balance, bottle, grams, planned, request};

/// One example: its inputs by name and its answers.
struct Example(toml::Table);

impl Example {
    fn read(text: &str) -> Self {
        Self(text.parse().unwrap())
    }

    fn answer(&self, key: &str) -> f64 {
        self.0[key].as_float().unwrap()
    }

    fn of(&self, table: &str, key: &str) -> f64 {
        self.0[table][key].as_float().unwrap()
    }

    fn input(&self, name: &str) -> &toml::Value {
        let inputs = self.0["input"].as_array().unwrap();
        inputs.iter().find(|input| input["name"].as_str() == Some(name)).unwrap()
    }

    fn value(&self, name: &str) -> f64 {
        self.input(name)["value"].as_float().unwrap()
    }

    fn u(&self, name: &str) -> f64 {
        self.input(name)["u"].as_float().unwrap()
    }

    /// Degrees of freedom; "inf" is an uncertainty taken as known.
    fn freedom(&self, name: &str) -> Option<f64> {
        let freedom = &self.input(name)["dof"];
        let freedom = freedom.as_float().or_else(|| freedom.as_integer().map(|whole| whole as f64));
        freedom.filter(|freedom| freedom.is_finite())
    }

    /// A budget of these sources with these sensitivities.
    fn budget(&self, sensitivities: &[(&str, f64)]) -> Budget {
        let mut budget = Budget::default();
        for (name, sensitivity) in sensitivities {
            budget.add(*name, *sensitivity, self.u(name));
        }
        budget
    }
}

fn size_of(budget: &Budget, source: &str) -> f64 {
    let contribution = budget.contributions.iter().find(|contribution| contribution.source == source);
    contribution.unwrap_or_else(|| panic!("no contribution of {source}")).size()
}

#[test]
fn calibration_standard_by_weighing() {
    let example = Example::read(include_str!("../../fixtures/statistics/uncertainty/quam-a1.toml"));
    let (m, purity, volume) = (example.value("m"), example.value("P"), example.value("V"));
    // c = 1000 m P / V in mg/L
    let c = 1000.0 * m * purity / volume;
    let budget = example.budget(&[("m", c / m), ("P", c / purity), ("V", -c / volume)]);
    assert_relative_eq!(c, example.answer("computed_value"), max_relative = 1e-12);
    let u = budget.standard_uncertainty();
    assert_relative_eq!(u, example.answer("computed_u"), max_relative = 1e-10);
    assert_relative_eq!(u / c, example.answer("computed_rel_u"), max_relative = 1e-10);
    for source in ["m", "P", "V"] {
        let expected = example.of("computed_contributions", source);
        assert_relative_eq!(size_of(&budget, source), expected, max_relative = 1e-10);
    }
    // The guide's own figures, as printed.
    assert_eq!(format!("{c:.1}"), example.answer("published_value").to_string());
    assert_eq!(format!("{u:.1}"), example.answer("published_u").to_string());
    assert_eq!(format!("{:.4}", u / c), example.answer("published_rel_u").to_string());
    assert!(budget.effective_degrees_of_freedom().is_infinite());
}

#[test]
fn end_gauge_with_finite_degrees_of_freedom() {
    let example = Example::read(include_str!("../../fixtures/statistics/uncertainty/gum-h1.toml"));
    let value = |name: &str| example.value(name);
    // l = ls + d − ls (da θ + as dt), in nm
    let sensitivities = [
        ("ls", 1.0 - (value("da") * value("theta") + value("as") * value("dt"))),
        ("d", 1.0),
        ("as", -value("ls") * value("dt")),
        ("theta", -value("ls") * value("da")),
        ("da", -value("ls") * value("theta")),
        ("dt", -value("ls") * value("as")),
    ];
    let mut budget = Budget::default();
    for (name, sensitivity) in sensitivities {
        budget.add_with_freedom(name, sensitivity, example.u(name), example.freedom(name));
    }
    let (u, freedom) = (budget.standard_uncertainty(), budget.effective_degrees_of_freedom());
    assert_relative_eq!(u, example.answer("computed_u"), max_relative = 1e-9);
    assert_relative_eq!(freedom, example.answer("computed_nu_eff"), max_relative = 1e-9);
    // Table H.1 prints 32 nm, and 93 nm with the factor 2.92.
    assert_eq!(u.round(), example.answer("published_u"));
    assert_relative_eq!(freedom, example.answer("published_nu_eff"), epsilon = 0.05);
    assert_eq!((u * example.answer("published_k99")).round(), example.answer("published_U99"));
    let expanded = u * example.answer("computed_k99");
    assert_relative_eq!(expanded, example.answer("computed_U99"), max_relative = 1e-9);
}

const MOLAR_RATIO: &str = include_str!("../../fixtures/statistics/uncertainty/molar-ratio-weighing.toml");

#[test]
fn molar_ratio_of_two_weighings() {
    let example = Example::read(MOLAR_RATIO);
    let value = |name: &str| example.value(name);
    let amount = |place: u8| {
        let of = |symbol: &str| value(&format!("{symbol}{place}"));
        of("m") * of("P") * (1.0 - of("w")) / of("M")
    };
    let r = amount(2) / amount(1);
    assert_relative_eq!(r, example.answer("computed_value"), max_relative = 1e-12);
    let budget = example.budget(&[
        ("m1", -r / value("m1")),
        ("m2", r / value("m2")),
        ("P1", -r / value("P1")),
        ("P2", r / value("P2")),
        ("w1", r / (1.0 - value("w1"))),
        ("w2", -r / (1.0 - value("w2"))),
        ("M1", r / value("M1")),
        ("M2", -r / value("M2")),
    ]);
    let u = budget.standard_uncertainty();
    assert_relative_eq!(u, example.answer("computed_u"), max_relative = 1e-9);
    assert_relative_eq!(u / r, example.answer("computed_rel_u"), max_relative = 1e-9);
    assert_relative_eq!(2.0 * u, example.answer("computed_U_k2"), max_relative = 1e-9);
    for (contribution, percent) in budget.contributions.iter().zip(budget.percent_of_variance()) {
        let source = contribution.source.as_str();
        let size = example.of("computed_contributions", source);
        assert_relative_eq!(contribution.size(), size, max_relative = 1e-9);
        assert_relative_eq!(percent, example.of("percent_of_variance", source), max_relative = 1e-9);
    }
}

/// A plan whose lines weigh what the example weighs, out of bottles of the example's quality.
fn plan_of_molar_ratio(example: &Example, weighing: Weighing) -> Plan {
    let (m1, m2) = (example.value("m1"), example.value("m2"));
    let quality = |name: &str, place: u8| {
        let percent = |symbol: &str| 100.0 * example.value(&format!("{symbol}{place}"));
        let half_width = 100.0 * example.input(&format!("P{place}"))["half_width"].as_float().unwrap();
        let u = 100.0 * example.u(&format!("w{place}"));
        bottle(&format!(
            "{name} assay={}±{half_width}% basis=dried moisture={}% moisture_u={u}%",
            percent("P"),
            percent("w"),
        ))
    };
    let supplies = vec![quality("ChCl", 1), quality("urea", 2)];
    // The ratio whose plan weighs exactly m1 and m2, with the program's own molar masses.
    let amount = |mass: f64, place: usize| {
        let formula: Formula = ["(CH3)3N(CH2CH2OH)Cl", "CO(NH2)2"][place].parse().unwrap();
        let quality = &supplies[place].quality;
        mass * quality.assay_value() * (1.0 - quality.moisture_value()) / formula.molar_mass().get()
    };
    let text = format!("ChCl:urea {}:{}", amount(m1, 0), amount(m2, 1));
    // All of the example's u(m) as repeatability: a display so fine that it adds nothing.
    let balance = Some(balance(&format!("d=0.000000001g repeatability={}g", example.u("m1"))));
    let request = request(&text, Size::Mass(grams(m1 + m2)));
    planned(PlanRequest { supplies, balance, weighing, ..request })
}

/// Relative contributions do not depend on the molar masses, so they must agree although the example's
/// 139.62 and 60.056 g/mol (with uncertainties of its own) are not the program's.
#[test]
fn molar_ratio_out_of_a_plan() {
    let example = Example::read(MOLAR_RATIO);
    let plan = plan_of_molar_ratio(&example, Weighing::Each);
    assert_relative_eq!(plan.lines[0].weigh.get(), example.value("m1"), max_relative = 1e-12);
    assert_relative_eq!(plan.lines[1].weigh.get(), example.value("m2"), max_relative = 1e-12);
    let ratio = &plan.ratios[0];
    let check = |source: &str, key: &str| {
        let expected = example.of("computed_contributions", key) / example.answer("computed_value");
        assert_relative_eq!(size_of(&ratio.budget, source), expected, max_relative = 1e-9);
    };
    check("mass of choline-chloride", "m1");
    check("mass of urea", "m2");
    check("assay of choline-chloride", "P1");
    check("assay of urea", "P2");
    check("moisture of choline-chloride", "w1");
    check("moisture of urea", "w2");
    let shared = 139.62 / 139.623;
    assert_relative_eq!(ratio.value * shared, example.answer("computed_value"), max_relative = 5e-5);
    // The molar masses' part is below 0.01 % of the variance in both.
    let u = ratio.budget.standard_uncertainty();
    assert_relative_eq!(u, example.answer("computed_rel_u"), max_relative = 2e-4);
    assert!(ratio.budget.unstated.is_empty(), "{:?}", ratio.budget.unstated);
}

/// Weighed one after another without taring, a reading too high between the two makes one mass too large
/// and the next too small: the ratio's uncertainty grows. JCGM 100:2008, 5.2.2, for m₁ = R₁ − R₀ and
/// m₂ = R₂ − R₁ written out in the three readings.
#[test]
fn readings_that_are_shared_correlate() {
    let example = Example::read(MOLAR_RATIO);
    let each = plan_of_molar_ratio(&example, Weighing::Each);
    let cumulative = plan_of_molar_ratio(&example, Weighing::Cumulative);
    let (m1, m2) = (example.value("m1"), example.value("m2"));
    let u_reading = example.u("m1") / 2f64.sqrt();
    let mut readings = Budget::default();
    readings.add("R0", 1.0 / m1, u_reading);
    readings.add("R1", -1.0 / m1 - 1.0 / m2, u_reading);
    readings.add("R2", 1.0 / m2, u_reading);
    let masses = (example.u("m1") / m1).powi(2) + (example.u("m2") / m2).powi(2);
    let expected = each.ratios[0].budget.variance() - masses + readings.variance();
    assert_relative_eq!(cumulative.ratios[0].budget.variance(), expected, max_relative = 1e-9);
}

#[test]
fn net_mass_has_two_readings() {
    // EURACHEM/CITAC QUAM, A1: readability on tare and load, repeatability of the difference.
    let of = |linearity: Option<f64>| {
        let (readability, repeatability) = (Mass::new(0.01), Some(Mass::new(0.006)));
        let linearity = linearity.map(Mass::new);
        Balance { readability, repeatability, linearity, text: String::new() }.net_uncertainty().get()
    };
    let rounding = 2.0 * (0.01f64 / 12f64.sqrt()).powi(2);
    assert_relative_eq!(of(None), (rounding + 0.006f64.powi(2)).sqrt(), max_relative = 1e-12);
    // QUAM, 7.15 and A1: the linearity is counted twice, for tare and load; rectangular.
    let linearity = 2.0 * (0.02f64 / 3f64.sqrt()).powi(2);
    let expected = (rounding + 0.006f64.powi(2) + linearity).sqrt();
    assert_relative_eq!(of(Some(0.02)), expected, max_relative = 1e-12);
}
