//! What is to be fitted, from a file and the flags.

use std::io::Read;

use clap::Args;

use super::share::share;
use super::source::open_file;
use crate::cli::outcome::Failure;
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, Warning, did_you_mean};
use crate::quantity::{Quantity as _, Temperature, parse_number};
use crate::report::view::FitAxes;
use crate::statistics::curve_fit::{FitError, Form, Points, Scale};

/// Confidence of intervals and bands where nothing else is said. The answer states it.
const CONFIDENCE: f64 = 0.95;
/// Temperatures without a unit below this are not taken as kelvins: nobody measures electrolytes there.
const COLDEST_KELVIN: f64 = 150.0;

#[derive(Debug, Args)]
#[command(next_help_heading = "What is fitted")]
pub(in crate::cli) struct FitOptions {
    /// A CSV file with the names of the columns in its first line, units in brackets: "voltage (V)"
    #[arg(value_name = "FILE")]
    file: String,
    /// The column along which the curve runs
    #[arg(long, value_name = "COLUMN")]
    x: String,
    /// The column that it describes
    #[arg(long, value_name = "COLUMN")]
    y: String,
    /// line, decay, double-decay, vft or arrhenius
    #[arg(long, value_name = "FORM")]
    form: String,
    /// Least squares on ln y instead of y: for relative errors
    #[arg(long)]
    log: bool,
    /// A column of weights: 1/variance, up to a common factor
    #[arg(long, value_name = "COLUMN")]
    weights: Option<String>,
    /// A column of names: one fit for each
    #[arg(long, value_name = "COLUMN")]
    by: Option<String>,
    /// The unit of x where its header has none, such as "°C"
    #[arg(long, value_name = "UNIT")]
    x_unit: Option<String>,
    /// Also say what the curve has at this x, in the unit of the file; repeatable
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true)]
    at: Vec<String>,
    /// Confidence of intervals and bands [default: 95 %]
    #[arg(long, value_name = "SHARE")]
    confidence: Option<String>,
}

