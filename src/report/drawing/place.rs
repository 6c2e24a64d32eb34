//! Where each box and each passage stands, in pixels of a browser.

use super::layer::{Columns, Slot};
use super::{Arrow, Diagram, DiagramBox};
use crate::report::lettering::{Weight, width};

/// Size of the large type in a box.
pub(super) const HEAD: f64 = 13.0;
/// Size of the small type.
pub(super) const SMALL: f64 = 11.0;
/// From one line of large type to the next.
pub(super) const HEAD_LINE: f64 = 17.0;
/// From one line of small type to the next.
pub(super) const SMALL_LINE: f64 = 14.0;
/// Free room inside a box.
pub(super) const PAD: f64 = 8.0;
/// Between the ends of two arrows on one side of a box, so that a line of small type fits between.
const PORT: f64 = 16.0;
/// Between two slots of a column.
const APART: f64 = 14.0;
/// In which an arrow passes from one height to another.
const BEND: f64 = 52.0;
/// Room around everything.
pub(super) const MARGIN: f64 = 8.0;
/// So often from left to right and back again; more moves nothing by a pixel (common practice).
const ROUNDS: usize = 6;

/// Where everything stands.
#[derive(Debug, Clone)]
pub(super) struct Places {
    /// Each box of the diagram.
    pub boxes: Vec<Frame>,
    /// The way of each arrow: its ends, and both ends of each passage between.
    pub ways: Vec<Vec<(f64, f64)>>,
    /// Width of the whole.
    pub width: f64,
    /// Height of the whole.
    pub height: f64,
}

/// A rectangle.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Frame {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Frame {
    /// Half way between its upper and lower edge.
    pub(super) fn middle(&self) -> f64 {
        self.top + self.height / 2.0
    }

    fn right(&self) -> f64 {
        self.left + self.width
    }
}

/// Places for slots in columns.
pub(super) fn places(diagram: &Diagram, columns: Columns) -> Places {
    let mut frames: Vec<Frame> = columns.slots.iter().map(|slot| size(diagram, *slot)).collect();
    let widest = |column: &Vec<usize>| column.iter().map(|&slot| frames[slot].width).fold(0.0, f64::max);
    let widths: Vec<f64> = columns.columns.iter().map(widest).collect();
    let gap = gap(diagram);
    let mut left = MARGIN;
    for (column, wide) in columns.columns.iter().zip(&widths) {
        for &slot in column {
            frames[slot].left = left;
            frames[slot].width = *wide;
        }
        left += wide + gap;
    }
    level(&columns, &mut frames);
    let top = frames.iter().map(|frame| frame.top).fold(f64::INFINITY, f64::min);
    for frame in &mut frames {
        frame.top += MARGIN - top;
    }
    let lowest = frames.iter().map(|frame| frame.top + frame.height).fold(0.0, f64::max);
    Places {
        ways: ways(diagram, &columns, &frames),
        boxes: frames[..diagram.boxes.len()].to_vec(),
        // Behind a box that stands for several there are the edges of two more.
        width: left - gap + MARGIN + 6.0,
        height: lowest + MARGIN + 6.0,
    }
}

fn size(diagram: &Diagram, slot: Slot) -> Frame {
    match slot {
        Slot::Passage(_) => Frame { height: SMALL_LINE, ..Frame::default() },
        Slot::Box(place) => {
            let shown = &diagram.boxes[place];
            let ends = |end: fn(&Arrow) -> usize| diagram.arrows.iter().filter(|a| end(a) == place).count();
            let ports = ends(|arrow| arrow.from).max(ends(|arrow| arrow.to));
            let height = text_height(shown).max(PORT * (ports as f64 + 1.0));
            Frame { width: text_width(shown), height, ..Frame::default() }
        }
    }
}

/// Height of the text in a box with the room around it.
pub(super) fn text_height(shown: &DiagramBox) -> f64 {
    let lines = SMALL_LINE * (shown.lines.len() as f64 + 1.0);
    2.0 * PAD + HEAD_LINE * shown.head.len() as f64 + lines
}

fn text_width(shown: &DiagramBox) -> f64 {
    let head = shown.head.iter().map(|line| HEAD * width(line, Weight::Bold));
    let small = shown.lines.iter().chain([&shown.kind]).map(|line| SMALL * width(line, Weight::Regular));
    // A tenth more than Helvetica needs, for typefaces that are wider.
    2.0 * PAD + 1.1 * head.chain(small).fold(60.0, f64::max)
}

