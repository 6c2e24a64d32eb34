//! What was found of a batch: water, looks, properties, and how they stand to the limits.

use crate::quantity::Property;
use crate::report::document::{Block, Caution, Table, bullets, column, heading, paragraph};
use crate::report::standing::Standing;
use crate::report::view::amount::short;

pub(super) fn water(standing: &Standing) -> Vec<Block> {
    let Some((now, measured)) = standing.water_now() else { return Vec::new() };
    let mut blocks = vec![heading(1, "Water")];
    if !standing.water.is_empty() {
        let mut table = Table::new([
            column("On").key("at"),
            column("Method").key("method"),
            column("Measured").unit("wt%").key("water_wt_pct").decimal(),
            column("±").unit("wt%").key("uncertainty_wt_pct").decimal(),
            column("Predicted").unit("wt%").key("predicted_wt_pct").decimal(),
        ]);
        for point in &standing.water {
            table.push([
                day(&point.measured.at),
                point.measured.method.clone(),
                short(point.result.fraction * 100.0, 4),
                point.result.standard_uncertainty.map_or("not stated".to_owned(), |u| short(u * 100.0, 2)),
                point.predicted.map_or(String::new(), |w| short(w * 100.0, 4)),
            ]);
        }
        blocks.push(table.into());
    }
    let by = if measured {
        "by the last measurement and what was put in since"
    } else {
        "by what the masses and bottles say; nothing was measured"
    };
    blocks.push(paragraph(format!(
        "Water now: {} wt% ({} ppm) {by}.",
        short(now * 100.0, 4),
        short(now * 1e6, 4)
    )));
    blocks
}

pub(super) fn appearance(standing: &Standing) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !standing.life.appearance.is_empty() {
        let mut table = Table::new([
            column("On").key("at"),
            column("Occasion").key("occasion"),
            column("Clarity").key("clarity"),
            column("Colour").key("colour"),
            column("Crystals").key("crystals"),
            column("Phases").key("phases"),
            column("Bubbles").key("bubbles"),
            column("At").key("temperature"),
        ]);
        for look in standing.life.appearance.iter().map(|look| &look.what) {
            table.push([
                day(&look.at),
                look.occasion.clone(),
                look.clarity.clone(),
                look.colour.clone().unwrap_or_default(),
                look.crystals.clone().unwrap_or_default(),
                look.phases.map_or(String::new(), |phases| phases.to_string()),
                look.bubbles.clone().unwrap_or_default(),
                look.temperature.as_ref().map_or(String::new(), |at| at.text.clone()),
            ]);
        }
        blocks.extend([heading(1, "Appearance"), table.into()]);
    }
    if let Some(next) = standing.looks.iter().find(|look| look.done.is_none()) {
        blocks.push(paragraph(format!("Next look: {}, due {}.", next.occasion, day(&next.due))));
    }
    blocks
}

pub(super) fn properties(standing: &Standing) -> Vec<Block> {
    if standing.life.properties.is_empty() {
        return Vec::new();
    }
    let mut table = Table::new([
        column("On").key("at"),
        column("Property").key("property"),
        column("Value").key("value"),
        column("±").key("uncertainty"),
        column("At").key("temperature"),
        column("Method").key("method"),
    ]);
    for measured in standing.life.properties.iter().map(|measured| &measured.what) {
        let unit = Property::from_id(&measured.property).map_or("", Property::unit);
        let rate = measured.scan_rate_k_per_min.map(|rate| format!("{rate} K/min"));
        let method: Vec<String> = measured.method.iter().cloned().chain(rate).collect();
        table.push([
            day(&measured.at),
            measured.property.clone(),
            format!("{} {unit}", short(measured.value, 6)).trim().to_owned(),
            measured.uncertainty.map_or(String::new(), |u| short(u, 2)),
            measured.temperature.as_ref().map_or(String::new(), |at| at.text.clone()),
            method.join(", "),
        ]);
    }
    vec![heading(1, "Properties"), table.into()]
}

pub(super) fn limits(standing: &Standing) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Against the recipe's limits")];
    let (bad, met): (Vec<_>, Vec<_>) = standing.comparisons.iter().partition(|c| c.met == Some(false));
    blocks.extend(bad.iter().map(|c| Caution::warn(c.sentence.as_str()).into()));
    if !met.is_empty() {
        blocks.push(bullets(met.iter().map(|c| c.sentence.as_str())).into());
    }
    if standing.comparisons.is_empty() {
        blocks.push(paragraph("No recipe states a limit for it."));
    }
    blocks
}

fn day(at: &jiff::Timestamp) -> String {
    at.to_string().chars().take(16).collect::<String>().replace('T', " ")
}
