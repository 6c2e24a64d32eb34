//! The records of a study, read once.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::study_build::all_batches;
use super::surroundings::{failure, now, zone};
use crate::book::{Book, cell, history, logs, readings, studies, study};
use crate::cli::outcome::Failure;
use crate::record::cell::Cell;
use crate::record::life::BatchLife;
use crate::record::reading::Reading;
use crate::record::study::{Asked, Departure, Read, Records, Study, departures};
use crate::record::{Code, HistoryLine};

/// Everything that a study stands on.
pub(in crate::cli) struct StudyRecords {
    pub(in crate::cli) study: Study,
    /// Its cells, each with the place of its electrolyte.
    pub(in crate::cli) cells: Vec<(Cell, Option<usize>)>,
    pub(in crate::cli) readings: Vec<Reading>,
    pub(in crate::cli) lives: Vec<BatchLife>,
    pub(in crate::cli) now: Timestamp,
    pub(in crate::cli) zone: TimeZone,
    logged: Vec<Read>,
    history: Vec<HistoryLine>,
    studies: Vec<Study>,
}

impl StudyRecords {
    /// The study of this code.
    pub(in crate::cli) fn read(book: &Book, code: &Code) -> Result<Self, Failure> {
        let study = study(book, code).map_err(|error| failure(&error))?;
        let lives = all_batches(book)?;
        let recipe =
            |batch: &Code| lives.iter().find(|life| life.code == *batch).map(|life| life.name.clone());
        let codes: Vec<Code> = study.cells.iter().map(|(code, _)| code.clone()).collect();
        let cells = codes.iter().map(|code| cell(book, code)).collect::<Result<Vec<_>, _>>();
        let cells = cells.map_err(|error| failure(&error))?;
        let cells = cells
            .into_iter()
            .map(|cell| {
                let held = study.planned.electrolyte_of(&cell, &recipe);
                (cell, held)
            })
            .collect();
        // No code at all would mean every cell of the book.
        let readings = if codes.is_empty() { Ok(Vec::new()) } else { readings(book, &codes) };
        let logged = logs(book).map_err(|error| failure(&error))?;
        let logged = logged.iter().flat_map(|log| &log.imported.cells);
        let logged = logged.filter(|logged| codes.contains(&logged.cell));
        let logged = logged.map(|logged| Read { cell: logged.cell.clone(), at: logged.first }).collect();
        Ok(Self {
            cells,
            readings: readings.map_err(|error| failure(&error))?,
            logged,
            history: history(book).map_err(|error| failure(&error))?,
            studies: studies(book).map_err(|error| failure(&error))?,
            now: now()?,
            zone: zone(),
            study,
            lives,
        })
    }

    /// What the work did otherwise; `asked` is what is asked now.
    pub(in crate::cli) fn departures(&self, asked: Option<&Asked>) -> Vec<Departure> {
        let records = Records {
            study: &self.study,
            cells: &self.cells,
            readings: &self.readings,
            logged: &self.logged,
            history: &self.history,
            studies: &self.studies,
            now: self.now,
            zone: &self.zone,
        };
        departures(&records, asked)
    }

    /// The entry that wrote it.
    pub(in crate::cli) fn line(&self) -> Option<&HistoryLine> {
        self.history.iter().find(|line| line.sequence == self.study.entry)
    }

    /// Whole days to the planned end; 0 on its day and after it.
    pub(in crate::cli) fn days_before_end(&self) -> u32 {
        self.study.planned.days_before_end(self.now, &self.zone)
    }
}
