//! What results say of a mixture: coefficients, what judges them, the best, what to test next.

mod batches;
mod contour;
mod notes;
mod quality;
mod questions;
mod trace_chart;

use crate::compose::mixture::{
    Crossing, Direction, Model, NextRun, Observed, Optimum, Plots, Process, Region, Study, TracePoint,
};
use crate::input::Warning;
use crate::quantity::{significant, to_digits_of};
use crate::report::document::{Block, Caution, Document, Table, bullets, column, heading, paragraph, strong};

pub use notes::mixture_fit_notes;

/// A fit with what was asked of it.
#[derive(Debug, Clone, PartialEq)]
pub struct MixtureFitView<'s> {
    /// The components in order.
    pub names: Vec<&'s str>,
    /// What the fractions count.
    pub counts: &'s str,
    /// What was measured.
    pub response: &'s str,
    /// Its unit.
    pub unit: Option<&'s str>,
    /// The results.
    pub observed: &'s [Observed],
    /// Where each comes from.
    pub labels: &'s [String],
    /// How far fractions of repeats may differ.
    pub alike: f64,
    /// Results that share a batch, or may.
    pub plots: Option<WholePlots<'s>>,
    /// The column of batches if one was named, and how many readings of a batch each result is the mean of, and how many
    /// batches there are.
    pub batches: Option<(&'s str, &'s [usize], usize)>,
    /// The model.
    pub model: &'s Model,
    /// True if the person chose it.
    pub model_is_stated: bool,
    /// How process variables act.
    pub crossing: Crossing,
    /// The fit, or the places of the terms that the results can't tell.
    pub study: Result<Study, Vec<usize>>,
    /// Where the best is looked for.
    pub region: &'s Region,
    /// True if the person gave bounds.
    pub region_is_stated: bool,
    /// The best by each goal.
    pub optima: Vec<Optimum>,
    /// What to test next; `None` if not even that would tell the model.
    pub next: Option<Vec<NextRun>>,
    /// True if these lie beyond what the results span, since nothing within would tell it.
    pub next_is_beyond: bool,
    /// How many results there are that are no repeats of another.
    pub distinct: usize,
    /// Where traces start: a composition and a setting.
    pub reference: (Vec<f64>, Vec<f64>),
    /// Along which lines they go.
    pub direction: Direction,
    /// The trace of each component.
    pub traces: Vec<Vec<TracePoint>>,
    /// The seed of the search for further runs.
    pub seed: u64,
    /// What to know beside it.
    pub warnings: Vec<Warning>,
}

/// Results in whole plots.
#[derive(Debug, Clone, PartialEq)]
pub struct WholePlots<'s> {
    /// The column that says so; `None` where it is guessed from equal compositions.
    pub column: Option<&'s str>,
    /// What they do to the model.
    pub plots: Plots,
}

impl MixtureFitView<'_> {
    /// The process variables.
    pub fn variables(&self) -> &[Process] {
        self.model.variables()
    }

    /// Names of terms.
    pub fn terms(&self, places: &[usize]) -> Vec<String> {
        places.iter().map(|at| self.model.column_name(*at, &self.names)).collect()
    }

    /// The response with its unit.
    pub(super) fn response_titled(&self) -> String {
        self.unit.map_or(self.response.to_owned(), |unit| format!("{} ({unit})", self.response))
    }

    /// A setting in words.
    pub(super) fn setting_words(&self, setting: &[f64]) -> String {
        let word = |(own, value): (&Process, &f64)| {
            let unit = own.unit.as_deref().map_or(String::new(), |unit| format!(" {unit}"));
            format!("{} {}{unit}", own.name, significant(*value, 4))
        };
        self.variables().iter().zip(setting).map(word).collect::<Vec<_>>().join(", ")
    }
}

