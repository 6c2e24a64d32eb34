//! The thread for a printed page: a picture whose letters stay large enough to be read, and below it what went where.

use super::fold::{Bundle, Coarse, Folded, fold_by_lot, fold_coarse};
use super::picture::boxes_and_arrows;
use super::words::{amount, bundle_words};
use crate::record::graph::TraceGraph;
use crate::report::document::{Block, Figure, Table, column, muted, paragraph, text};
use crate::report::drawing::Diagram;

/// Width and height, in pixels of a browser (1/96 in), up to which the small type of 11 px is printed in no less than 7 pt on a page
/// of either paper, 180 mm between margins: 180 mm × 96/25.4 × (8.25 pt / 7 pt).
const UPRIGHT: (f64, f64) = (800.0, 1000.0);
/// The same with the page lying on its side: 249 mm between the margins of the shorter paper.
const LYING: (f64, f64) = (1100.0, 680.0);

/// The picture, of which no letter is printed in less than 7 pt, and the table of amounts, which would not all find room beside
/// their arrows. Cells of the same lots share a box; what doesn't fit that way is drawn coarser, and what never fits stands in the table
/// alone.
pub fn trace_on_paper(graph: &TraceGraph) -> Vec<Block> {
    let fine = fold_by_lot(graph);
    let mut blocks = picture(graph, &fine);
    blocks.push(what_went_where(&fine).into());
    blocks
}

fn picture(graph: &TraceGraph, fine: &Folded<'_>) -> Vec<Block> {
    if let Some(figure) = figure(graph, fine) {
        return vec![figure.into()];
    }
    let coarser = [Coarse::ByLabel, Coarse::ByKind].into_iter();
    let drawn = coarser.map(|way| fold_coarse(graph, way)).find_map(|folded| figure(graph, &folded));
    let words = match drawn {
        Some(_) => "Too many to be drawn one by one: what is alike shares a box. The table has each.",
        None => "Too many to be drawn on a page: the table has each.",
    };
    drawn.map(Block::from).into_iter().chain([paragraph(muted(words))]).collect()
}

/// `None` if it fits on no page.
fn figure(graph: &TraceGraph, folded: &Folded<'_>) -> Option<Figure> {
    let diagram = diagram(folded);
    let (svg, (width, height)) = diagram.svg_and_size();
    let fits = |page: (f64, f64)| width <= page.0 && height <= page.1;
    let described = format!(
        "what went into the cells: {} records, {} amounts; the table below has them",
        graph.nodes().len(),
        graph.edges().len()
    );
    let figure = Figure::new(svg, text(described));
    if fits(UPRIGHT) { Some(figure) } else { fits(LYING).then(|| figure.lying()) }
}

fn diagram(folded: &Folded<'_>) -> Diagram {
    let mut diagram = boxes_and_arrows(folded, "The thread from bottles to cells".to_owned());
    diagram.arrows.iter_mut().for_each(|arrow| arrow.label.clear());
    // The report is seen from no single cell.
    diagram.boxes.iter_mut().for_each(|shown| shown.framed = false);
    diagram
}

/// For each thing that was made, or several that are alike, what went into it.
fn what_went_where(folded: &Folded<'_>) -> Table {
    let mut table = Table::new([
        column("Into").key("into"),
        column("What it is").key("what"),
        column("Went").key("went_in"),
    ])
    .caption("What went where");
    for (place, bundle) in folded.bundles.iter().enumerate() {
        let into = folded.threads.iter().filter(|thread| thread.to == place);
        let went: Vec<String> = into
            .map(|thread| {
                format!("{} {}", codes(&folded.bundles[thread.from]), amount(thread)).trim().to_owned()
            })
            .collect();
        if !went.is_empty() {
            table.push([codes(bundle), bundle_words(bundle), went.join("; ")]);
        }
    }
    table
}

fn codes(bundle: &Bundle<'_>) -> String {
    bundle.ranges().join(", ")
}
