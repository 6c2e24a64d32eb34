//! Failed cells, and what leaving them out changes.

use super::{ComparisonView, Figures};
use crate::report::document::{Block, Table, column, heading};
use crate::report::view::sample_figures::{plain, probability};
use crate::statistics::comparison::{Comparison, Pair};

pub(super) fn blocks(view: &ComparisonView<'_>, figures: &Figures) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Failed cells"), counts(view).into(), causes(view, figures).into()];
    blocks.extend(view.with_excluded.map(|with| both(view.comparison, with, figures).into()));
    blocks
}

pub(super) fn counts(view: &ComparisonView<'_>) -> Table {
    let mut table = Table::new([
        column("Group"),
        column("Failed").right(),
        column("Of").right(),
        column("Share").unit("%").decimal(),
        column("95 % from").unit("%").decimal(),
        column("to").unit("%").decimal(),
    ]);
    for count in view.counts {
        let [low, high] = count.interval.unwrap_or([f64::NAN; 2]);
        let share = count.failed.len() as f64 / count.all as f64;
        let percent = |share: f64| plain(100.0 * share, 3);
        table.push([
            count.name.clone(),
            count.failed.len().to_string(),
            count.all.to_string(),
            percent(share),
            percent(low),
            percent(high),
        ]);
    }
    table
}

fn causes(view: &ComparisonView<'_>, figures: &Figures) -> Table {
    let counted = view.counts.iter().flat_map(|count| &count.failed).any(|cell| cell.counted);
    let mut table = Table::new([
        column(if counted { "Failed" } else { "Left out" }),
        column("Group"),
        column("Cause"),
        column("Value").unit(figures.unit()).decimal(),
    ]);
    for count in view.counts {
        for cell in &count.failed {
            let value = figures.bare(cell.value.unwrap_or(f64::NAN));
            let later = if cell.counted { ", later: it counts" } else { "" };
            table.push([cell.label.clone(), count.name.clone(), format!("{}{later}", cell.cause), value]);
        }
    }
    table
}

/// Each pair without and with the cells that were left out.
pub(super) fn both(without: &Comparison, with: &Comparison, figures: &Figures) -> Table {
    let unit = figures.unit();
    let mut table = Table::new([
        column("First"),
        column("Second"),
        column("Difference").unit(unit).decimal(),
        column("p adjusted").decimal(),
        column("With all: difference").unit(unit).decimal(),
        column("p adjusted").decimal(),
    ])
    .caption("With and without the cells left out");
    for pair in &without.pairs {
        let names = |comparison: &Comparison, pair: &Pair| {
            [comparison.members[pair.a].name.clone(), comparison.members[pair.b].name.clone()]
        };
        let own = names(without, pair);
        let other = with.pairs.iter().find(|other| names(with, other) == own);
        let [a, b] = own;
        table.push([
            a,
            b,
            figures.bare(pair.difference),
            probability(pair.p_adjusted),
            figures.bare(other.map_or(f64::NAN, |other| other.difference)),
            probability(other.map_or(f64::NAN, |other| other.p_adjusted)),
        ]);
    }
    table
}
