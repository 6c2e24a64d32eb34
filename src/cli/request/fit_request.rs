//! What is to be fitted, from a file and the flags.

use clap::Args;

use super::share::share;
use super::source::read_text;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, NamedColumn, NumberTable, Place, Warning, did_you_mean};
use crate::quantity::parse_number;
use crate::report::view::FitAxes;
use crate::statistics::curve_fit::{FitError, Form, Points, Scale};

/// Confidence of intervals and bands where nothing else is said. The answer states it.
const CONFIDENCE: f64 = 0.95;
/// 0 °C in kelvin.
const ICE_POINT: f64 = 273.15;
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
    x: Vec<Place>,
    y: Vec<Place>,
    file: Place,
}

impl Group {
    /// Why these points have no fit.
    pub(in crate::cli) fn refusal(&self, error: &FitError) -> Fault {
        let of = self.name.as_ref().map_or(String::new(), |name| format!("{name}: "));
        let at = |places: &[Place], at: usize| places.get(at).cloned().unwrap_or_else(|| self.file.clone());
        match error {
            FitError::TooFew { .. } => {
                Fault::new("too_few_points", format!("{of}{error}"), self.file.clone())
                    .with_hint("Take more readings, or a form with fewer parameters.")
            }
            FitError::NotPositive(place) => Fault::new(
                "not_positive",
                format!("{of}its logarithm is needed, and it is not above 0"),
                at(&self.y, *place),
            )
            .with_hint("Leave the cell empty if nothing was read, or take another form."),
            FitError::NotAbsolute(place) => Fault::new(
                "not_absolute",
                format!("{of}this is no absolute temperature"),
                at(&self.x, *place),
            )
            .with_hint("Say the unit of x, as in --x-unit \"°C\"."),
        }
    }
}

