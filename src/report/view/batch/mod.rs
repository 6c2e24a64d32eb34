//! Batches: the life of one on one screen, and a list.

mod findings;
mod masses;

use crate::caution::Review;
use crate::record::life::{BatchStatus, Origin};
use crate::report::document::{
    Block, Document, Table, Text, column, facts, heading, numbered, paragraph, strong, text,
};
use crate::report::standing::Standing;
use crate::report::view::amount::short;
use crate::report::view::cautions::hazards_at_a_glance;
use crate::report::view::cautions_on_sheet;

pub use masses::{grams_of, ratio_in_words, window_in_words};

/// The life of one batch.
pub fn batch_document(standing: &Standing, review: &Review) -> Document {
    let code = &standing.life.code;
    let mut document = Document::new(format!("Batch {code}")).footer(code.to_string());
    document.extend(batch_blocks(standing, review));
    document
}

/// The same without its title. While it is being weighed there is nothing yet to hold against limits.
pub fn batch_blocks(standing: &Standing, review: &Review) -> Vec<Block> {
    let mut lines = overview(standing);
    lines.push(("Hazards", hazards_at_a_glance(review)));
    let mut blocks = vec![facts(lines), masses::weighed(standing)];
    blocks.extend(masses::conditions(standing));
    blocks.extend(masses::ratio(standing));
    let weighing = standing.life.status == BatchStatus::Started;
    if !weighing {
        blocks.push(masses::balance_of_masses(standing));
    }
    blocks.extend(batch_findings(standing));
    blocks.push(heading(1, "Cautions"));
    blocks.extend(cautions_on_sheet(review));
    blocks
}

/// What was weighed and the ratio that it comes to.
pub(in crate::report::view) fn batch_weighed(standing: &Standing) -> Vec<Block> {
    let mut blocks = vec![masses::weighed(standing)];
    blocks.extend(masses::ratio(standing));
    blocks
}

/// What was found of it: water, looks, properties.
pub(in crate::report::view) fn batch_measured(standing: &Standing) -> Vec<Block> {
    let mut blocks = findings::water(standing);
    blocks.extend(findings::appearance(standing));
    blocks.extend(findings::properties(standing));
    blocks
}

/// The same, and how it stands to its limits.
pub(in crate::report::view) fn batch_findings(standing: &Standing) -> Vec<Block> {
    let mut blocks = batch_measured(standing);
    if standing.life.status != BatchStatus::Started {
        blocks.extend(findings::limits(standing));
    }
    blocks
}

/// What a batch is and how far it has come.
fn overview(standing: &Standing) -> Vec<(&'static str, Text)> {
    let life = &standing.life;
    let mut lines = vec![
        ("What", format!("{}: {}", life.code.kind().words(), life.name).into()),
        ("Status", status(standing)),
    ];
    if let Origin::Planned(started) = &life.origin {
        let size = &started.plan.size;
        let flask = format!("{} g in the flask", short(started.plan.mass_g, 7));
        let same = size.ends_with("in the flask");
        lines.push(("Planned", if same { size.into() } else { format!("{size}, {flask}").into() }));
        lines.extend(started.because.iter().map(|because| ("In spite of a bottle", text(because))));
    }
    for permit in life.permits() {
        let (name, person) = (&permit.procedure, &permit.person);
        let words = format!("{name}, responsible {person} ({})", permit.alerts.join(", "));
        lines.push(("Written procedure", strong(words)));
    }
    if let Origin::Blended(blended) = &life.origin {
        let from = blended.from.iter().map(|part| format!("{} of {}", part.mass.text, part.batch));
        lines.push(("Blended from", from.collect::<Vec<_>>().join(", ").into()));
    }
    if let Some(finished) = life.finished.as_ref().map(|finished| &finished.what) {
        let mut made: Vec<String> = finished.route.iter().cloned().collect();
        made.extend(finished.heat.as_ref().map(|heat| format!("at {}", heat.text)));
        made.extend(finished.time.as_ref().map(|time| format!("for {}", time.text)));
        made.extend(finished.atmosphere.as_ref().map(|gas| format!("under {gas}")));
        made.extend(finished.end.as_ref().map(|end| format!("until {end}")));
        if !made.is_empty() {
            lines.push(("Made", made.join(" ").into()));
        }
    }
    lines
}

/// How far it has come, with the reason.
pub(in crate::report::view) fn status(standing: &Standing) -> Text {
    let life = &standing.life;
    let reason = |because: &Option<String>| {
        because.as_ref().map_or(String::new(), |why| format!(", in spite of a limit: {why}"))
    };
    match (life.status, &life.released, &life.rejected) {
        (BatchStatus::Released, Some(released), _) => {
            let meets = if released.what.because.is_none() { ": meets its recipe's limits" } else { "" };
            strong(format!("released{meets}{}", reason(&released.what.because)))
        }
        (BatchStatus::Rejected, _, Some(rejected)) => strong(format!("rejected: {}", rejected.what.reason)),
        (BatchStatus::Finished, Some(_), _) => text("finished; changed since it was released"),
        (status, ..) => text(status.word()),
    }
}

/// The procedure, as it was frozen.
pub fn batch_procedure(standing: &Standing) -> Document {
    let steps = standing.life.plan().map(|plan| plan.procedure.clone()).unwrap_or_default();
    let document = Document::new("Procedure");
    if steps.is_empty() { document } else { document.with(heading(1, "Procedure")).with(numbered(steps)) }
}

/// One row for each batch.
pub fn batch_list(batches: &[Standing]) -> Document {
    let mut table = Table::new([
        column("Code").key("code"),
        column("Name").key("name"),
        column("Status").key("status"),
        column("Made").unit("g").key("total_g").decimal(),
        column("Left").unit("g").key("left_g").decimal(),
        column("Water").unit("wt%").key("water_wt_pct").decimal(),
    ]);
    for standing in batches {
        let life = &standing.life;
        table.push([
            life.code.to_string(),
            life.name.clone(),
            life.status.word().to_owned(),
            format!("{:.3}", life.total_g()),
            format!("{:.3}", life.left_g()),
            standing.water_now().map_or(String::new(), |(water, _)| short(water * 100.0, 3)),
        ]);
    }
    let document = Document::new("Batches").with(table);
    if batches.is_empty() {
        return document.with(paragraph("No batch yet. Begin one with: meltbook batch start."));
    }
    document
}
