//! Results to fit a model to: out of a file of columns.

use std::io::Read;

use super::listed::{not_whole, whole};
use crate::cli::outcome::Failure;
use crate::cli::request::source::open_file;
use crate::component::ComponentTable;
use crate::compose::mixture::{Model, Observed, Process, batch_means};
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, Warning};

/// More different values of a process variable than this are a range, not levels.
const MOST_LEVELS: usize = 6;
/// Repeats in a file have the same fractions as typed.
const TYPED_ALIKE: f64 = 1e-6;

/// Results, and what their numbers are.
pub(in crate::cli) struct Results {
    /// The components by the names under which they were asked for.
    pub(in crate::cli) names: Vec<String>,
    /// What the fractions count, if that is known.
    pub(in crate::cli) counts: &'static str,
    /// The results.
    pub(in crate::cli) observed: Vec<Observed>,
    /// Where each comes from: a line of the file, a batch.
    pub(in crate::cli) labels: Vec<String>,
    /// What was measured.
    pub(in crate::cli) response: String,
    /// Its unit.
    pub(in crate::cli) unit: Option<String>,
    /// The process variables, with the levels that the results have.
    pub(in crate::cli) variables: Vec<Process>,
    /// The names of the blocks.
    pub(in crate::cli) blocks: Vec<String>,
    /// Which results share a batch.
    pub(in crate::cli) plots: PlotsOf,
    /// How many readings each result is the mean of.
    pub(in crate::cli) readings: Vec<usize>,
    /// How far fractions of repeats may differ.
    pub(in crate::cli) alike: f64,
    pub(in crate::cli) warnings: Vec<Warning>,
}

impl Results {
    /// The readings of each batch at one setting of the model become one result, their mean.
    pub(super) fn by_batch(mut self, model: &Model) -> Self {
        let PlotsOf::Column(column, of) = &self.plots else { return self };
        let means = batch_means(model, &self.observed, of, self.alike);
        let label = |own: &Vec<usize>| match own.len() {
            1 => self.labels[own[0]].clone(),
            count => format!("{} and {} more", self.labels[own[0]], count - 1),
        };
        let labels = means.readings.iter().map(label).collect();
        let of = means.readings.iter().map(|own| of[own[0]]).collect();
        self.plots = PlotsOf::Column(column.clone(), of);
        self.labels = labels;
        self.readings = means.readings.iter().map(Vec::len).collect();
        self.observed = means.observed;
        self
    }
}

/// What is known of results that share a batch.
pub(in crate::cli) enum PlotsOf {
    /// Each has one of its own.
    Single,
    /// Nobody said.
    Unsaid,
    /// By a column, with the place of each among its names.
    Column(String, Vec<usize>),
}

/// Reads a file with a column for each component, one of results, and one for each process variable.
pub(super) fn of_file(
    path: &str,
    parts: &[String],
    value: &str,
    variables: &[String],
    (block, plot): (Option<&String>, Option<&String>),
    are_amounts: bool,
    table: &ComponentTable,
) -> Result<Results, Failure> {
    let mut file = ColumnFile::open(path, open_file(path)?.0)?;
    let mut faults = Faults::none();
    let mut columns = |flag: &str, names: &[String]| -> Vec<usize> {
        names.iter().filter_map(|name| faults.collect(named_column(&file, flag, name, table))).collect()
    };
    let (part, variable) = (columns("--part", parts), columns("--process", variables));
    let response = columns("--value", &[value.to_owned()]);
    let mut one = |flag: &str, name: Option<&String>| {
        columns(flag, &name.into_iter().cloned().collect::<Vec<_>>()).first().copied()
    };
    let (block, plotted) = (one("--block", block), one("--plot", plot));
    faults.or(())?;
    let Some(response) = response.first().copied() else { return Err(Faults::none().into()) };
    let scale = part.iter().map(|at| scale_of(file.head(*at).unit.as_deref())).collect();
    let columns = Columns { part, scale, response, variable, block, are_amounts };
    let names: Vec<String> = columns.part.iter().map(|at| file.head(*at).name.clone()).collect();
    let heads = columns.variable.iter().map(|at| file.head(*at).clone()).collect::<Vec<_>>();
    let head = file.head(response).clone();
    let (mut observed, mut labels, mut blocks, mut all) = (Vec::new(), Vec::new(), Vec::new(), 0);
    let (mut plots, mut plot_of) = (Vec::new(), Vec::new());
    file.each_row(|file, line, faults| {
        all += 1;
        let plot = plotted.map_or(Some(0), |column| block_of(line.text(column), &mut plots));
        if let Some((own, plot)) = columns.observed(file, &line, &mut blocks, faults).zip(plot) {
            plot_of.push(plot);
            labels.push(format!("line {}", line.line));
            observed.push(own);
        }
    })?;
    if observed.is_empty() {
        let fault = Fault::new("no_rows", "no row has all that is needed", Place::named(path));
        return Err(fault
            .with_hint("Check the columns that you named, and that results stand in them.")
            .into());
    }
    let mut warnings = Vec::new();
    if observed.len() < all {
        let message = format!("{} of {all} rows have an empty cell and are left out", all - observed.len());
        warnings.push(Warning::new("rows_left_out", message));
    }
    let named = heads.into_iter().map(|head| (head.name, head.unit)).collect();
    Ok(Results {
        variables: levels(named, &observed),
        names,
        counts: "fractions as in the file",
        readings: vec![1; observed.len()],
        observed,
        labels,
        blocks,
        plots: plot.map_or(PlotsOf::Unsaid, |column| PlotsOf::Column(column.clone(), plot_of)),
        response: head.name,
        unit: head.unit,
        alike: TYPED_ALIKE,
        warnings,
    })
}

