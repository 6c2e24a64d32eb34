//! Internal resistance, each with its method, and each source held against other readings.

use jiff::tz::TimeZone;

use super::{cell_of, filled};
use crate::cell::{FigureRules, Figures, Found, Method, Shot, Shown};
use crate::input::Warning;
use crate::report::document::{Block, Table, column, paragraph};
use crate::report::view::amount::short;
use crate::report::view::moment::day;

/// The tables; empty without a resistance.
pub fn resistance_blocks(list: &[Figures], rules: &FigureRules, zone: &TimeZone) -> Vec<Block> {
    if list.iter().all(|figures| figures.resistances.is_empty()) {
        return Vec::new();
    }
    let mut blocks: Vec<Block> = vec![table(list, zone).into()];
    blocks.extend(list.iter().filter_map(spread).map(paragraph));
    if list.iter().any(|figures| !figures.predictions.is_empty()) {
        blocks.push(predictions(list).into());
    }
    blocks.push(paragraph(rule(rules)));
    blocks
}

/// Readings that contradict each other.
pub(super) fn warnings(figures: &Figures) -> Vec<Warning> {
    let warning = |found: &Found| {
        let message = format!(
            "{}: {} after {} gives no resistance: the loaded reading is not lower",
            cell_of(figures),
            state(&found.heavy),
            state(&found.light)
        );
        Warning::new("contradiction", message.trim_start_matches(": ").to_owned())
    };
    // The other forms of the same pair say nothing new.
    let once = figures.contradictions.iter().filter(|found| found.method != Method::VoltageDrop);
    once.map(warning).collect()
}

fn table(list: &[Figures], zone: &TimeZone) -> Table {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("On").key("on"),
        column("Method").key("method"),
        column("Resistance").unit("Ω").key("internal_ohm").decimal(),
        column("From").key("light"),
        column("To").key("heavy"),
        column("After closing").unit("s").key("after_s").right(),
    ]);
    for figures in list {
        for found in &figures.resistances {
            let mark = if found.light.disturbed || found.heavy.disturbed { ", disturbed" } else { "" };
            table.push([
                cell_of(figures),
                found.heavy.at.map(|at| day(at, zone)).unwrap_or_default(),
                found.method.words().to_owned(),
                short(found.ohms, 4),
                format!("{}{mark}", state(&found.light)),
                state(&found.heavy),
                found.heavy.after_s.map_or("not said".to_owned(), |after| short(after, 4)),
            ]);
        }
    }
    filled(&table)
}

/// What a reading was, in words.
fn state(shot: &Shot) -> String {
    match shot.shown {
        Shown::Open { volts } => format!("{volts} V open"),
        Shown::Loaded { volts, load_ohms } => format!("{volts} V on {} Ω", short(load_ohms, 6)),
        Shown::Current { amperes, meter_ohms: None } => {
            format!("{} mA through the meter, its resistance not known", short(amperes * 1000.0, 6))
        }
        Shown::Current { amperes, meter_ohms: Some(ohms) } => {
            format!("{} mA through {} Ω", short(amperes * 1000.0, 6), short(ohms, 6))
        }
    }
}

/// How far the methods lie apart, of the last reading of each.
fn spread(figures: &Figures) -> Option<String> {
    let methods = [Method::OpenToLoaded, Method::ShortCircuit, Method::TwoLoads, Method::VoltageDrop];
    let last = |method: Method| figures.resistances.iter().rfind(|found| found.method == method);
    let found: Vec<&Found> = methods.into_iter().filter_map(last).collect();
    let (first, rest) = found.split_first()?;
    let least = rest.iter().fold(first, |a, b| if b.ohms < a.ohms { b } else { a });
    let most = rest.iter().fold(first, |a, b| if a.ohms < b.ohms { b } else { a });
    let cell = cell_of(figures);
    let of = if cell.is_empty() { String::new() } else { format!("{cell}: ") };
    (!rest.is_empty()).then(|| {
        format!(
            "{of}{} gives {} Ω more ({} %) than {}. They are different questions; compare cells by one of them.",
            most.method.words(),
            short(most.ohms - least.ohms, 3),
            short((most.ohms / least.ohms - 1.0) * 100.0, 2),
            least.method.words()
        )
    })
}

fn predictions(list: &[Figures]) -> Table {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Source by").key("source"),
        column("Volts").unit("V").key("source_v").decimal(),
        column("Behind").unit("Ω").key("internal_ohm").decimal(),
        column("Into").key("into"),
        column("Would show").unit("mA").key("predicted_ma").decimal(),
        column("Read").unit("mA").key("read_ma").decimal(),
        column("Off").unit("%").key("off_pct").decimal(),
    ])
    .caption("A voltage behind that resistance, held against readings that it was not made from");
    for figures in list {
        for prediction in &figures.predictions {
            table.push([
                cell_of(figures),
                prediction.source.method.words().to_owned(),
                short(prediction.source.emf_volts, 4),
                short(prediction.source.ohms, 4),
                into(&prediction.of),
                short(prediction.predicted_amperes * 1000.0, 4),
                short(prediction.read_amperes * 1000.0, 4),
                format!("{:+.1}", prediction.off() * 100.0),
            ]);
        }
    }
    filled(&table)
}

fn into(shot: &Shot) -> String {
    match shot.shown {
        Shown::Current { meter_ohms: None, .. } => "a meter, taken as 0 Ω".to_owned(),
        _ => format!("{} Ω", short(shot.shown.outside_ohms(), 6)),
    }
}

fn rule(rules: &FigureRules) -> String {
    let voltmeter = match rules.pairing.voltmeter_ohms {
        Some(ohms) => format!("the voltmeter draws through {} Ω", short(ohms, 6)),
        None => "what the voltmeter draws is left out".to_owned(),
    };
    format!(
        "Readings no more than {} min apart are taken as of one state; {voltmeter}. A current through a meter of more \
         than a tenth of the cell's resistance counts as a load, not as a short circuit.",
        rules.pairing.within.as_mins()
    )
}
