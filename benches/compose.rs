//! How long a predicted liquidus takes: inside the library, and as a whole process, as a person waits for it.
//!
//! `cargo bench --bench compose`. Aim: a binary curve with bands (2,000 draws) and a ternary surface at a grid of 1 %,
//! each as a whole process, under 100 ms.

// A measurement of something that fails is none: it ends at once.
#![allow(clippy::expect_used)]

use std::process::{Command, Stdio};

use divan::Bencher;
use meltbook::compose::liquidus::{
    ActivityModel, Fusion, ModelForm, ModelSpread, PairModel, Solid, System, bands, surface,
};
use meltbook::quantity::{MolarEnthalpy, Temperature};

fn main() {
    divan::main();
}

fn system(of: usize, model: ActivityModel) -> System {
    let data = [("thymol", 322.75, 21300.0), ("decanoic acid", 304.54, 27800.0), ("phenol", 314.04, 11510.0)];
    let solids = data.iter().take(of).enumerate().map(|(at, (name, melting, enthalpy))| {
        let fusion = Fusion {
            melting_u_k: Some(1.0),
            enthalpy_u: Some(MolarEnthalpy::new(400.0)),
            ..Fusion::new(Temperature::from_kelvin(*melting), MolarEnthalpy::new(*enthalpy))
        };
        Solid::pure(*name, at, of, fusion)
    });
    let solids: Vec<Solid> = solids.collect();
    System { components: solids.iter().map(|own| own.name.clone()).collect(), solids, model }
}

fn pairs(form: ModelForm, parameters: &[f64], of: usize) -> ActivityModel {
    let all = [(0, 1), (0, 2), (1, 2)];
    let pairs = all.iter().filter(|(_, other)| *other < of);
    let pairs = pairs.map(|(first, second)| PairModel {
        first: *first,
        second: *second,
        form,
        parameters: parameters.to_vec(),
    });
    ActivityModel::of(of, &pairs.collect::<Vec<_>>())
}

/// 2,000 draws of a curve of two components, by the model.
#[divan::bench(args = ["ideal", "margules", "nrtl"])]
fn bands_of_two_thousand_draws(bencher: Bencher, model: &str) {
    let model = match model {
        "margules" => pairs(ModelForm::TwoSuffix, &[-1500.0], 2),
        "nrtl" => pairs(ModelForm::Nrtl(0.3), &[-800.0, -500.0], 2),
        _ => ActivityModel::Ideal,
    };
    let system = system(2, model);
    bencher.bench_local(|| bands(&system, &ModelSpread::default(), (2000, 1), 50, 0.95, None));
}

/// The surface of three components at 1 %, by the model.
#[divan::bench(args = ["ideal", "margules", "nrtl"])]
fn surface_at_one_percent(bencher: Bencher, model: &str) {
    let model = match model {
        "margules" => pairs(ModelForm::TwoSuffix, &[-1500.0], 3),
        "nrtl" => pairs(ModelForm::Nrtl(0.3), &[-800.0, -500.0], 3),
        _ => ActivityModel::Ideal,
    };
    let system = system(3, model);
    bencher.bench_local(|| surface(&system, 100));
}

/// From the shell's call to the exit code: both published sets of choline chloride, 2,000 draws each.
#[divan::bench(args = ["table", "json", "html"], sample_count = 30, sample_size = 1)]
fn whole_process_of_a_curve_with_bands(bencher: Bencher, format: &str) {
    bencher.bench_local(|| run(&["liquidus", "ChCl", "urea", "--format", format]));
}

/// The same of a liquid that comes apart into two, where each draw has a level of its own to be found.
#[divan::bench(args = ["table", "html"], sample_count = 30, sample_size = 1)]
fn whole_process_of_a_curve_of_two_liquids(bencher: Bencher, format: &str) {
    let (one, other) =
        ("naphthalene melts=353.37±0.5K fusion=19010J/mol", "biphenyl melts=342.08±0.5K fusion=18570J/mol");
    let model = ["--model", "margules A=9000±200J/mol"];
    let pure = ["liquidus", "naphthalene", "biphenyl", "--pure", one, "--pure", other];
    bencher.bench_local(|| run(&[&pure[..], &model, &["--format", format]].concat()));
}

/// The same of three components.
#[divan::bench(args = ["table", "json", "html"], sample_count = 30, sample_size = 1)]
fn whole_process_of_a_ternary_surface(bencher: Bencher, format: &str) {
    bencher.bench_local(|| run(&["liquidus", "thymol", "decanoic-acid", "phenol", "--format", format]));
}

fn run(arguments: &[&str]) {
    let status = Command::new(env!("CARGO_BIN_EXE_meltbook"))
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::inherit())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{arguments:?}");
}
