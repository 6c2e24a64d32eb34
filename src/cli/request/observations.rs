//! Observations out of a file of columns: values by group, with the batch, cell, time and cause of exclusion that stand
//! beside them.

use std::collections::BTreeMap;

use clap::Args;

use super::per_cell::{Metric, TimeUnit, per_cell};
use super::source::open_file;
use crate::cli::outcome::Failure;
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, Warning};
use crate::record::cell::is_physical_cause;

/// Which columns hold what.
#[derive(Debug, Args)]
pub(in crate::cli) struct ObservationArgs {
    /// A file of columns (CSV): names in the first line, one cell or reading in each line below
    #[arg(value_name = "FILE")]
    file: String,
    /// The column with the values; a unit may stand in its head: "ocv (mV)", "OCV / V", "voltage_V"
    #[arg(long, value_name = "COLUMN")]
    value: String,
    /// The column with the groups, such as electrolytes
    #[arg(long, value_name = "COLUMN")]
    by: Option<String>,
    /// The column with the batches: cells of one batch are repeats of that batch
    #[arg(long, value_name = "COLUMN")]
    batch: Option<String>,
    /// The column with the cells, where a cell has several readings: they are never pooled
    #[arg(long, value_name = "COLUMN")]
    cell: Option<String>,
    /// The column with the times of the readings, as numbers: the slope of each cell is taken
    #[arg(long, value_name = "COLUMN", requires = "cell")]
    time: Option<String>,
    /// Take each cell's value at this day instead of its slope, between the readings around it
    #[arg(long, value_name = "DAY", requires = "time", allow_negative_numbers = true)]
    at_day: Option<f64>,
    /// The column that holds a physical cause (leak, short, dry, …) where a cell is left out
    #[arg(long, value_name = "COLUMN")]
    excluded: Option<String>,
}

