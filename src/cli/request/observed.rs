//! What `summary` and `compare` work on: one value of each cell, by group and batch, with what failed. A file of
//! columns gives it, and so does the book.

use std::collections::BTreeMap;

use crate::input::{Warning, look_alikes};

/// Values so many times as large as others, in one column with a unit, are hardly in that unit.
const TWO_UNITS: f64 = 300.0;

/// One value of each cell, group by group, wherever it came from.
#[derive(Debug, Clone, Default)]
pub(in crate::cli) struct Observed {
    /// What was observed: the name of the column, or "slope of …".
    pub(in crate::cli) what: String,
    /// Its unit, if the head has one.
    pub(in crate::cli) unit: Option<String>,
    /// The groups in the order in which they first stand there.
    pub(in crate::cli) groups: Vec<ObservedGroup>,
    /// True if batches are named.
    pub(in crate::cli) batched: bool,
    /// True if each group is one batch.
    pub(in crate::cli) groups_are_batches: bool,
    /// So many decimals values carry that were reckoned from readings; `None` where they stand as they were read.
    pub(in crate::cli) carried: Option<usize>,
    /// By what rule the values were taken, a sentence each.
    pub(in crate::cli) rule: Vec<String>,
    /// What to know beside it.
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// One group.
#[derive(Debug, Clone, Default)]
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
    /// Cells that count, and failed after the time that the values are about.
    pub(in crate::cli) failed_later: Vec<Excluded>,
    /// Lines or cells without a value and without a cause.
    pub(in crate::cli) missing: usize,
    /// Those of them that are known not to have failed: the book says of every cell whether it did, a file does not.
    pub(in crate::cli) intact: usize,
}

/// A cell that failed.
#[derive(Debug, Clone)]
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

impl Observed {
    /// Says which groups have cells without a value.
    pub(super) fn warn_of_missing(&mut self) {
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

    /// Asks whether groups, or batches of one group, that a reader would take for one are one.
    pub(super) fn warn_of_look_alikes(&mut self) {
        let groups: Vec<&str> = self.groups.iter().map(|group| group.name.as_str()).collect();
        let of_groups = look_alikes(&groups).into_iter().map(|pair| ("groups", pair));
        let batches = self.groups.iter().flat_map(|group| {
            let names: Vec<&str> = group.batches.iter().map(String::as_str).collect();
            look_alikes(&names)
        });
        let all = of_groups.chain(batches.map(|pair| ("batches", pair)));
        let ask = |(what, (a, b)): (&str, (&str, &str))| {
            let message = format!(
                "the {what} {a:?} and {b:?} differ by case, blanks or characters that look alike: are they one? They are counted as two; \
                 write them alike if they are one"
            );
            Warning::new("look_alike", message)
        };
        let asked: Vec<Warning> = all.map(ask).collect();
        self.warnings.extend(asked);
    }

    /// Says that values are so far apart that they may be in two units: millivolts among volts.
    pub(super) fn warn_of_units(&mut self) {
        let values = || self.groups.iter().flat_map(|group| &group.values).map(|value| value.abs());
        let least = values().filter(|value| 0.0 < *value).fold(f64::INFINITY, f64::min);
        let most = values().fold(0.0, f64::max);
        if self.unit.is_some() && TWO_UNITS <= most / least {
            let unit = self.unit.as_deref().unwrap_or_default();
            let message = format!(
                "values reach from {least} to {most} {unit}: are some of them in another unit, such as millivolts among volts?"
            );
            self.warnings.push(Warning::new("far_apart", message));
        }
    }

    /// Notes that values were reckoned: between readings, whose decimals they carry, or from readings of another quantity, when four
    /// digits are enough.
    pub(super) fn reckoned(&mut self, decimals: Option<usize>) {
        let values = self.groups.iter().flat_map(|group| &group.values);
        let largest = values.map(|value| value.abs()).fold(0.0, f64::max);
        let four = if 0.0 < largest { (3.0 - largest.log10().floor()).max(0.0) as usize } else { 0 };
        self.carried = Some(decimals.unwrap_or(four));
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
