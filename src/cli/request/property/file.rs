//! Values of a property from a file of columns.

use std::io::Read;

use crate::cli::outcome::Failure;
use crate::cli::request::source::open_file;
use crate::compose::curve::{PropertyPoint, Series};
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place};
use crate::quantity::{
    Conductivity, Density, MassFraction, Property, Quantity as _, Temperature, Unit, Viscosity,
};

/// The columns, by their names.
pub(super) struct Named<'n> {
    pub(super) file: &'n str,
    pub(super) x: &'n str,
    pub(super) y: &'n str,
    pub(super) water: Option<&'n str>,
    pub(super) by: Option<&'n str>,
}

struct Columns {
    x: usize,
    y: usize,
    water: Option<(usize, f64)>,
    by: Option<usize>,
    offset: f64,
    factor: f64,
}

/// One series for each name, or one of all; and how many rows have an empty cell.
pub(super) fn of_file(named: &Named<'_>, property: Property) -> Result<(Vec<Series>, usize), Failure> {
    let mut file = ColumnFile::open(named.file, open_file(named.file)?.0)?;
    let columns = columns(&file, named, property)?;
    let mut series: Vec<Series> = Vec::new();
    let mut left_out = 0;
    file.each_row(|file, line, faults| match faults.collect(columns.point(file, &line)) {
        Some(Some((name, point))) => match series.iter_mut().find(|own| own.name == name) {
            Some(own) => own.points.push(point),
            None => series.push(Series::new(name, vec![point])),
        },
        Some(None) => left_out += 1,
        None => {}
    })?;
    if series.is_empty() {
        let fault = Fault::new("no_rows", "no row has all that is needed", Place::named(named.file));
        return Err(fault.with_hint("Check the columns that you named, and that lines stand below.").into());
    }
    Ok((series, left_out))
}

fn units(property: Property) -> &'static [Unit] {
    match property {
        Property::Viscosity => Viscosity::UNITS,
        Property::Conductivity => Conductivity::UNITS,
        _ => Density::UNITS,
    }
}

fn columns<R: Read>(file: &ColumnFile<R>, named: &Named<'_>, property: Property) -> Result<Columns, Faults> {
    let mut faults = Faults::none();
    let mut find = |flag: &str, name: &str| faults.collect(file.column(flag, name));
    let (x, y) = (find("--x", named.x), find("--y", named.y));
    let water = named.water.map(|name| find("--water-column", name));
    let by = named.by.map(|name| find("--by", name));
    let unit = |column: usize, flag: &str, known: &[Unit], what: &str| {
        let head = file.head(column);
        let found = head.unit.as_deref().and_then(|unit| known.iter().find(|known| known.symbol == unit));
        found.copied().ok_or_else(|| {
            let symbols: Vec<&str> = known.iter().map(|known| known.symbol).collect();
            let message = format!("{:?} has no unit of {what} behind it", head.text);
            let hint = format!("Write the unit into the head, as in \"{} ({})\".", head.name, symbols[0]);
            Fault::new("unit_missing", message, Place::named(flag)).with_hint(hint)
        })
    };
    let offset = x.and_then(|x| faults.collect(unit(x, "--x", Temperature::UNITS, "temperature")));
    let factor = y.and_then(|y| faults.collect(unit(y, "--y", units(property), property.id())));
    let water = water.flatten().and_then(|water| {
        let unit = faults.collect(unit(water, "--water-column", MassFraction::UNITS, "mass fraction"))?;
        Some((water, unit.factor))
    });
    let (Some(x), Some(y), Some(offset), Some(factor)) = (x, y, offset, factor) else { return Err(faults) };
    faults.or(Columns { x, y, water, by: by.flatten(), offset: offset.offset, factor: factor.factor })
}

impl Columns {
    fn point<R: Read>(
        &self,
        file: &ColumnFile<R>,
        line: &ColumnRow,
    ) -> Result<Option<(String, PropertyPoint)>, Faults> {
        let mut faults = Faults::none();
        let x = faults.collect(file.number(line, self.x)).flatten();
        let y = faults.collect(file.number(line, self.y)).flatten();
        let water = self.water.and_then(|(column, factor)| {
            let value = faults.collect(file.number(line, column)).flatten()?;
            Some(MassFraction::new(value * factor))
        });
        let kelvin = x.map(|x| x + self.offset);
        if kelvin.is_some_and(|kelvin| kelvin <= 0.0) {
            let fault = Fault::new("not_absolute", "this lies below absolute zero", line.place(self.x));
            faults.push(fault.with_hint("Check the unit in the head of the column."));
        }
        if y.is_some_and(|y| y <= 0.0) {
            let fault = Fault::new("not_positive", "this is not above 0", line.place(self.y));
            faults.push(fault.with_hint("Leave the cell empty if nothing was read."));
        }
        let wanting = self.water.is_some() && water.is_none();
        let name = self.by.map_or_else(|| "measured".to_owned(), |column| line.text(column).to_owned());
        let point = kelvin.zip(y).filter(|_| !wanting && !name.is_empty()).map(|(kelvin, y)| {
            let temperature = Temperature::from_kelvin(kelvin);
            (name, PropertyPoint { temperature, water, value: y * self.factor })
        });
        faults.or(point)
    }
}
