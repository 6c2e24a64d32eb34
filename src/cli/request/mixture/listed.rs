//! Candidates out of a file of columns.

use std::io::Read;

use super::runs::DesignRequest;
use crate::cli::outcome::Failure;
use crate::cli::request::source::open_file;
use crate::compose::mixture::{Point, PointKind};
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, Warning};

/// How far fractions that were typed to a few digits may miss 1.
const TYPED: f64 = 2e-3;

/// Compositions out of a file with a column for each component, and one for each process variable if there is any.
/// Those outside of the bounds are left out, and so are repeats; a warning says how many.
pub(in crate::cli) fn listed_candidates(
    path: &str,
    request: &DesignRequest,
) -> Result<(Vec<Point>, Vec<Warning>), Failure> {
    let mut file = ColumnFile::open(path, open_file(path)?.0)?;
    let mut faults = Faults::none();
    let names = request.space.names.iter();
    let parts: Vec<usize> = names
        .filter_map(|name| {
            let column =
                file.column("COMPONENT", &name.given).or_else(|_| file.column("COMPONENT", &name.id));
            faults.collect(column.or_else(|_| file.column("COMPONENT", &name.given)))
        })
        .collect();
    let variables = request.variables().iter();
    let set: Vec<usize> =
        variables.filter_map(|own| faults.collect(file.column("--process", &own.name))).collect();
    faults.or(())?;
    let mut points: Vec<Point> = Vec::new();
    let mut outside = 0;
    let mut all = 0;
    file.each_row(|file, line, faults| {
        all += 1;
        if let Some(point) = faults.collect(point(file, &line, &parts, &set)) {
            if request.space.region.holds(&point.fractions) { points.push(point) } else { outside += 1 }
        }
    })?;
    let inside = points.len();
    let mut seen: Vec<Vec<i64>> = Vec::new();
    points.retain(|point| {
        let setting = point.setting.iter().flatten();
        let key: Vec<i64> = point.fractions.iter().chain(setting).map(|x| (x * 1e9).round() as i64).collect();
        let is_new = !seen.contains(&key);
        if is_new {
            seen.push(key);
        }
        is_new
    });
    if points.is_empty() {
        let message = format!("none of the {all} candidates lies within the bounds");
        let fault = Fault::new("no_candidate", message, Place::named("--candidates"));
        return Err(fault.with_hint("Widen the bounds, or check the columns of the file.").into());
    }
    let mut warnings = Vec::new();
    if 0 < outside {
        let message = format!("{outside} of {all} candidates lie outside of the bounds and are left out");
        warnings.push(Warning::new("candidates_left_out", message));
    }
    if points.len() < inside {
        let message =
            format!("{} candidates stand in the file more than once and count once", inside - points.len());
        warnings.push(Warning::new("candidates_twice", message));
    }
    Ok((points, warnings))
}

fn point<R: Read>(
    file: &ColumnFile<R>,
    line: &ColumnRow,
    parts: &[usize],
    set: &[usize],
) -> Result<Point, Faults> {
    let mut faults = Faults::none();
    let mut numbers = |columns: &[usize]| -> Vec<f64> {
        let number = |column: &usize| {
            let missing = || {
                let fault = Fault::new("bad_number", "there is no number here", line.place(*column));
                fault.with_hint("A candidate needs a number in each of its columns.")
            };
            file.number(line, *column).and_then(|number| number.ok_or_else(missing))
        };
        columns.iter().filter_map(|column| faults.collect(number(column))).collect()
    };
    let (fractions, setting) = (numbers(parts), numbers(set));
    faults.or(())?;
    let hint = "Give a column for every component, in fractions from 0 to 1.";
    let fractions = whole(fractions).map_err(|sum| not_whole(sum, line, parts, hint))?;
    let setting = (!set.is_empty()).then_some(setting);
    Ok(Point { kind: PointKind::Listed, fractions, setting })
}

/// Fractions that add up to exactly 1, if they nearly do; else their sum.
pub(super) fn whole(fractions: Vec<f64>) -> Result<Vec<f64>, f64> {
    let sum: f64 = fractions.iter().sum();
    let is_whole = (sum - 1.0).abs() <= TYPED && fractions.iter().all(|x| -1e-12 <= *x);
    if is_whole { Ok(fractions.iter().map(|x| x.max(0.0) / sum).collect()) } else { Err(sum) }
}

/// What to say of fractions that make no whole.
pub(super) fn not_whole(sum: f64, line: &ColumnRow, parts: &[usize], hint: &str) -> Fault {
    let texts: Vec<&str> = parts.iter().map(|column| line.text(*column)).collect();
    let message = if (sum - 1.0).abs() <= TYPED {
        format!("one of {} is below 0, and a fraction is not", texts.join(", "))
    } else {
        format!(
            "{} add up to {}, and fractions of a mixture add up to 1",
            texts.join(", "),
            (sum * 1e9).round() / 1e9
        )
    };
    let column = parts.last().copied().unwrap_or_default();
    Fault::new("not_a_mixture", message, line.place(column)).with_hint(hint)
}
