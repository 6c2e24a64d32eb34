//! Several readings of one batch at one setting: what they differ by is no error of batches, so they count as one result.

use super::model::Model;
use super::repeats::settled;
use super::study::Observed;

/// Results with the readings of each batch at one setting taken together.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchMeans {
    /// The results: composition, setting and response are plain means of the readings.
    pub observed: Vec<Observed>,
    /// The places of the readings that each result is the mean of, in the order of the readings.
    pub readings: Vec<Vec<usize>>,
}

/// The mean of what has the same batch and, by the model, the same setting. `of` says the batch of each reading; fractions
/// and coded process variables of one setting differ by at most `alike`.
pub fn batch_means(model: &Model, observed: &[Observed], of: &[usize], alike: f64) -> BatchMeans {
    let (_, group) = settled(model, observed, alike);
    let mut readings: Vec<Vec<usize>> = Vec::new();
    for at in 0..observed.len() {
        let same = |own: &&mut Vec<usize>| own.first().is_some_and(|first| is_one(&group, of, *first, at));
        match readings.iter_mut().find(same) {
            Some(known) => known.push(at),
            None => readings.push(vec![at]),
        }
    }
    BatchMeans { observed: readings.iter().map(|own| mean(observed, own)).collect(), readings }
}

fn is_one(group: &[usize], of: &[usize], one: usize, other: usize) -> bool {
    group[one] == group[other] && of[one] == of[other]
}

/// A single reading stays as it is, to the last digit.
fn mean(observed: &[Observed], places: &[usize]) -> Observed {
    let first = &observed[places[0]];
    if places.len() == 1 {
        return first.clone();
    }
    let mean = |value: &dyn Fn(&Observed) -> f64| {
        places.iter().map(|at| value(&observed[*at])).sum::<f64>() / places.len() as f64
    };
    let each = |own: &[f64], value: &dyn Fn(&Observed) -> &[f64]| -> Vec<f64> {
        let is_same = places.iter().all(|at| value(&observed[*at]) == own);
        let all = (0..own.len()).map(|place| mean(&|reading| value(reading)[place]));
        if is_same { own.to_vec() } else { all.collect() }
    };
    Observed {
        fractions: each(&first.fractions, &|own| &own.fractions),
        setting: each(&first.setting, &|own| &own.setting),
        block: first.block,
        response: mean(&|own| own.response),
    }
}
