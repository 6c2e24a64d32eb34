//! Mean, standard deviation and analysis of variance of NIST's reference sets; sources in the READMEs of
//! `tests/fixtures/statistics/nist`.

use std::collections::BTreeMap;

use approx::assert_relative_eq;
use meltbook::statistics::anova::Anova;
use meltbook::statistics::moments::Moments;

use super::rows::rows;

macro_rules! set {
    ($folder:literal, $name:literal) => {
        ($name, include_str!(concat!("../../fixtures/statistics/nist/", $folder, "/", $name, ".csv")))
    };
}

const UNIVARIATE: [(&str, &str); 5] = [
    set!("univariate", "Lew"),
    set!("univariate", "Lottery"),
    set!("univariate", "Michelso"),
    set!("univariate", "NumAcc1"),
    set!("univariate", "NumAcc3"),
];

const ANOVA: [(&str, &str); 5] = [
    set!("anova", "SiRstv"),
    set!("anova", "SmLs01"),
    set!("anova", "SmLs02"),
    set!("anova", "SmLs04"),
    set!("anova", "SmLs07"),
];

/// The certified values, a row for each set.
fn certified<'s>(csv: &str, sets: &'s [(&str, &str)]) -> Vec<(super::rows::Row, &'s str)> {
    let rows = rows(csv, sets.len());
    let data = |name: &str| sets.iter().find(|(known, _)| *known == name).unwrap().1;
    rows.into_iter()
        .map(|row| {
            let text = data(row.text("dataset"));
            (row, text)
        })
        .collect()
}

#[test]
fn nist_means_and_deviations() {
    let file = include_str!("../../fixtures/statistics/nist/univariate-certified.csv");
    for (row, data) in certified(file, &UNIVARIATE) {
        let values: Vec<f64> = rows(data, row.count("n")).iter().map(|row| row.number("y")).collect();
        let moments = Moments::of(&values);
        let (mean, sd) = (row.number("certified_mean"), row.number("certified_sd_n_minus_1"));
        assert_relative_eq!(moments.mean, mean, max_relative = row.number("rel_tol_mean"));
        assert_relative_eq!(moments.sd(), sd, max_relative = row.number("rel_tol_sd"));
    }
}

#[test]
fn nist_analyses_of_variance() {
    let file = include_str!("../../fixtures/statistics/nist/anova-certified.csv");
    for (row, data) in certified(file, &ANOVA) {
        let mut groups: BTreeMap<String, Vec<f64>> = BTreeMap::new();
        for line in rows(data, row.count("n")) {
            groups.entry(line.text("group").to_owned()).or_default().push(line.number("y"));
        }
        assert_eq!(groups.len(), row.count("groups"));
        let groups: Vec<&[f64]> = groups.values().map(Vec::as_slice).collect();
        let anova = Anova::of(&groups).unwrap();
        let test = anova.test().unwrap();
        let tolerance = row.number("rel_tol_F");
        let check =
            |key: &str, value: f64| assert_relative_eq!(value, row.number(key), max_relative = tolerance);
        check("F", test.f);
        check("ss_between", anova.ss_between);
        check("ss_within", anova.ss_within);
        check("ms_between", anova.ms_between());
        check("ms_within", anova.ms_within());
        check("r_squared", anova.eta_squared());
        check("residual_sd", anova.ms_within().sqrt());
        assert_eq!((test.df1, test.df2), (row.number("df_between"), row.number("df_within")));
    }
}
