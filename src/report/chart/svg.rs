//! A chart as SVG, drawn by the library `plotters`. Black, grey and one dark blue on white, so that it can be
//! read in grey; labels stand beside what they name.

use plotters::coord::Shift;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::frame::Scale;
use crate::report::document::{Chart, Mark, Shape, Stroke};
use crate::report::lettering::{FONT, Weight, drawable, width};

/// Drawn so many times larger than shown, since the library draws on whole pixels.
const FINE: i32 = 4;
/// Size of letters as shown.
const LETTER: f64 = 12.0;
const WIDE: i32 = 680;
const HIGH: i32 = 340;
const BLUE: RGBColor = RGBColor(0, 68, 136);
const GREY: RGBColor = RGBColor(110, 110, 110);
const PALE: RGBColor = RGBColor(205, 215, 225);

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Plane<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
type Drawn = Result<(), DrawingAreaErrorKind<std::io::Error>>;

/// The whole as SVG 1.1; empty if the library can't draw it.
pub(in crate::report) fn svg(chart: &Chart) -> String {
    let high = match chart.up.names.len() {
        0 if chart.low => HIGH / 2 + 30,
        0 => HIGH,
        names => (90 + 46 * names as i32).min(900),
    };
    let mut text = String::new();
    let drawn = draw(chart, &mut text, high);
    if drawn.is_err() {
        return String::new();
    }
    finished(&text, chart, high)
}

/// The size as shown, the typefaces that have the widths assumed here, and a title for those who can't see it.
fn finished(text: &str, chart: &Chart, high: i32) -> String {
    let (_, inside) = text.split_once('>').unwrap_or(("", text));
    let title = maud::html! { title { (drawable(&chart.description.to_string())) } };
    let inside = inside.replace("font-family=\"sans-serif\"", &format!("font-family=\"{FONT}\""));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDE}\" height=\"{high}\" \
         viewBox=\"0 0 {} {}\">{}{}",
        WIDE * FINE,
        high * FINE,
        title.into_string(),
        inside.trim_end()
    )
}

fn draw(chart: &Chart, text: &mut String, high: i32) -> Drawn {
    let size = ((WIDE * FINE) as u32, (high * FINE) as u32);
    let area: Area = SVGBackend::with_string(text, size).into_drawing_area();
    let (x, y) = Scale::of(chart, 8, if chart.low { 5 } else { 6 });
    let widest = |texts: &mut dyn Iterator<Item = &str>| {
        texts.map(|text| (width(text, Weight::Regular) * LETTER) as i32).max().unwrap_or(0)
    };
    let left = widest(&mut y.ticks.iter().map(|(_, text)| text.as_str())) + 12;
    let labels = chart.marks.iter().filter(|mark| !matches!(mark, Mark::Place { .. }));
    let right = widest(&mut labels.map(Mark::label)).min(WIDE / 3) + 14;
    let mut plane = ChartBuilder::on(&area)
        .margin_top(30 * FINE)
        .margin_right(right * FINE)
        .margin_left(6 * FINE)
        .margin_bottom(26 * FINE)
        .x_label_area_size(22 * FINE)
        .y_label_area_size(left * FINE)
        .build_cartesian_2d(x.low..x.high, y.low..y.high)?;
    axes(&area, &plane, (&x, &y), chart, high)?;
    for mark in &chart.marks {
        self::mark(&mut plane, mark, (&x, &y))?;
    }
    labelled(&area, &plane, chart, (&x, &y))?;
    area.present()
}

fn letters(anchor: HPos, upright: VPos) -> TextStyle<'static> {
    // The library divides by 1.24 what it is asked for.
    let size = 1.24 * LETTER * f64::from(FINE);
    TextStyle::from(("sans-serif", size).into_font()).pos(Pos::new(anchor, upright))
}

/// Two axes with their numbers, the titles at their ends, and no grid.
fn axes(area: &Area<'_>, plane: &Plane<'_, '_>, (x, y): (&Scale, &Scale), chart: &Chart, high: i32) -> Drawn {
    let (left, bottom) = plane.backend_coord(&(x.low, y.low));
    let (right, top) = plane.backend_coord(&(x.high, y.high));
    let stroke = BLACK.stroke_width(FINE as u32);
    area.draw(&PathElement::new(vec![(left, top), (left, bottom), (right, bottom)], stroke))?;
    let mut reached = i32::MIN;
    for (at, text) in &x.ticks {
        let (place, _) = plane.backend_coord(&(*at, y.low));
        let half = (width(text, Weight::Regular) * LETTER / 2.0) as i32 * FINE;
        area.draw(&PathElement::new(vec![(place, bottom), (place, bottom + 4 * FINE)], stroke))?;
        if reached < place - half {
            let style = letters(HPos::Center, VPos::Top);
            area.draw(&Text::new(drawable(text), (place, bottom + 7 * FINE), style))?;
            reached = place + half + 6 * FINE;
        }
    }
    for (at, text) in &y.ticks {
        let (_, place) = plane.backend_coord(&(x.low, *at));
        area.draw(&PathElement::new(vec![(left - 4 * FINE, place), (left, place)], stroke))?;
        let style = letters(HPos::Right, VPos::Center);
        area.draw(&Text::new(drawable(text), (left - 7 * FINE, place), style))?;
    }
    let title = letters(HPos::Left, VPos::Top);
    area.draw(&Text::new(drawable(&chart.up.title), (8 * FINE, 6 * FINE), title))?;
    let title = letters(HPos::Right, VPos::Bottom);
    area.draw(&Text::new(drawable(&chart.across.title), (right, (high - 6) * FINE), title))
}

