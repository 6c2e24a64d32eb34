//! Scheffé's models against published and independent fits; sources in the README of
//! `tests/fixtures/statistics/mixture`.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::compose::mixture::{
    Crossing, Direction, Goal, Model, Observed, Order, Process, Region, Study, candidates, next_runs,
    optimum, trace,
};

use super::rows::rows;

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/statistics/mixture/", $name))
    };
}

fn data(name: &str) -> Vec<Observed> {
    let (csv, count) = match name {
        "yarn" => (fixture!("yarn.csv"), 15),
        _ => (fixture!("invented-3.csv"), 13),
    };
    let observed = |row: &super::rows::Row| Observed {
        fractions: ["x1", "x2", "x3"].map(|x| row.number(x)).to_vec(),
        setting: Vec::new(),
        block: 0,
        response: row.number("y"),
    };
    rows(csv, count).iter().map(observed).collect()
}

fn study(name: &str, order: Order) -> Study {
    let model = Model::new(order, 3, Vec::new(), Crossing::Every);
    Study::of(model, &data(name), 1e-6, 0.95).unwrap()
}

fn order(name: &str) -> Order {
    Order::ALL.into_iter().find(|order| order.name() == name.replace('_', "-")).unwrap()
}

/// A value by its name in the fixture; the names of the fixture are all known here.
fn value(study: &Study, quantity: &str) -> f64 {
    let variance = &study.regression.variance;
    let lack = &study.lack_of_fit;
    if let Some((what, term)) = quantity.split_once(':') {
        let names = ["x1", "x2", "x3"];
        let is_term = |own: &&meltbook::compose::mixture::Term| study.model.name(own, &names) == term;
        let at = study.model.terms.iter().position(|own| is_term(&own)).unwrap();
        let own = study.regression.coefficients[at];
        return match what {
            "coef" => own.value,
            "se" => own.sd,
            "t" => own.t,
            other => panic!("{other}"),
        };
    }
    match quantity {
        "n" => variance.n as f64,
        "p" => variance.parameters as f64,
        "ss_total_corrected" => variance.ss_total,
        "ss_model_corrected" => variance.ss_model(),
        "ss_error" => variance.ss_error,
        "ms_error" => variance.ss_error / variance.df_error() as f64,
        "root_mse" => variance.residual_sd(),
        "F_model" => variance.test().unwrap().f,
        "p_model" => variance.test().unwrap().p,
        "r_squared_corrected" => variance.r_squared(),
        "adj_r_squared_corrected" => variance.adjusted_r_squared(),
        "press" => variance.press.unwrap(),
        "r_squared_press" => variance.predicted_r_squared(),
        "ss_pure_error" => lack.ss_pure,
        "df_pure_error" => lack.df_pure as f64,
        "ss_lack_of_fit" => lack.ss_lack,
        "df_lack_of_fit" => lack.df_lack as f64,
        "F_lack_of_fit" => lack.test.unwrap().f,
        "p_lack_of_fit" => lack.test.unwrap().p,
        other => panic!("{other} is not known here"),
    }
}

#[test]
fn fits_are_those_of_another_library() {
    let mut checked = 0;
    for row in rows(fixture!("scheffe-expected.csv"), 144) {
        let quantity = row.text("quantity");
        if quantity.starts_with("max_") {
            continue;
        }
        let study = study(row.text("dataset"), order(row.text("model")));
        let (found, expected) = (value(&study, quantity), row.number("value"));
        let what = format!("{} {} {quantity}", row.text("dataset"), row.text("model"));
        match quantity {
            "ss_lack_of_fit" => assert_abs_diff_eq!(found, expected, epsilon = 1e-9),
            // A tail probability of the library that is used keeps fewer digits far out.
            "p_model" | "p_lack_of_fit" => {
                assert!((found - expected).abs() <= 1e-8 * expected, "{what}: {found} {expected}");
            }
            _ => assert!((found - expected).abs() <= 1e-9 * expected.abs(), "{what}: {found} {expected}"),
        }
        checked += 1;
    }
    assert_eq!(checked, 140);
}

/// Cornell's own coefficients, as printed.
#[test]
fn yarn_as_published() {
    let study = study("yarn", Order::Quadratic);
    let printed: Vec<String> =
        study.regression.coefficients.iter().map(|own| format!("{:.1}", own.value)).collect();
    assert_eq!(printed, ["11.7", "9.4", "16.4", "19.0", "11.4", "-9.6"]);
}

