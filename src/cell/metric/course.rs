//! The course of the open-circuit voltage: of each cell, and the mean of cells that are alike.

use super::cell_record::CellRecord;
use crate::record::Code;
use crate::record::cell::Cause;
use crate::record::reading::ReadingKind;
use crate::statistics::distribution::student_t_quantile;
use crate::statistics::interpolate::interpolate;
use crate::statistics::moments::Moments;

/// The open-circuit voltage of one cell over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// The cell.
    pub cell: Code,
    /// Days after building and volts, in order of time; what a short circuit disturbs is left out.
    pub points: Vec<(f64, f64)>,
    /// So many readings were left out because a short circuit disturbs them.
    pub disturbed: usize,
    /// The physical cause for which the cell ended and does not count for the mean.
    pub failed: Option<Cause>,
}

/// The mean of several cells at a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanPoint {
    /// Days after building.
    pub day: f64,
    /// Volts.
    pub mean: f64,
    /// Limits of the mean, 95 %, by Student's t; `None` for one cell.
    pub limits: Option<(f64, f64)>,
}

/// Readings at most so many days apart count as one round.
const ROUND_D: f64 = 0.5;

impl CellRecord {
    /// Its open-circuit voltage over time, up to its end.
    pub fn course(&self) -> Course {
        let open = |kind: ReadingKind| kind == ReadingKind::OpenCircuit;
        let readings: Vec<_> =
            self.in_use().into_iter().filter(|(reading, _)| open(reading.taken.value.kind())).collect();
        let whole = readings.iter().filter(|(_, disturbed)| !disturbed);
        Course {
            cell: self.cell.code.clone(),
            points: whole
                .map(|(reading, _)| (self.age_d(reading.taken.at), reading.taken.value.number()))
                .collect(),
            disturbed: readings.iter().filter(|(_, disturbed)| *disturbed).count(),
            failed: self
                .cell
                .retired
                .as_ref()
                .map(|(_, cause, _)| cause.clone())
                .filter(|cause| cause.is_physical()),
        }
    }
}

impl Course {
    /// The points with a gap wherever nobody read for more than three times as long as usual and more than two days: a
    /// place without a voltage.
    pub fn with_gaps(&self) -> Vec<(f64, f64)> {
        let mut steps: Vec<f64> = self.points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
        steps.sort_by(f64::total_cmp);
        let usual = steps.get(steps.len() / 2).copied().unwrap_or(f64::INFINITY);
        let most = (3.0 * usual).max(2.0);
        let mut drawn = Vec::new();
        for (at, point) in self.points.iter().enumerate() {
            if 0 < at && most < point.0 - self.points[at - 1].0 {
                drawn.push(((point.0 + self.points[at - 1].0) / 2.0, f64::NAN));
            }
            drawn.push(*point);
        }
        drawn
    }

    /// Its voltage in a round of readings: the mean of its own, or else the straight line between those around it.
    fn in_round(&self, (from, to): (f64, f64)) -> Option<f64> {
        let own: Vec<f64> = self
            .points
            .iter()
            .filter(|(day, _)| (from..=to).contains(day))
            .map(|(_, volts)| *volts)
            .collect();
        if own.is_empty() {
            interpolate(&self.points, (from + to) / 2.0)
        } else {
            Some(Moments::of(&own).mean)
        }
    }
}

/// The mean of the cells that count, wherever each of them has a voltage: a mean of changing cells would jump.
pub fn mean_course(courses: &[Course]) -> Vec<MeanPoint> {
    let counting: Vec<&Course> =
        courses.iter().filter(|course| course.failed.is_none() && !course.points.is_empty()).collect();
    let point = |round: (f64, f64)| {
        let volts = counting.iter().map(|course| course.in_round(round)).collect::<Option<Vec<f64>>>()?;
        let moments = Moments::of(&volts);
        let half = (1 < volts.len()).then(|| student_t_quantile(0.975, moments.df()) * moments.sem());
        Some(MeanPoint {
            day: (round.0 + round.1) / 2.0,
            mean: moments.mean,
            limits: half.map(|half| (moments.mean - half, moments.mean + half)),
        })
    };
    rounds(&counting).into_iter().filter_map(point).collect()
}

/// From when to when each round of readings went.
fn rounds(courses: &[&Course]) -> Vec<(f64, f64)> {
    let mut days: Vec<f64> =
        courses.iter().flat_map(|course| course.points.iter().map(|(day, _)| *day)).collect();
    days.sort_by(f64::total_cmp);
    let mut rounds: Vec<(f64, f64)> = Vec::new();
    for day in days {
        match rounds.last_mut() {
            Some((from, to)) if day - *from <= ROUND_D => *to = day,
            _ => rounds.push((day, day)),
        }
    }
    rounds
}
