//! What something suspect touched, and what of that can still be taken from the shelf.

use std::collections::HashMap;

use super::words::grams;
use crate::record::graph::{GraphError, Mark, Node, NodeKind, Suspicion};
use crate::report::document::{
    Block, Document, Table, Text, column, facts, heading, muted, paragraph, strong, text,
};
use crate::report::view::ranges::code_ranges;

/// More rows than these are no longer looked through on a screen.
const MOST_ROWS: usize = 40;
/// Ranges of codes that one row has room for.
const MOST_RANGES: usize = 30;

/// Everything downstream of what the suspect had to do with, that included: what is still there first, with what
/// is left of it, then the rest. Cells and readings that are alike share a row.
///
/// # Errors
/// If something is not in the graph.
pub fn suspect_document(suspicion: &Suspicion) -> Result<Document, GraphError> {
    let touched = suspicion.touched()?;
    let mut document = Document::new(text("What ").then(suspicion.suspect.name()).then(" touched"))
        .with(facts([("Suspect", suspect(suspicion)), ("Touched", text(counts(&touched)))]));
    document.extend(straight(suspicion));
    let (there, gone): (Vec<&Node>, Vec<&Node>) = touched.into_iter().partition(|node| node.is_still_there());
    document.push(heading(1, "Still on the shelf"));
    document.push(match (there.is_empty(), gone.iter().all(|node| node.kind == NodeKind::Reading)) {
        (false, _) => table(suspicion, &there).into(),
        (true, true) => paragraph("Only readings were touched, and nothing that stands on a shelf."),
        (true, false) => paragraph("By the records nothing of it is left; look on the shelf all the same."),
    });
    if !gone.is_empty() {
        document.push(heading(1, "Used up, retired or read"));
        document.push(table(suspicion, &gone));
    }
    Ok(document)
}

/// One row for each thing touched, for CSV.
///
/// # Errors
/// If something is not in the graph.
pub fn suspect_table(suspicion: &Suspicion) -> Result<Table, GraphError> {
    let mut table = Table::new([
        column("Code").key("code"),
        column("Kind").key("kind"),
        column("What it is").key("label"),
        column("Still there").key("still_there"),
        column("Left").unit("g").key("left_g"),
        column("Marks").key("marks"),
    ]);
    for node in suspicion.touched()? {
        let there = match (node.kind, node.is_still_there()) {
            (NodeKind::Reading, _) => "",
            (_, true) => "yes",
            (_, false) => "no",
        };
        table.push([
            node.code.clone(),
            node.kind.words().to_owned(),
            node.label.clone(),
            there.to_owned(),
            node.left_grams.map(|grams| grams.to_string()).unwrap_or_default(),
            marks(&node.marks).join(", "),
        ]);
    }
    Ok(table)
}

/// What the suspect is, in words.
fn suspect(suspicion: &Suspicion) -> Text {
    let (kind, name) = (suspicion.suspect.kind(), suspicion.suspect.name());
    match suspicion.handled.first() {
        Some(handled) if handled.what.is_empty() && kind == "code" => {
            let node = suspicion.graph.node(&handled.code).ok();
            strong(name)
                .then(node.map(|node| format!(", {}", described(node.kind, &node.label))).unwrap_or_default())
        }
        _ => text(kind).then(" ").then(strong(name)),
    }
}

/// What it had to do with straight, where that is more than the suspect itself.
fn straight(suspicion: &Suspicion) -> Vec<Block> {
    let mut by_what: Vec<(&str, Vec<&str>)> = Vec::new();
    let mut place: HashMap<&str, usize> = HashMap::new();
    for handled in &suspicion.handled {
        let at = *place.entry(&handled.what).or_insert_with(|| {
            by_what.push((&handled.what, Vec::new()));
            by_what.len() - 1
        });
        by_what[at].1.push(&handled.code);
    }
    if by_what.iter().all(|(what, codes)| what.is_empty() && codes.len() < 2) {
        return Vec::new();
    }
    let mut table = Table::new([column("What was done").key("what"), column("To what").key("codes")]);
    for (what, codes) in by_what {
        let what = if what.is_empty() { "bottles of the lot" } else { what };
        table.push([text(what), text(few_ranges(codes))]);
    }
    vec![heading(1, "What it had to do with"), table.into()]
}

