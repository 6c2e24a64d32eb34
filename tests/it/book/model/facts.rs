//! The model: what stands, in order, and what follows from it by the plainest arithmetic. It shares no code with
//! the book beyond the codes themselves.

use std::collections::{BTreeMap, BTreeSet};

use meltbook::record::Code;

/// Sums of thousandths of grams leave less dust than this.
const DUST: f64 = 1e-7;

/// What was recorded. `excused` says that a reason stands in the record.
#[derive(Debug, Clone)]
pub enum Fact {
    Received { code: Code, grams: f64 },
    Opened(Code),
    Dried { code: Code, from: Code, taken: f64, dried: f64 },
    BottleLeft { code: Code, grams: f64 },
    Disposed(Code),
    Started { code: Code },
    Weighed { batch: Code, from: Code, grams: f64, excused: bool },
    Added { batch: Code, from: Code, grams: f64, excused: bool },
    Blended { code: Code, parts: Vec<(Code, f64)>, excused: bool },
    Finished { batch: Code, grams: Option<f64>, excused: bool },
    Sampled { batch: Code, grams: f64 },
    Wasted { batch: Code, grams: f64 },
    BatchLeft { batch: Code, grams: f64 },
    Released { batch: Code, excused: bool },
    Rejected(Code),
    Built { cells: Vec<Code>, uses: Vec<(Code, f64)>, excused: bool },
    CellWeighed { cell: Code, batch: Code, grams: f64, excused: bool },
    Retired(Code),
    Read(Code),
    StudyPlanned { code: Code, batches: [Code; 2] },
    StudyAssigned { study: Code, cells: Vec<Code> },
    StudyLooked(Code),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    Started,
    Finished,
    Released,
    Rejected,
}

/// How everything stands after some facts.
#[derive(Debug, Clone, Default)]
pub struct State {
    pub left: BTreeMap<Code, f64>,
    /// The lowest that each code ever held.
    pub lowest: BTreeMap<Code, f64>,
    pub opened: BTreeSet<Code>,
    pub disposed: BTreeSet<Code>,
    pub status: BTreeMap<Code, Status>,
    /// What each cell holds of each batch.
    pub contents: BTreeMap<Code, BTreeMap<Code, f64>>,
    pub retired: BTreeSet<Code>,
    pub readings: BTreeMap<Code, usize>,
    /// The two batches that each study compares.
    pub studies: BTreeMap<Code, [Code; 2]>,
    pub assigned: BTreeMap<Code, BTreeSet<Code>>,
    pub looks: BTreeMap<Code, usize>,
    /// What went into what.
    pub from: BTreeMap<Code, BTreeSet<Code>>,
    pub put_in: BTreeMap<Code, f64>,
}

