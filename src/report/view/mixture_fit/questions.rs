//! Where the best is, and what to test next.

use super::{MixtureFitView, digits, known};
use crate::compose::mixture::{Goal, Optimum};
use crate::quantity::significant;
use crate::report::document::{Block, Table, column, paragraph};

/// The best by each goal, with what can't be told apart from it.
pub(super) fn optima(view: &MixtureFitView<'_>) -> Vec<Block> {
    let mut columns = vec![column("Wanted").key("goal")];
    columns.extend(view.names.iter().map(|name| column(*name).key(*name).decimal()));
    columns.extend(
        view.variables()
            .iter()
            .map(|own| column(own.name.as_str()).unit(own.unit.as_deref().unwrap_or_default()).decimal()),
    );
    let unit = view.unit.unwrap_or_default();
    columns.extend([
        column("Model").unit(unit).key("value").decimal(),
        column("Its interval").unit(unit).key("interval"),
        column("One further result").unit(unit).key("further"),
    ]);
    let mut table = Table::new(columns);
    for own in &view.optima {
        let between = |reach: f64| {
            known(reach, |reach| {
                let (low, high) = (own.value - reach, own.value + reach);
                format!("{} to {}", digits(low, reach / 2.0), digits(high, reach / 2.0))
            })
        };
        let mut cells = vec![goal_words(own.goal)];
        cells.extend(own.fractions.iter().map(|x| format!("{x:.4}")));
        cells.extend(own.setting.iter().map(|value| significant(*value, 4)));
        cells.extend([digits(own.value, own.reach / 2.0), between(own.reach), between(own.further_reach)]);
        table.push(cells);
    }
    let mut blocks: Vec<Block> = vec![table.into()];
    blocks.extend(view.optima.iter().filter_map(|own| alike(view, own)).map(paragraph));
    blocks
}

/// A goal in words.
pub(super) fn goal_words(goal: Goal) -> String {
    match goal {
        Goal::Maximum => "maximum".to_owned(),
        Goal::Minimum => "minimum".to_owned(),
        Goal::Target(target) => format!("near {target}"),
    }
}

fn alike(view: &MixtureFitView<'_>, own: &Optimum) -> Option<String> {
    let bounds = own.alike.as_ref()?;
    let range = |(name, bound): (&&str, &crate::compose::mixture::Bound)| {
        format!("{name} {:.3} to {:.3}", bound.low, bound.high)
    };
    let ranges: Vec<String> = view.names.iter().zip(bounds).map(range).collect();
    let what = match own.goal {
        Goal::Target(_) => "near that value lie as well",
        _ => "not to be told apart from it are",
    };
    Some(format!(
        "{}: {what} compositions within {}; not every one of them, since fractions go together.",
        goal_words(own.goal),
        ranges.join(", ")
    ))
}

/// The runs that would teach most.
pub(super) fn next(view: &MixtureFitView<'_>) -> Vec<Block> {
    let Some(next) = &view.next else {
        return vec![paragraph(
            "These results can't tell this model, and no further runs were found within these bounds that would, however many, \
             among corners, edges, middles and even points: widen the bounds, take a smaller --model, or plan anew with \
             mixture optimal.",
        )];
    };
    if next.is_empty() {
        return vec![paragraph("No further runs were asked for.")];
    }
    let told = view.study.as_ref().ok();
    let mut columns: Vec<_> = view.names.iter().map(|name| column(*name).key(*name).decimal()).collect();
    columns.extend(
        view.variables()
            .iter()
            .map(|own| column(own.name.as_str()).unit(own.unit.as_deref().unwrap_or_default()).decimal()),
    );
    columns.extend([
        column("Model").key("value").decimal(),
        column("Its standard error").key("sd").decimal(),
        column("The same over the residual SD").key("unit_sd").decimal(),
    ]);
    let mut table = Table::new(columns);
    for own in next {
        let unit_sd = own.unit_sd.unwrap_or(f64::NAN);
        let sd = told.map_or(f64::NAN, |study| unit_sd * study.regression.variance.residual_sd());
        let value = told.map_or(f64::NAN, |study| study.value(&own.fractions, &own.setting));
        let mut cells: Vec<String> = own.fractions.iter().map(|x| format!("{x:.4}")).collect();
        cells.extend(own.setting.iter().map(|value| significant(*value, 4)));
        cells.extend([
            known(value, |value| digits(value, sd)),
            known(sd, |sd| significant(sd, 2)),
            known(unit_sd, |sd| format!("{sd:.3}")),
        ]);
        table.push(cells);
    }
    let words = if view.next_is_beyond {
        "With all of these the model could be told. They lie beyond what the results span, since no further runs within that would \
         tell it: bounds of your own (--bound) keep them where you can work."
    } else if told.is_some() {
        "These together would sharpen all coefficients most (D-optimal beside the results), among the corners, edges \
         and middles of the region."
    } else {
        "With all of these together the model could be told."
    };
    vec![table.into(), paragraph(words)]
}
