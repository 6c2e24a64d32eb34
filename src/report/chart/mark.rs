//! The marks of a chart, drawn by the library `plotters`.

use plotters::prelude::*;

use super::frame::Scale;
use super::svg::{Drawn, FINE, GREY, Plane};
use super::tone::{self, Tone};
use crate::report::document::{Mark, Series, Shape, Stroke};

/// Dashes of bounds, targets and places.
const DASHES: (i32, i32) = (5, 4);
/// Those of how far something may reach.
const DOTS: (i32, i32) = (1, 3);

/// Draws one mark; what has no place on the axes is left out. A line and a band that leave the axis upward or downward go
/// to its edge.
pub(super) fn draw_mark(plane: &mut Plane<'_, '_>, mark: &Mark, (x, y): (&Scale, &Scale)) -> Drawn {
    match mark {
        Mark::Line { points, stroke, series, .. } => {
            let own = tone::of(series.unwrap_or(Series(0)));
            runs(points, (x, y))
                .into_iter()
                .try_for_each(|run| line(plane, run, *stroke, series.map(|_| own)))
        }
        Mark::Points { points, shape, series, .. } => {
            let places: Vec<(f64, f64)> = points.iter().filter_map(|at| inner(at, (x, y))).collect();
            dots(plane, &places, *shape, series.map_or(BLACK, |series| tone::of(series).colour))
        }
        Mark::Band { points, series, .. } => {
            let edge = |at: f64, value: f64| Some((x.inner(at)?, y.nearest(value)?));
            let upper = points.iter().filter_map(|(at, _, high)| edge(*at, *high));
            let lower = points.iter().rev().filter_map(|(at, low, _)| edge(*at, *low));
            let outline: Vec<(f64, f64)> = upper.chain(lower).collect();
            let pale = tone::of(series.unwrap_or(Series(0))).colour.mix(tone::BAND);
            plane.draw_series([Polygon::new(outline, pale.filled())]).map(|_| ())
        }
        Mark::Level { y: level, .. } => match y.inner(*level) {
            Some(level) => dashed(plane, vec![(x.low, level), (x.high, level)], GREY, DASHES, 1),
            None => Ok(()),
        },
        Mark::Place { x: place, .. } => match x.inner(*place) {
            Some(place) => dashed(plane, vec![(place, y.low), (place, y.high)], GREY, DASHES, 1),
            None => Ok(()),
        },
    }
}

fn inner((a, b): &(f64, f64), (x, y): (&Scale, &Scale)) -> Option<(f64, f64)> {
    Some((x.inner(*a)?, y.inner(*b)?))
}

/// The parts of a line between places that it does not have, each cut where it leaves the axis.
fn runs(points: &[(f64, f64)], (x, y): (&Scale, &Scale)) -> Vec<Vec<(f64, f64)>> {
    let place = |(across, up): &(f64, f64)| Some((x.inner(*across)?, y.beyond(*up)?));
    let places: Vec<Option<(f64, f64)>> = points.iter().map(place).collect();
    let mut runs: Vec<Vec<(f64, f64)>> = Vec::new();
    for run in places.split(Option::is_none) {
        let run: Vec<(f64, f64)> = run.iter().copied().flatten().collect();
        if let [only] = run[..] {
            runs.extend((y.low <= only.1 && only.1 <= y.high).then(|| vec![only]));
        }
        for (from, to) in run.windows(2).filter_map(|pair| cut((pair[0], pair[1]), (y.low, y.high))) {
            match runs.last_mut().filter(|run| run.last() == Some(&from)) {
                Some(run) => run.push(to),
                None => runs.push(vec![from, to]),
            }
        }
    }
    runs
}

type Segment = ((f64, f64), (f64, f64));

