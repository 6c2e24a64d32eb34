//! The spread between cells out of the book: what a question on numbers of cells is asked with.

use super::book_cells::CellSelection;
use super::book_observations::{GroupBy, observed_cells};
use super::measure::Measure;
use super::sample_size_request::SampleSizeRequest;
use super::surroundings::open_book;
use crate::cell::metric::Metric;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place, Warning};
use crate::report::view::FoundSpread;
use crate::statistics::anova::Anova;
use crate::statistics::moments::Moments;
use crate::statistics::power::{Aim, Question};
use crate::statistics::variance_test::sd_interval;

/// A spread with what it stands on.
pub(super) struct BaselineSpread {
    /// Between cells of one batch, pooled over batches.
    pub(super) sd: Measure,
    interval: [f64; 2],
    of: String,
    metric: Metric,
    cells: usize,
    batches: usize,
    /// Between batches, if there are several.
    between: Option<f64>,
    pub(super) warnings: Vec<Warning>,
}

/// The spread between cells of one batch of an electrolyte: the variances within its batches pooled, each with its
/// degrees of freedom.
pub(super) fn baseline_spread(common: &Common, name: &str, metric: &str) -> Result<BaselineSpread, Failure> {
    let metric = Metric::parse(metric)?;
    let book = open_book(common)?;
    let cells = CellSelection::of_electrolyte(name).cells(&book)?;
    let observed = observed_cells(common, &book, &metric, cells, GroupBy::Electrolyte)?;
    let batches: Vec<Vec<f64>> = observed.groups.iter().flat_map(|group| group.by_batch(false)).collect();
    let moments: Vec<Moments> = batches.iter().map(|batch| Moments::of(batch)).collect();
    let within = moments.iter().filter(|moments| 1 < moments.n);
    let (sum, df) = within.fold((0.0, 0), |(sum, df), own| (sum + own.variance * own.df(), df + own.n - 1));
    let pooled = Moments { n: df + 1, mean: f64::NAN, variance: sum / df as f64 };
    let Some(interval) = sd_interval(&pooled, 0.95).filter(|_| 0.0 < pooled.variance) else {
        return Err(no_spread_found(name, &metric).into());
    };
    let slices: Vec<&[f64]> = batches.iter().map(Vec::as_slice).collect();
    Ok(BaselineSpread {
        sd: Measure::found("--baseline", pooled.sd(), metric.unit()),
        interval,
        of: name.to_owned(),
        metric,
        cells: batches.iter().map(Vec::len).sum(),
        batches: batches.len(),
        between: Anova::of(&slices).map(|anova| anova.components().between().sqrt()),
        warnings: observed.warnings,
    })
}

fn no_spread_found(name: &str, metric: &Metric) -> Fault {
    let message = format!("the cells of {name} show no spread of their {}", metric.name());
    Fault::new("no_spread_found", message, Place::in_text("--baseline", name, 0..name.len()))
        .with_hint("It takes two cells of one batch with values that differ; else say --sd.")
}

impl BaselineSpread {
    /// The same in the unit of the question.
    pub(super) fn words(&self, request: &SampleSizeRequest) -> FoundSpread {
        let own = request.words.sd.unwrap_or(self.sd.value);
        let factor = own / self.sd.value;
        let [low, high] = self.interval.map(|limit| limit * factor);
        FoundSpread {
            of: self.of.clone(),
            metric: self.metric.to_string(),
            interval: [low, high],
            cells: self.cells,
            batches: self.batches,
            between: self.between.map(|between| between * factor),
            at_most: at_spread(&request.question, own / high).answer().map(|enough| enough.per_group),
        }
    }
}

/// The question if the spread is so much larger: sizes in units of it shrink by this share.
fn at_spread(question: &Question, share: f64) -> Question {
    let aim = match question.aim {
        Aim::Difference(effect) => Aim::Difference(effect * share),
        Aim::Means(effect) => Aim::Means(effect * share),
        Aim::HalfWidth(effect) => Aim::HalfWidth(effect * share),
        Aim::Tolerance(factor) => Aim::Tolerance(factor * share),
        other @ (Aim::Spread(_) | Aim::Detect) => other,
    };
    Question { aim, ..*question }
}