#[test]
fn the_best_yarn() {
    let study = study("yarn", Order::Quadratic);
    let best = optimum(&study, &Region::whole(3).unwrap(), Goal::Maximum);
    let expected = |quantity: &str| -> f64 {
        let rows = rows(fixture!("scheffe-expected.csv"), 144);
        rows.iter().find(|row| row.text("quantity") == quantity).unwrap().number("value")
    };
    for (at, name) in ["max_x1", "max_x2", "max_x3"].into_iter().enumerate() {
        assert_abs_diff_eq!(best.fractions[at], expected(name), epsilon = 1e-6);
    }
    assert_relative_eq!(best.value, expected("max_y"), max_relative = 1e-9);
    // On the edge between x1 and x3 the quadratic has its top where its slope is zero, by hand:
    // x1 = (11.7 − 16.4 + 11.4) / (2 × 11.4).
    assert_abs_diff_eq!(best.fractions[0], 6.7 / 22.8, epsilon = 1e-6);
    let alike = best.alike.unwrap();
    assert!(alike.iter().zip(&best.fractions).all(|(bound, x)| bound.low <= *x && *x <= bound.high));
}

/// Least squares without an intercept has the same fitted values as with a constant and one component left out: the
/// constant is in the model.
#[test]
fn a_mixture_model_holds_a_constant() {
    let study = study("invented-3", Order::Linear);
    let residuals: f64 = study.regression.residuals.iter().sum();
    assert_abs_diff_eq!(residuals, 0.0, epsilon = 1e-12);
    let leverage: f64 = study.regression.leverage.iter().sum();
    assert_relative_eq!(leverage, 3.0, max_relative = 1e-12);
}

/// Leaving each result out and fitting again, by brute force, gives PRESS.
#[test]
fn press_is_leaving_one_out() {
    let all = data("invented-3");
    let study = study("invented-3", Order::Quadratic);
    let mut press = 0.0;
    for at in 0..all.len() {
        let mut rest = all.clone();
        let left_out = rest.remove(at);
        let without = Study::of(study.model.clone(), &rest, 1e-6, 0.95).unwrap();
        press += (left_out.response - without.value(&left_out.fractions, &[])).powi(2);
    }
    assert_relative_eq!(study.regression.variance.press.unwrap(), press, max_relative = 1e-9);
}

/// A model with a process variable finds the coefficients that made its data, with no error.
#[test]
fn crossed_models_come_back() {
    let water = Process { name: "water".into(), unit: None, levels: vec![1.0, 5.0], is_hard: false };
    for (crossing, terms) in [(Crossing::Every, 12), (Crossing::Linear, 9), (Crossing::Common, 7)] {
        let model = Model::new(Order::Quadratic, 3, vec![water.clone()], crossing);
        assert_eq!(model.terms.len(), terms);
        let truth: Vec<f64> = (0..terms).map(|at| 1.0 + (at as f64 * 0.7).sin()).collect();
        let points = candidates(&Region::whole(3).unwrap());
        let observed: Vec<Observed> = points
            .iter()
            .flat_map(|point| [1.0, 5.0].map(|water| (point.fractions.clone(), vec![water])))
            .map(|(fractions, setting)| {
                let row = model.row(&fractions, &setting);
                let response = row.iter().zip(&truth).map(|(row, truth)| row * truth).sum();
                Observed { fractions, setting, block: 0, response }
            })
            .collect();
        let study = Study::of(model, &observed, 1e-6, 0.95).unwrap();
        for (own, truth) in study.regression.coefficients.iter().zip(&truth) {
            assert_abs_diff_eq!(own.value, *truth, epsilon = 1e-10);
        }
    }
}