impl State {
    pub fn of<'f>(facts: impl IntoIterator<Item = &'f Fact>) -> Self {
        let mut state = Self::default();
        facts.into_iter().for_each(|fact| state.add(fact));
        state
    }

    pub fn left(&self, code: &Code) -> f64 {
        self.left.get(code).copied().unwrap_or(0.0)
    }

    fn moved(&mut self, code: &Code, grams: f64) {
        let left = self.left.entry(code.clone()).or_default();
        *left += grams;
        let lowest = self.lowest.entry(code.clone()).or_insert(0.0);
        *lowest = lowest.min(*left);
    }

    fn goes(&mut self, from: &Code, to: &Code, grams: f64) {
        self.moved(from, -grams);
        self.from.entry(to.clone()).or_default().insert(from.clone());
    }

    fn comes(&mut self, batch: &Code, grams: f64) {
        self.moved(batch, grams);
        *self.put_in.entry(batch.clone()).or_default() += grams;
    }

    fn void_judgement(&mut self, batch: &Code) {
        if self.status.get(batch) == Some(&Status::Released) {
            self.status.insert(batch.clone(), Status::Finished);
        }
    }

    pub fn add(&mut self, fact: &Fact) {
        match fact {
            Fact::Received { code, grams } => self.moved(code, *grams),
            Fact::Opened(code) => drop(self.opened.insert(code.clone())),
            Fact::Dried { code, from, taken, dried } => {
                self.goes(from, code, *taken);
                self.moved(code, *dried);
                self.opened.insert(code.clone());
            }
            Fact::BottleLeft { code, grams } | Fact::BatchLeft { batch: code, grams } => {
                let change = grams - self.left(code);
                self.moved(code, change);
            }
            Fact::Disposed(code) => drop(self.disposed.insert(code.clone())),
            Fact::Started { code } => drop(self.status.insert(code.clone(), Status::Started)),
            Fact::Weighed { batch, from, grams, .. } | Fact::Added { batch, from, grams, .. } => {
                self.goes(from, batch, *grams);
                self.comes(batch, *grams);
                self.void_judgement(batch);
            }
            Fact::Blended { code, parts, .. } => {
                self.status.insert(code.clone(), Status::Finished);
                for (from, grams) in parts {
                    self.goes(from, code, *grams);
                    self.comes(code, *grams);
                }
            }
            Fact::Finished { batch, grams, .. } => {
                let change = grams.map_or(0.0, |grams| grams - self.left(batch));
                self.moved(batch, change);
                self.status.insert(batch.clone(), Status::Finished);
            }
            Fact::Sampled { batch, grams } | Fact::Wasted { batch, grams } => self.moved(batch, -grams),
            Fact::Released { batch, .. } => drop(self.status.insert(batch.clone(), Status::Released)),
            Fact::Rejected(batch) => drop(self.status.insert(batch.clone(), Status::Rejected)),
            Fact::Built { cells, uses, .. } => {
                for cell in cells {
                    for (batch, grams) in uses {
                        self.goes(batch, cell, *grams);
                        self.contents.entry(cell.clone()).or_default().insert(batch.clone(), *grams);
                    }
                }
            }
            Fact::CellWeighed { cell, batch, grams, .. } => {
                let Some(held) = self.contents.get_mut(cell).and_then(|held| held.get_mut(batch)) else {
                    return;
                };
                let before = std::mem::replace(held, *grams);
                self.moved(batch, before - grams);
            }
            Fact::Retired(cell) => drop(self.retired.insert(cell.clone())),
            Fact::Read(cell) => *self.readings.entry(cell.clone()).or_default() += 1,
            Fact::StudyPlanned { code, batches } => {
                self.studies.insert(code.clone(), batches.clone());
            }
            Fact::StudyAssigned { study, cells } => {
                self.assigned.entry(study.clone()).or_default().extend(cells.iter().cloned());
            }
            Fact::StudyLooked(study) => *self.looks.entry(study.clone()).or_default() += 1,
        }
    }

    /// True if the rules of the bench let this be recorded now.
    pub fn allows(&self, fact: &Fact) -> bool {
        let enough = |code: &Code, grams: f64| grams <= self.left(code) + DUST;
        let rejected = |code: &Code| self.status.get(code) == Some(&Status::Rejected);
        match fact {
            Fact::Received { .. } | Fact::Started { .. } | Fact::BatchLeft { .. } | Fact::Read(_) => true,
            Fact::Opened(code) => !self.opened.contains(code),
            Fact::Dried { from, taken, dried, .. } => {
                !self.disposed.contains(from) && enough(from, *taken) && *dried <= taken + DUST
            }
            Fact::BottleLeft { code, .. } | Fact::Disposed(code) => !self.disposed.contains(code),
            Fact::Weighed { batch, from, grams, excused } => {
                let there = !self.disposed.contains(from) && DUST < self.left(from) && enough(from, *grams);
                self.status.get(batch) == Some(&Status::Started) && (*excused || there)
            }
            Fact::Added { batch, from, grams, excused } => {
                batch != from && (*excused || !rejected(batch) && !rejected(from) && enough(from, *grams))
            }
            Fact::Blended { parts, excused, .. } => {
                let of = |code: &Code| parts.iter().filter(|(c, _)| c == code).map(|(_, g)| g).sum::<f64>();
                *excused || parts.iter().all(|(code, _)| !rejected(code) && enough(code, of(code)))
            }
            Fact::Finished { batch, grams, excused } => {
                let there = self.left(batch);
                let gained = grams.is_some_and(|grams| there * 1.01 < grams);
                self.status.get(batch) == Some(&Status::Started) && DUST < there && (*excused || !gained)
            }
            Fact::Sampled { batch, grams } | Fact::Wasted { batch, grams } => enough(batch, *grams),
            Fact::Released { batch, excused } => match self.status.get(batch) {
                Some(Status::Finished) => true,
                Some(Status::Rejected) => *excused,
                _ => false,
            },
            Fact::Rejected(batch) => !rejected(batch),
            Fact::Built { cells, uses, excused } => {
                let fits = |(batch, dose): &(Code, f64)| {
                    let needed = dose * cells.len() as f64;
                    self.status.get(batch) == Some(&Status::Released) && enough(batch, needed)
                };
                let names: BTreeSet<&Code> = uses.iter().map(|(batch, _)| batch).collect();
                names.len() == uses.len() && (*excused || uses.iter().all(fits))
            }
            Fact::CellWeighed { cell, batch, grams, excused } => {
                let Some(held) = self.contents.get(cell).and_then(|held| held.get(batch)) else {
                    return false;
                };
                *excused || (!self.retired.contains(cell) && enough(batch, grams - held))
            }
            Fact::Retired(cell) => !self.retired.contains(cell),
            Fact::StudyPlanned { batches: [one, two], .. } => one != two,
            Fact::StudyAssigned { study, cells } => {
                let Some(batches) = self.studies.get(study) else { return false };
                let there = self.assigned.get(study).cloned().unwrap_or_default();
                let held = |cell: &Code| {
                    batches.iter().filter(|batch| self.contents[cell].contains_key(*batch)).count()
                };
                let once: BTreeSet<&Code> = cells.iter().collect();
                once.len() == cells.len() && cells.iter().all(|cell| held(cell) == 1 && !there.contains(cell))
            }
            Fact::StudyLooked(study) => self.studies.contains_key(study),
        }
    }

    /// Codes that once held less than nothing.
    pub fn below(&self) -> BTreeSet<Code> {
        self.lowest.iter().filter(|(_, grams)| **grams < -DUST).map(|(code, _)| code.clone()).collect()
    }

    /// Everything that a code came of.
    pub fn upstream(&self, code: &Code) -> BTreeSet<Code> {
        let mut found = BTreeSet::new();
        let mut open = vec![code.clone()];
        while let Some(code) = open.pop() {
            for from in self.from.get(&code).into_iter().flatten() {
                if found.insert(from.clone()) {
                    open.push(from.clone());
                }
            }
        }
        found
    }
}

