//! The bench of the sample book: what its instruments show when the story asks.

use std::collections::BTreeMap;
use std::path::Path;

use jiff::Timestamp;

use super::truth::{Nature, Subject};
use crate::book::{Book, BookError, cells, readings};
use crate::record::cell::Cell;
use crate::record::reading::ReadingKind;
use crate::record::{Code, CodeKind};

/// The instruments, and what was remembered.
pub(super) struct Bench {
    nature: Nature,
    remembered: BTreeMap<String, u64>,
}

impl Bench {
    pub(super) fn new(nature: Nature) -> Self {
        Self { nature, remembered: BTreeMap::new() }
    }

    /// Keeps the number of the last entry under a name.
    pub(super) fn remember(&mut self, folder: &Path, name: &str) -> Result<(), BookError> {
        let (entry, _) = Book::open(folder)?.head()?;
        self.remembered.insert(name.to_owned(), entry);
        Ok(())
    }

    /// A word of a command with what stands in braces read off.
    pub(super) fn read_off(&self, folder: &Path, word: &str, at: Timestamp) -> Result<String, BookError> {
        let Some((before, name, after)) = braces(word) else { return Ok(word.to_owned()) };
        let value = match name {
            "temperature" => format!("{:.1} °C", self.nature.room(at)),
            "humidity" => format!("{:.0}%", self.nature.humidity(at)),
            _ => match (ReadingKind::from_word(name), self.remembered.get(name)) {
                (Some(kind), _) => self.list(folder, kind, at)?,
                (None, Some(entry)) => entry.to_string(),
                (None, None) => return Ok(word.to_owned()),
            },
        };
        Ok(format!("{before}{value}{after}"))
    }

    /// "C1=1.482 C2=1.479", every cell that is in use.
    fn list(&self, folder: &Path, kind: ReadingKind, at: Timestamp) -> Result<String, BookError> {
        let bench = Cells::of(folder)?;
        let value = |cell: &Cell| Some(format!("{}={}", cell.code, self.shown(kind, &bench, cell, at)?));
        Ok(bench.in_use().filter_map(value).collect::<Vec<_>>().join(" "))
    }

    /// A bench table as somebody keeps it: cells down, times across.
    pub(super) fn table(&self, folder: &Path, times: &[Timestamp]) -> Result<String, BookError> {
        let bench = Cells::of(folder)?;
        let mut lines =
            vec![format!("cell (V){}", times.iter().map(|at| format!(",{at}")).collect::<String>())];
        for cell in bench.in_use() {
            let values = times.iter().map(|at| self.shown(ReadingKind::OpenCircuit, &bench, cell, *at));
            let values = values.map(|value| format!(",{}", value.unwrap_or_default())).collect::<String>();
            lines.push(format!("{}{values}", cell.code));
        }
        Ok(lines.join("\n") + "\n")
    }

    /// A table of what was dosed: cells down, batches across, in grams.
    pub(super) fn doses(&self, folder: &Path) -> Result<String, BookError> {
        let bench = Cells::of(folder)?;
        let mut batches: Vec<&Code> =
            bench.cells.iter().flat_map(|cell| &cell.contents).map(|content| &content.batch).collect();
        batches.sort();
        batches.dedup();
        let head = batches.iter().map(|batch| format!(",{batch} (g)")).collect::<String>();
        let mut lines = vec![format!("cell{head}")];
        for cell in bench.in_use() {
            let dose = |batch: &&Code| {
                let content = cell.contents.iter().find(|content| content.batch == **batch)?;
                let dose = self.nature.dose(&cell.code.to_string(), &batch.to_string(), content.planned_g);
                Some(format!("{dose:.4}"))
            };
            let doses = batches.iter().map(|batch| format!(",{}", dose(batch).unwrap_or_default()));
            lines.push(format!("{}{}", cell.code, doses.collect::<String>()));
        }
        Ok(lines.join("\n") + "\n")
    }

    /// What the meter shows: volts to the millivolt, milliamperes to a tenth.
    fn shown(&self, kind: ReadingKind, bench: &Cells, cell: &Cell, at: Timestamp) -> Option<String> {
        let code = cell.code.to_string();
        let batch = cell.contents.iter().find(|content| content.batch.kind() != CodeKind::CathodeMix)?;
        let batch = batch.batch.to_string();
        let shorted = bench.shorted(&cell.code, at);
        let subject = Subject { cell: &code, batch: &batch, built: cell.set.built, shorted };
        match kind {
            ReadingKind::OpenCircuit => Some(format!("{:.3}", self.nature.open_circuit(&subject, at)?)),
            ReadingKind::UnderLoad => Some(format!("{:.3}", self.nature.under_load(&subject, at)?)),
            ReadingKind::ShortCircuit => {
                Some(format!("{:.1}", self.nature.short_circuit(&subject, at)? * 1000.0))
            }
        }
    }
}

/// The cells as the book knows them, and when they were shorted.
struct Cells {
    cells: Vec<Cell>,
    shorts: BTreeMap<Code, Vec<Timestamp>>,
}

impl Cells {
    fn of(folder: &Path) -> Result<Self, BookError> {
        let book = Book::open(folder)?;
        let mut shorts: BTreeMap<Code, Vec<Timestamp>> = BTreeMap::new();
        for reading in readings(&book, &[])? {
            if reading.taken.value.kind() == ReadingKind::ShortCircuit {
                shorts.entry(reading.taken.cell).or_default().push(reading.taken.at);
            }
        }
        Ok(Self { cells: cells(&book)?, shorts })
    }

    fn in_use(&self) -> impl Iterator<Item = &Cell> {
        self.cells.iter().filter(|cell| cell.retired.is_none())
    }

    fn shorted(&self, cell: &Code, at: Timestamp) -> Option<Timestamp> {
        self.shorts.get(cell)?.iter().filter(|short| **short < at).max().copied()
    }
}

/// What stands before, in and after the braces.
fn braces(word: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = word.split_once('{')?;
    let (name, after) = rest.split_once('}')?;
    Some((before, name, after))
}
