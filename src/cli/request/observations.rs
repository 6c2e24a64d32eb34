//! Observations out of a file of columns: values by group, with the batch, cell, time and cause of exclusion that stand
//! beside them.

use std::collections::BTreeMap;

use clap::Args;

use super::book_observations::{BookOptions, observed_in_book};
use super::observed::Observed;
use super::per_cell::{Metric, TimeUnit, per_cell};
use super::reading_time::{days_from_first, days_of_dates, reading_time};
use super::repeated_cells::RepeatedCells;
use super::source::open_file;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place};
use crate::record::cell::is_physical_cause;

/// Which columns hold what.
#[derive(Debug, Args)]
pub(in crate::cli) struct ObservationArgs {
    /// A file of columns (CSV): names in the first line, one cell or reading in each line below. Without one the
    /// cells of the book are taken, with --metric
    #[arg(value_name = "FILE")]
    file: Option<String>,
    /// The column of the FILE with the groups, such as electrolytes; of the book: electrolyte, batch or design
    /// [default for the book: electrolyte]
    #[arg(long, value_name = "COLUMN or WHAT")]
    by: Option<String>,
    /// The column with the values; a unit may stand in its head: "ocv (mV)", "OCV / V", "voltage_V"
    #[arg(long, value_name = "COLUMN", help_heading = "Values of a FILE")]
    value: Option<String>,
    /// The column with the batches: cells of one batch are repeats of that batch
    #[arg(long, value_name = "COLUMN", help_heading = "Values of a FILE")]
    batch: Option<String>,
    /// The column with the cells, where a cell has several readings: they are never pooled
    #[arg(long, value_name = "COLUMN", help_heading = "Values of a FILE")]
    cell: Option<String>,
    /// The column with the times of the readings, as numbers or dates: the slope of each cell is taken
    #[arg(long, value_name = "COLUMN", requires = "cell", help_heading = "Values of a FILE")]
    time: Option<String>,
    /// Take each cell's value at this day instead of its slope, between the readings around it; where times are dates, days count
    /// from the first reading of each cell
    #[arg(
        long,
        value_name = "DAY",
        requires = "time",
        allow_negative_numbers = true,
        help_heading = "Values of a FILE"
    )]
    at_day: Option<f64>,
    /// The column that holds a physical cause (leak, short, dry, …) where a cell is left out
    #[arg(long, value_name = "COLUMN", help_heading = "Values of a FILE")]
    excluded: Option<String>,
    #[command(flatten)]
    book: BookOptions,
}

/// The columns by their places.
pub(super) struct Columns {
    pub(super) value: usize,
    pub(super) by: Option<usize>,
    pub(super) batch: Option<usize>,
    pub(super) cell: Option<usize>,
    pub(super) time: Option<usize>,
    pub(super) excluded: Option<usize>,
}

/// A line taken apart.
pub(super) struct Reading {
    pub(super) group: String,
    pub(super) batch: String,
    pub(super) cell: Option<String>,
    pub(super) time: Option<f64>,
    /// True if the time was a date, in days then.
    pub(super) dated: bool,
    pub(super) value: Option<f64>,
    /// With so many decimals the value was written.
    pub(super) decimals: usize,
    pub(super) cause: Option<String>,
    pub(super) line: u64,
}

/// Words that say that a cell counts.
const COUNTS: [&str; 10] = ["", "-", "–", "no", "n", "false", "0", "none", "end of test", "end-of-test"];

/// Reads the file, or takes the metric of the cells of the book; all faults come together.
pub(in crate::cli) fn observed(common: &Common, args: &ObservationArgs) -> Result<Observed, Failure> {
    match (&args.file, &args.book.metric) {
        (Some(path), None) => of_file(path, args),
        (None, Some(metric)) => {
            args.refuse(&args.of_file(), "names a column of a FILE")?;
            observed_in_book(common, metric, &args.book.selection, args.by.as_deref())
        }
        (Some(path), Some(_)) => Err(two_sources(path).into()),
        (None, None) => Err(no_source().into()),
    }
}

fn two_sources(path: &str) -> Fault {
    let message = format!("{path} and --metric are two places to take values from");
    Fault::new("two_sources", message, Place::named("--metric"))
        .with_hint("Name a file with --value COLUMN, or leave it out and take --metric from the book.")
}

fn no_source() -> Fault {
    Fault::new("no_source", "it is not said where the values are", Place::named("the command line")).with_hint(
        "Name a file of columns with --value COLUMN, or what is taken of the cells of the book: --metric \"voltage day=14\".",
    )
}

