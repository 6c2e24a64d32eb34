//! Many cells of one batch as one: what a picture or a tree would show many times is bundled.

use std::collections::HashMap;

use crate::record::graph::{Mark, Node, NodeKind, Total, TraceGraph};
use crate::report::view::ranges::code_ranges;

/// Fewer alike than these are shown one by one.
const FEWEST: usize = 4;
/// Ranges of codes that one line has room for.
const MOST_RANGES: usize = 12;

/// The graph with what is alike in bundles. A bundle stands behind all that it was made of.
pub(super) struct Folded<'g> {
    pub bundles: Vec<Bundle<'g>>,
    pub threads: Vec<Thread>,
}

/// One node, or several that are alike in everything but their codes.
pub(super) struct Bundle<'g> {
    pub nodes: Vec<&'g Node>,
    /// How many readings were taken of them.
    pub readings: usize,
    pub is_root: bool,
    /// Where the way down begins.
    pub is_origin: bool,
}

/// All that went from one bundle into another.
#[derive(Clone)]
pub(super) struct Thread {
    pub from: usize,
    pub to: usize,
    pub total: Total,
    pub least: f64,
    pub most: f64,
    /// One amount for each node of the bundle that it leads to.
    pub is_one_each: bool,
}

/// The graph with cells that are alike bundled: of one kind, label and fate, made of the same things, and
/// used in nothing. Readings are counted at their cell, unless it is the cell that the graph is seen from.
fn fold(graph: &TraceGraph) -> Folded<'_> {
    let counted = counted_readings(graph);
    let mut alike: HashMap<Alike<'_>, Vec<usize>> = HashMap::new();
    let shown = (0..graph.nodes().len()).filter(|&at| counted[at].is_none());
    for at in shown {
        if let Some(key) = Alike::of(graph, at, &counted) {
            alike.entry(key).or_default().push(at);
        }
    }
    let mut first_of = vec![None; graph.nodes().len()];
    for members in alike.values().filter(|members| FEWEST <= members.len()) {
        members.iter().for_each(|&member| first_of[member] = members.first().copied());
    }
    bundled(graph, &counted, |at| first_of[at].unwrap_or(at))
}

/// What a graph too large to be shown one by one is bundled by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Coarse {
    /// Everything of one kind and label that was made of the same bundles.
    ByLabel,
    /// Everything of one kind at one distance from where the graph begins.
    ByKind,
}

/// The graph with cells of the same label and the same lots bundled, whatever became of each: a bundle says how many ended.
pub(super) fn fold_by_lot(graph: &TraceGraph) -> Folded<'_> {
    let counted = counted_readings(graph);
    let mut firsts: HashMap<Alike<'_>, usize> = HashMap::new();
    let mut first_of: Vec<usize> = (0..graph.nodes().len()).collect();
    for (at, node) in graph.nodes().iter().enumerate() {
        let mut made_of: Vec<usize> = graph.edges_into(at).map(|(from, _)| from).collect();
        made_of.sort_unstable();
        made_of.dedup();
        if node.kind == NodeKind::Cell && !made_of.is_empty() {
            let key = Alike { kind: node.kind, label: &node.label, marks: &[], made_of };
            first_of[at] = *firsts.entry(key).or_insert(at);
        }
    }
    bundled(graph, &counted, |at| first_of[at])
}

pub(super) fn fold_coarse(graph: &TraceGraph, by: Coarse) -> Folded<'_> {
    match by {
        Coarse::ByLabel => fold_by_label(graph),
        Coarse::ByKind => fold_by_kind(graph),
    }
}

fn fold_by_label(graph: &TraceGraph) -> Folded<'_> {
    let counted = counted_readings(graph);
    let mut firsts: HashMap<(Alike<'_>, bool), usize> = HashMap::new();
    let mut first_of: Vec<usize> = (0..graph.nodes().len()).collect();
    for (at, node) in graph.nodes().iter().enumerate().filter(|(at, _)| counted[*at].is_none()) {
        let mut made_of: Vec<usize> = graph.edges_into(at).map(|(from, _)| first_of[from]).collect();
        made_of.sort_unstable();
        made_of.dedup();
        let key = Alike { kind: node.kind, label: common_label(node), marks: &[], made_of };
        first_of[at] = *firsts.entry((key, is_own(graph, &node.code))).or_insert(at);
    }
    bundled(graph, &counted, |at| first_of[at])
}

