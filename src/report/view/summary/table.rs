//! The tables of a summary.

use super::words::name;
use super::{Figures, SummaryView};
use crate::report::document::{Table, column};
use crate::report::view::sample_figures::{plain, probability};
use crate::statistics::summary::Summary;

fn pair(limits: Option<[f64; 2]>) -> [f64; 2] {
    limits.unwrap_or([f64::NAN; 2])
}

pub(super) fn means(view: &SummaryView<'_>, figures: &Figures) -> Table {
    let unit = figures.unit();
    let mut table = Table::new([
        column("Group"),
        column("n").right(),
        column("Mean").unit(unit).decimal(),
        column("95 % from").unit(unit).decimal(),
        column("to").unit(unit).decimal(),
        column("SD").unit(unit).decimal(),
        column("RSD").unit("%").decimal(),
        column("SD, 95 % interval").unit(unit).right().if_room(),
    ])
    .caption("Means");
    for group in &view.groups {
        let summary = group.summary;
        let [low, high] = pair(summary.mean_interval);
        let sd = |[low, high]: [f64; 2]| format!("{} to {}", figures.bare(low), figures.bare(high));
        table.push([
            name(&summary.name).to_owned(),
            summary.moments.n.to_string(),
            figures.bare(summary.moments.mean),
            figures.bare(low),
            figures.bare(high),
            figures.bare(summary.moments.sd()),
            plain(summary.rsd_percent(), 3),
            summary.sd_interval.map_or_else(|| "–".to_owned(), sd),
        ]);
    }
    table
}

pub(super) fn middles(view: &SummaryView<'_>, figures: &Figures) -> Table {
    let unit = figures.unit();
    let heads = ["Median", "MAD", "First quartile", "Third quartile", "Least", "Greatest"];
    let columns = heads.map(|head| column(head).unit(unit).decimal());
    let mut table = Table::new(std::iter::once(column("Group")).chain(columns)).caption("Middle and range");
    for group in &view.groups {
        let summary = group.summary;
        let [[q1, q3], [least, greatest]] = [summary.quartiles, summary.range];
        let figures = [summary.median, summary.mad, q1, q3, least, greatest].map(|value| figures.bare(value));
        table.push(std::iter::once(name(&summary.name).to_owned()).chain(figures));
    }
    table
}

pub(super) fn outliers(view: &SummaryView<'_>, figures: &Figures) -> Table {
    let mut table = Table::new([
        column("Group"),
        column("Shapiro–Wilk W").decimal(),
        column("p").decimal(),
        column("Furthest out").unit(figures.unit()).decimal(),
        column("Grubbs G").decimal(),
        column("Critical").decimal(),
        column("p").decimal(),
        column("Dixon r10").decimal(),
        column("p").decimal(),
    ]);
    for group in &view.groups {
        let summary = group.summary;
        let (shapiro, grubbs, dixon) = (summary.shapiro_wilk, summary.grubbs, summary.dixon);
        let or_nan = |value: Option<f64>| value.unwrap_or(f64::NAN);
        table.push([
            name(&summary.name).to_owned(),
            plain(or_nan(shapiro.map(|test| test.w)), 4),
            probability(or_nan(shapiro.map(|test| test.p))),
            figures.bare(or_nan(grubbs.map(|test| test.suspect))),
            plain(or_nan(grubbs.map(|test| test.g)), 4),
            plain(or_nan(grubbs.map(|test| test.critical)), 4),
            probability(or_nan(grubbs.map(|test| test.p))),
            plain(or_nan(dixon.map(|test| test.r10)), 3),
            probability(or_nan(dixon.map(|test| test.p))),
        ]);
    }
    table
}

/// The names of the columns for spreadsheets.
const FULL: [&str; 27] = [
    "group",
    "n",
    "mean",
    "sd",
    "rsd_pct",
    "ci95_low",
    "ci95_high",
    "sd_ci95_low",
    "sd_ci95_high",
    "median",
    "mad",
    "q1",
    "q3",
    "min",
    "max",
    "shapiro_w",
    "shapiro_p",
    "grubbs_suspect",
    "grubbs_g",
    "grubbs_critical",
    "grubbs_p",
    "dixon_suspect",
    "dixon_r10",
    "dixon_p",
    "tolerance_k",
    "tolerance_low",
    "tolerance_high",
];

pub(super) fn full(view: &SummaryView<'_>) -> Table {
    let mut table = Table::new(FULL.map(|key| column(key).key(key)));
    for group in &view.groups {
        let figures = numbers(group.summary)
            .map(|value| if value.is_finite() { value.to_string() } else { String::new() });
        let start = [name(&group.summary.name).to_owned(), group.summary.moments.n.to_string()];
        table.push(start.into_iter().chain(figures));
    }
    table
}

/// Every figure after the number, NaN where there is none.
fn numbers(summary: &Summary) -> [f64; 25] {
    let or_nan = |value: Option<f64>| value.unwrap_or(f64::NAN);
    let ([low, high], [sd_low, sd_high]) = (pair(summary.mean_interval), pair(summary.sd_interval));
    let [from, to] = pair(summary.tolerance.map(|tolerance| tolerance.interval));
    let (shapiro, grubbs, dixon) = (summary.shapiro_wilk, summary.grubbs, summary.dixon);
    [
        summary.moments.mean,
        summary.moments.sd(),
        summary.rsd_percent(),
        low,
        high,
        sd_low,
        sd_high,
        summary.median,
        summary.mad,
        summary.quartiles[0],
        summary.quartiles[1],
        summary.range[0],
        summary.range[1],
        or_nan(shapiro.map(|test| test.w)),
        or_nan(shapiro.map(|test| test.p)),
        or_nan(grubbs.map(|test| test.suspect)),
        or_nan(grubbs.map(|test| test.g)),
        or_nan(grubbs.map(|test| test.critical)),
        or_nan(grubbs.map(|test| test.p)),
        or_nan(dixon.map(|test| test.suspect)),
        or_nan(dixon.map(|test| test.r10)),
        or_nan(dixon.map(|test| test.p)),
        or_nan(summary.tolerance.map(|tolerance| tolerance.factor)),
        from,
        to,
    ]
}
