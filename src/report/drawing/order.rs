//! Which slot stands above which: each near the middle of what it is joined to, as long as that makes
//! arrows cross less often.

use super::layer::Columns;

/// So often down and up again; more changes next to nothing (common practice).
const ROUNDS: usize = 8;

/// The same columns with the best order that was met.
pub(super) fn fewer_crossings(columns: Columns) -> Columns {
    let mut best = columns.clone();
    let mut fewest = crossings(&best);
    let mut current = columns;
    for _ in 0..ROUNDS {
        for column in 1..current.columns.len() {
            sort(&mut current, column, Side::Left);
        }
        for column in (0..current.columns.len().saturating_sub(1)).rev() {
            sort(&mut current, column, Side::Right);
        }
        let count = crossings(&current);
        if count < fewest {
            fewest = count;
            best = current.clone();
        }
    }
    best
}

/// The neighbours that count.
#[derive(Clone, Copy)]
enum Side {
    Left,
    Right,
}

/// Sorts a column by the mean rank of its neighbours on one side. A slot without any keeps its rank.
fn sort(columns: &mut Columns, column: usize, side: Side) {
    let ranks = ranks(columns);
    let mut sum = vec![(0.0, 0usize); columns.slots.len()];
    for step in &columns.steps {
        let (slot, neighbour) = match side {
            Side::Left => (step.to, step.from),
            Side::Right => (step.from, step.to),
        };
        sum[slot].0 += ranks[neighbour] as f64;
        sum[slot].1 += 1;
    }
    let mean = |slot: usize| match sum[slot] {
        (_, 0) => ranks[slot] as f64,
        (sum, count) => sum / count as f64,
    };
    columns.columns[column].sort_by(|&a, &b| mean(a).total_cmp(&mean(b)));
}

/// The rank of each slot in its column.
fn ranks(columns: &Columns) -> Vec<usize> {
    let mut ranks = vec![0; columns.slots.len()];
    for column in &columns.columns {
        for (rank, &slot) in column.iter().enumerate() {
            ranks[slot] = rank;
        }
    }
    ranks
}

/// How many pairs of steps cross: those whose ends stand in opposite order.
fn crossings(columns: &Columns) -> usize {
    let ranks = ranks(columns);
    let mut column_of = vec![0; columns.slots.len()];
    for (column, slots) in columns.columns.iter().enumerate() {
        slots.iter().for_each(|&slot| column_of[slot] = column);
    }
    let mut gaps = vec![Vec::new(); columns.columns.len()];
    for step in &columns.steps {
        gaps[column_of[step.from]].push((ranks[step.from], ranks[step.to]));
    }
    let cross = |a: &(usize, usize), b: &(usize, usize)| (a.0 < b.0 && b.1 < a.1) || (b.0 < a.0 && a.1 < b.1);
    let in_gap = |gap: &Vec<(usize, usize)>| -> usize {
        gap.iter().enumerate().map(|(index, a)| gap[..index].iter().filter(|b| cross(a, b)).count()).sum()
    };
    gaps.iter().map(in_gap).sum()
}
