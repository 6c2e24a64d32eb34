//! What to weigh now, after a real mass.

use super::amount::{percent, planned, short};
use crate::plan::{Plan, Retarget};
use crate::report::document::{Block, Table, big, column, heading, paragraph, text};

/// The re-targeted rest. `accepted` says that the person asked to leave the masses as they are.
pub fn retarget_blocks(plan: &Plan, retarget: &Retarget, accepted: bool) -> Vec<Block> {
    let title = if accepted { "As weighed, ratio accepted" } else { "What to add now" };
    let mut table = Table::new([
        column("Component").key("component"),
        column("Planned").unit("g").key("planned_g").decimal(),
        column("Weighed").unit("g").key("weighed_g").decimal(),
        column("Add now").unit("g").key("add_g").decimal(),
    ]);
    for line in &retarget.lines {
        table.push([
            text(line.component.as_str()),
            text(planned(line.planned, plan)),
            text(line.weighed.map_or("not yet".to_owned(), |mass| planned(mass, plan))),
            big(planned(line.to_add(), plan)),
        ]);
    }
    let mut blocks = vec![heading(1, title), table.into()];
    blocks.push(paragraph(format!(
        "The batch becomes {} g ({} g planned). Nothing is taken out.",
        planned(retarget.batch, plan),
        planned(plan.mass, plan)
    )));
    if !accepted {
        blocks.push(paragraph(format!(
            "If nothing is corrected, the ratio is {}: off by {} at most.",
            ratio(&retarget.ratio_if_nothing_added),
            percent(retarget.deviation_if_nothing_added, 3)
        )));
    }
    let after = if accepted { "The ratio is" } else { "With that added, the ratio is" };
    blocks.push(paragraph(format!(
        "{after} {}: off by {} at most; the tolerance is {}.",
        ratio(&retarget.ratio_after),
        percent(retarget.deviation_after, 3),
        percent(plan.request.tolerance.value.get(), 3)
    )));
    for line in retarget.lines.iter().filter(|line| 0.0 < line.missing.get()) {
        blocks.push(paragraph(format!(
            "{}: {} g more is needed than there is.",
            line.component,
            planned(line.missing, plan)
        )));
    }
    blocks
}

fn ratio(ratio: &[(crate::component::ComponentId, f64)]) -> String {
    ratio.iter().map(|(_, number)| short(*number, 6)).collect::<Vec<_>>().join(" : ")
}
