//! All labels of a call in one table, and what they say in full where they are few.

use super::LabelError;
use super::content::LabelContent;
use super::draw::{LabelDrawing, label_drawing};
use super::fold_pages::fold_outs;
use super::preview::{label_document, room_words, too_small};
use super::sheet::{LabelRun, labels_per_page};
use super::stock::LabelStock;
use crate::record::Code;
use crate::report::document::{Document, Table, column, paragraph, strong, text};
use crate::report::html::PageSize;
use crate::report::view::code_range;

/// Up to so many labels are shown in full: more than that nobody reads on a screen.
const IN_FULL: usize = 4;

/// What labels say, what has no room on them, and how many pages they fill.
///
/// # Errors
/// If one code can't be printed or is too long for its QR code.
pub fn label_overview(runs: &[LabelRun<'_>], copies: usize, paper: PageSize) -> Result<Document, LabelError> {
    let mut document = Document::new("Labels");
    document.push(table(runs));
    if runs.iter().map(|run| run.labels.len()).sum::<usize>() <= IN_FULL {
        for run in runs {
            document.extend(label_document(run.labels, run.stock)?.blocks().to_vec());
        }
    } else {
        for run in runs {
            document.extend(left_off(run)?.into_iter().map(paragraph));
            document.extend(too_small_words(run)?.map(|words| paragraph(strong(words))));
        }
    }
    for run in runs {
        document.push(paragraph(pages(run, copies, paper)));
    }
    for run in runs {
        document.extend(fold_out_words(run)?.map(paragraph));
    }
    document.push(paragraph("The page for print: add --out FILE, then print it at its own size."));
    Ok(document)
}

fn table(runs: &[LabelRun<'_>]) -> Table {
    let mut table = Table::new([
        column("Code").key("code"),
        column("What it is").key("name"),
        column("Against its use").key("against"),
        column("Signal").key("signal"),
        column("Statements").key("statements"),
        column("Date").key("dated"),
        column("Use by").key("use_by"),
    ]);
    for run in runs {
        for label in run.labels {
            table.push([
                text(&label.code),
                text(&label.name),
                label.against.as_ref().map_or_else(|| text(""), |against| strong(against.what.words())),
                text(signal(label)),
                text(codes(label)),
                text(label.dated.as_ref().map_or(String::new(), |(what, on)| format!("{what} {on}"))),
                text(label.use_by.clone().unwrap_or_else(|| "not stated".to_owned())),
            ]);
        }
    }
    table
}

/// What has no room, a sentence for all labels that lack the same.
fn left_off(run: &LabelRun<'_>) -> Result<Vec<String>, LabelError> {
    let mut lacking: Vec<(LabelDrawing, Vec<Code>)> = Vec::new();
    for label in run.labels {
        let drawing = label_drawing(label, run.stock)?;
        let code = label.code.parse::<Code>().ok();
        match lacking.iter_mut().find(|(known, _)| known.left_off == drawing.left_off) {
            Some((_, codes)) => codes.extend(code),
            None => lacking.push((drawing, code.into_iter().collect())),
        }
    }
    let sentences = |(drawing, codes): (LabelDrawing, Vec<Code>)| {
        room_words(&drawing, &run.stock.to_string(), &format!("s of {}", code_range(&codes)))
    };
    Ok(lacking.into_iter().flat_map(sentences).collect())
}

/// The labels on which even that has no room which the smallest package carries itself.
fn too_small_words(run: &LabelRun<'_>) -> Result<Option<String>, LabelError> {
    let mut codes: Vec<Code> = Vec::new();
    let mut lacks: Vec<&str> = Vec::new();
    for label in run.labels {
        let small = label_drawing(label, run.stock)?.too_small_for;
        codes.extend(label.code.parse::<Code>().ok().filter(|_| !small.is_empty()));
        lacks.extend(small);
    }
    lacks.sort_unstable();
    lacks.dedup();
    Ok((!lacks.is_empty()).then(|| format!("{}: {}", code_range(&codes), too_small(&lacks, run.stock))))
}

/// How many fold-outs go with the labels.
fn fold_out_words(run: &LabelRun<'_>) -> Result<Option<String>, LabelError> {
    let count = fold_outs(run.labels, run.stock)?.len();
    let (these, stand) = if count == 1 { ("fold-out", "stands") } else { ("fold-outs", "stand") };
    Ok((0 < count)
        .then(|| format!("{count} {these} of {} labels {stand} on the page behind them.", run.stock)))
}

fn signal(label: &LabelContent) -> &'static str {
    let hazards = &label.hazards;
    match hazards.signal_word {
        _ if hazards.are_not_known() => "HAZARDS NOT KNOWN",
        Some(word) => word.word(),
        None => "HAZARDS",
    }
}

fn codes(label: &LabelContent) -> String {
    label.hazards.statements.iter().map(|statement| statement.code.as_str()).collect::<Vec<_>>().join(" ")
}

fn pages(run: &LabelRun<'_>, copies: usize, paper: PageSize) -> String {
    let count = run.labels.len() * copies;
    let pages = (run.skip + count).div_ceil(labels_per_page(run.stock, paper));
    let (wide, high) = LabelStock::size_mm(run.stock);
    let labels = if count == 1 { "label" } else { "labels" };
    let sheets = if pages == 1 { "page" } else { "pages" };
    format!("{count} {} {labels} of {wide} mm by {high} mm on {pages} {sheets}.", run.stock)
}
