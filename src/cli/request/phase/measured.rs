//! `--points`: a measured liquidus from a file of columns.

use std::io::Read;

use super::amount::{Amount, amount};
use super::pure::PureData;
use crate::cli::outcome::Failure;
use crate::cli::request::source::open_file;
use crate::compose::liquidus::MeasuredPoint;
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, Warning};
use crate::quantity::{Quantity as _, Temperature};

/// The columns, by their names.
pub(super) struct Named<'n> {
    pub(super) file: &'n str,
    pub(super) x: &'n str,
    pub(super) y: &'n str,
    pub(super) weights: Option<&'n str>,
    /// Both components: molar masses turn fractions of the mass into mole fractions.
    pub(super) parts: &'n [PureData],
}

struct Columns {
    x: usize,
    y: usize,
    weights: Option<usize>,
    amount: Amount,
    offset: f64,
}

/// Points with the line of each, and how many rows have an empty cell.
pub(super) type PointsByLine = (Vec<(MeasuredPoint, u64)>, usize);

/// Reads them.
pub(super) fn measured_points(
    named: &Named<'_>,
    warnings: &mut Vec<Warning>,
) -> Result<PointsByLine, Failure> {
    let mut file = ColumnFile::open(named.file, open_file(named.file)?.0)?;
    let columns = columns(&file, named, warnings)?;
    let (mut points, mut left_out) = (Vec::new(), 0);
    file.each_row(|file, line, faults| match faults.collect(columns.point(file, &line)) {
        Some(Some(point)) => points.push((point, line.line)),
        Some(None) => left_out += 1,
        None => {}
    })?;
    if points.is_empty() {
        let fault = Fault::new("no_rows", "no row has all that is needed", Place::named(named.file));
        return Err(fault.with_hint("Check the columns that you named, and that lines stand below.").into());
    }
    Ok((points, left_out))
}

fn columns<R: Read>(
    file: &ColumnFile<R>,
    named: &Named<'_>,
    warnings: &mut Vec<Warning>,
) -> Result<Columns, Faults> {
    let mut faults = Faults::none();
    let x = faults.collect(file.column("--x", named.x));
    let y = faults.collect(file.column("--y", named.y));
    let weights = named.weights.map(|name| faults.collect(file.column("--weights", name)));
    let offset = y.and_then(|y| faults.collect(offset(file.head(y).unit.as_deref())));
    let amount = x.and_then(|x| faults.collect(amount(file.head(x), named.parts)));
    let (Some(x), Some(y), Some(offset), Some((amount, warning))) = (x, y, offset, amount) else {
        return Err(faults);
    };
    warnings.extend(warning);
    faults.or(Columns { x, y, weights: weights.flatten(), amount, offset })
}

/// What makes kelvins of the temperatures. Without a unit none is guessed.
fn offset(unit: Option<&str>) -> Result<f64, Fault> {
    let known = |unit: &str| Temperature::UNITS.iter().find(|known| known.symbol == unit);
    unit.and_then(known).map(|known| known.offset).ok_or_else(|| {
        let message = match unit {
            Some(unit) => format!("{unit:?} is no unit of temperature"),
            None => "the column of temperatures has no unit".to_owned(),
        };
        Fault::new("not_absolute", message, Place::named("--y"))
            .with_hint("Write the unit into its head, as in \"T (K)\" or \"T (°C)\".")
    })
}

impl Columns {
    fn point<R: Read>(
        &self,
        file: &ColumnFile<R>,
        line: &ColumnRow,
    ) -> Result<Option<MeasuredPoint>, Faults> {
        let mut faults = Faults::none();
        let x = faults.collect(file.number(line, self.x)).flatten();
        let y = faults.collect(file.number(line, self.y)).flatten();
        let weight = match self.weights {
            Some(column) => faults.collect(file.number(line, column)).flatten(),
            None => Some(1.0),
        };
        let fraction = x.map(|x| self.amount.mole_fraction(x));
        let kelvin = y.map(|y| y + self.offset);
        if x.is_some_and(|x| !self.amount.holds(x)) {
            let message = match self.amount {
                Amount::Moles(1.0) => "a mole fraction lies between 0 and 1",
                Amount::Mass(1.0, _) => "a mass fraction lies between 0 and 1",
                _ => "percent lie between 0 and 100",
            };
            let fault = Fault::new("bad_fraction", message, line.place(self.x));
            faults.push(fault.with_hint(
                "For percent, write into the head of the column of what they are: (mol%) of the moles, (wt%) of the mass.",
            ));
        }
        if kelvin.is_some_and(|kelvin| kelvin <= 0.0) {
            let fault = Fault::new("not_absolute", "this lies below absolute zero", line.place(self.y));
            faults.push(fault.with_hint("Check the unit in the head of the column."));
        }
        if weight.is_some_and(|weight| weight <= 0.0) {
            let column = self.weights.unwrap_or(self.x);
            let fault = Fault::new("bad_weight", "this weight is not above 0", line.place(column));
            faults.push(fault.with_hint("Leave the cell empty to leave the point out."));
        }
        let point = fraction.zip(kelvin).zip(weight).map(|((fraction, kelvin), weight)| MeasuredPoint {
            fraction,
            temperature: Temperature::from_kelvin(kelvin),
            weight,
        });
        faults.or(point)
    }
}