fn fold_by_kind(graph: &TraceGraph) -> Folded<'_> {
    let counted = counted_readings(graph);
    let mut distance = vec![0usize; graph.nodes().len()];
    let mut firsts: HashMap<(NodeKind, usize, bool), usize> = HashMap::new();
    let mut first_of: Vec<usize> = (0..graph.nodes().len()).collect();
    for (at, node) in graph.nodes().iter().enumerate().filter(|(at, _)| counted[*at].is_none()) {
        distance[at] = graph.edges_into(at).map(|(from, _)| distance[from] + 1).max().unwrap_or(0);
        let key = (node.kind, distance[at], is_own(graph, &node.code));
        first_of[at] = *firsts.entry(key).or_insert(at);
    }
    // Bundles by distance, so that each stands behind those it was made of.
    let mut order: Vec<usize> = firsts.into_values().collect();
    order.sort_by_key(|&first| (distance[first], first));
    in_order(graph, &counted, |at| first_of[at], order)
}

/// The label that nodes of one bundle share: readings differ in what they say and not in what became of them.
fn common_label(node: &Node) -> &str {
    if node.kind == NodeKind::Reading { "" } else { &node.label }
}

/// The graph folded as finely as fits, and whether that is coarse: alike cells first, then each of `ways`, of
/// which the last is taken even if it does not fit.
pub(super) fn fold_to<'g>(
    graph: &'g TraceGraph,
    ways: &[Coarse],
    fits: impl Fn(&Folded<'g>) -> bool,
) -> (Folded<'g>, bool) {
    let mut folded = fold(graph);
    let mut coarse = false;
    for &way in ways {
        if fits(&folded) {
            break;
        }
        folded = fold_coarse(graph, way);
        coarse = true;
    }
    (folded, coarse)
}

/// True for the code that the graph is seen from, now or as it was before something was poured back.
fn is_own(graph: &TraceGraph, code: &str) -> bool {
    code == graph.code() || code == graph.origin()
}

/// What nodes have in common that are bundled.
#[derive(PartialEq, Eq, Hash)]
struct Alike<'g> {
    kind: NodeKind,
    label: &'g str,
    marks: &'g [Mark],
    made_of: Vec<usize>,
}

impl<'g> Alike<'g> {
    fn of(graph: &'g TraceGraph, at: usize, counted: &[Option<usize>]) -> Option<Self> {
        let node = &graph.nodes()[at];
        let is_end = graph.edges_out_of(at).all(|(to, _)| counted[to].is_some());
        let may = matches!(node.kind, NodeKind::Cell | NodeKind::Reading);
        let mut made_of: Vec<usize> = graph.edges_into(at).map(|(from, _)| from).collect();
        if !is_end || !may || node.code == graph.code() || made_of.is_empty() {
            return None;
        }
        made_of.sort_unstable();
        made_of.dedup();
        Some(Self { kind: node.kind, label: common_label(node), marks: &node.marks, made_of })
    }
}

/// For each reading that is only counted, where.
fn counted_readings(graph: &TraceGraph) -> Vec<Option<usize>> {
    let at_cell = |(at, node): (usize, &Node)| {
        let mut of = graph.edges_into(at).map(|(from, _)| from);
        let (cell, other) = (of.next(), of.next());
        let cell = cell.filter(|&cell| graph.nodes()[cell].code != graph.code() && other.is_none());
        cell.filter(|_| node.kind == NodeKind::Reading && node.code != graph.code())
    };
    graph.nodes().iter().enumerate().map(at_cell).collect()
}

/// Bundles in the order of their first nodes: what a bundle was made of, each of its nodes was made of, so
/// that all of it stands before the first.
fn bundled<'g>(
    graph: &'g TraceGraph,
    counted: &[Option<usize>],
    first_of: impl Fn(usize) -> usize,
) -> Folded<'g> {
    let shown = (0..graph.nodes().len()).filter(|&at| counted[at].is_none());
    let order = shown.filter(|&at| first_of(at) == at).collect();
    in_order(graph, counted, first_of, order)
}

