//! Property curves against independently computed fits and exact values; the published values that come with the
//! program against where they were taken from. Sources beside the fixtures.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::compose::curve::{
    IDEAL_PRODUCT, MolarBasis, PropertyPoint, Series, fit_series, published_mixtures, published_series,
    walden,
};
use meltbook::quantity::{MassFraction, Property, Temperature};
use meltbook::statistics::curve_fit::Form;

use super::rows::{Row, rows};

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/properties/", $name))
    };
}

fn point(kelvin: f64, value: f64) -> PropertyPoint {
    PropertyPoint { temperature: Temperature::from_kelvin(kelvin), water: None, value }
}

#[test]
fn viscosity_fits_of_published_series() {
    let measured = rows(fixture!("des_viscosity.csv"), 97);
    for known in rows(fixture!("des_viscosity_vft_fit.csv"), 8) {
        let same = |row: &&Row| {
            ["donor", "molar_ratio", "ref_no_in_dataset"].iter().all(|key| row.text(key) == known.text(key))
        };
        let points: Vec<PropertyPoint> = measured
            .iter()
            .filter(same)
            .map(|row| point(row.number("T_K"), row.number("viscosity_mPa_s")))
            .collect();
        assert_eq!(points.len(), known.count("n"), "{}", known.text("source"));
        let curve = fit_series(&Series::new("it", points), Form::Vft, 0.95).expect("there are enough points");
        let value = |at: usize| curve.parameters[at].1.value;
        assert_relative_eq!(value(0).ln(), known.number("ln_eta_A"), max_relative = 1e-4);
        assert_relative_eq!(value(1), known.number("B_K"), max_relative = 1e-4);
        assert_relative_eq!(value(2), known.number("T0_K"), max_relative = 1e-4);
        for key in ["T_min_K", "T_max_K"] {
            let kelvin = known.number(key);
            let ln = known.number("ln_eta_A") + known.number("B_K") / (kelvin - known.number("T0_K"));
            assert_relative_eq!(curve.band(kelvin, None).y, ln.exp(), max_relative = 1e-6);
            assert_eq!(curve.beyond(kelvin, None), None);
        }
        // rms_ln is over n; the residual standard deviation over n − 3.
        let n = known.number("n");
        let rms = curve.residual_sd * ((n - 3.0) / n).sqrt();
        assert_relative_eq!(rms, known.number("rms_ln"), max_relative = 1e-3);
    }
}

#[test]
fn exact_values_come_back_with_their_parameters() {
    let all = rows(fixture!("vft_exact.csv"), 16);
    for case in ["eta_1", "kappa_1"] {
        let own: Vec<&Row> = all.iter().filter(|row| row.text("case") == case).collect();
        let points = own.iter().map(|row| point(row.number("T_K"), row.number("value"))).collect();
        let curve = fit_series(&Series::new(case, points), Form::Vft, 0.95).expect("there are enough points");
        for row in &own {
            assert_relative_eq!(
                curve.band(row.number("T_K"), None).y,
                row.number("value"),
                max_relative = 1e-9
            );
        }
        // Conductivity falls with 1/(T − T0): its b is −B.
        let sign = if case == "eta_1" { 1.0 } else { -1.0 };
        assert_relative_eq!(curve.parameters[0].1.value.ln(), own[0].number("A"), max_relative = 1e-6);
        assert_relative_eq!(sign * curve.parameters[1].1.value, own[0].number("B_K"), max_relative = 1e-6);
        assert_relative_eq!(curve.parameters[2].1.value, own[0].number("T0_K"), max_relative = 1e-6);
    }
}