/// What a file holds.
pub(in crate::cli) struct Observed {
    /// What was observed: the name of the column, or "slope of …".
    pub(in crate::cli) what: String,
    /// Its unit, if the head has one.
    pub(in crate::cli) unit: Option<String>,
    /// The groups in the order in which they first stand there.
    pub(in crate::cli) groups: Vec<ObservedGroup>,
    /// True if batches are named.
    pub(in crate::cli) batched: bool,
    /// What to know beside it.
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// One group.
#[derive(Default)]
pub(in crate::cli) struct ObservedGroup {
    /// What it is called.
    pub(in crate::cli) name: String,
    /// The batches in the order in which they first stand there; one without a name where none are named.
    pub(in crate::cli) batches: Vec<String>,
    /// The values that count.
    pub(in crate::cli) values: Vec<f64>,
    /// The place of each value's batch.
    pub(in crate::cli) batch_of: Vec<usize>,
    /// What is left out, each with its cause.
    pub(in crate::cli) excluded: Vec<Excluded>,
    /// Lines or cells without a value and without a cause.
    pub(in crate::cli) missing: usize,
}

/// A cell that is left out.
pub(in crate::cli) struct Excluded {
    /// Its name, or the line that it stands on.
    pub(in crate::cli) label: String,
    /// The place of its batch.
    pub(in crate::cli) batch: usize,
    /// Why.
    pub(in crate::cli) cause: String,
    /// Its value, if it has one.
    pub(in crate::cli) value: Option<f64>,
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
    pub(super) value: Option<f64>,
    pub(super) cause: Option<String>,
    pub(super) line: u64,
}

/// Words that say that a cell counts.
const COUNTS: [&str; 10] = ["", "-", "–", "no", "n", "false", "0", "none", "end of test", "end-of-test"];

/// Reads the file; all faults come together.
pub(in crate::cli) fn observed(args: &ObservationArgs) -> Result<Observed, Failure> {
    let mut file = ColumnFile::open(&args.file, open_file(&args.file)?.0)?;
    let columns = columns(args, &file)?;
    let head = file.head(columns.value).clone();
    let mut observed = Observed {
        what: head.name.clone(),
        unit: head.unit.clone(),
        groups: Vec::new(),
        batched: columns.batch.is_some(),
        warnings: Vec::new(),
    };
    if columns.cell.is_some() {
        let readings = rows(&mut file, &columns)?;
        let metric = metric(args, &file, &columns)?;
        observed.name_metric(&metric);
        per_cell(&args.file, readings, &metric, &mut observed)?;
    } else {
        collect(&mut file, &columns, &mut observed)?;
    }
    observed.warn_of_missing();
    if observed.groups.iter().all(|group| group.values.is_empty() && group.excluded.is_empty()) {
        let message = format!("{} has no value in {:?}", args.file, head.text);
        let fault = Fault::new("no_value", message, Place::named(&args.file));
        return Err(fault.with_hint("Check the column, and that lines stand below the names.").into());
    }
    Ok(observed)
}

fn columns<R: std::io::Read>(args: &ObservationArgs, file: &ColumnFile<R>) -> Result<Columns, Faults> {
    let mut faults = Faults::none();
    let value = faults.collect(file.column("--value", &args.value));
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
) -> Result<Metric, Fault> {
    let Some(time) = columns.time else { return Ok(Metric::Value) };
    let head = file.head(time);
    let unit = TimeUnit::of(head.unit.as_deref().unwrap_or(&head.name));
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
    /// For what needs groups.
    ///
    /// # Errors
    /// If no column of groups is named.
    pub(in crate::cli) fn groups_named(&self) -> Result<(), Fault> {
        if self.by.is_some() {
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

    fn warn_of_missing(&mut self) {
        for group in &self.groups {
            if 0 < group.missing {
                let message = format!(
                    "{}: {} without a value and without a cause; a cell that failed should not vanish from the count",
                    shown(&group.name),
                    group.missing
                );
                self.warnings.push(Warning::new("missing_values", message));
            }
        }
    }

    /// The group of a name, made if it is new.
    pub(super) fn group(&mut self, name: &str, places: &mut BTreeMap<String, usize>) -> &mut ObservedGroup {
        let place = match places.get(name) {
            Some(place) => *place,
            None => {
                places.insert(name.to_owned(), self.groups.len());
                self.groups.push(ObservedGroup { name: name.to_owned(), ..ObservedGroup::default() });
                self.groups.len() - 1
            }
        };
        &mut self.groups[place]
    }
}

impl ObservedGroup {
    /// Adds what became of one cell.
    pub(super) fn add(&mut self, label: String, batch: &str, value: Option<f64>, cause: Option<String>) {
        let batch = self.batch(batch);
        match (cause, value) {
            (Some(cause), value) => self.excluded.push(Excluded { label, batch, cause, value }),
            (None, None) => self.missing += 1,
            (None, Some(value)) => {
                self.values.push(value);
                self.batch_of.push(batch);
            }
        }
    }

    fn batch(&mut self, name: &str) -> usize {
        // Lines of one batch mostly stand together.
        let last = self.batch_of.last().copied().filter(|&place| self.batches[place] == name);
        last.or_else(|| self.batches.iter().position(|known| known == name)).unwrap_or_else(|| {
            self.batches.push(name.to_owned());
            self.batches.len() - 1
        })
    }

    /// The values batch by batch, with those of excluded cells or without; no batch is empty.
    pub(in crate::cli) fn by_batch(&self, with_excluded: bool) -> Vec<Vec<f64>> {
        let mut batches = vec![Vec::new(); self.batches.len()];
        self.values.iter().zip(&self.batch_of).for_each(|(value, &batch)| batches[batch].push(*value));
        if with_excluded {
            self.excluded.iter().for_each(|cell| batches[cell.batch].extend(cell.value));
        }
        batches.retain(|batch| !batch.is_empty());
        batches
    }
}

/// A group without a name is everything.
fn shown(name: &str) -> &str {
    if name.is_empty() { "all" } else { name }
}

/// Every line is one cell: values go to their groups as they come, so that a long file takes little room.
fn collect<R: std::io::Read>(
    file: &mut ColumnFile<R>,
    columns: &Columns,
    observed: &mut Observed,
) -> Result<(), Faults> {
    let mut places = BTreeMap::new();
    each(file, columns, |reading| {
        let group = observed.group(&reading.group, &mut places);
        group.add(format!("line {}", reading.line), &reading.batch, reading.value, reading.cause);
    })
}

fn rows<R: std::io::Read>(file: &mut ColumnFile<R>, columns: &Columns) -> Result<Vec<Reading>, Faults> {
    let mut readings = Vec::new();
    each(file, columns, |reading| readings.push(reading))?;
    Ok(readings)
}

fn each<R: std::io::Read>(
    file: &mut ColumnFile<R>,
    columns: &Columns,
    mut take: impl FnMut(Reading),
) -> Result<(), Faults> {
    file.each_row(|file, row, faults| reading(file, columns, &row, faults).into_iter().for_each(&mut take))
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
    let time = columns.time.and_then(|column| faults.collect(file.number(row, column)).flatten());
    let cause = columns.excluded.and_then(|column| faults.collect(cause(row, column)).flatten());
    (faults.iter().count() == before).then(|| Reading {
        group: group.unwrap_or_default(),
        batch: batch.unwrap_or_default(),
        cell,
        time,
        value,
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