fn in_order<'g>(
    graph: &'g TraceGraph,
    counted: &[Option<usize>],
    first_of: impl Fn(usize) -> usize,
    order: Vec<usize>,
) -> Folded<'g> {
    let empty = || Bundle { nodes: Vec::new(), readings: 0, is_root: false, is_origin: false };
    let mut folded = Folded { bundles: order.iter().map(|_| empty()).collect(), threads: Vec::new() };
    let place: HashMap<usize, usize> =
        order.iter().enumerate().map(|(place, &first)| (first, place)).collect();
    let bundle_of = |at: usize| place.get(&first_of(at)).copied();
    for (at, node) in graph.nodes().iter().enumerate() {
        let (shown_at, is_counted) = match counted[at] {
            Some(cell) => (cell, true),
            None => (at, false),
        };
        let Some(bundle) = bundle_of(shown_at).and_then(|place| folded.bundles.get_mut(place)) else {
            continue;
        };
        if is_counted {
            bundle.readings += 1;
        } else {
            bundle.is_root |= node.code == graph.code();
            bundle.is_origin |= node.code == graph.origin();
            bundle.nodes.push(node);
        }
    }
    folded.threads = threads(graph, counted, &bundle_of, &folded.bundles);
    folded
}

fn threads(
    graph: &TraceGraph,
    counted: &[Option<usize>],
    bundle_of: &impl Fn(usize) -> Option<usize>,
    bundles: &[Bundle<'_>],
) -> Vec<Thread> {
    let mut threads: Vec<Thread> = Vec::new();
    let mut known: HashMap<(usize, usize), usize> = HashMap::new();
    for at in (0..graph.nodes().len()).filter(|&at| counted[at].is_none()) {
        for (from, edge) in graph.edges_into(at) {
            let (Some(from), Some(to)) = (bundle_of(from), bundle_of(at)) else { continue };
            let index = *known.entry((from, to)).or_insert_with(|| {
                threads.push(Thread::between(from, to));
                threads.len() - 1
            });
            // Nobody weighs what goes into a reading.
            if graph.nodes()[at].kind != NodeKind::Reading {
                threads[index].add(edge.grams);
            }
        }
    }
    for thread in &mut threads {
        let parts = thread.total.weighed + thread.total.unweighed;
        thread.is_one_each = 1 < parts && parts == bundles[thread.to].nodes.len();
    }
    threads
}

impl Thread {
    fn between(from: usize, to: usize) -> Self {
        let (least, most) = (f64::INFINITY, 0.0);
        Self { from, to, total: Total::default(), least, most, is_one_each: false }
    }

    fn add(&mut self, grams: Option<f64>) {
        self.total = self.total.plus(grams);
        if let Some(grams) = grams {
            self.least = self.least.min(grams);
            self.most = self.most.max(grams);
        }
    }
}

impl Bundle<'_> {
    /// Its codes, as ranges; those that are too many for a line are counted.
    pub fn few_ranges(&self) -> String {
        let mut ranges = self.ranges();
        let more = ranges.len().saturating_sub(MOST_RANGES);
        if 1 < more {
            ranges.truncate(MOST_RANGES);
            ranges.push(format!("and {more} more"));
        }
        ranges.join(", ")
    }

    /// Its codes, as ranges.
    pub fn ranges(&self) -> Vec<String> {
        code_ranges(self.nodes.iter().map(|node| node.code.as_str()))
    }

    /// What all its nodes are.
    pub fn kind(&self) -> Option<NodeKind> {
        self.nodes.first().map(|node| node.kind)
    }

    /// The label that all its nodes share.
    pub fn label(&self) -> Option<&str> {
        let label = self.nodes.first()?.label.as_str();
        self.nodes.iter().all(|node| node.label == label).then_some(label).filter(|label| !label.is_empty())
    }

    /// How many there are and of what, for a bundle of several.
    pub fn count(&self) -> Option<String> {
        let kind = self.kind().filter(|_| 1 < self.nodes.len())?;
        Some(format!("{} {}", self.nodes.len(), kind.plural()))
    }

    /// What became of its nodes: a mark that not all have comes with how many have it.
    pub fn marks(&self) -> Vec<String> {
        let mut counts: Vec<(Mark, usize)> = Vec::new();
        for mark in self.nodes.iter().flat_map(|node| &node.marks) {
            match counts.iter_mut().find(|(known, _)| known == mark) {
                Some((_, count)) => *count += 1,
                None => counts.push((*mark, 1)),
            }
        }
        counts.sort();
        let all = self.nodes.len();
        let words = |(mark, count): &(Mark, usize)| match *count == all {
            true => mark.words().to_owned(),
            false => format!("{count} {}", mark.words()),
        };
        counts.iter().map(words).collect()
    }

    /// How many readings were taken of them, in words; `None` without any.
    pub fn readings_in_words(&self) -> Option<String> {
        match self.readings {
            0 => None,
            1 => Some("1 reading".to_owned()),
            count => Some(format!("{count} readings")),
        }
    }
}