/// Every value that comes with the program stands in the fixture, and none of those that are doubted there is used.
#[test]
fn published_values_are_as_they_were_taken() {
    let names = [
        ("choline-chloride", "choline chloride"),
        ("ethylene-glycol", "ethylene glycol"),
        ("urea", "urea"),
        ("glycerol", "glycerol"),
        ("levulinic-acid", "levulinic acid"),
        ("malonic-acid", "malonic acid"),
        ("triethylene-glycol", "triethylene glycol"),
    ];
    let name = |id: &str| names.iter().find(|(known, _)| *known == id).expect("it is known").1;
    let viscosities = rows(fixture!("des_viscosity.csv"), 97);
    let densities = rows(fixture!("des_density.csv"), 57);
    let (mut used, mut left_out) = (0, 0);
    for (property, rows, key, factor) in [
        (Property::Viscosity, &viscosities, "viscosity_mPa_s", 1.0),
        (Property::Density, &densities, "density_kg_m3", 1000.0),
    ] {
        for mixture in published_mixtures(property) {
            for series in published_series(property, (&mixture.acceptor, &mixture.donor), &mixture.ratio) {
                left_out += series.left_out;
                used += series.points.len();
                for point in &series.points {
                    let same = |row: &&Row| {
                        row.text("donor") == name(&mixture.donor)
                            && row.text("molar_ratio") == mixture.ratio
                            && row.text("T_K").parse() == Ok(point.temperature.kelvin())
                            && (row.number(key) - factor * point.value).abs() < 1e-9 * row.number(key)
                    };
                    let row = rows.iter().find(same);
                    assert!(row.is_some(), "{property:?} {mixture:?} {point:?}");
                }
            }
        }
    }
    // 97 viscosities of which two have a doubted temperature, and the 44 densities that have a temperature.
    assert_eq!((used, left_out), (95 + 44, 2));
}

/// A synthetic liquid whose ln η has a slope of −20 per mass fraction of water: it comes back, and where points hold no
/// spread of water nothing is said of it.
#[test]
fn the_effect_of_water_comes_back() {
    let eta = |kelvin: f64, water: f64| 0.13 * (850.0 / (kelvin - 155.0) - 20.0 * water).exp();
    let points = |waters: &[f64]| -> Vec<PropertyPoint> {
        let each =
            waters.iter().flat_map(|water| (0..6).map(move |step| (293.15 + 8.0 * f64::from(step), *water)));
        let each = each.map(|(kelvin, water)| PropertyPoint {
            water: Some(MassFraction::new(water)),
            ..point(kelvin, eta(kelvin, water))
        });
        each.collect()
    };
    let wet = fit_series(&Series::new("wet", points(&[0.0, 0.01, 0.03])), Form::Vft, 0.95).expect("it fits");
    assert!(wet.knows_water() && wet.identifiable);
    let slope = wet.parameters.iter().find(|(name, _)| *name == "k").expect("it has a term for water").1;
    assert_relative_eq!(slope.value, -20.0, max_relative = 1e-6);
    assert_relative_eq!(wet.band(310.0, Some(0.02)).y, eta(310.0, 0.02), max_relative = 1e-6);
    assert_eq!(wet.beyond(310.0, Some(0.02)), None);
    let beyond = wet.beyond(280.0, Some(0.05)).expect("it lies outside");
    assert_abs_diff_eq!(beyond.kelvin, -13.15, epsilon = 1e-3);
    assert_abs_diff_eq!(beyond.water, 0.02, epsilon = 1e-3);
    let one = fit_series(&Series::new("one", points(&[0.01])), Form::Vft, 0.95).expect("it fits");
    assert!(!one.knows_water());
}

/// κ ∝ η^−0.9 by construction; the product of the pair at 298.15 K is that of the fixture's two exact values.
#[test]
fn waldens_product_and_exponent() {
    let all = rows(fixture!("vft_exact.csv"), 16);
    let of = |case: &str| -> Vec<PropertyPoint> {
        let own = all.iter().filter(|row| row.text("case") == case);
        own.map(|row| point(row.number("T_K"), row.number("value"))).collect()
    };
    let found = walden(&Series::new("κ", of("kappa_1")), &Series::new("η", of("eta_1")), None);
    assert_eq!(found.points.len(), 8);
    let own = found.points.iter().find(|own| own.temperature.kelvin() == 298.15).expect("it is there");
    assert_relative_eq!(own.product(), 5.15548269438 * 51.3070132685, max_relative = 1e-9);
    let fractional =
        of("eta_1").iter().map(|own| PropertyPoint { value: 80.0 * own.value.powf(-0.9), ..*own }).collect();
    let found = walden(&Series::new("κ", fractional), &Series::new("η", of("eta_1")), None);
    let (exponent, sd) = found.exponent.expect("there are enough pairs");
    assert_relative_eq!(exponent, 0.9, max_relative = 1e-9);
    assert!(sd < 1e-9);
}

