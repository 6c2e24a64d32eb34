//! Groups of observations, each by itself: from plain values to what a view shows. `summary` asks it, and so does whatever
//! else tells of groups.

use super::outcome::Failure;
use super::request::{Observed, ObservedGroup};
use crate::input::{Fault, Place};
use crate::report::view::{SummarisedGroup, SummaryView};
use crate::statistics::observations::Observations;
use crate::statistics::summary::{Summary, SummaryRules};

/// The summary of each group that has a value.
pub(super) struct Summarised<'o> {
    /// With the group that it was made from.
    pub(super) groups: Vec<(Summary, &'o ObservedGroup)>,
}

/// Summarises each group.
///
/// # Errors
/// If a value is no finite number.
pub(super) fn summarised(observed: &Observed, rules: SummaryRules) -> Result<Summarised<'_>, Failure> {
    let mut groups = Vec::new();
    for group in observed.groups.iter().filter(|group| !group.values.is_empty()) {
        let values = Observations::new(group.name.as_str(), group.values.clone()).map_err(|error| {
            Fault::new("no_value", error.to_string(), Place::named("--value"))
                .with_hint("Write plain numbers.")
        })?;
        groups.extend(Summary::of(&values, rules).map(|summary| (summary, group)));
    }
    Ok(Summarised { groups })
}

impl Summarised<'_> {
    /// What is shown of it.
    pub(super) fn view<'v>(&'v self, observed: &'v Observed) -> SummaryView<'v> {
        let group = |(summary, group): &'v (Summary, &'v ObservedGroup)| SummarisedGroup {
            summary,
            values: &group.values,
            excluded: group.excluded.iter().filter_map(|cell| cell.value).collect(),
            batches: if observed.batched { group.by_batch(false).len() } else { 0 },
        };
        SummaryView {
            what: &observed.what,
            unit: observed.unit.as_deref(),
            carried: observed.carried,
            groups: self.groups.iter().map(group).collect(),
            batched: observed.batched,
            rule: &observed.rule,
            warnings: &observed.warnings,
        }
    }
}