fn of_file(path: &str, args: &ObservationArgs) -> Result<Observed, Failure> {
    args.refuse(&args.book.selection.given(), "chooses cells of the book")?;
    let Some(value) = &args.value else {
        let fault = Fault::new("no_value_column", "no column of values is named", Place::named(path));
        return Err(fault.with_hint("Name it as in --value ocv.").into());
    };
    let mut file = ColumnFile::open(path, open_file(path)?.0)?;
    let columns = columns(args, value, &file)?;
    let head = file.head(columns.value).clone();
    let mut observed = Observed {
        what: head.name.clone(),
        unit: head.unit.clone(),
        batched: columns.batch.is_some(),
        ..Observed::default()
    };
    let mut valued = 0;
    if columns.cell.is_some() {
        let mut readings = rows(&mut file, &columns)?;
        valued = readings.iter().filter(|reading| reading.value.is_some()).count();
        let dated = days_of_dates(path, &mut readings)?;
        let metric = metric(args, &file, &columns, dated)?;
        observed.name_metric(&metric);
        if dated && args.at_day.is_some() {
            observed.warnings.push(days_from_first());
        }
        let carried = readings.iter().map(|reading| reading.decimals).max();
        let carried = carried.filter(|_| matches!(metric, Metric::At { .. }));
        let is_reckoned = !matches!(metric, Metric::Value);
        per_cell(path, readings, &metric, &mut observed)?;
        if is_reckoned {
            observed.reckoned(carried);
        }
    } else {
        collect(&mut file, &columns, &mut observed)?;
    }
    // Slopes may well be near 0.
    if columns.time.is_none() || args.at_day.is_some() {
        observed.warn_of_units();
    }
    observed.warn_of_missing();
    observed.warn_of_look_alikes();
    if observed.groups.iter().all(|group| group.values.is_empty() && group.excluded.is_empty()) {
        if let (Some(day), true) = (args.at_day, 0 < valued) {
            let message = format!("no cell has readings on both sides of day {day} in {path}");
            let place = Place::in_text("--at-day", day.to_string(), 0..day.to_string().len());
            let hint = "Take a day between the first and the last reading.";
            return Err(Fault::new("no_value", message, place).with_hint(hint).into());
        }
        let message = format!("{path} has no value in {:?}", head.text);
        let fault = Fault::new("no_value", message, Place::named(path));
        return Err(fault.with_hint("Check the column, and that lines stand below the names.").into());
    }
    Ok(observed)
}

fn columns<R: std::io::Read>(
    args: &ObservationArgs,
    value: &str,
    file: &ColumnFile<R>,
) -> Result<Columns, Faults> {
    let mut faults = Faults::none();
    let value = faults.collect(file.column("--value", value));
    let mut optional = |flag: &str, name: &Option<String>| {
        name.as_ref().and_then(|name| faults.collect(file.column(flag, name)))
    };
    let columns = Columns {
        value: value.unwrap_or_default(),
        by: optional("--by", &args.by),
        batch: optional("--batch", &args.batch),
        cell: optional("--cell", &args.cell),
        time: optional("--time", &args.time),
        excluded: optional("--excluded", &args.excluded),
    };
    faults.or(columns)
}

fn metric<R: std::io::Read>(
    args: &ObservationArgs,
    file: &ColumnFile<R>,
    columns: &Columns,
    dated: bool,
) -> Result<Metric, Fault> {
    let Some(time) = columns.time else { return Ok(Metric::Value) };
    let head = file.head(time);
    let unit = if dated { "d" } else { head.unit.as_deref().unwrap_or(&head.name) };
    let unit = TimeUnit::of(unit);
    match (args.at_day, unit) {
        (None, unit) => Ok(Metric::Slope { unit, column: head.text.clone() }),
        (Some(day), Some(unit)) if day.is_finite() => Ok(Metric::At { day, time: unit.days(day) }),
        (Some(_), _) => {
            let message = format!("the unit of the times in {:?} is not known", head.text);
            let place = Place::in_text("--time", head.text.as_str(), 0..head.text.len());
            Err(Fault::new("no_time_unit", message, place).with_hint(
                "Put it into the head of the column, like \"time_h\", \"day\" or \"age (weeks)\".",
            ))
        }
    }
}

impl ObservationArgs {
    /// The flags given that are about a file.
    fn of_file(&self) -> Vec<&'static str> {
        let columns = [
            ("--value", &self.value),
            ("--batch", &self.batch),
            ("--cell", &self.cell),
            ("--time", &self.time),
            ("--excluded", &self.excluded),
        ];
        columns.into_iter().filter(|(_, name)| name.is_some()).map(|(flag, _)| flag).collect()
    }

    /// The metric, where a study says which cells and groups are meant.
    ///
    /// # Errors
    /// If flags say that too.
    pub(in crate::cli) fn of_study(&self) -> Result<Option<&str>, Faults> {
        let mut given = self.of_file();
        given.extend(self.file.as_ref().map(|_| "FILE"));
        given.extend(self.by.as_ref().map(|_| "--by"));
        given.extend(self.book.selection.given());
        self.refuse(&given, "says which cells or groups are meant, and --study does")?;
        Ok(self.book.metric.as_deref())
    }

    fn refuse(&self, flags: &[&'static str], what: &str) -> Result<(), Faults> {
        let mut faults = Faults::none();
        let values = if self.file.is_some() { "come from a FILE" } else { "come from the book" };
        for flag in flags {
            let fault = Fault::new(
                "other_source",
                format!("{flag} {what}, and the values {values}"),
                Place::named(*flag),
            );
            faults.push(fault.with_hint("Leave it out; see --help for what belongs to which."));
        }
        faults.or(())
    }

    /// For what needs groups.
    ///
    /// # Errors
    /// If no column of groups is named.
    pub(in crate::cli) fn groups_named(&self) -> Result<(), Fault> {
        // What is wrong with the source itself is told first.
        let of_book = self.book.metric.is_some() || !self.book.selection.given().is_empty();
        if self.by.is_some() || self.file.is_none() || of_book {
            return Ok(());
        }
        let fault = Fault::new("no_groups", "no column of groups is named", Place::named("the command line"));
        Err(fault.with_hint("Name the column that holds the electrolytes: --by electrolyte."))
    }
}