/// Wide enough for the longest label of an arrow and a bend.
fn gap(diagram: &Diagram) -> f64 {
    let labelled = diagram.arrows.iter().filter(|arrow| !arrow.label.is_empty());
    let widest = labelled.map(|arrow| label_width(&arrow.label).max(20.0)).fold(0.0, f64::max);
    BEND + widest
}

/// Room that a label takes beside the end of its arrow.
pub(super) fn label_width(label: &str) -> f64 {
    4.0 + 1.1 * SMALL * width(label, Weight::Regular)
}

/// Each slot as near to the mean height of its neighbours as those above and below it allow.
fn level(columns: &Columns, frames: &mut [Frame]) {
    let mut neighbours = vec![(Vec::new(), Vec::new()); columns.slots.len()];
    for step in &columns.steps {
        neighbours[step.from].1.push(step.to);
        neighbours[step.to].0.push(step.from);
    }
    let both = |slot: usize| neighbours[slot].0.iter().chain(&neighbours[slot].1).copied().collect();
    let left_ones = |slot: usize| neighbours[slot].0.clone();
    let right_ones = |slot: usize| neighbours[slot].1.clone();
    for column in &columns.columns {
        settle(column, frames, |_| Vec::new());
    }
    for _ in 0..ROUNDS {
        columns.columns.iter().for_each(|column| settle(column, frames, left_ones));
        columns.columns.iter().rev().for_each(|column| settle(column, frames, right_ones));
    }
    columns.columns.iter().for_each(|column| settle(column, frames, both));
}

/// Moves the slots of one column: the least sum of squares of the distances from where each would like to
/// be, with the order kept and room between any two (isotonic regression by pooling adjacent violators,
/// Barlow et al., Statistical Inference under Order Restrictions, 1972; from memory).
fn settle(column: &[usize], frames: &mut [Frame], neighbours: impl Fn(usize) -> Vec<usize>) {
    let mut pools: Vec<(f64, usize)> = Vec::new();
    let mut offsets = Vec::new();
    let mut offset = 0.0;
    for &slot in column {
        let near = neighbours(slot);
        let wish = match near.len() {
            0 => frames[slot].middle(),
            count => near.iter().map(|&other| frames[other].middle()).sum::<f64>() / count as f64,
        };
        pools.push((wish - frames[slot].height / 2.0 - offset, 1));
        while let [.., (above, a), (below, b)] = pools.as_slice()
            && below < above
        {
            let count = a + b;
            let mean = (above * *a as f64 + below * *b as f64) / count as f64;
            pools.truncate(pools.len() - 2);
            pools.push((mean, count));
        }
        offsets.push(offset);
        offset += frames[slot].height + APART;
    }
    let settled = pools.iter().flat_map(|&(at, count)| std::iter::repeat_n(at, count));
    for ((&slot, offset), at) in column.iter().zip(offsets).zip(settled) {
        frames[slot].top = at + offset;
    }
}

fn ways(diagram: &Diagram, columns: &Columns, frames: &[Frame]) -> Vec<Vec<(f64, f64)>> {
    let mut ways = vec![Vec::new(); diagram.arrows.len()];
    let starts = ports(columns, frames, |step| (step.from, step.to));
    let ends = ports(columns, frames, |step| (step.to, step.from));
    for (index, step) in columns.steps.iter().enumerate() {
        let way: &mut Vec<(f64, f64)> = &mut ways[step.arrow];
        way.push((frames[step.from].right(), starts[index]));
        way.push((frames[step.to].left, ends[index]));
    }
    ways
}

/// The height at which each step meets one side of a slot: spread over the side in the order of where
/// they go, so that no two ends of arrows lie on each other.
fn ports(columns: &Columns, frames: &[Frame], ends: fn(&super::layer::Step) -> (usize, usize)) -> Vec<f64> {
    let mut at_slot = vec![Vec::new(); columns.slots.len()];
    for (index, step) in columns.steps.iter().enumerate() {
        let (slot, other) = ends(step);
        at_slot[slot].push((index, frames[other].middle()));
    }
    let mut heights = vec![0.0; columns.steps.len()];
    for (slot, steps) in at_slot.iter_mut().enumerate() {
        steps.sort_by(|a, b| a.1.total_cmp(&b.1));
        let first = frames[slot].middle() - PORT * (steps.len() as f64 - 1.0) / 2.0;
        for (rank, (index, _)) in steps.iter().enumerate() {
            heights[*index] = first + PORT * rank as f64;
        }
    }
    heights
}
