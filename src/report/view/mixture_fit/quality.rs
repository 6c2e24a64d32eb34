//! Analysis of variance, R² by their names, and each result.

use super::{MixtureFitView, digits, known, probability, signed};
use crate::compose::mixture::Study;
use crate::quantity::significant;
use crate::report::document::{Block, Table, column, facts};
use crate::statistics::anova::FTest;

/// The analysis of variance and the figures.
pub(super) fn quality(study: &Study) -> Vec<Block> {
    vec![analysis(study).into(), figures(study)]
}

fn analysis(study: &Study) -> Table {
    let variance = &study.regression.variance;
    let lack = &study.lack_of_fit;
    let mut table = Table::new([
        column("Source").key("source"),
        column("Sum of squares").key("ss").decimal(),
        column("df").key("df").right(),
        column("Mean square").key("ms").decimal(),
        column("F").key("f").decimal(),
        column("p").key("p").decimal(),
    ]);
    let mut row = |name: &str, ss: f64, df: usize, test: Option<FTest>| {
        let mean = if df == 0 { "–".to_owned() } else { significant(ss / df as f64, 5) };
        let (f, p) = test.map_or(("–".to_owned(), "–".to_owned()), |test| {
            (significant(test.f, 4), probability(test.p))
        });
        table.push([name.to_owned(), significant(ss, 5), df.to_string(), mean, f, p]);
    };
    row("Model, about the mean", variance.ss_model(), variance.df_model(), variance.test());
    row("Error", variance.ss_error, variance.df_error(), None);
    row("  of it lack of fit", lack.ss_lack, lack.df_lack, lack.test);
    row("  of it pure error", lack.ss_pure, lack.df_pure, None);
    row("Total, about the mean", variance.ss_total, variance.n.saturating_sub(1), None);
    table
}

fn figures(study: &Study) -> Block {
    let variance = &study.regression.variance;
    let share = |value: f64| known(value, |value| signed(format!("{value:.4}")));
    let (predicted, press) = match variance.press {
        Some(press) => (
            format!("{}, leaving out one result at a time", share(variance.predicted_r_squared())),
            significant(press, 5),
        ),
        None => ("not known: a coefficient rests on one result alone".to_owned(), "not known".to_owned()),
    };
    facts([
        ("Residual standard deviation", known(variance.residual_sd(), |sd| significant(sd, 3))),
        ("R² about the mean", share(variance.r_squared())),
        ("R² adjusted", share(variance.adjusted_r_squared())),
        ("R² predicted", predicted),
        ("PRESS", press),
        (
            "R² about zero",
            format!(
                "{}: near 1 for any response far from zero, so it says little",
                share(variance.r_squared_about_zero())
            ),
        ),
        ("Condition number", significant(study.regression.condition, 3)),
    ])
}

/// Each result beside what the model says.
pub(super) fn results(view: &MixtureFitView<'_>, study: &Study) -> Table {
    let mut columns = vec![column("From").key("label")];
    columns.extend(view.names.iter().map(|name| column(*name).key(*name).decimal().if_room()));
    columns.extend(view.variables().iter().map(|own| {
        column(own.name.as_str()).unit(own.unit.as_deref().unwrap_or_default()).decimal().if_room()
    }));
    columns.extend([
        column("Measured").key("measured").decimal(),
        column("Model").key("fitted").decimal(),
        column("Residual").key("residual").decimal(),
        column("Studentized").key("studentized").decimal(),
        column("Leverage").key("leverage").decimal(),
    ]);
    let mut table = Table::new(columns);
    let regression = &study.regression;
    let sd = regression.variance.residual_sd();
    let studentized = regression.studentized();
    for (at, own) in view.observed.iter().enumerate() {
        let mut cells = vec![view.labels[at].clone()];
        cells.extend(own.fractions.iter().map(|x| format!("{x:.4}")));
        cells.extend(own.setting.iter().map(|value| significant(*value, 4)));
        cells.extend([
            digits(own.response, sd),
            digits(regression.fitted[at], sd),
            digits(regression.residuals[at], sd),
            known(studentized[at], |value| signed(format!("{value:.2}"))),
            format!("{:.3}", regression.leverage[at]),
        ]);
        table.push(cells);
    }
    table
}
