//! Voltage over time: every cell as a thin line, the mean of those that count with its band, all charts on the same axes.

use std::collections::BTreeMap;

use super::ReportView;
use crate::cell::metric::{Course, MeanPoint, mean_course};
use crate::report::document::{Axis, Block, Chart, Mark, Series, Stroke, heading, muted, paragraph};
use crate::report::view::ranges::code_range;

/// The axis of voltages reaches so much further than the cells that count: a share of what they span.
const ROOM: f64 = 0.05;

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut electrolytes: BTreeMap<&str, Vec<Course>> = BTreeMap::new();
    for record in view.cells {
        electrolytes.entry(&record.electrolyte).or_default().push(record.course());
    }
    electrolytes.retain(|_, courses| courses.iter().any(|course| !course.points.is_empty()));
    let mut blocks = vec![heading(1, "Open-circuit voltage over time")];
    if electrolytes.is_empty() {
        blocks.push(paragraph("Nobody has read an open-circuit voltage."));
        return blocks;
    }
    let counts = || electrolytes.values().flatten().filter(|course| course.failed.is_none());
    let limits = electrolytes.values().flat_map(|courses| mean_course(courses));
    let limits: Vec<f64> =
        limits.filter_map(|point| point.limits).flat_map(|(low, high)| [low, high]).collect();
    let axes = axes(counts(), &limits).or_else(|| axes(electrolytes.values().flatten(), &[]));
    let Some(axes) = axes else { return blocks };
    if 1 < electrolytes.len() {
        blocks.push(means(&electrolytes, &axes).into());
    }
    for (at, (name, courses)) in electrolytes.iter().enumerate() {
        blocks.push(heading(2, *name));
        blocks.push(cells(name, courses, Series(at), &axes).into());
        let disturbed: usize = courses.iter().map(|course| course.disturbed).sum();
        if 0 < disturbed {
            let words = format!("{disturbed} readings soon after a short circuit are left out.");
            blocks.push(paragraph(muted(words)));
        }
    }
    blocks.push(paragraph(muted(
        "The mean stands wherever every cell that counts has a voltage, on the straight line between its readings; its band is the \
         95 % interval of the mean by Student's t, over cells whatever batch they are of: where batches are what is compared, their \
         interval is wider. Cells that failed at any time are in no mean here, while a comparison counts what they showed before. A \
         line ends where a cell was not read for long, and at the edge where it leaves the picture. A voltage that falls is no charge \
         that is lost.",
    )));
    blocks
}

/// The axis of voltages reaches beyond the cells for the limits of a mean, but by no more than they span.
const MOST_ROOM: f64 = 1.0;

/// One pair of axes for all charts, so that they can be laid beside one another: wide enough for these cells and for the
/// limits of their means.
fn axes<'c>(courses: impl Iterator<Item = &'c Course>, limits: &[f64]) -> Option<(Axis, Axis)> {
    let (mut latest, mut low, mut high) = (0.0f64, f64::INFINITY, f64::NEG_INFINITY);
    for (day, volts) in courses.flat_map(|course| course.points.iter().copied()) {
        latest = latest.max(day);
        (low, high) = (low.min(volts), high.max(volts));
    }
    let most = MOST_ROOM * (high - low);
    let (lowest, highest) = (low - most, high + most);
    for limit in limits {
        (low, high) = (low.min(limit.max(lowest)), high.max(limit.min(highest)));
    }
    let room = (ROOM * (high - low)).max(1e-3);
    let up = Axis::new("open circuit (V)").within(low - room, high + room);
    (low <= high).then(|| (Axis::new("days after building").from(0.0).to(latest), up))
}

fn means(electrolytes: &BTreeMap<&str, Vec<Course>>, (across, up): &(Axis, Axis)) -> Chart {
    let mut chart = Chart::new(across.clone(), up.clone(), "mean open-circuit voltage of each electrolyte");
    let all: Vec<(&str, Vec<MeanPoint>)> =
        electrolytes.iter().map(|(name, courses)| (*name, mean_course(courses))).collect();
    for (at, (_, mean)) in all.iter().enumerate() {
        chart = chart.with(band(mean).of(Series(at)));
    }
    for (at, (name, mean)) in all.iter().enumerate() {
        chart = chart.with(line(mean, name).of(Series(at)));
    }
    chart.caption("The mean of each electrolyte with its 95 % interval.")
}

fn cells(name: &str, courses: &[Course], series: Series, (across, up): &(Axis, Axis)) -> Chart {
    let mut chart =
        Chart::new(across.clone(), up.clone(), format!("open-circuit voltage of the cells with {name}"));
    let mean = mean_course(courses);
    chart = chart.with(band(&mean).of(series));
    for course in courses {
        let stroke = if course.failed.is_some() { Stroke::Dashed } else { Stroke::Thin };
        let label = if course.failed.is_some() { format!("{}, failed", course.cell) } else { String::new() };
        chart = chart.with(Mark::line(course.with_gaps(), stroke, label));
    }
    chart = chart.with(line(&mean, if mean.is_empty() { "" } else { "mean" }).of(series));
    let codes: Vec<_> = courses.iter().map(|course| course.cell.clone()).collect();
    let failed = courses.iter().filter(|course| course.failed.is_some()).count();
    let dashed = if failed == 0 { "" } else { "; dashed: failed, not in the mean" };
    chart.caption(format!(
        "{}: each cell as a thin line, the mean as a thick one{dashed}.{}",
        code_range(&codes),
        outside(courses, up)
    ))
}

/// The cells that leave the picture, with their readings furthest out.
fn outside(courses: &[Course], up: &Axis) -> String {
    let (Some(least), Some(most)) = (up.least, up.most) else { return String::new() };
    let beyond = |volts: f64| (least - volts).max(volts - most);
    let furthest = |course: &Course| {
        let volts = course.points.iter().map(|(_, volts)| *volts);
        let furthest = volts.max_by(|one, other| beyond(*one).total_cmp(&beyond(*other)))?;
        (0.0 < beyond(furthest)).then(|| format!("{} ({furthest:.3} V)", course.cell))
    };
    let cells: Vec<String> = courses.iter().filter_map(furthest).collect();
    if cells.is_empty() {
        return String::new();
    }
    format!(" Beyond the edge, with the reading furthest out: {}.", cells.join(", "))
}

fn band(mean: &[MeanPoint]) -> Mark {
    let limits = mean.iter().filter_map(|point| point.limits.map(|(low, high)| (point.day, low, high)));
    Mark::band(limits.collect(), "")
}

fn line(mean: &[MeanPoint], name: &str) -> Mark {
    Mark::line(mean.iter().map(|point| (point.day, point.mean)).collect(), Stroke::Strong, name)
}
