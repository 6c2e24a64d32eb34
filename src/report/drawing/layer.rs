//! Which box stands in which column, and what lies between the ends of an arrow.

use super::Diagram;

/// Something that takes room in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slot {
    /// A box, by its place in the diagram.
    Box(usize),
    /// The passage of an arrow, by its place, through a column in which it has no end.
    Passage(usize),
}

/// Slots in columns, and the steps of all arrows from a column to the next.
#[derive(Debug, Clone, Default)]
pub(super) struct Columns {
    /// The slots.
    pub slots: Vec<Slot>,
    /// The columns from left to right, each with its slots from top to bottom.
    pub columns: Vec<Vec<usize>>,
    /// The steps.
    pub steps: Vec<Step>,
}

/// A step of an arrow from a column to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Step {
    /// The arrow, by its place in the diagram.
    pub arrow: usize,
    /// The slot on the left.
    pub from: usize,
    /// The slot on the right.
    pub to: usize,
}

/// Columns in the order given, not yet put in order from top to bottom.
pub(super) fn columns(diagram: &Diagram) -> Columns {
    let column_of = column_of_each(diagram);
    let count = column_of.iter().max().map_or(0, |last| last + 1);
    let mut columns = Columns { columns: vec![Vec::new(); count], ..Columns::default() };
    for (place, &column) in column_of.iter().enumerate() {
        columns.add(Slot::Box(place), column);
    }
    for (arrow, ends) in diagram.arrows.iter().enumerate() {
        let (first, last) = (column_of[ends.from], column_of[ends.to]);
        let mut from = ends.from;
        for column in first + 1..last {
            let passage = columns.add(Slot::Passage(arrow), column);
            columns.steps.push(Step { arrow, from, to: passage });
            from = passage;
        }
        columns.steps.push(Step { arrow, from, to: ends.to });
    }
    columns
}

/// Each box as far left as its arrows let it, then each that has an arrow away from it as far right as
/// that lets it: a bottle stands just before what it was used in.
fn column_of_each(diagram: &Diagram) -> Vec<usize> {
    let mut column = vec![0; diagram.boxes.len()];
    let mut arrows: Vec<(usize, usize)> = diagram.arrows.iter().map(|arrow| (arrow.from, arrow.to)).collect();
    arrows.sort_unstable();
    for &(from, to) in &arrows {
        column[to] = column[to].max(column[from] + 1);
    }
    let mut nearest = vec![usize::MAX; column.len()];
    for &(from, to) in arrows.iter().rev() {
        nearest[from] = nearest[from].min(column[to]);
        column[from] = nearest[from] - 1;
    }
    column
}

impl Columns {
    fn add(&mut self, slot: Slot, column: usize) -> usize {
        let place = self.slots.len();
        self.slots.push(slot);
        self.columns[column].push(place);
        place
    }
}