/// Blocks that are not orthogonal to the model are taken out of it: known coefficients and shifts come back, and what
/// the model says is for the mean of the blocks.
#[test]
fn blocks_are_taken_out() {
    let names = ["Monday", "Tuesday", "Wednesday"].map(str::to_owned).to_vec();
    let model = Model::new(Order::Quadratic, 3, Vec::new(), Crossing::Every).with_blocks(names);
    let (truth, shifts) = ([3.0, 5.0, -2.0, 4.0, 0.5, -1.0], [0.7, -0.2, -0.5]);
    let points = candidates(&Region::whole(3).unwrap());
    let say =
        |x: &[f64]| -> f64 { model.row(x, &[]).iter().zip(truth).map(|(row, truth)| row * truth).sum() };
    let observed: Vec<Observed> = points
        .iter()
        .chain(&points[..5])
        .enumerate()
        .map(|(at, point)| Observed {
            fractions: point.fractions.clone(),
            setting: Vec::new(),
            block: at % 3,
            response: say(&point.fractions) + shifts[at % 3],
        })
        .collect();
    let study = Study::of(model.clone(), &observed, 1e-6, 0.95).unwrap();
    for (own, truth) in study.regression.coefficients.iter().zip(truth) {
        assert_abs_diff_eq!(own.value, truth, epsilon = 1e-10);
    }
    for (own, shift) in study.shifts().iter().zip(shifts) {
        assert_abs_diff_eq!(*own, shift, epsilon = 1e-10);
    }
    let middle = [0.2, 0.3, 0.5];
    assert_relative_eq!(study.value(&middle, &[]), say(&middle), max_relative = 1e-10);
}

#[test]
fn saturated_and_short_fits_say_so() {
    // One result at each point of the lattice.
    let lattice: Vec<Observed> = [0, 2, 5, 7, 10, 12].map(|at| data("yarn")[at].clone()).to_vec();
    let model = || Model::new(Order::Quadratic, 3, Vec::new(), Crossing::Every);
    let saturated = Study::of(model(), &lattice, 1e-6, 0.95).unwrap();
    let variance = &saturated.regression.variance;
    assert_eq!((variance.n, variance.df_error()), (6, 0));
    assert!(variance.residual_sd().is_nan() && variance.test().is_none() && variance.press.is_none());
    assert!(saturated.regression.coefficients.iter().all(|own| own.sd.is_nan() && own.value.is_finite()));
    assert_eq!(optimum(&saturated, &Region::whole(3).unwrap(), Goal::Minimum).alike, None);
    // Without the mixture of x2 and x3 its term can't be told, and one run there is what is missing.
    let short: Vec<Observed> =
        data("yarn").into_iter().filter(|own| own.fractions[1] * own.fractions[2] == 0.0).collect();
    assert_eq!(Study::of(model(), &short, 1e-6, 0.95).unwrap_err(), [5]);
    let next =
        next_runs(&model(), &short, &candidates(&Region::whole(3).unwrap()), 1, (5, 1), |_, _| {}).unwrap();
    assert_eq!(next.len(), 1);
    assert!(0.0 < next[0].fractions[1] * next[0].fractions[2], "{next:?}");
    assert_eq!(next[0].unit_sd, None);
    // One composition many times tells no slope of anything.
    let same = vec![data("yarn")[0].clone(); 8];
    assert_eq!(Study::of(model(), &same, 1e-6, 0.95).unwrap_err(), [1, 2, 3, 4, 5]);
}

/// Along Cox's line all others keep their proportions, and it ends at the region's edge.
#[test]
fn traces() {
    let study = study("yarn", Order::Quadratic);
    let region = Region::whole(3).unwrap();
    let reference = [0.5, 0.3, 0.2];
    for component in 0..3 {
        let line = trace(&study, &region, (&reference, &[]), component, Direction::Cox);
        for point in &line {
            assert_abs_diff_eq!(point.fractions.iter().sum::<f64>(), 1.0, epsilon = 1e-12);
            assert_relative_eq!(point.value, study.value(&point.fractions, &[]), max_relative = 1e-12);
            let others: Vec<usize> = (0..3).filter(|at| *at != component).collect();
            let (one, other) = (others[0], others[1]);
            let kept = point.fractions[one] * reference[other] - point.fractions[other] * reference[one];
            assert_abs_diff_eq!(kept, 0.0, epsilon = 1e-12);
        }
        assert_abs_diff_eq!(line[0].fractions[component], 0.0, epsilon = 1e-8);
        assert_abs_diff_eq!(line[line.len() - 1].fractions[component], 1.0, epsilon = 1e-8);
        assert!(line.iter().any(|point| point.change == 0.0));
    }
}