/// The part of a straight line between two heights; `None` if it is never there.
fn cut((from, to): Segment, (low, high): (f64, f64)) -> Option<Segment> {
    if from.1.max(to.1) < low || high < from.1.min(to.1) {
        return None;
    }
    let at = |up: f64| (from.0 + (up - from.1) / (to.1 - from.1) * (to.0 - from.0), up);
    let held = |own: (f64, f64)| {
        if own.1 < low {
            at(low)
        } else if high < own.1 {
            at(high)
        } else {
            own
        }
    };
    Some((held(from), held(to)))
}

fn line(plane: &mut Plane<'_, '_>, run: Vec<(f64, f64)>, stroke: Stroke, own: Option<Tone>) -> Drawn {
    let colour = own.map(|tone| tone.colour);
    let (colour, wide) = match stroke {
        Stroke::Dashed => return dashed(plane, run, colour.unwrap_or(BLACK), DASHES, 1),
        Stroke::Strong => (colour.unwrap_or(tone::of(Series(0)).colour), 2),
        Stroke::Dotted => return dashed(plane, run, colour.unwrap_or(BLACK), DOTS, 1),
        Stroke::Thin | Stroke::Through => (colour.unwrap_or(GREY), 1),
    };
    match own.and_then(|tone| tone.dashes) {
        Some(dashes) => dashed(plane, run, colour, dashes, wide),
        None => plane.draw_series(LineSeries::new(run, colour.stroke_width(wide * FINE as u32))).map(|_| ()),
    }
}

fn dashed(
    plane: &mut Plane<'_, '_>,
    run: Vec<(f64, f64)>,
    colour: RGBColor,
    (dash, space): (i32, i32),
    wide: u32,
) -> Drawn {
    let style = colour.stroke_width(wide * FINE as u32);
    plane.draw_series(DashedLineSeries::new(run, dash * FINE, space * FINE, style)).map(|_| ())
}

fn dots(plane: &mut Plane<'_, '_>, places: &[(f64, f64)], shape: Shape, colour: RGBColor) -> Drawn {
    let places = places.iter().copied();
    let size = 7 * FINE / 2;
    let thin = colour.stroke_width(FINE as u32);
    match shape {
        Shape::Filled => {
            plane.draw_series(places.map(|at| Circle::new(at, size, colour.filled()))).map(|_| ())
        }
        Shape::Hollow => {
            plane.draw_series(places.clone().map(|at| Circle::new(at, size, WHITE.filled())))?;
            plane.draw_series(places.map(|at| Circle::new(at, size, thin))).map(|_| ())
        }
        Shape::Cross => plane.draw_series(places.map(|at| Cross::new(at, size, thin))).map(|_| ()),
        Shape::Plus => {
            let ways = [[(-size, 0), (size, 0)], [(0, -size), (0, size)]];
            let bar = |way: [(i32, i32); 2]| PathElement::new(way.to_vec(), thin);
            plane.draw_series(places.map(|at| EmptyElement::at(at) + bar(ways[0]) + bar(ways[1]))).map(|_| ())
        }
        _ => {
            let (corners, is_filled) = corners(shape, size);
            let inside = if is_filled { colour.filled() } else { WHITE.filled() };
            let mut outline = corners.clone();
            outline.extend(corners.first());
            let drawn = |at| {
                EmptyElement::at(at)
                    + Polygon::new(corners.clone(), inside)
                    + PathElement::new(outline.clone(), thin)
            };
            plane.draw_series(places.map(drawn)).map(|_| ())
        }
    }
}

/// The corners of a shape that has any, around its place, and whether it is filled.
fn corners(shape: Shape, size: i32) -> (Vec<(i32, i32)>, bool) {
    let square = vec![(-size, -size), (size, -size), (size, size), (-size, size)];
    let triangle = vec![(0, -size - size / 4), (size + size / 8, size), (-size - size / 8, size)];
    let diamond =
        vec![(0, -size - size / 4), (size + size / 4, 0), (0, size + size / 4), (-size - size / 4, 0)];
    match shape {
        Shape::Square => (square, false),
        Shape::Triangle => (triangle, false),
        Shape::FilledTriangle => (triangle, true),
        Shape::Diamond => (diamond, false),
        _ => (square, true),
    }
}