/// The whole answer. The table for scripts has a row for each coefficient.
pub fn mixture_fit_document(view: &MixtureFitView<'_>) -> Document {
    let title = format!("Mixture fit: {}, Scheffé's {} model", view.response, view.model.order.name());
    let mut document = Document::new(title);
    document.push(paragraph(strong(notes::verdict(view))));
    document.extend(view.warnings.iter().map(|warning| Caution::note(warning.message.as_str())));
    if let Ok(study) = &view.study {
        document.extend(notes::doubts(view, study).into_iter().map(Caution::note));
        document.push(heading(1, "Coefficients"));
        document.push(coefficients(view, study));
        document.push(heading(1, "How well it fits"));
        document.extend(quality::quality(study));
        if !study.regression.variance.is_constant() {
            document.push(heading(1, "Where the model has its best"));
            document.extend(questions::optima(view));
            document.extend(contour::contours(view, study));
            document.push(heading(1, "What each component does"));
            document.extend(trace_chart::traces(view));
        }
    }
    document.push(heading(1, "What to test next"));
    document.extend(questions::next(view));
    if let Ok(study) = &view.study {
        document.push(heading(1, "Each result"));
        document.push(quality::results(view, study));
    }
    document.push(heading(1, "What these numbers count"));
    document.push(bullets(mixture_fit_notes(view)));
    match &view.study {
        Ok(study) => document.with_data(data(view, study)),
        Err(_) => document,
    }
}

/// The coefficients with all their digits, for scripts.
fn data(view: &MixtureFitView<'_>, study: &Study) -> Table {
    let mut table = Table::new(["term", "value", "sd", "t", "p", "low", "high"].map(column));
    for (at, own) in study.regression.coefficients.iter().enumerate() {
        let numbers = [own.value, own.sd, own.t, own.p, own.interval.0, own.interval.1];
        let numbers =
            numbers.map(|number| if number.is_finite() { number.to_string() } else { String::new() });
        table.push(std::iter::once(view.model.column_name(at, &view.names)).chain(numbers));
    }
    table
}

fn coefficients(view: &MixtureFitView<'_>, study: &Study) -> Block {
    let confidence = significant(100.0 * study.regression.confidence, 3);
    let confidence = confidence.trim_end_matches('0').trim_end_matches('.');
    let mut table = Table::new([
        column("Term").key("term"),
        column("Coefficient").key("value").decimal(),
        column("Standard error").key("sd").decimal(),
        column("t").key("t").decimal(),
        column("p").key("p").decimal(),
        column(format!("{confidence} % from")).key("low").decimal(),
        column("to").key("high").decimal(),
    ]);
    for (at, own) in study.regression.coefficients.iter().enumerate() {
        table.push([
            view.model.column_name(at, &view.names),
            digits(own.value, own.sd),
            known(own.sd, |sd| significant(sd, 2)),
            known(own.t, |t| signed(format!("{t:.2}"))),
            known(own.p, probability),
            digits_if_known(own.interval.0, own.sd),
            digits_if_known(own.interval.1, own.sd),
        ]);
    }
    table.into()
}

/// A value to the digits of its uncertainty.
pub(super) fn digits(value: f64, sd: f64) -> String {
    signed(if sd.is_finite() && 1e-9 < sd { to_digits_of(value, sd, 6) } else { significant(value, 6) })
}

/// A number with a true minus sign, and none before a zero.
pub(super) fn signed(number: String) -> String {
    let is_zero = !number.contains(|c: char| ('1'..='9').contains(&c));
    number.replace('-', if is_zero { "" } else { "−" })
}

fn digits_if_known(value: f64, sd: f64) -> String {
    known(value, |value| digits(value, sd))
}

fn known(value: f64, text: impl Fn(f64) -> String) -> String {
    if value.is_finite() { text(value) } else { "–".to_owned() }
}

/// A probability.
pub(super) fn probability(p: f64) -> String {
    if p < 1e-4 { "< 0.0001".to_owned() } else { significant(p, 3) }
}
