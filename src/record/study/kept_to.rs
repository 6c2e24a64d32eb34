//! Whether the work kept to its study.

use std::collections::BTreeMap;

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::departure::{Departure, Read};
use super::order::build_list;
use super::{Study, StudyMethod};
use crate::record::amend::differences;
use crate::record::cell::{Cause, Cell, DueReading};
use crate::record::code::Code;
use crate::record::due::windows;
use crate::record::event::Event;
use crate::record::history::HistoryLine;
use crate::record::reading::Reading;

/// The records of a study.
pub struct Records<'r> {
    /// The study.
    pub study: &'r Study,
    /// Its cells, each with the place of the electrolyte that it holds.
    pub cells: &'r [(Cell, Option<usize>)],
    /// Readings of its cells.
    pub readings: &'r [Reading],
    /// Where logs of its cells begin.
    pub logged: &'r [Read],
    /// Every study of the book.
    pub studies: &'r [Study],
    /// The whole history of the book.
    pub history: &'r [HistoryLine],
    /// Now.
    pub now: Timestamp,
    /// The zone in which days are counted.
    pub zone: &'r TimeZone,
}

/// What is asked of the study's cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The metric, written as the study writes it.
    pub metric: String,
    /// What is assumed of the values.
    pub method: StudyMethod,
    /// The electrolyte that all others are compared with.
    pub baseline: Option<String>,
    /// Confidence of the limits.
    pub confidence: f64,
}

impl Asked {
    /// What the study itself asks.
    pub fn as_planned(study: &Study) -> Self {
        let planned = &study.planned;
        Self {
            metric: planned.metric.clone(),
            method: planned.method,
            baseline: planned.baseline.clone(),
            confidence: planned.confidence,
        }
    }
}

/// All departures. `asked` is what is asked now, where something is; it counts as a look if it comes before the
/// planned end.
pub fn departures(records: &Records<'_>, asked: Option<&Asked>) -> Vec<Departure> {
    let mut list = Vec::new();
    list.extend(records.written_late());
    list.extend(records.plan_changed());
    list.extend(records.taken_out());
    list.extend(records.counts());
    list.extend(records.strangers());
    list.extend(records.of_other_studies());
    list.extend(records.out_of_order());
    list.extend(records.unnamed_causes());
    list.extend(records.schedule());
    list.extend(asked.into_iter().flat_map(|asked| records.asked(asked)));
    list.extend(records.early_looks(asked.is_some()));
    list
}