fn mark(plane: &mut Plane<'_, '_>, mark: &Mark, (x, y): (&Scale, &Scale)) -> Drawn {
    let inner = |(a, b): &(f64, f64)| Some((x.inner(*a)?, y.inner(*b)?));
    let dashed = |plane: &mut Plane<'_, '_>, points: Vec<(f64, f64)>, colour: RGBColor| -> Drawn {
        let style = colour.stroke_width(FINE as u32);
        plane.draw_series(DashedLineSeries::new(points, 5 * FINE, 4 * FINE, style)).map(|_| ())
    };
    match mark {
        Mark::Line { points, stroke, .. } => {
            let points: Vec<(f64, f64)> = points.iter().filter_map(inner).collect();
            let style = match stroke {
                Stroke::Dashed => return dashed(plane, points, BLACK),
                Stroke::Strong => BLUE.stroke_width(2 * FINE as u32),
                Stroke::Thin => GREY.stroke_width(FINE as u32),
            };
            plane.draw_series(LineSeries::new(points, style)).map(|_| ())
        }
        Mark::Points { points, shape, .. } => {
            let points = points.iter().filter_map(inner);
            let size = 7 * FINE / 2;
            let thin = BLACK.stroke_width(FINE as u32);
            match shape {
                Shape::Filled => {
                    plane.draw_series(points.map(|at| Circle::new(at, size, BLACK.filled()))).map(|_| ())
                }
                Shape::Hollow => {
                    plane.draw_series(points.clone().map(|at| Circle::new(at, size, WHITE.filled())))?;
                    plane.draw_series(points.map(|at| Circle::new(at, size, thin))).map(|_| ())
                }
                Shape::Cross => plane.draw_series(points.map(|at| Cross::new(at, size, thin))).map(|_| ()),
            }
        }
        Mark::Band { points, .. } => {
            let upper = points.iter().filter_map(|(x, _, high)| inner(&(*x, *high)));
            let lower = points.iter().rev().filter_map(|(x, low, _)| inner(&(*x, *low)));
            let outline: Vec<(f64, f64)> = upper.chain(lower).collect();
            plane.draw_series([Polygon::new(outline, PALE.filled())]).map(|_| ())
        }
        Mark::Level { y: level, .. } => match y.inner(*level) {
            Some(level) => dashed(plane, vec![(x.low, level), (x.high, level)], GREY),
            None => Ok(()),
        },
        Mark::Place { x: place, .. } => match x.inner(*place) {
            Some(place) => dashed(plane, vec![(place, y.low), (place, y.high)], GREY),
            None => Ok(()),
        },
    }
}

/// Labels beside the right ends, moved apart where they would cover one another; that of a place stands above
/// it.
fn labelled(area: &Area<'_>, plane: &Plane<'_, '_>, chart: &Chart, (x, y): (&Scale, &Scale)) -> Drawn {
    let mut beside: Vec<(i32, &str)> = Vec::new();
    for mark in chart.marks.iter().filter(|mark| !mark.label().is_empty()) {
        let last = match mark {
            Mark::Line { points, .. } | Mark::Points { points, .. } => points.last().map(|(_, y)| *y),
            Mark::Band { points, .. } => points.last().map(|(_, low, high)| (low + high) / 2.0),
            Mark::Level { y, .. } => Some(*y),
            Mark::Place { x: place, label } => {
                if let Some(place) = x.inner(*place) {
                    let (place, top) = plane.backend_coord(&(place, y.high));
                    let style = letters(HPos::Center, VPos::Bottom);
                    area.draw(&Text::new(drawable(label), (place, top - 3 * FINE), style))?;
                }
                None
            }
        };
        let at = last.and_then(|last| y.inner(last));
        beside.extend(at.map(|at| (plane.backend_coord(&(x.high, at)).1, mark.label())));
    }
    beside.sort_by_key(|(place, _)| *place);
    let (right, _) = plane.backend_coord(&(x.high, y.low));
    let mut free = i32::MIN;
    for (place, label) in beside {
        let place = place.max(free);
        free = place + (LETTER as i32 + 3) * FINE;
        let style = letters(HPos::Left, VPos::Center);
        area.draw(&Text::new(drawable(label), (right + 6 * FINE, place), style))?;
    }
    Ok(())
}
