//! The tables of a comparison.

use super::{ComparisonView, Figures};
use crate::report::document::{Table, column};
use crate::report::view::sample_figures::{plain, probability};
use crate::statistics::anova::Components;
use crate::statistics::comparison::{NamedTest, Unit};

/// Every figure of the pairs, a column each: for spreadsheets.
pub(super) fn pairs_data(view: &ComparisonView<'_>, figures: &Figures) -> Table {
    let (comparison, unit) = (view.comparison, figures.unit());
    let mut table = Table::new([
        column("First").key("a"),
        column("Second").key("b"),
        column("Difference").key("difference").unit(unit).decimal(),
        column(format!("{} from", view.sure())).key(view.key("low")).unit(unit).decimal(),
        column("to").key(view.key("high")).unit(unit).decimal(),
        column("p alone").key("p").decimal(),
        column("p adjusted").key("p_adjusted").decimal(),
        column("Hedges g").key("hedges_g").decimal(),
        column(format!("{} from", view.sure())).key(format!("hedges_g_{}", view.key("low"))).decimal(),
        column("to").key(format!("hedges_g_{}", view.key("high"))).decimal(),
    ]);
    for pair in &comparison.pairs {
        let [low, high] = pair.interval.unwrap_or([f64::NAN; 2]);
        let g = pair.effect.map_or(f64::NAN, |effect| effect.hedges_g);
        let [g_low, g_high] = pair.effect.map_or([f64::NAN; 2], |effect| effect.interval);
        table.push([
            comparison.members[pair.a].name.clone(),
            comparison.members[pair.b].name.clone(),
            figures.bare(pair.difference),
            figures.bare(low),
            figures.bare(high),
            probability(pair.p),
            probability(pair.p_adjusted),
            plain(g, 3),
            plain(g_low, 3),
            plain(g_high, 3),
        ]);
    }
    table
}

/// The pairs as they are read: an interval is one thing.
pub(super) fn pairs(view: &ComparisonView<'_>, figures: &Figures) -> Table {
    let (comparison, unit) = (view.comparison, figures.unit());
    let mut table = Table::new([
        column("First"),
        column("Second"),
        column("Difference").unit(unit).decimal(),
        column(format!("{} interval", view.sure())).unit(unit).right(),
        column("p alone").decimal(),
        column("p adjusted").decimal(),
        column("Hedges g").decimal(),
        column(format!("g, {} interval", view.sure())).right().if_room(),
    ])
    .caption("First less second");
    for pair in &comparison.pairs {
        let g = pair.effect.map_or(f64::NAN, |effect| effect.hedges_g);
        table.push([
            comparison.members[pair.a].name.clone(),
            comparison.members[pair.b].name.clone(),
            figures.bare(pair.difference),
            limits(pair.interval, |limit| figures.bare(limit)),
            probability(pair.p),
            probability(pair.p_adjusted),
            plain(g, 3),
            limits(pair.effect.map(|effect| effect.interval), |limit| plain(limit, 3)),
        ]);
    }
    table
}

/// "−0.017 to 0.035"; a dash where there are none.
fn limits(limits: Option<[f64; 2]>, shown: impl Fn(f64) -> String) -> String {
    match limits {
        Some([low, high]) if low.is_finite() || high.is_finite() => {
            format!("{} to {}", shown(low), shown(high))
        }
        _ => "–".to_owned(),
    }
}

pub(super) fn groups(view: &ComparisonView<'_>, figures: &Figures) -> Table {
    let unit = figures.unit();
    let (of, count) = match view.comparison.unit {
        Unit::Batch => ("Means of batches", "Batches"),
        Unit::Cell => ("Cells", "Cells"),
    };
    let mut table = Table::new([
        column("Group"),
        column(count).right(),
        column("Mean").unit(unit).decimal(),
        column(format!("{} from", view.sure())).unit(unit).decimal(),
        column("to").unit(unit).decimal(),
        column("SD").unit(unit).decimal(),
    ])
    .caption(of);
    for member in &view.comparison.members {
        let [low, high] = member.interval.unwrap_or([f64::NAN; 2]);
        table.push([
            member.name.clone(),
            member.units.len().to_string(),
            figures.bare(member.moments.mean),
            figures.bare(low),
            figures.bare(high),
            figures.bare(member.moments.sd()),
        ]);
    }
    table
}

