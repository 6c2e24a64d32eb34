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

/// Draws one mark; what has no place on the axes is left out, and a line stops there.
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
            let upper = points.iter().filter_map(|(at, _, high)| inner(&(*at, *high), (x, y)));
            let lower = points.iter().rev().filter_map(|(at, low, _)| inner(&(*at, *low), (x, y)));
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

/// The parts of a line between places that it does not have.
fn runs(points: &[(f64, f64)], scales: (&Scale, &Scale)) -> Vec<Vec<(f64, f64)>> {
    let places: Vec<Option<(f64, f64)>> = points.iter().map(|at| inner(at, scales)).collect();
    let runs = places.split(Option::is_none).map(|run| run.iter().copied().flatten().collect());
    runs.filter(|run: &Vec<(f64, f64)>| !run.is_empty()).collect()
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