/// A typed request.
pub(in crate::cli) struct FitRequest {
    pub(in crate::cli) form: Form,
    pub(in crate::cli) scale: Scale,
    pub(in crate::cli) confidence: f64,
    pub(in crate::cli) groups: Vec<Group>,
    pub(in crate::cli) axes: FitAxes,
    /// Places as given, in the unit of the fit.
    pub(in crate::cli) at: Vec<f64>,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// The points of one name, and where they stand in the file.
pub(in crate::cli) struct Group {
    pub(in crate::cli) name: Option<String>,
    pub(in crate::cli) points: Points,
    lines: Vec<ColumnRow>,
    x: usize,
    y: usize,
    file: Place,
}

impl Group {
    /// Why these points have no fit.
    pub(in crate::cli) fn refusal(&self, error: &FitError) -> Fault {
        let of = self.name.as_ref().map_or(String::new(), |name| format!("{name}: "));
        let at = |point: usize, column: usize| {
            self.lines.get(point).map_or_else(|| self.file.clone(), |line| line.place(column))
        };
        match error {
            FitError::TooFew { .. } => {
                Fault::new("too_few_points", format!("{of}{error}"), self.file.clone())
                    .with_hint("Take more readings, or a form with fewer parameters.")
            }
            FitError::NotPositive(place) => Fault::new(
                "not_positive",
                format!("{of}its logarithm is needed, and it is not above 0"),
                at(*place, self.y),
            )
            .with_hint("Leave the cell empty if nothing was read, or take another form."),
            FitError::NotAbsolute(place) => {
                Fault::new("not_absolute", format!("{of}this is no absolute temperature"), at(*place, self.x))
                    .with_hint("Say the unit of x, as in --x-unit \"°C\".")
            }
        }
    }
}

/// Reads the file once; all faults together.
pub(in crate::cli) fn fit_request(options: &FitOptions) -> Result<FitRequest, Failure> {
    let mut file = ColumnFile::open(&options.file, open_file(&options.file)?.0)?;
    let mut faults = Faults::none();
    let form = faults.collect(form(&options.form));
    let confidence = match &options.confidence {
        Some(text) => faults.collect(share("--confidence", text, 0.0, 1.0)),
        None => Some(CONFIDENCE),
    };
    let x = faults.collect(file.column("--x", &options.x));
    let y = faults.collect(file.column("--y", &options.y));
    let weights = options.weights.as_ref().map(|name| faults.collect(file.column("--weights", name)));
    let by = options.by.as_ref().map(|name| faults.collect(file.column("--by", name)));
    let at = places(&options.at, &mut faults);
    let (Some(form), Some(confidence), Some(x), Some(y)) = (form, confidence, x, y) else {
        return Err(faults.into());
    };
    let columns = Columns { x, y, weights: weights.flatten(), by: by.flatten() };
    let (x_head, y_head) = (file.head(columns.x).clone(), file.head(columns.y).clone());
    let by_head = columns.by.map(|column| file.head(column).name.clone());
    let mut warnings = Vec::new();
    let read = faults.collect(columns.read(&mut file));
    if let (Some(asked), Some(head)) = (&options.x_unit, &x_head.unit)
        && asked.trim() != head.trim()
    {
        let message = format!("the head of {:?} says {head:?}, and --x-unit says {asked:?}", x_head.name);
        let fault =
            Fault::new("two_units", message, Place::in_text("--x-unit", asked.as_str(), 0..asked.len()));
        faults.push(fault.with_hint("Leave --x-unit out, or correct the head in the file."));
    }
    let unit = options.x_unit.clone().or_else(|| x_head.unit.clone());
    let shift = match &read {
        Some(read) if form.is_thermal() => {
            faults.collect(shift(unit.as_deref(), &read.whole, &columns, &x_head.name, &mut warnings))
        }
        _ => None,
    };
    let shift = shift.unwrap_or(0.0);
    let read = faults.or(read)?.unwrap_or_default();
    if read.whole.len() < read.of {
        let message =
            format!("{} of {} rows have an empty cell and are left out", read.of - read.whole.len(), read.of);
        warnings.push(Warning::new("rows_left_out", message));
    }
    let groups = grouped(&read.whole, shift, &columns, &options.file)?;
    let axes = FitAxes {
        x: x_head.name,
        x_unit: if form.is_thermal() { Some("K".to_owned()) } else { unit },
        y: y_head.name,
        y_unit: y_head.unit,
        by: by_head,
    };
    let scale = if options.log { Scale::Logarithmic } else { Scale::Plain };
    let at = at.into_iter().map(|place| place + shift).collect();
    Ok(FitRequest { form, scale, confidence, groups, axes, at, warnings })
}

fn form(text: &str) -> Result<Form, Fault> {
    Form::ALL.into_iter().find(|form| form.name() == text).ok_or_else(|| {
        let names = Form::ALL.map(Form::name);
        let all = format!("The forms are {}.", names.join(", "));
        let place = Place::in_text("--form", text, 0..text.len());
        Fault::new("unknown_form", format!("unknown form {text:?}"), place)
            .with_hint(did_you_mean(text, names, &all))
    })
}

fn places(texts: &[String], faults: &mut Faults) -> Vec<f64> {
    let read = |text: &String| {
        parse_number(text).map(|number| number.value).map_err(|problem| {
            let place = Place::in_text("--at", text.as_str(), 0..text.len());
            Fault::new("bad_place", format!("{text:?} is no number: {problem}"), place)
                .with_hint("Write a bare number in the unit of x in the file.")
        })
    };
    texts.iter().filter_map(|text| faults.collect(read(text))).collect()
}

/// The columns in question, by their places.
struct Columns {
    x: usize,
    y: usize,
    weights: Option<usize>,
    by: Option<usize>,
}

/// The rows of a file.
#[derive(Default)]
struct Rows {
    /// Those with nothing missing.
    whole: Vec<Row>,
    /// How many there are in all.
    of: usize,
}

/// A row with nothing missing.
struct Row {
    line: ColumnRow,
    x: f64,
    y: f64,
    weight: f64,
    name: Option<String>,
}

impl Columns {
    /// The rows in which no cell that is needed is empty.
    fn read<R: Read>(&self, file: &mut ColumnFile<R>) -> Result<Rows, Faults> {
        let mut rows = Rows::default();
        file.each_row(|file, line, faults| {
            rows.of += 1;
            rows.whole.extend(self.row(file, line, faults));
        })?;
        Ok(rows)
    }