impl Fact {
    /// Codes that exist because of it.
    pub fn creates(&self) -> Vec<Code> {
        match self {
            Self::Received { code, .. }
            | Self::Dried { code, .. }
            | Self::Started { code }
            | Self::StudyPlanned { code, .. }
            | Self::Blended { code, .. } => vec![code.clone()],
            Self::Built { cells, .. } => cells.clone(),
            _ => Vec::new(),
        }
    }

    /// Codes that it needs.
    pub fn uses(&self) -> Vec<Code> {
        match self {
            Self::Received { .. } | Self::Started { .. } => Vec::new(),
            Self::Dried { from, .. } => vec![from.clone()],
            Self::Opened(code) | Self::BottleLeft { code, .. } | Self::Disposed(code) => vec![code.clone()],
            Self::Weighed { batch, from, .. } | Self::Added { batch, from, .. } => {
                vec![batch.clone(), from.clone()]
            }
            Self::Blended { parts, .. } => parts.iter().map(|(code, _)| code.clone()).collect(),
            Self::Finished { batch, .. }
            | Self::Sampled { batch, .. }
            | Self::Wasted { batch, .. }
            | Self::BatchLeft { batch, .. }
            | Self::Released { batch, .. }
            | Self::Rejected(batch) => vec![batch.clone()],
            Self::Built { uses, .. } => uses.iter().map(|(code, _)| code.clone()).collect(),
            Self::CellWeighed { cell, batch, .. } => vec![cell.clone(), batch.clone()],
            Self::Retired(cell) | Self::Read(cell) => vec![cell.clone()],
            Self::StudyPlanned { batches, .. } => batches.to_vec(),
            Self::StudyAssigned { study, cells } => {
                std::iter::once(study.clone()).chain(cells.iter().cloned()).collect()
            }
            Self::StudyLooked(study) => vec![study.clone()],
        }
    }

    /// The one mass that a slip of the pen may have changed.
    pub fn mass_mut(&mut self) -> Option<&mut f64> {
        match self {
            Self::Received { grams, .. }
            | Self::BottleLeft { grams, .. }
            | Self::Weighed { grams, .. }
            | Self::Added { grams, .. }
            | Self::Sampled { grams, .. }
            | Self::Wasted { grams, .. }
            | Self::BatchLeft { grams, .. }
            | Self::CellWeighed { grams, .. }
            | Self::Finished { grams: Some(grams), .. } => Some(grams),
            Self::Dried { taken, .. } => Some(taken),
            Self::Built { uses, .. } => uses.first_mut().map(|(_, grams)| grams),
            Self::Blended { parts, .. } => parts.first_mut().map(|(_, grams)| grams),
            _ => None,
        }
    }
}
