//! A summary in plain words.

use super::Figures;
use crate::report::view::sample_figures::{plain, probability};
use crate::statistics::summary::Summary;
use crate::statistics::variance_test::sd_interval;

/// The name of a group; without one it is everything.
pub(super) fn name(name: &str) -> &str {
    if name.is_empty() { "all" } else { name }
}

/// What may and may not be said with so many values, in one sentence or two.
pub fn sentence(summary: &Summary) -> String {
    by_count(summary) + &not_normal(summary)
}

/// Where the values are hardly of a normal distribution: what rests on one does not hold.
fn not_normal(summary: &Summary) -> String {
    match &summary.shapiro_wilk {
        Some(test) if test.p < summary.rules.alpha => format!(
            " These are hardly of a normal distribution (Shapiro–Wilk p {}): the interval of the mean and that of further cells \
             assume one and can mislead; look at the dots, and take median and quartiles.",
            probability(test.p)
        ),
        _ => String::new(),
    }
}

fn by_count(summary: &Summary) -> String {
    let n = summary.moments.n;
    if n == 1 {
        return "one value says where that cell was and nothing about how others differ: no interval, no comparison.".to_owned();
    }
    if summary.moments.variance <= 0.0 {
        return format!(
            "{n} values that are all equal: the reading step hides the spread, so no interval and no test can be given; read to more \
             digits."
        );
    }
    let [low, high] = sd_factors(summary).unwrap_or([f64::NAN; 2]);
    let spread = format!(
        "the true SD may be {} to {} times the one found (95 %)",
        plain(low, 2),
        plain(high, if high < 10.0 { 2 } else { 3 })
    );
    match n {
        2 => format!(
            "2 values show a blunder and little else: {spread}, normality and outliers can't be tested."
        ),
        3 => format!(
            "3 values are a first look: a large difference can be seen, but {spread}, and no test can find a value that does not \
             belong unless the other two nearly agree."
        ),
        4..=9 => format!(
            "with {n} values a mean and its interval can be stated; {spread}, and the tests for normality and outliers see gross \
             things only."
        ),
        10..=29 => format!(
            "with {n} values mean and spread can both be stated; {spread}. Rare failures can't be ruled out."
        ),
        _ => format!(
            "with {n} values mean and spread are well known ({spread}); what they do not say is whether the cells, or the batches they \
             come from, are a fair sample."
        ),
    }
}

/// The limits of the standard deviation over the one found.
fn sd_factors(summary: &Summary) -> Option<[f64; 2]> {
    let sd = summary.moments.sd();
    sd_interval(&summary.moments, 0.95).map(|limits| limits.map(|limit| limit / sd))
}

/// What the tests for outliers flag.
pub(in crate::report::view) fn flagged(summary: &Summary, figures: &Figures) -> Option<String> {
    let grubbs = summary.grubbs.filter(|test| test.flags());
    let dixon = summary.dixon.filter(|test| test.p < summary.rules.alpha);
    let by = match (grubbs, dixon) {
        (Some(grubbs), Some(_)) => {
            (grubbs.suspect, format!("Grubbs (p {}) and Dixon", probability(grubbs.p)))
        }
        (Some(grubbs), None) => (grubbs.suspect, format!("Grubbs (p {})", probability(grubbs.p))),
        (None, Some(dixon)) => (dixon.suspect, format!("Dixon (p {})", probability(dixon.p))),
        (None, None) => return None,
    };
    Some(format!(
        "{}: {} stands out by {}. It stays in: look at the cell for a physical cause.",
        name(&summary.name),
        figures.value(by.0),
        by.1
    ))
}