    fn row<R: Read>(&self, file: &ColumnFile<R>, line: ColumnRow, faults: &mut Faults) -> Option<Row> {
        let x = faults.collect(file.number(&line, self.x)).flatten();
        let y = faults.collect(file.number(&line, self.y)).flatten();
        let weight = match self.weights {
            Some(column) => faults.collect(weight(file, &line, column)).flatten(),
            None => Some(1.0),
        };
        let name = self.by.map(|column| line.text(column).to_owned());
        let ((x, y), weight) = x.zip(y).zip(weight)?;
        let unnamed = name.as_ref().is_some_and(String::is_empty);
        (!unnamed).then_some(Row { line, x, y, weight, name })
    }
}

fn weight<R: Read>(file: &ColumnFile<R>, line: &ColumnRow, column: usize) -> Result<Option<f64>, Fault> {
    let weight = file.number(line, column)?;
    if weight.is_some_and(|weight| weight <= 0.0) {
        let fault = Fault::new("bad_weight", "this weight is not above 0", line.place(column));
        return Err(fault.with_hint("Leave the cell empty to leave the point out."));
    }
    Ok(weight)
}

/// What makes kelvins of the temperatures of the file.
fn shift(
    unit: Option<&str>,
    rows: &[Row],
    columns: &Columns,
    name: &str,
    warnings: &mut Vec<Warning>,
) -> Result<f64, Fault> {
    let absolute = |message: String, place: Place| {
        Fault::new("not_absolute", message, place).with_hint("Say the unit of x, as in --x-unit \"°C\".")
    };
    if let Some(unit) = unit {
        let known = Temperature::UNITS.iter().find(|known| known.symbol == unit && known.factor == 1.0);
        let message = || format!("{unit:?} is no unit of temperature");
        return known.map(|known| known.offset).ok_or_else(|| absolute(message(), Place::named("--x")));
    }
    match rows.iter().min_by(|one, other| one.x.total_cmp(&other.x)) {
        Some(row) if row.x < COLDEST_KELVIN => {
            let message = "temperatures like this have no unit, and can't be in kelvin".to_owned();
            Err(absolute(message, row.line.place(columns.x)))
        }
        _ => {
            let message = format!("{name} has no unit and was taken as kelvin");
            warnings.push(Warning::new("taken_as_kelvin", message));
            Ok(0.0)
        }
    }
}

/// The points of each name, in the order in which the names come.
fn grouped(rows: &[Row], shift: f64, columns: &Columns, file: &str) -> Result<Vec<Group>, Faults> {
    let mut names: Vec<Option<String>> = Vec::new();
    for row in rows {
        if !names.contains(&row.name) {
            names.push(row.name.clone());
        }
    }
    if names.is_empty() {
        let fault = Fault::new("no_rows", "no row has all that is needed", Place::named(file));
        return Err(fault.with_hint("Check the columns that you named, and that lines stand below.").into());
    }
    let mut faults = Faults::none();
    let groups = names.into_iter().filter_map(|name| {
        let own: Vec<&Row> = rows.iter().filter(|row| row.name == name).collect();
        let column = |of: fn(&Row) -> f64| own.iter().map(|row| of(row)).collect::<Vec<f64>>();
        let x = column(|row| row.x).into_iter().map(|x| x + shift).collect();
        let points = match columns.weights {
            Some(_) => Points::weighted(x, column(|row| row.y), column(|row| row.weight)),
            None => Points::new(x, column(|row| row.y)),
        };
        let points = points.map_err(|error| {
            Fault::new("bad_number", error.to_string(), Place::named(file))
                .with_hint("Check the numbers of the file.")
        });
        let lines = own.iter().map(|row| row.line.clone()).collect();
        let file = Place::named(file);
        Some(Group { name, points: faults.collect(points)?, lines, x: columns.x, y: columns.y, file })
    });
    let groups = groups.collect();
    faults.or(groups)
}