/// Reads the file once; all faults together.
pub(in crate::cli) fn fit_request(options: &FitOptions) -> Result<FitRequest, Failure> {
    let text = read_text(&options.file)?;
    let table = NumberTable::read(&options.file, &text)?;
    let mut faults = Faults::none();
    let form = faults.collect(form(&options.form));
    let confidence = match &options.confidence {
        Some(text) => faults.collect(share("--confidence", text, 0.0, 1.0)),
        None => Some(CONFIDENCE),
    };
    let x = faults.collect(table.column("--x", &options.x));
    let y = faults.collect(table.column("--y", &options.y));
    let weights = options.weights.as_ref().map(|name| faults.collect(table.column("--weights", name)));
    let by = options.by.as_ref().map(|name| faults.collect(table.column("--by", name)));
    let at = places(&options.at, &mut faults);
    let (Some(form), Some(confidence), Some(x), Some(y)) = (form, confidence, x, y) else {
        return Err(faults.into());
    };
    let columns = Columns { x, y, weights: weights.flatten(), by: by.flatten() };
    let mut warnings = Vec::new();
    let read = faults.collect(columns.read(&table));
    let unit = options.x_unit.clone().or_else(|| columns.x.unit.clone());
    let shift = match &read {
        Some(rows) if form.is_thermal() => {
            faults.collect(shift(unit.as_deref(), rows, &table, &columns.x, &mut warnings)).unwrap_or(0.0)
        }
        _ => 0.0,
    };
    let rows = faults.or(read)?.unwrap_or_default();
    if rows.len() < table.len() {
        let empty = table.len() - rows.len();
        let message = format!("{empty} of {} rows have an empty cell and are left out", table.len());
        warnings.push(Warning::new("rows_left_out", message));
    }
    let groups = grouped(&rows, shift, &table, &columns, &options.file)?;
    let axes = FitAxes {
        x: columns.x.name.clone(),
        x_unit: if form.is_thermal() { Some("K".to_owned()) } else { unit },
        y: columns.y.name.clone(),
        y_unit: columns.y.unit.clone(),
        by: columns.by.as_ref().map(|column| column.name.clone()),
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

/// The columns in question.
struct Columns {
    x: NamedColumn,
    y: NamedColumn,
    weights: Option<NamedColumn>,
    by: Option<NamedColumn>,
}

/// A row with nothing missing.
struct Row {
    row: usize,
    x: f64,
    y: f64,
    weight: f64,
    name: Option<String>,
}

impl Columns {
    /// The rows in which no cell that is needed is empty.
    fn read(&self, table: &NumberTable) -> Result<Vec<Row>, Faults> {
        let mut faults = Faults::none();
        let x = faults.collect(table.numbers(&self.x));
        let y = faults.collect(table.numbers(&self.y));
        let weights = match &self.weights {
            Some(column) => faults.collect(table.numbers(column)),
            None => Some(vec![Some(1.0); table.len()]),
        };
        if let (Some(column), Some(weights)) = (&self.weights, &weights) {
            let bad = |weight: &Option<f64>| weight.is_some_and(|weight| weight <= 0.0);
            if let Some(row) = weights.iter().position(bad) {
                let fault =
                    Fault::new("bad_weight", "this weight is not above 0", table.place_of(row, column));
                faults.push(fault.with_hint("Leave the cell empty to leave the point out."));
            }
        }
        let names = self.by.as_ref().map(|column| table.words(column));
        let (Some(x), Some(y), Some(weights)) = (x, y, weights) else { return Err(faults) };
        let row = |row: usize| {
            let name = names.as_ref().map(|names| names[row].clone());
            let named = name.as_ref().is_none_or(|name| !name.is_empty());
            let whole = x[row].zip(y[row]).zip(weights[row]).filter(|_| named);
            whole.map(|((x, y), weight)| Row { row, x, y, weight, name })
        };
        faults.or((0..table.len()).filter_map(row).collect())
    }
}

/// What makes kelvins of the temperatures of the file.
fn shift(
    unit: Option<&str>,
    rows: &[Row],
    table: &NumberTable,
    x: &NamedColumn,
    warnings: &mut Vec<Warning>,
) -> Result<f64, Fault> {
    let coldest = rows.iter().min_by(|one, other| one.x.total_cmp(&other.x));
    match unit {
        Some("K") => Ok(0.0),
        Some("°C" | "C" | "degC" | "℃" | "deg C") => Ok(ICE_POINT),
        Some(other) => {
            let fault = Fault::new(
                "not_absolute",
                format!("{other:?} is no unit of temperature"),
                Place::named("--x"),
            );
            Err(fault.with_hint("Say the unit of x, as in --x-unit \"°C\"."))
        }
        None => match coldest {
            Some(row) if row.x < COLDEST_KELVIN => {
                let message = "temperatures like this have no unit, and can't be in kelvin";
                let fault = Fault::new("not_absolute", message, table.place_of(row.row, x));
                Err(fault.with_hint("Say the unit of x, as in --x-unit \"°C\"."))
            }
            _ => {
                let message = format!("{} has no unit and was taken as kelvin", x.name);
                warnings.push(Warning::new("taken_as_kelvin", message));
                Ok(0.0)
            }
        },
    }
}

/// The points of each name, in the order in which the names come.
fn grouped(
    rows: &[Row],
    shift: f64,
    table: &NumberTable,
    columns: &Columns,
    file: &str,
) -> Result<Vec<Group>, Faults> {
    let mut names: Vec<Option<String>> = Vec::new();
    for row in rows {
        if !names.contains(&row.name) {
            names.push(row.name.clone());
        }
    }
    if names.is_empty() {
        let fault = Fault::new("no_rows", "no row has all that is needed", Place::named(file));
        return Err(fault.with_hint("Check the columns that you named.").into());
    }
    let mut faults = Faults::none();
    let groups = names.into_iter().filter_map(|name| {
        let own: Vec<&Row> = rows.iter().filter(|row| row.name == name).collect();
        let column = |of: fn(&Row) -> f64| own.iter().map(|row| of(row)).collect::<Vec<f64>>();
        let x = column(|row| row.x).into_iter().map(|x| x + shift).collect();
        let points = match &columns.weights {
            Some(_) => Points::weighted(x, column(|row| row.y), column(|row| row.weight)),
            None => Points::new(x, column(|row| row.y)),
        };
        let points = points.map_err(|error| {
            Fault::new("bad_cell", error.to_string(), Place::named(file))
                .with_hint("Check the numbers of the file.")
        });
        let places = |column: &NamedColumn| own.iter().map(|row| table.place_of(row.row, column)).collect();
        let (x, y) = (places(&columns.x), places(&columns.y));
        Some(Group { name, points: faults.collect(points)?, x, y, file: Place::named(file) })
    });
    let groups = groups.collect();
    faults.or(groups)
}