impl Observed {
    fn name_metric(&mut self, metric: &Metric) {
        match metric {
            Metric::Value => {}
            Metric::At { day, .. } => self.what = format!("{} at day {day}", self.what),
            Metric::Slope { unit, column } => {
                self.what = format!("slope of {}", self.what);
                let per = unit
                    .map_or_else(|| format!("per unit of {column}"), |unit| format!("/{}", unit.symbol()));
                self.unit = Some(format!("{}{per}", self.unit.as_deref().unwrap_or_default()));
            }
        }
    }
}

/// Every line is one cell: values go to their groups as they come, so that a long file takes little room.
fn collect<R: std::io::Read>(
    file: &mut ColumnFile<R>,
    columns: &Columns,
    observed: &mut Observed,
) -> Result<(), Faults> {
    let mut places = BTreeMap::new();
    let mut repeated = RepeatedCells::of(file, columns);
    each(file, columns, |row, reading| {
        repeated.see(row, &reading);
        let group = observed.group(&reading.group, &mut places);
        group.add(format!("line {}", reading.line), &reading.batch, reading.value, reading.cause);
    })?;
    observed.warnings.extend(repeated.warning());
    Ok(())
}

fn rows<R: std::io::Read>(file: &mut ColumnFile<R>, columns: &Columns) -> Result<Vec<Reading>, Faults> {
    let mut readings = Vec::new();
    each(file, columns, |_, reading| readings.push(reading))?;
    Ok(readings)
}

fn each<R: std::io::Read>(
    file: &mut ColumnFile<R>,
    columns: &Columns,
    mut take: impl FnMut(&ColumnRow, Reading),
) -> Result<(), Faults> {
    file.each_row(|file, row, faults| {
        if let Some(reading) = reading(file, columns, &row, faults) {
            take(&row, reading);
        }
    })
}

fn reading<R>(
    file: &ColumnFile<R>,
    columns: &Columns,
    row: &ColumnRow,
    faults: &mut Faults,
) -> Option<Reading>
where
    R: std::io::Read,
{
    let before = faults.iter().count();
    let named = |column: Option<usize>, what: &str, faults: &mut Faults| match column {
        Some(column) if row.text(column).is_empty() => {
            let message = format!("this line names no {what}");
            faults.push(
                Fault::new("ragged_row", message, row.place(column))
                    .with_hint(format!("Fill in {:?}, or take the line out.", file.head(column).text)),
            );
            None
        }
        Some(column) => Some(row.text(column).to_owned()),
        None => None,
    };
    let group = named(columns.by, "group", faults);
    let batch = named(columns.batch, "batch", faults);
    let cell = named(columns.cell, "cell", faults);
    let value = faults.collect(file.number(row, columns.value)).flatten();
    let time = columns.time.and_then(|column| faults.collect(reading_time(file, row, column)).flatten());
    let (time, dated) = time.map_or((None, false), |(time, dated)| (Some(time), dated));
    let cause = columns.excluded.and_then(|column| faults.collect(cause(row, column)).flatten());
    (faults.iter().count() == before).then(|| Reading {
        group: group.unwrap_or_default(),
        batch: batch.unwrap_or_default(),
        cell,
        time,
        dated,
        value,
        decimals: row.text(columns.value).rsplit_once(['.', ',']).map_or(0, |(_, decimals)| decimals.len()),
        cause,
        line: row.line,
    })
}

/// The physical cause in a cell of the file; `None` if the cell counts.
fn cause(row: &ColumnRow, column: usize) -> Result<Option<String>, Fault> {
    let text = row.text(column);
    let folded = text.to_lowercase();
    if COUNTS.contains(&folded.as_str()) {
        return Ok(None);
    }
    if !is_physical_cause(text) {
        let message = format!("{text:?} is no physical cause");
        return Err(Fault::new("no_cause", message, row.place(column)).with_hint(
            "Say what happened to the cell (leak, short, dry, wrong dose); a value far out is no cause by itself.",
        ));
    }
    Ok(Some(text.to_owned()))
}