/// Potassium chloride, 0.01 mol/kg in water at 25 °C: 1408.23 µS/cm by the primary standard (K. W. Pratt, W. F. Koch,
/// Y. C. Wu, P. A. Berezansky, Pure Appl. Chem. 73 (2001) 1783). 1000 g of water and 0.01 mol of 74.55 g/mol hold it, so
/// a mole is in 100 074.55 g; the solution has 0.9975 g/mL and water 0.890 mPa·s (both from memory). It lies on the
/// ideal line, which goes through it, to within the digits of that.
#[test]
fn potassium_chloride_lies_on_the_ideal_line() {
    let one = |value: f64| Series::new("KCl", vec![point(298.15, value)]);
    let basis = MolarBasis { density: one(0.9975), grams_per_mole: 100_074.55, is_dry: false };
    let found = walden(&one(1.40823), &one(0.890), Some(&basis));
    let [own] = found.points[..] else { panic!("one pair") };
    // 1.40823e-3 S/cm over 0.0099676 mol in 1000 cm³.
    assert_relative_eq!(own.molar.expect("it has a density"), 141.281, max_relative = 1e-5);
    assert_relative_eq!(own.beside_ideal().expect("it is molar"), 1.0, max_relative = 3e-4);
    assert_relative_eq!(IDEAL_PRODUCT, 141.3 * 0.890, max_relative = 1e-12);
}

/// Λ = 10⁻³ κ m/ρ with ρ off the line of the densities between them: κ is made from Λ ∝ η^−0.85, and that comes back,
/// while κ itself has another exponent since the density falls. Outside of the densities nothing is molar. Water that a
/// dry mass leaves out makes a mole's mass greater by 1/(1 − w).
#[test]
fn molar_conductivity_needs_a_density() {
    let kelvins: Vec<f64> = (0..8).map(|step| 293.15 + 5.0 * f64::from(step)).collect();
    let eta = |kelvin: f64| 0.12 * (800.0 / (kelvin - 160.0)).exp();
    let density = |kelvin: f64| 1.30 - 6.0e-4 * kelvin;
    let molar = |kelvin: f64| 90.0 * eta(kelvin).powf(-0.85);
    let (mass, water) = (263.76, 0.02);
    let of = |value: &dyn Fn(f64) -> f64| -> Vec<PropertyPoint> {
        let each = kelvins.iter().map(|kelvin| point(*kelvin, value(*kelvin)));
        each.map(|own| PropertyPoint { water: Some(MassFraction::new(water)), ..own }).collect()
    };
    let kappa = |kelvin: f64| 1e3 * molar(kelvin) * density(kelvin) * (1.0 - water) / mass;
    let (kappas, etas) = (Series::new("κ", of(&kappa)), Series::new("η", of(&eta)));
    let two = vec![point(293.15, density(293.15)), point(318.15, density(318.15))];
    let basis = MolarBasis { density: Series::new("ρ", two), grams_per_mole: mass, is_dry: true };
    let found = walden(&kappas, &etas, Some(&basis));
    for own in &found.points {
        let kelvin = own.temperature.kelvin();
        match own.molar {
            Some(value) => assert_relative_eq!(value, molar(kelvin), max_relative = 1e-9),
            None => assert!(318.15 < kelvin, "{kelvin}"),
        }
    }
    assert_eq!(found.points.iter().filter(|own| own.molar.is_some()).count(), 6);
    let (exponent, sd) = found.molar_exponent.expect("there are enough pairs");
    assert_relative_eq!(exponent, 0.85, max_relative = 1e-9);
    assert!(sd < 1e-9);
    let (plain, _) = found.exponent.expect("there are enough pairs");
    assert!((plain - 0.85).abs() > 1e-3, "{plain}");
    let without = walden(&kappas, &etas, None);
    assert_eq!((without.molar_exponent, without.exponent), (None, found.exponent));
}
