//! Least squares against certified and independently computed fits; sources beside the fixtures.

use approx::assert_relative_eq;
use meltbook::statistics::curve_fit::{
    Curve, Dual, Fit, Form, Inference, Points, Scale, fewer_runs, fit, linear::least_squares, minimum,
};

use super::rows::{Row, rows};

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/statistics/", $name))
    };
}

/// The certified models of NIST with their data.
const NONLINEAR: &[(&str, &str, &Curve<'static>)] = &[
    ("Misra1a", fixture!("nist/nonlinear/Misra1a.csv"), &|x, p| p[0] * (1.0 - (-p[1] * x).exp())),
    ("Misra1b", fixture!("nist/nonlinear/Misra1b.csv"), &|x, p| {
        p[0] * (1.0 - (1.0 + p[1] * x / 2.0).powf(-2.0))
    }),
    ("Misra1d", fixture!("nist/nonlinear/Misra1d.csv"), &|x, p| p[0] * p[1] * x / (1.0 + p[1] * x)),
    ("Chwirut2", fixture!("nist/nonlinear/Chwirut2.csv"), &|x, p| (-p[0] * x).exp() / (p[1] + p[2] * x)),
    ("Lanczos3", fixture!("nist/nonlinear/Lanczos3.csv"), &|x, p| {
        p[0] * (-p[1] * x).exp() + p[2] * (-p[3] * x).exp() + p[4] * (-p[5] * x).exp()
    }),
    ("MGH17", fixture!("nist/nonlinear/MGH17.csv"), &|x, p| {
        p[0] + p[1] * (-x * p[3]).exp() + p[2] * (-x * p[4]).exp()
    }),
    ("MGH10", fixture!("nist/nonlinear/MGH10.csv"), &|x, p| p[0] * (p[1] / (x + p[2])).exp()),
    ("Eckerle4", fixture!("nist/nonlinear/Eckerle4.csv"), &|x, p| {
        let z = (x - p[2]) / p[1];
        p[0] / p[1] * (-0.5 * z * z).exp()
    }),
    ("Thurber", fixture!("nist/nonlinear/Thurber.csv"), &|x, p| {
        let cubed = x * x * x;
        (p[0] + p[1] * x + p[2] * (x * x) + p[3] * cubed) / (1.0 + p[4] * x + p[5] * (x * x) + p[6] * cubed)
    }),
    ("Kirby2", fixture!("nist/nonlinear/Kirby2.csv"), &|x, p| {
        (p[0] + p[1] * x + p[2] * (x * x)) / (1.0 + p[3] * x + p[4] * (x * x))
    }),
    ("Rat42", fixture!("nist/nonlinear/Rat42.csv"), &|x, p| p[0] / (1.0 + (p[1] - p[2] * x).exp())),
    ("DanWood", fixture!("nist/nonlinear/DanWood.csv"), &|x, p| p[0] * (p[1] * x.ln()).exp()),
];

/// Parameters, standard errors and residual sum of squares from both starts of each set.
#[test]
fn nist_nonlinear_sets() {
    let models = rows(fixture!("nist/nonlinear-models.csv"), 12);
    let certified = rows(fixture!("nist/nonlinear-certified.csv"), 43);
    let mut wrong = Vec::new();
    for model in &models {
        let name = model.text("dataset");
        let (_, data, curve) = NONLINEAR.iter().find(|(own, ..)| *own == name).unwrap();
        let points = points(data, model.count("n"));
        let answers: Vec<&Row> = certified.iter().filter(|row| row.text("dataset") == name).collect();
        for start in ["start1", "start2"] {
            assert_eq!(model.text(&format!("reference_lm_converges_{start}")), "yes");
            let from: Vec<f64> = answers.iter().map(|row| row.number(start)).collect();
            let end = minimum(*curve, &points, &from);
            let inference = Inference::of(&end, &points, 0.95);
            let mut worst = vec![
                ("converged", if end.converged { 0.0 } else { 1.0 }, 0.5),
                ("rss", off(end.rss, model.number("residual_ss")), model.number("rel_tol_residual_ss")),
                ("s", off(inference.residual_sd, model.number("residual_sd")), model.number("rel_tol_sd")),
            ];
            for (estimate, row) in inference.estimates.iter().zip(&answers) {
                let value = off(estimate.value, row.number("certified"));
                worst.push((row.text("parameter"), value, model.number("rel_tol_parameters")));
                worst.push(("sd", off(estimate.sd, row.number("certified_sd")), model.number("rel_tol_sd")));
            }
            assert_eq!(inference.df, model.count("df"));
            wrong.extend(
                worst
                    .into_iter()
                    .filter(|(_, off, most)| off.is_nan() || most < off)
                    .map(|w| format!("{name} {start}: {w:?}")),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Far from a peak the squares do not change, and a search that ends there has not converged, whatever it says
/// of itself.
#[test]
fn a_flat_place_is_no_minimum() {
    let (_, data, curve) = NONLINEAR.iter().find(|(own, ..)| *own == "Eckerle4").unwrap();
    let end = minimum(*curve, &points(data, 35), &[1.0, 1.0, 2000.0]);
    assert!(!end.converged, "{end:?}");
}

#[test]
fn nist_linear_norris() {
    let points = points(fixture!("nist/linear/Norris.csv"), 36);
    let certified = rows(fixture!("nist/linear-certified.csv"), 12);
    let of = |name: &str| certified.iter().find(|row| row.text("quantity") == name).unwrap().number("value");
    let line = line(&points);
    let [intercept, slope] = line.inference.estimates[..] else { panic!("a line has two parameters") };
    close(intercept.value, of("B0"), 1e-9);
    close(intercept.sd, of("B0_sd"), 1e-9);
    close(slope.value, of("B1"), 1e-9);
    close(slope.sd, of("B1_sd"), 1e-9);
    close(line.inference.residual_sd, of("residual_sd"), 1e-9);
    close(line.rss, of("ss_residual"), 1e-9);
    close(line.rss / line.inference.df as f64, of("ms_residual"), 1e-9);
    close(line.r_squared, of("r_squared"), 1e-10);
    assert_eq!(line.inference.df as f64, of("df_residual"));
    // For a line F is the square of the slope's t.
    close((slope.value / slope.sd).powi(2), of("F"), 1e-8);
    close((slope.value / slope.sd).powi(2) * of("ms_residual"), of("ss_regression"), 1e-8);
}

#[test]
fn nist_linear_longley() {
    let data = rows(fixture!("nist/linear/Longley.csv"), 16);
    let design: Vec<Vec<f64>> = data
        .iter()
        .map(|row| {
            let mut cells = vec![1.0];
            cells.extend((1..=6).map(|at| row.number(&format!("x{at}"))));
            cells
        })
        .collect();
    let y: Vec<f64> = data.iter().map(|row| row.number("y")).collect();
    let fit = least_squares(&design, &y, &[1.0; 16]).unwrap();
    let certified = rows(fixture!("nist/linear/Longley-certified.csv"), 7);
    for ((value, sd), row) in fit.coefficients.iter().zip(fit.sds()).zip(&certified) {
        close(*value, row.number("certified"), 1e-9);
        close(sd, row.number("certified_sd"), 1e-9);
    }
    close(fit.residual_sd(), 304.854073561965, 1e-9);
}

/// The forms of the bench, started by themselves and from both starts of the fixture.
#[test]
fn forms_of_the_bench() {
    let cases: [(&str, &str, Form, Scale, usize); 4] = [
        ("decay-offset", fixture!("fits/decay-offset.csv"), Form::Decay, Scale::Plain, 14),
        ("vft-viscosity", fixture!("fits/vft-viscosity.csv"), Form::Vft, Scale::Plain, 9),
        ("vft-log-viscosity", fixture!("fits/vft-log-viscosity.csv"), Form::Vft, Scale::Logarithmic, 9),
        (
            "arrhenius-conductivity",
            fixture!("fits/arrhenius-conductivity.csv"),
            Form::Arrhenius,
            Scale::Plain,
            9,
        ),
    ];
    let parameters = rows(fixture!("fits/parameters-expected.csv"), 11);
    let models = rows(fixture!("fits/models-expected.csv"), 4);
    for (name, data, form, scale, n) in cases {
        let mut points = points(data, n);
        if scale == Scale::Logarithmic {
            // The fixture holds ln y.
            points.y.iter_mut().for_each(|y| *y = y.exp());
        }
        let own = fit(form, scale, &points, 0.95).unwrap();
        assert!(own.is_identifiable(), "{name}: {:?}", own.doubts);
        let model = models.iter().find(|row| row.text("dataset") == name).unwrap();
        close(own.rss, model.number("residual_ss"), 1e-9);
        close(own.inference.residual_sd, model.number("residual_sd"), 1e-9);
        assert_eq!(own.inference.df, model.count("df"));
        let answers: Vec<&Row> = parameters.iter().filter(|row| row.text("dataset") == name).collect();
        assert_eq!(answers.len(), own.inference.estimates.len());
        for (estimate, row) in own.inference.estimates.iter().zip(&answers) {
            // The fixture has ln a where the squares are least on ln y.
            let logarithmic = row.text("parameter") == "ln_a";
            let (value, sd) = if logarithmic {
                (estimate.value.ln(), estimate.sd / estimate.value)
            } else {
                (estimate.value, estimate.sd)
            };
            close(value, row.number("value"), 1e-6);
            close(sd, row.number("sd"), 1e-5);
            if !logarithmic {
                close(estimate.interval.0, row.number("ci95_low_linearised"), 1e-5);
                close(estimate.interval.1, row.number("ci95_high_linearised"), 1e-5);
            }
        }
        from_both_starts(form, scale, &points, &answers);
    }
}

fn from_both_starts(form: Form, scale: Scale, points: &Points, answers: &[&Row]) {
    let logarithmic = scale == Scale::Logarithmic;
    let curve = |x: f64, p: &[Dual]| {
        let mut p = p.to_vec();
        if logarithmic {
            p[0] = p[0].exp();
            form.at(x, &p).ln()
        } else {
            form.at(x, &p)
        }
    };
    let mut target = points.clone();
    if logarithmic {
        target.y.iter_mut().for_each(|y| *y = y.ln());
    }
    for start in ["start1", "start2"] {
        let from: Vec<f64> = answers.iter().map(|row| row.number(start)).collect();
        let end = minimum(&curve, &target, &from);
        assert!(end.converged);
        let inference = Inference::of(&end, &target, 0.95);
        for (estimate, row) in inference.estimates.iter().zip(answers) {
            close(estimate.value, row.number("value"), 1e-6);
            close(estimate.sd, row.number("sd"), 1e-5);
            close(estimate.interval.0, row.number("ci95_low_linearised"), 1e-5);
            close(estimate.interval.1, row.number("ci95_high_linearised"), 1e-5);
        }
    }
}

#[test]
fn lines_with_and_without_weights() {
    let data = rows(fixture!("fits/line-self-discharge.csv"), 8);
    let column = |name: &str| data.iter().map(|row| row.number(name)).collect::<Vec<f64>>();
    let expected = rows(fixture!("fits/line-expected.csv"), 39);
    let plain = Points::new(column("x"), column("y")).unwrap();
    let weighted = Points::weighted(column("x"), column("y"), column("weight")).unwrap();
    for (method, points) in [("ols", plain), ("wls", weighted)] {
        let line = line(&points);
        let [intercept, slope] = line.inference.estimates[..] else { panic!("a line has two parameters") };
        for row in expected.iter().filter(|row| row.text("method") == method) {
            let (quantity, place) =
                row.text("quantity").split_once('@').unwrap_or((row.text("quantity"), "0"));
            let band = line.band(place.parse().unwrap());
            let p = |estimate: meltbook::statistics::curve_fit::Estimate| {
                let t = (estimate.value / estimate.sd).abs();
                2.0 * meltbook::statistics::distribution::student_t_upper(t, line.inference.df as f64)
            };
            let found = match quantity {
                "intercept" => intercept.value,
                "intercept_se" => intercept.sd,
                "intercept_ci95_low" => intercept.interval.0,
                "intercept_ci95_high" => intercept.interval.1,
                "intercept_p" => p(intercept),
                "slope" => slope.value,
                "slope_se" => slope.sd,
                "slope_ci95_low" => slope.interval.0,
                "slope_ci95_high" => slope.interval.1,
                "slope_p" => p(slope),
                "residual_sd" => line.inference.residual_sd,
                "r_squared" => line.r_squared,
                "fit" => band.y,
                "mean_ci95_low" => band.mean.0,
                "mean_ci95_high" => band.mean.1,
                "prediction95_low" => band.further.0,
                "prediction95_high" => band.further.1,
                other => panic!("{other}"),
            };
            close(found, row.number("value"), 1e-9);
        }
    }
}

/// Four runs or fewer of 5 above and 5 below: 2 of the 252 orders have two runs, 8 have three, 32 have four, by
/// counting.
#[test]
fn runs_are_counted() {
    let signs = [1.0, 1.0, -1.0, -1.0, -1.0, 1.0, 1.0, 1.0, -1.0, -1.0];
    close(fewer_runs(&signs), (2.0 + 8.0 + 32.0) / 252.0, 1e-12);
    assert!(fewer_runs(&[1.0, 2.0]).is_nan());
}

fn line(points: &Points) -> Fit {
    let line = fit(Form::Line, Scale::Plain, points, 0.95).unwrap();
    assert!(line.is_identifiable());
    line
}

fn points(data: &str, count: usize) -> Points {
    let rows = rows(data, count);
    let column = |name: &str| rows.iter().map(|row| row.number(name)).collect();
    Points::new(column("x"), column("y")).unwrap()
}

fn off(found: f64, expected: f64) -> f64 {
    ((found - expected) / expected).abs()
}

#[track_caller]
fn close(found: f64, expected: f64, tolerance: f64) {
    assert_relative_eq!(found, expected, max_relative = tolerance, epsilon = 1e-300);
}
