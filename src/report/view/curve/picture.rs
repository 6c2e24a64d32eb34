//! The picture: points, curves, and the bands of those that the answer goes by.

use super::CurveView;
use crate::compose::curve::{Joining, PropertyCurve};
use crate::report::document::{Axis, Block, Chart, Mark, Series, Shape, Stroke};
use crate::statistics::curve_fit::{Band, Form};

/// Steps of a drawn curve.
const STEPS: usize = 80;
/// Colours of single series: the first is that of all together.
const OWN: usize = Series::COUNT - 1;

/// The look of a single series by its place among them.
fn look(at: usize) -> Series {
    Series(1 + at % OWN)
}

/// In the look of a single series, where there are several.
fn looking(mark: Mark, single: Option<usize>, of: usize) -> Mark {
    match single.filter(|_| 1 < of) {
        Some(at) => mark.of(look(at)),
        None => mark,
    }
}

/// Its shape: the first are those of any chart.
fn shape(at: usize) -> Shape {
    Series(at % Series::COUNT).shape()
}

pub(super) fn chart(view: &CurveView) -> Block {
    let up = Axis::new(format!("{} ({})", view.property.id(), view.property.unit()));
    let up = if view.form == Form::Line { up } else { up.logarithmic() };
    let description = format!("{} against temperature, points and curves", view.property.id());
    let mut chart = Chart::new(Axis::new("temperature (°C)"), up, description);
    let heads = heads(view);
    for curve in heads.iter().filter(|curve| has_band(curve)) {
        let band = drawn(curve, view).into_iter().map(|band| (band.x - 273.15, band.mean.0, band.mean.1));
        let band: Vec<_> = band.filter(|(_, low, high)| low.is_finite() && high.is_finite()).collect();
        chart = chart.with(Mark::band(band, ""));
    }
    let singles: Vec<_> = view.series.iter().filter(|own| !own.is_together).collect();
    for (own, curve) in view.curves() {
        let is_head = heads.iter().any(|head| std::ptr::eq(*head, curve));
        let line = drawn(curve, view).into_iter().map(|band| (band.x - 273.15, band.y)).collect();
        let stroke = if is_head { Stroke::Strong } else { Stroke::Through };
        let single = singles.iter().position(|single| std::ptr::eq(&single.series, own));
        chart = chart.with(looking(Mark::line(line, stroke, ""), single, singles.len()));
    }
    for (at, own) in singles.iter().enumerate() {
        let points =
            own.series.points.iter().map(|point| (point.temperature.celsius(), point.value)).collect();
        chart = chart.with(looking(Mark::points(points, shape(at), ""), Some(at), singles.len()));
    }
    chart.caption(caption(view)).into()
}

/// The curve of each liquid that the answer goes by.
fn heads(view: &CurveView) -> Vec<&PropertyCurve> {
    let last = |liquid: super::Liquid<'_>| -> Option<*const PropertyCurve> {
        liquid.curves().last().map(std::ptr::from_ref)
    };
    let heads: Vec<*const PropertyCurve> = view.liquids().into_iter().filter_map(last).collect();
    view.curves()
        .map(|(_, curve)| curve)
        .filter(|curve| heads.contains(&std::ptr::from_ref(*curve)))
        .collect()
}

/// The interval of two series is so wide that it would leave no height for what was measured.
fn has_band(curve: &PropertyCurve) -> bool {
    !matches!(curve.joining, Some(Joining::Levels { count: 2, .. }))
}

fn drawn(curve: &PropertyCurve, view: &CurveView) -> Vec<Band> {
    let (low, high) = curve.kelvins;
    (0..=STEPS)
        .map(|step| curve.band(low + (high - low) * step as f64 / STEPS as f64, view.water()))
        .collect()
}

fn caption(view: &CurveView) -> String {
    let single: Vec<&str> =
        view.series.iter().filter(|own| !own.is_together).map(|own| own.series.name.as_str()).collect();
    if single.len() < 2 {
        return "Points, curve and its band, as far as the points go.".to_owned();
    }
    let legend: Vec<String> =
        single.iter().enumerate().map(|(at, name)| format!("{} {name}", shape(at).sign())).collect();
    if view.curves().next().is_none() {
        return format!("Points of all series: {}.", legend.join("; "));
    }
    let (two, more): (Vec<&PropertyCurve>, Vec<&PropertyCurve>) =
        heads(view).into_iter().partition(|curve| !has_band(curve));
    let together = match (two.is_empty(), more.is_empty()) {
        (true, _) => "the thick line and its band that of all together",
        (false, true) => {
            "the thick line that of all together, whose band stands in the table: of two series it would fill the picture"
        }
        (false, false) => "thick lines are those of all together, of two series without their band",
    };
    format!(
        "Points of all series: {}. Thin lines are the curves of single ones, {together}, each as far as its points go.",
        legend.join("; ")
    )
}
