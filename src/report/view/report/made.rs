//! What was made: what each batch is by what was really weighed, its water and its looks.

use super::ReportView;
use crate::record::life::{BatchStatus, Origin};
use crate::report::document::{Block, Table, column, heading, muted, paragraph, text};
use crate::report::standing::Standing;
use crate::report::view::amount::short;
use crate::report::view::batch::{batch_measured, batch_weighed, ratio_in_words, status};
use crate::report::view::moment::day;

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, "What was made"), overview(view).into()];
    blocks.push(paragraph(muted(
        "Ratios by what was really weighed, with what bottles say of assay and water; water by titration where there \
         was one.",
    )));
    for batch in &view.batches {
        let life = &batch.standing.life;
        blocks.push(heading(2, format!("{} {}", life.code, life.name)));
        blocks.extend(super::deeper(&batch_weighed(batch.standing), 2));
        blocks.extend(super::deeper(&batch_measured(batch.standing), 2));
    }
    blocks
}

fn overview(view: &ReportView<'_>) -> Table {
    let mut table = Table::new([
        column("Batch").key("batch"),
        column("What").key("what"),
        column("Made").key("made_on"),
        column("Ratio").key("ratio"),
        column("Water").unit("wt%").key("water_wt_pct").decimal(),
        column("").key("water_basis"),
        column("Looked like").key("appearance"),
        column("State").key("state"),
    ]);
    for batch in &view.batches {
        let (standing, life) = (batch.standing, &batch.standing.life);
        let water = standing.water_now();
        let basis = water.map_or("", |(_, titrated)| if titrated { "measured" } else { "predicted" });
        table.push([
            text(life.code.to_string()),
            text(life.name.as_str()),
            text(begun(standing, view)),
            text(ratio_in_words(standing)),
            text(water.map_or(String::new(), |(water, _)| short(water * 100.0, 4))),
            text(basis),
            text(last_look(standing)),
            state(standing),
        ]);
    }
    table
}

fn begun(standing: &Standing, view: &ReportView<'_>) -> String {
    let at = match &standing.life.origin {
        Origin::Planned(started) => started.at,
        Origin::Blended(blended) => blended.at,
    };
    let finished = standing.life.finished.as_ref().map(|finished| finished.what.at);
    day(finished.unwrap_or(at), view.zone)
}

fn last_look(standing: &Standing) -> String {
    let look = standing.life.appearance.last().map(|look| &look.what);
    look.map_or("nobody noted".to_owned(), |look| {
        [Some(look.clarity.clone()), look.colour.clone(), look.crystals.clone()]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(", ")
    })
}

fn state(standing: &Standing) -> crate::report::document::Text {
    if standing.life.status == BatchStatus::Started { text("being weighed") } else { status(standing) }
}
