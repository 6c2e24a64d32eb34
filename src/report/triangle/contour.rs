//! Isolines, and the regions above a level, of values on a triangular lattice: linear in each small triangle.

use std::collections::HashMap;

use super::lattice::{Lattice, Node};
use super::{Field, Place};

/// An edge of the lattice, the lesser end first.
type Edge = (Node, Node);

/// The lines on which a field has a value, each as joined places; a closed one ends where it begins.
pub fn isolines(field: &Field, level: f64) -> Vec<Vec<Place>> {
    let segments = segments(&field.lattice, level);
    let mut beside: HashMap<Edge, Vec<usize>> = HashMap::new();
    for (at, (one, other)) in segments.iter().enumerate() {
        beside.entry(*one).or_default().push(at);
        beside.entry(*other).or_default().push(at);
    }
    let mut used = vec![false; segments.len()];
    let ends = |at: &usize| {
        let (one, other) = segments[*at];
        beside[&one].len() == 1 || beside[&other].len() == 1
    };
    // Open lines from their ends, then the closed ones.
    let (open, closed): (Vec<usize>, Vec<usize>) = (0..segments.len()).partition(ends);
    let mut lines = Vec::new();
    for start in open.into_iter().chain(closed) {
        if used[start] {
            continue;
        }
        let (one, other) = segments[start];
        let mut edge = if beside[&one].len() == 1 { one } else { other };
        let mut line = vec![on_edge(&field.lattice, edge, level)];
        let mut next = Some(start);
        while let Some(at) = next {
            used[at] = true;
            let (one, other) = segments[at];
            edge = if one == edge { other } else { one };
            line.push(on_edge(&field.lattice, edge, level));
            next = beside[&edge].iter().copied().find(|other| !used[*other]);
        }
        lines.push(line);
    }
    lines
}

/// The part of the triangle where a field is at or above a level, as polygons that meet but don't overlap.
pub fn region(field: &Field, level: f64) -> Vec<Vec<Place>> {
    let lattice = &field.lattice;
    let mut polygons: Vec<Vec<Place>> = runs(lattice, level);
    for cell in lattice.cells() {
        let Some(above) = above(lattice, cell, level) else { continue };
        if above.iter().all(|above| *above) || !above.contains(&true) {
            continue;
        }
        let mut polygon = Vec::new();
        for at in 0..3 {
            let (one, other) = (cell[at], cell[(at + 1) % 3]);
            if above[at] {
                polygon.push(lattice.place(one));
            }
            if above[at] != above[(at + 1) % 3] {
                polygon.push(on_edge(lattice, ordered(one, other), level));
            }
        }
        polygons.push(polygon);
    }
    polygons
}

/// Whole cells above a level that lie in one row beside each other, as one polygon.
fn runs(lattice: &Lattice, level: f64) -> Vec<Vec<Place>> {
    let mut polygons: Vec<Vec<Place>> = Vec::new();
    // The lower and upper edge of the run so far.
    let mut run: Option<(Vec<Node>, Vec<Node>)> = None;
    let mut end = |run: &mut Option<(Vec<Node>, Vec<Node>)>| {
        let Some((lower, upper)) = run.take() else { return };
        // Between its ends a straight edge needs no places.
        let ends = |edge: &[Node]| {
            edge.first()
                .into_iter()
                .chain(edge.last().filter(|_| 1 < edge.len()))
                .copied()
                .collect::<Vec<_>>()
        };
        let outline = ends(&lower).into_iter().chain(ends(&upper).into_iter().rev());
        polygons.push(outline.map(|node| lattice.place(node)).collect());
    };
    let mut row = usize::MAX;
    for cell in lattice.cells() {
        let lowest = cell.iter().map(|(one, _)| *one).min().unwrap_or(0);
        if row != lowest {
            end(&mut run);
            row = lowest;
        }
        if above(lattice, cell, level).is_none_or(|above| above.contains(&false)) {
            end(&mut run);
            continue;
        }
        let (lower, upper) = run.get_or_insert_with(|| (Vec::new(), Vec::new()));
        for node in cell {
            let edge = if node.0 == lowest { &mut *lower } else { &mut *upper };
            if !edge.contains(&node) {
                edge.push(node);
                edge.sort_unstable_by_key(|(_, two)| *two);
            }
        }
    }
    end(&mut run);
    polygons
}

/// Which corners of a cell are at or above a level; `None` if one has no value.
fn above(lattice: &Lattice, cell: [Node; 3], level: f64) -> Option<[bool; 3]> {
    let [a, b, c] = cell.map(|node| lattice.value(node));
    Some([level <= a?, level <= b?, level <= c?])
}

/// The pieces of a line, one through each cell that it crosses, by the edges where they begin and end.
fn segments(lattice: &Lattice, level: f64) -> Vec<(Edge, Edge)> {
    let mut segments = Vec::new();
    for cell in lattice.cells() {
        let Some(above) = above(lattice, cell, level) else { continue };
        let crossed: Vec<Edge> = (0..3)
            .filter(|at| above[*at] != above[(at + 1) % 3])
            .map(|at| ordered(cell[at], cell[(at + 1) % 3]))
            .collect();
        if let [one, other] = crossed[..] {
            segments.push((one, other));
        }
    }
    segments
}

fn ordered(one: Node, other: Node) -> Edge {
    if one <= other { (one, other) } else { (other, one) }
}

fn on_edge(lattice: &Lattice, (one, other): Edge, level: f64) -> Place {
    let (a, b) = (lattice.place(one), lattice.place(other));
    let part = match (lattice.value(one), lattice.value(other)) {
        (Some(low), Some(high)) if low != high => ((level - low) / (high - low)).clamp(0.0, 1.0),
        _ => 0.5,
    };
    std::array::from_fn(|at| a[at] + part * (b[at] - a[at]))
}