impl Records<'_> {
    /// The first reading of any of the cells.
    fn first_reading(&self) -> Option<Read> {
        let taken = self
            .readings
            .iter()
            .map(|reading| Read { cell: reading.taken.cell.clone(), at: reading.taken.at });
        taken.chain(self.logged.iter().cloned()).min_by_key(|read| read.at)
    }

    fn written_late(&self) -> Option<Departure> {
        let first = self.first_reading().filter(|first| first.at < self.study.written)?;
        Some(Departure::WrittenLate { written: self.study.written, first })
    }

    fn plan_changed(&self) -> Option<Departure> {
        let line = self.history.iter().find(|line| line.sequence == self.study.entry)?;
        let standing = Event::StudyPlanned(Box::new(self.study.planned.clone()));
        let fields = differences(&line.event, &standing);
        let written = |sequence: u64| {
            self.history.iter().find(|line| line.sequence == sequence).and_then(HistoryLine::written)
        };
        let by: Vec<_> = line
            .changes
            .iter()
            .map(|change| (change.sequence, written(change.sequence), change.reason.clone()))
            .collect();
        let first = self.first_reading();
        let late = |at: &Option<Timestamp>| at.zip(first.as_ref()).is_some_and(|(at, first)| first.at < at);
        let after_first_reading = by.iter().any(|(_, at, _)| late(at));
        (!fields.is_empty()).then_some(Departure::PlanChanged { by, fields, after_first_reading })
    }

    fn taken_out(&self) -> Vec<Departure> {
        let here = |code: &Code| self.study.cells.iter().any(|(cell, _)| cell == code);
        let out =
            |line: &HistoryLine| {
                let Event::StudyAssigned(assigned) = &line.event else { return None };
                let struck = line.changes.iter().find(|change| change.what == "struck")?;
                let cells: Vec<Code> = assigned.cells.iter().filter(|cell| !here(cell)).cloned().collect();
                (assigned.study == self.study.planned.code && !cells.is_empty()).then(|| {
                    Departure::TakenOut { cells, entry: line.sequence, reason: struck.reason.clone() }
                })
            };
        self.history.iter().filter_map(out).collect()
    }

    /// Before any cell is there, nothing is otherwise than planned.
    fn counts(&self) -> Vec<Departure> {
        if self.cells.is_empty() {
            return Vec::new();
        }
        let planned = self.study.planned.per_electrolyte as usize;
        let of = |place: usize| self.cells_where(|held| held == Some(place));
        let electrolytes = self.study.planned.electrolytes.iter().enumerate();
        let counts = electrolytes.map(|(place, studied)| (studied.name.clone(), of(place)));
        counts
            .filter(|(_, cells)| cells.len() != planned)
            .map(|(electrolyte, cells)| Departure::CellCount { electrolyte, planned, cells })
            .collect()
    }

    fn strangers(&self) -> Option<Departure> {
        let cells = self.cells_where(|held| held.is_none());
        (!cells.is_empty()).then_some(Departure::NoElectrolyte { cells })
    }

    /// Cells that another study had first: what was seen of them there was known when they were taken in here.
    fn of_other_studies(&self) -> Vec<Departure> {
        let earlier = |other: &Study, cell: &Code, entry: u64| {
            other.cells.iter().any(|(there, before)| there == cell && *before < entry)
        };
        let others = self.studies.iter().filter(|other| other.planned.code != self.study.planned.code);
        let departure = |other: &Study| {
            let both = self.study.cells.iter().filter(|(cell, entry)| earlier(other, cell, *entry));
            let cells: Vec<Code> = both.map(|(cell, _)| cell.clone()).collect();
            let study = other.planned.code.clone();
            (!cells.is_empty()).then_some(Departure::OfAnotherStudy { cells, study })
        };
        others.filter_map(departure).collect()
    }

    fn cells_where(&self, fits: impl Fn(Option<usize>) -> bool) -> Vec<Code> {
        self.cells.iter().filter(|(_, held)| fits(*held)).map(|(cell, _)| cell.code.clone()).collect()
    }

    fn out_of_order(&self) -> Option<Departure> {
        let planned = &self.study.planned;
        let list = build_list(planned, &[]);
        let in_place = |cell: &Cell, held: usize| {
            let listed = (cell.position as usize).checked_sub(1).and_then(|at| list.get(at));
            let block = listed.and_then(|listed| planned.blocks.get(listed.block));
            cell.set.seed == planned.seed
                && listed.is_some_and(|listed| listed.electrolyte == held)
                && cell.block.as_ref() == block
        };
        let out = self.cells.iter().filter(|(cell, held)| held.is_some_and(|held| !in_place(cell, held)));
        let cells: Vec<Code> = out.map(|(cell, _)| cell.code.clone()).collect();
        (!cells.is_empty()).then_some(Departure::OutOfOrder { cells })
    }

    fn unnamed_causes(&self) -> Vec<Departure> {
        let unnamed = |(cell, _): &(Cell, Option<usize>)| {
            let (_, cause, _) = cell.retired.as_ref()?;
            (!self.study.planned.allows(cause))
                .then(|| Departure::UnnamedCause { cell: cell.code.clone(), cause: cause.clone() })
        };
        self.cells.iter().filter_map(unnamed).collect()
    }

    /// What was not read, and what was read late, each kind and day once.
    fn schedule(&self) -> Vec<Departure> {
        let mut taken: BTreeMap<(&Code, &str), Vec<Timestamp>> = BTreeMap::new();
        for reading in self.readings {
            let key = (&reading.taken.cell, reading.taken.value.kind().word());
            taken.entry(key).or_default().push(reading.taken.at);
        }
        let mut missed: Vec<(DueReading, Vec<Code>)> = Vec::new();
        let mut late: Vec<(DueReading, Vec<Code>, SignedDuration)> = Vec::new();
        for (cell, _) in self.cells {
            for (due, kept) in self.kept(cell, &taken) {
                match kept {
                    None => match missed.iter_mut().find(|(other, _)| *other == due) {
                        Some((_, cells)) => cells.push(cell.code.clone()),
                        None => missed.push((due, vec![cell.code.clone()])),
                    },
                    Some(by) => match late.iter_mut().find(|(other, ..)| *other == due) {
                        Some((_, cells, most)) => {
                            cells.push(cell.code.clone());
                            *most = by.max(*most);
                        }
                        None => late.push((due, vec![cell.code.clone()], by)),
                    },
                }
            }
        }
        let missed = missed.into_iter().map(|(DueReading { day, what }, cells)| Departure::NotRead {
            what,
            day,
            cells,
        });
        let late = late.into_iter().map(|(DueReading { day, what }, cells, by)| Departure::ReadLate {
            what,
            day,
            cells,
            by,
        });
        missed.chain(late).collect()
    }

    /// The times of a cell's schedule that were not kept to: not read at all, or so much late.
    fn kept(
        &self,
        cell: &Cell,
        taken: &BTreeMap<(&Code, &str), Vec<Timestamp>>,
    ) -> Vec<(DueReading, Option<SignedDuration>)> {
        let planned = &self.study.planned.schedule;
        let schedule = if planned.is_empty() { &cell.set.design.schedule } else { planned };
        let over = cell.retired.as_ref().map_or(self.now, |(at, _, _)| (*at).min(self.now));
        let mut list = Vec::new();
        for (what, windows) in windows(cell.set.built, schedule) {
            let none = Vec::new();
            let taken = taken.get(&(&cell.code, what)).unwrap_or(&none);
            for window in windows.iter().filter(|window| window.at <= over) {
                let inside = taken.iter().filter(|time| window.has(**time));
                let off = inside.map(|time| time.duration_since(window.at)).min_by_key(|off| off.abs());
                let due = || DueReading { day: window.day, what: what.to_owned() };
                match off {
                    None => list.push((due(), None)),
                    Some(off) if window.lead < off => list.push((due(), Some(off))),
                    Some(_) => {}
                }
            }
        }
        list
    }

    fn asked(&self, asked: &Asked) -> Vec<Departure> {
        let planned = Asked::as_planned(self.study);
        let pairs = |name: &Option<String>| name.clone().unwrap_or_else(|| "every pair".to_owned());
        let percent = |share: f64| format!("{} %", crate::quantity::significant(share * 100.0, 3));
        let both = [
            ("metric", planned.metric.clone(), asked.metric.clone()),
            ("method", planned.method.word().to_owned(), asked.method.word().to_owned()),
            ("baseline", pairs(&planned.baseline), pairs(&asked.baseline)),
            ("confidence", percent(planned.confidence), percent(asked.confidence)),
        ];
        let differ = both.into_iter().filter(|(_, planned, asked)| planned != asked);
        differ.map(|(what, planned, asked)| Departure::Asked { what, planned, asked }).collect()
    }

    fn early_looks(&self, looking: bool) -> Option<Departure> {
        let planned = &self.study.planned;
        let before = |at: Timestamp| planned.days_before_end(at, self.zone);
        let mut days: Vec<u32> = self.study.looks.iter().map(|look| before(look.looked.at)).collect();
        days.extend(looking.then(|| before(self.now)));
        days.retain(|days| 0 < *days);
        let first_days_before = days.iter().copied().max()?;
        Some(Departure::EarlyLooks { looks: days.len(), first_days_before })
    }
}

impl super::Planned {
    /// True if a cell may be left out for this cause. The end of the test is no failure.
    pub fn allows(&self, cause: &Cause) -> bool {
        let folded = |cause: &Cause| match cause {
            Cause::Other(words) => Cause::Other(words.trim().to_lowercase()),
            other => other.clone(),
        };
        *cause == Cause::EndOfTest || self.causes.iter().any(|named| folded(named) == folded(cause))
    }
}