/// A column by its head, or by any name that the component table has for the same component: what a design wrote as
/// choline-chloride is asked for as ChCl.
fn named_column<R: Read>(
    file: &ColumnFile<R>,
    flag: &str,
    name: &str,
    table: &ComponentTable,
) -> Result<usize, Fault> {
    let Some(component) = table.find(name).ok() else { return file.column(flag, name) };
    let others = component.aliases.iter().map(String::as_str);
    let known = others.chain([component.id.as_str(), component.name.as_str()]);
    file.column(flag, name)
        .or_else(|fault| known.filter_map(|known| file.column(flag, known).ok()).next().ok_or(fault))
}

/// A percentage says so in its head.
fn scale_of(unit: Option<&str>) -> f64 {
    if unit.is_some_and(|unit| matches!(unit, "mol%" | "wt%" | "vol%" | "%")) { 0.01 } else { 1.0 }
}

/// The columns in question, by their places.
struct Columns {
    part: Vec<usize>,
    /// What a number in each of them is multiplied with to be a fraction.
    scale: Vec<f64>,
    response: usize,
    variable: Vec<usize>,
    block: Option<usize>,
    are_amounts: bool,
}

impl Columns {
    /// A row in which nothing is missing.
    fn observed<R: Read>(
        &self,
        file: &ColumnFile<R>,
        line: &ColumnRow,
        blocks: &mut Vec<String>,
        faults: &mut Faults,
    ) -> Option<Observed> {
        let mut numbers = |columns: &[usize]| -> Option<Vec<f64>> {
            let read: Vec<Option<Option<f64>>> =
                columns.iter().map(|column| faults.collect(file.number(line, *column))).collect();
            read.into_iter().map(Option::flatten).collect()
        };
        let parts = numbers(&self.part);
        let (response, setting) = (numbers(&[self.response]), numbers(&self.variable));
        let fractions = faults.collect(self.fractions(parts?, line))?;
        let (setting, response) = (setting?, *response?.first()?);
        let block = self.block.map_or(Some(0), |column| block_of(line.text(column), blocks))?;
        Some(Observed { fractions, setting, block, response })
    }

    fn fractions(&self, parts: Vec<f64>, line: &ColumnRow) -> Result<Vec<f64>, Fault> {
        if !self.are_amounts {
            let hint = "Give a column for every component, in fractions; amounts and percentages are read with --amounts.";
            let fractions = parts.iter().zip(&self.scale).map(|(part, scale)| part * scale).collect();
            return whole(fractions).map_err(|sum| not_whole(sum, line, &self.part, hint));
        }
        let sum: f64 = parts.iter().sum();
        if sum <= 0.0 || parts.iter().any(|part| *part < 0.0) {
            let column = self.part.first().copied().unwrap_or_default();
            let fault = Fault::new("not_a_mixture", "these amounts make no mixture", line.place(column));
            return Err(fault.with_hint("Amounts are 0 or more, and not all of them are 0."));
        }
        Ok(parts.iter().map(|part| part / sum).collect())
    }
}

/// The place of a block, which is new if its name is; `None` without a name.
fn block_of(name: &str, blocks: &mut Vec<String>) -> Option<usize> {
    if name.is_empty() {
        return None;
    }
    let known = blocks.iter().position(|known| known == name);
    Some(known.unwrap_or_else(|| {
        blocks.push(name.to_owned());
        blocks.len() - 1
    }))
}

/// The process variables with the levels that the results have; of many values the ends and the middle.
pub(super) fn levels(named: Vec<(String, Option<String>)>, observed: &[Observed]) -> Vec<Process> {
    let variable = |(at, (name, unit)): (usize, (String, Option<String>))| {
        let mut levels: Vec<f64> = observed.iter().map(|own| own.setting[at]).collect();
        levels.sort_by(f64::total_cmp);
        levels.dedup();
        if let (true, [low, .., high]) = (MOST_LEVELS < levels.len(), levels.as_slice()) {
            levels = vec![*low, (low + high) / 2.0, *high];
        }
        Process { name, unit, levels, is_hard: false }
    };
    named.into_iter().enumerate().map(variable).collect()
}
