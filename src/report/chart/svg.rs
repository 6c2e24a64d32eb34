//! A chart as SVG, drawn by the library `plotters`. Dark on white, so that it can be read in grey; labels stand beside what they name.

use plotters::coord::Shift;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::beside::{Wanted, spread};
use super::frame::Scale;
use super::mark::draw_mark;
use super::tone;
use crate::report::document::{Chart, Mark};
use crate::report::lettering::{FONT, Weight, drawable, width, wrap};

/// Drawn so many times larger than shown, since the library draws on whole pixels.
pub(super) const FINE: i32 = 4;
/// Size of letters as shown.
const LETTER: f64 = 12.0;
/// Height of a line of a label.
const LINE: i32 = (LETTER as i32 + 3) * FINE;
/// A typeface that stands in for the one asked for may be wider.
const WIDER: f64 = 1.15;
const WIDE: i32 = 680;
const HIGH: i32 = 340;
pub(super) const GREY: RGBColor = RGBColor(110, 110, 110);

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
pub(super) type Plane<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
pub(super) type Drawn = Result<(), DrawingAreaErrorKind<std::io::Error>>;

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
        texts.map(|text| (WIDER * width(text, Weight::Regular) * LETTER) as i32).max().unwrap_or(0)
    };
    let left = widest(&mut y.ticks.iter().map(|(_, text)| text.as_str())) + 12;
    let labels = chart.marks.iter().filter(|mark| !matches!(mark, Mark::Place { .. }));
    let lines: Vec<String> = labels.flat_map(|mark| label_lines(mark.label())).collect();
    let right = widest(&mut lines.iter().map(String::as_str)) + 14;
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
        draw_mark(&mut plane, mark, (&x, &y))?;
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
    area.draw(&Text::new(drawable(&chart.up.heading()), (8 * FINE, 6 * FINE), title))?;
    let title = letters(HPos::Right, VPos::Bottom);
    area.draw(&Text::new(drawable(&chart.across.heading()), (right, (high - 6) * FINE), title))
}

/// Labels beside the right ends, moved apart where they would cover one another; that of a place stands above
/// it.
fn labelled(area: &Area<'_>, plane: &Plane<'_, '_>, chart: &Chart, (x, y): (&Scale, &Scale)) -> Drawn {
    let mut beside: Vec<(i32, Vec<String>, RGBColor)> = Vec::new();
    for mark in chart.marks.iter().filter(|mark| !mark.label().is_empty()) {
        if let Mark::Place { x: place, label } = mark {
            if let Some(place) = x.inner(*place) {
                let (place, top) = plane.backend_coord(&(place, y.high));
                let style = letters(HPos::Center, VPos::Bottom);
                area.draw(&Text::new(drawable(label), (place, top - 3 * FINE), style))?;
            }
            continue;
        }
        let colour = mark.series().map_or(BLACK, |series| tone::of(series).colour);
        let end = mark.end().and_then(|end| y.inner(end));
        let at = |end: f64| (plane.backend_coord(&(x.high, end)).1, label_lines(mark.label()), colour);
        beside.extend(end.map(at));
    }
    let (right, bottom) = plane.backend_coord(&(x.high, y.low));
    let (_, top) = plane.backend_coord(&(x.high, y.high));
    let wanted: Vec<Wanted> = beside
        .iter()
        .map(|(middle, lines, _)| Wanted { middle: *middle, height: LINE * lines.len() as i32 })
        .collect();
    for ((wanted, lines, colour), middle) in beside.into_iter().zip(spread(&wanted, (top, bottom))) {
        let first = middle - LINE * (lines.len() as i32 - 1) / 2;
        for (at, line) in lines.into_iter().enumerate() {
            let style = letters(HPos::Left, VPos::Center).color(&colour);
            area.draw(&Text::new(line, (right + 8 * FINE, first + LINE * at as i32), style))?;
        }
        if LINE / 4 < (middle - wanted).abs() {
            let lead = vec![(right + FINE, wanted), (right + 7 * FINE, middle)];
            area.draw(&PathElement::new(lead, GREY.stroke_width(FINE as u32 / 2)))?;
        }
    }
    Ok(())
}

/// A label in lines that fit beside the plane.
fn label_lines(label: &str) -> Vec<String> {
    wrap(&drawable(label), Weight::Regular, f64::from(WIDE) / 3.0 / (WIDER * LETTER))
}