pub(super) fn tests(view: &ComparisonView<'_>) -> Table {
    let mut table = Table::new([
        column("Question"),
        column("Test"),
        column("Statistic").decimal(),
        column("df"),
        column("p").decimal(),
    ]);
    for test in all_tests(view) {
        let (question, name) = words(test.name);
        let df: Vec<String> = test.df.iter().map(|df| freedom(*df)).collect();
        table.push([
            question.to_owned(),
            name.to_owned(),
            plain(test.statistic, 4),
            df.join(" and "),
            probability(test.p),
        ]);
    }
    table
}

/// Degrees of freedom: whole ones without decimals.
fn freedom(df: f64) -> String {
    if df.fract() == 0.0 { df.to_string() } else { plain(df, 3) }
}

/// The tests over all groups, in the order in which they are read.
pub fn all_tests(view: &ComparisonView<'_>) -> Vec<NamedTest> {
    let comparison = view.comparison;
    let nested = comparison.nested.as_ref();
    let f = |name: &'static str, test: crate::statistics::anova::FTest| NamedTest {
        name,
        statistic: test.f,
        df: vec![test.df1, test.df2],
        p: test.p,
    };
    let between = nested.and_then(|nested| nested.between_groups()).map(|test| f("nested_anova", test));
    let batches =
        nested.and_then(|nested| nested.between_batches()).map(|test| f("batches_within_groups", test));
    let fisher =
        view.fisher.map(|p| NamedTest { name: "fisher_exact", statistic: f64::NAN, df: Vec::new(), p });
    let first = comparison.overall.clone().into_iter().chain(between).chain(batches);
    first.chain(comparison.spread.clone()).chain(fisher).collect()
}

fn words(name: &str) -> (&'static str, &'static str) {
    match name {
        "welch_t" => ("Do the two differ?", "Welch's t"),
        "student_t" => ("Do the two differ?", "Student's t"),
        "mann_whitney_exact" => ("Do the two differ?", "Mann–Whitney U, exact"),
        "mann_whitney" => ("Do the two differ?", "Mann–Whitney U"),
        "welch_anova" => ("Does any differ?", "Welch's analysis of variance, F"),
        "anova" => ("Does any differ?", "Analysis of variance, F"),
        "kruskal_wallis_exact" => ("Does any differ?", "Kruskal–Wallis H, exact"),
        "kruskal_wallis" => ("Does any differ?", "Kruskal–Wallis H"),
        "nested_anova" => ("Does any differ, against batches?", "Nested analysis of variance, F"),
        "batches_within_groups" => ("Do batches differ?", "Batches against cells, F"),
        "brown_forsythe" => ("Is the spread equal?", "Brown–Forsythe, F"),
        "levene" => ("Is the spread equal?", "Levene, F"),
        "bartlett" => ("Is the spread equal?", "Bartlett, χ²"),
        "fisher_exact" => ("Do cells fail alike?", "Fisher, exact"),
        _ => ("", ""),
    }
}

pub(super) fn batches(view: &ComparisonView<'_>) -> Table {
    let unit = view.unit.unwrap_or_default();
    let mut table = Table::new([
        column("Group"),
        column("Batches").right(),
        column("Cells").right(),
        column("SD between batches").unit(unit).decimal(),
        column("SD within a batch").unit(unit).decimal(),
        column("Variance between batches").unit("%").decimal(),
    ]);
    let row = |name: &str, batches: usize, cells: usize, parts: Option<Components>| {
        let figure = |value: Option<f64>, digits: usize| plain(value.unwrap_or(f64::NAN), digits);
        let share = |parts: Components| {
            let all = parts.between() + parts.within;
            if 0.0 < all { 100.0 * parts.between() / all } else { f64::NAN }
        };
        let between = parts.map(|parts| parts.between().sqrt());
        let zero = parts.is_some_and(|parts| parts.set_to_zero());
        [
            name.to_owned(),
            batches.to_string(),
            cells.to_string(),
            if zero { "0, came out below".to_owned() } else { figure(between, 3) },
            figure(parts.map(|parts| parts.within.sqrt()), 3),
            figure(parts.map(share), 3),
        ]
    };
    let members = &view.comparison.members;
    for member in members {
        table.push(row(&member.name, member.batches, member.cells.len(), member.components));
    }
    let sum =
        |count: &dyn Fn(&crate::statistics::comparison::Member) -> usize| members.iter().map(count).sum();
    match &view.comparison.nested {
        Some(nested) => table.total(row(
            "all together",
            sum(&|member| member.batches),
            sum(&|member| member.cells.len()),
            Some(nested.components()),
        )),
        None => table,
    }
}