fn counts(nodes: &[&Node]) -> String {
    let count = |kind: NodeKind| nodes.iter().filter(|node| node.kind == kind).count();
    let words = NodeKind::ALL.iter().filter_map(|&kind| match count(kind) {
        0 => None,
        1 => Some(format!("1 {kind}")),
        many => Some(format!("{many} {}", kind.plural())),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// What nodes of one row have in common.
#[derive(PartialEq, Eq, Hash, Clone, Copy)]
struct Alike<'g> {
    kind: NodeKind,
    label: &'g str,
    marks: &'g [Mark],
    /// The code, where each has a row of its own.
    code: &'g str,
}

fn table(suspicion: &Suspicion, nodes: &[&Node]) -> Table {
    let mut table = Table::new([
        column("Code").key("codes"),
        column("What it is").key("label"),
        column("Left").key("left"),
    ]);
    for (key, nodes) in rows(nodes) {
        let codes = few_ranges(nodes.iter().map(|node| node.code.as_str()));
        table.push([strong(codes), what(suspicion, &key, &nodes), left(&nodes)]);
    }
    table
}

/// How much shares a row.
#[derive(Clone, Copy, PartialEq)]
enum Rows {
    /// Cells and readings that are alike.
    Cells,
    /// All that is alike.
    Alike,
    /// All of one kind and fate.
    Kinds,
}

/// As few nodes in a row as there is room for, in order of the kinds.
fn rows<'g>(nodes: &[&'g Node]) -> Vec<(Alike<'g>, Vec<&'g Node>)> {
    let mut found = grouped(nodes, Rows::Cells);
    for coarser in [Rows::Alike, Rows::Kinds] {
        if found.len() <= MOST_ROWS {
            break;
        }
        found = grouped(nodes, coarser);
    }
    found.sort_by_key(|(key, _)| NodeKind::ALL.iter().position(|kind| *kind == key.kind));
    found
}

fn grouped<'g>(nodes: &[&'g Node], rows: Rows) -> Vec<(Alike<'g>, Vec<&'g Node>)> {
    let mut found: Vec<(Alike<'g>, Vec<&'g Node>)> = Vec::new();
    let mut place: HashMap<Alike<'g>, usize> = HashMap::new();
    for &node in nodes {
        let key = alike(node, rows);
        let at = *place.entry(key).or_insert_with(|| {
            found.push((key, Vec::new()));
            found.len() - 1
        });
        found[at].1.push(node);
    }
    found
}

fn alike(node: &Node, rows: Rows) -> Alike<'_> {
    let in_numbers = matches!(node.kind, NodeKind::Cell | NodeKind::Reading);
    let has_label = rows != Rows::Kinds && node.kind != NodeKind::Reading;
    let single = rows == Rows::Cells && !in_numbers;
    Alike {
        kind: node.kind,
        label: if has_label { &node.label } else { "" },
        marks: &node.marks,
        code: if single { &node.code } else { "" },
    }
}

fn what(suspicion: &Suspicion, key: &Alike<'_>, nodes: &[&Node]) -> Text {
    let what = match nodes.len() {
        1 => described(key.kind, &nodes[0].label),
        many => format!("{many} {}{}", key.kind.plural(), behind(key.label)),
    };
    if key.kind == NodeKind::Reading {
        return text(format!("{what}, of {}", read_of(suspicion, nodes)));
    }
    let marks = marks(key.marks);
    if marks.is_empty() { text(what) } else { text(what).then(muted(format!("; {}", marks.join(", ")))) }
}

/// The cells that were read.
fn read_of(suspicion: &Suspicion, readings: &[&Node]) -> String {
    let graph = &suspicion.graph;
    let places = readings.iter().filter_map(|node| graph.position(&node.code).ok());
    let cells = places.flat_map(|place| graph.edges_into(place).map(|(from, _)| from));
    few_ranges(cells.map(|cell| graph.nodes()[cell].code.as_str()))
}

fn described(kind: NodeKind, label: &str) -> String {
    format!("{kind}{}", behind(label))
}

fn behind(label: &str) -> String {
    if label.is_empty() { String::new() } else { format!(", {label}") }
}

fn marks(marks: &[Mark]) -> Vec<String> {
    marks.iter().map(|mark| mark.words().to_owned()).collect()
}

/// What is left of all nodes of a row; nothing is said where nothing is left or nobody counts it.
fn left(nodes: &[&Node]) -> Text {
    let all: Vec<f64> =
        nodes.iter().filter_map(|node| node.left_grams).filter(|grams| 0.0 < *grams).collect();
    match all.as_slice() {
        [] => Text::default(),
        [one] => text(grams(*one)),
        many => text(format!("{} in all", grams(many.iter().sum()))),
    }
}

fn few_ranges<'c>(codes: impl IntoIterator<Item = &'c str>) -> String {
    let mut ranges = code_ranges(codes);
    let more = ranges.len().saturating_sub(MOST_RANGES);
    if 1 < more {
        ranges.truncate(MOST_RANGES);
        ranges.push(format!("and {more} more"));
    }
    ranges.join(", ")
}
