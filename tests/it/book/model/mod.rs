//! Random histories of all nouns against a simple model: what the book takes and refuses, what it then says is
//! left, and whether its journal, its archive and its threads from cell to bottle hold.

mod events;
mod facts;
mod hold;

use std::collections::BTreeSet;

use meltbook::book::{BookError, Why};
use meltbook::record::{Code, CodeKind};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::shelf::{Shelf, stamp};
use events::event;
use facts::{Fact, State};

/// A step; its numbers choose among what there is. Masses come as parts of what is there, up to a little more
/// than that, so that about every sixth asks for too much.
#[derive(Debug, Clone)]
struct Step {
    what: u8,
    which: u8,
    other: u8,
    part: u8,
    excused: bool,
}

fn step() -> impl Strategy<Value = Step> {
    (0..40u8, any::<u8>(), any::<u8>(), any::<u8>(), proptest::bool::weighted(0.15))
        .prop_map(|(what, which, other, part, excused)| Step { what, which, other, part, excused })
}

/// The book and the model beside it.
pub(super) struct Beside {
    pub(super) shelf: Shelf,
    /// What stands, with its entry.
    pub(super) facts: Vec<(u64, Fact)>,
    /// Codes that hold less than nothing with a recorded reason.
    excused: BTreeSet<Code>,
    /// How many steps were taken, refused, and could not be foretold.
    taken: usize,
    refused: usize,
    unforetold: usize,
}

impl Beside {
    fn new() -> Self {
        let (shelf, facts, excused) = (Shelf::new(), Vec::new(), BTreeSet::new());
        Self { shelf, facts, excused, taken: 0, refused: 0, unforetold: 0 }
    }

    pub(super) fn state(&self) -> State {
        State::of(self.facts.iter().map(|(_, fact)| fact))
    }

    fn codes(&self, wanted: impl Fn(CodeKind) -> bool) -> Vec<Code> {
        let codes = self.facts.iter().flat_map(|(_, fact)| fact.creates());
        codes.filter(|code| wanted(code.kind())).collect()
    }

    fn bottle(&self, which: u8) -> Option<Code> {
        chosen(&self.codes(|kind| kind == CodeKind::Bottle), which)
    }

    fn batch(&self, which: u8) -> Option<Code> {
        chosen(&self.codes(CodeKind::is_batch), which)
    }

    fn cell(&self, which: u8) -> Option<Code> {
        chosen(&self.codes(|kind| kind == CodeKind::Cell), which)
    }

    fn study(&self, which: u8) -> Option<Code> {
        chosen(&self.codes(|kind| kind == CodeKind::Study), which)
    }

    fn next(&mut self, kind: CodeKind) -> Code {
        self.shelf.book.write(&stamp(), |writer| writer.next_code(kind)).expect("a code")
    }

    fn run(&mut self, step: &Step) -> Result<(), String> {
        match step.what {
            0..32 => match self.fact(step) {
                Some(fact) => self.record(fact),
                None => Ok(()),
            },
            32..37 => self.correct(step),
            _ => self.strike(step),
        }
    }

    fn fact(&mut self, step: &Step) -> Option<Fact> {
        let Step { what, which, other, part, excused } = *step;
        let state = self.state();
        let some =
            |code: &Code, share: f64| rounded(state.left(code).max(1.0) * share * f64::from(part) / 210.0);
        Some(match what {
            0..4 => Fact::Received { code: self.next(CodeKind::Bottle), grams: f64::from(part) + 1.0 },
            4 => Fact::Opened(self.bottle(which)?),
            5 => {
                let from = self.bottle(which)?;
                let taken = some(&from, 1.0);
                let code = self.next(CodeKind::Bottle);
                Fact::Dried { code, from, taken, dried: rounded(taken * 0.97) }
            }
            6 => Fact::BottleLeft { code: self.bottle(which)?, grams: f64::from(part) },
            7 if other < 90 => Fact::Disposed(self.bottle(which)?),
            8..10 => Fact::Started { code: self.next(kind(other)) },
            10..14 => {
                let from = self.bottle(which)?;
                let grams = some(&from, 0.6);
                Fact::Weighed { batch: self.batch(other)?, from, grams, excused }
            }
            14 => {
                let from = self.batch(which)?;
                let grams = some(&from, 0.6);
                Fact::Added { batch: self.batch(other)?, from, grams, excused }
            }
            15 => {
                let (one, two) = (self.batch(which)?, self.batch(other)?);
                let parts = vec![(one.clone(), some(&one, 0.6)), (two.clone(), some(&two, 0.6))];
                Fact::Blended { code: self.next(CodeKind::Electrolyte), parts, excused }
            }
            16..18 => {
                let batch = self.batch(which)?;
                let mass = rounded(state.left(&batch) * (0.9 + f64::from(part) / 2000.0));
                Fact::Finished { batch, grams: (other < 128).then_some(mass), excused }
            }
            18 => {
                let batch = self.batch(which)?;
                Fact::Sampled { grams: some(&batch, 0.1), batch }
            }
            19 => {
                let batch = self.batch(which)?;
                Fact::Wasted { grams: some(&batch, 1.0), batch }
            }
            20 if other < 128 => Fact::BatchLeft { batch: self.batch(which)?, grams: f64::from(part) / 2.0 },
            21..23 => Fact::Released { batch: self.batch(which)?, excused },
            23 if other < 90 => Fact::Rejected(self.batch(which)?),
            24..26 => {
                let (one, two) = (self.batch(which)?, self.batch(other)?);
                let count = u32::from(part % 4) + 1;
                let first = self.next(CodeKind::Cell).number();
                let cells = (first..first + count).map(|number| Code::new(CodeKind::Cell, number)).collect();
                let mut uses = vec![(one.clone(), some(&one, 0.2)), (two.clone(), some(&two, 0.2))];
                // Now and then one batch is named twice, which is refused.
                if one == two && other % 4 != 0 {
                    uses.truncate(1);
                }
                Fact::Built { cells, uses, excused }
            }
            26 => {
                let cell = self.cell(which)?;
                let batch = chosen(&state.contents.get(&cell)?.keys().cloned().collect::<Vec<_>>(), other)?;
                let grams = rounded(state.contents[&cell][&batch] * (0.5 + f64::from(part) / 128.0));
                Fact::CellWeighed { cell, batch, grams, excused }
            }
            27 if other < 60 => Fact::Retired(self.cell(which)?),
            27 => Fact::Read(self.cell(which)?),
            28 => Fact::StudyPlanned {
                code: self.next(CodeKind::Study),
                batches: [self.batch(which)?, self.batch(other)?],
            },
            29..31 => {
                let cells: Vec<Code> =
                    (0..part % 3 + 1).filter_map(|more| self.cell(other.wrapping_add(more))).collect();
                Fact::StudyAssigned { study: self.study(which)?, cells }
            }
            31 => Fact::StudyLooked(self.study(which)?),
            _ => return None,
        })
    }

    fn record(&mut self, fact: Fact) -> Result<(), String> {
        let before = self.state();
        let foretold = before.allows(&fact);
        let written = self.shelf.book.write(&stamp(), |writer| writer.append(&event(&fact)));
        match written {
            Ok(entry) if foretold => {
                self.facts.push((entry, fact));
                // What was let pass had a reason; without one the model would have refused it.
                self.excused.extend(self.state().below().difference(&before.below()).cloned());
                self.taken += 1;
                Ok(())
            }
            Err(error) if !foretold && error.is_input() => {
                self.refused += 1;
                Ok(())
            }
            Ok(_) => Err(format!("taken against the model: {fact:?}")),
            Err(error) => Err(format!("{fact:?}: {error}")),
        }
    }

    /// A fact with another mass.
    fn correct(&mut self, step: &Step) -> Result<(), String> {
        let with_mass: Vec<usize> =
            (0..self.facts.len()).filter(|index| self.facts[*index].1.clone().mass_mut().is_some()).collect();
        let Some(index) = chosen(&with_mass, step.which) else { return Ok(()) };
        let (entry, mut fact) = self.facts[index].clone();
        let mass = fact.mass_mut().expect("it was chosen for it");
        let factor = 0.3 + f64::from(step.part) / 200.0;
        let new = rounded(*mass * factor);
        if (new - *mass).abs() < 1e-9 {
            return Ok(());
        }
        *mass = new;
        let mut facts = self.facts.clone();
        facts[index].1 = fact.clone();
        let why = Why { reason: "misread", in_spite: step.excused.then_some("it is so") };
        let written =
            self.shelf.book.write(&stamp(), |writer| writer.correct(entry, &event(&fact), why).map(drop));
        let prior = |facts: &[(u64, Fact)]| State::of(facts[..index].iter().map(|(_, fact)| fact));
        let own = [&self.facts, &facts].map(|facts| prior(facts).allows(&facts[index].1));
        self.changed(facts, own, step.excused, written)
    }

    /// A fact is withdrawn.
    fn strike(&mut self, step: &Step) -> Result<(), String> {
        let Some(index) = chosen(&(0..self.facts.len()).collect::<Vec<_>>(), step.which) else {
            return Ok(());
        };
        let (entry, fact) = self.facts[index].clone();
        let created = fact.creates();
        let stands =
            self.facts[index + 1..].iter().any(|(_, fact)| fact.uses().iter().any(|c| created.contains(c)));
        // A look can't be taken back.
        let stands = stands || matches!(fact, Fact::StudyLooked(_));
        let why = Why { reason: "recorded twice", in_spite: step.excused.then_some("it is so") };
        let written = self.shelf.book.write(&stamp(), |writer| writer.strike(entry, why).map(drop));
        let mut facts = self.facts.clone();
        facts.remove(index);
        self.changed(facts, [true, !stands], step.excused, written)
    }

    /// The book must have taken or refused a change as the model foretells: the changed fact itself is allowed
    /// where it stands, and nothing is newly below nothing unless somebody says why.
    fn changed(
        &mut self,
        facts: Vec<(u64, Fact)>,
        [before, after]: [bool; 2],
        excused: bool,
        written: Result<(), BookError>,
    ) -> Result<(), String> {
        let now = State::of(facts.iter().map(|(_, fact)| fact)).below();
        let newly: Vec<Code> = now.difference(&self.state().below()).cloned().collect();
        // What was against it before may be told in the same words after; only the book can say.
        let known = before || after;
        let foretold = after && (excused || newly.is_empty());
        if let Err(error) = &written
            && !error.is_input()
        {
            return Err(format!("a change gives {error}"));
        }
        if known && written.is_ok() != foretold {
            return Err(format!("a change was {written:?}, and the model says {foretold}: {newly:?}"));
        }
        self.unforetold += usize::from(!known);
        if written.is_ok() {
            self.facts = facts;
            self.excused.extend(newly);
            self.taken += 1;
        } else {
            self.refused += 1;
        }
        Ok(())
    }
}

/// Thousandths of grams, as a balance shows them.
fn rounded(grams: f64) -> f64 {
    ((grams * 1000.0).round() / 1000.0).max(0.001)
}

fn chosen<T: Clone>(list: &[T], number: u8) -> Option<T> {
    (!list.is_empty()).then(|| list[usize::from(number) % list.len()].clone())
}

fn kind(number: u8) -> CodeKind {
    match number % 4 {
        0 => CodeKind::CathodeMix,
        1 => CodeKind::StockSolution,
        _ => CodeKind::Electrolyte,
    }
}

/// How many histories, from MELTBOOK_SOAK.
fn cases() -> u32 {
    std::env::var("MELTBOOK_SOAK").ok().and_then(|count| count.parse().ok()).unwrap_or(24)
}

/// Always the same histories, so that a failure is met again; more of them with MELTBOOK_SOAK.
#[test]
fn any_history_of_all_nouns_is_what_the_model_says() {
    let config = Config { cases: cases(), failure_persistence: None, ..Config::default() };
    let seed = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(config, seed);
    let reached = std::cell::RefCell::new([0usize; 5]);
    let ran = runner.run(&proptest::collection::vec(step(), 40..140), |steps| {
        let mut beside = Beside::new();
        for step in &steps {
            beside.run(step).map_err(TestCaseError::fail)?;
        }
        hold::check(&beside).map_err(TestCaseError::fail)?;
        let state = beside.state();
        let studied = state.assigned.values().map(BTreeSet::len).sum();
        let counts = [beside.taken, beside.refused, beside.unforetold, state.contents.len(), studied];
        reached.borrow_mut().iter_mut().zip(counts).for_each(|(sum, count)| *sum += count);
        Ok(())
    });
    ran.unwrap_or_else(|failure| panic!("{failure}"));
    let [taken, refused, unforetold, cells, studied] = reached.into_inner();
    assert!(20 * cases() as usize <= taken, "{taken} steps were taken");
    assert!(3 * cases() as usize <= refused, "{refused} steps were refused");
    assert!(cases() as usize <= cells, "{cells} cells were built");
    assert!(0 < studied, "no cell was taken into a study");
    assert!(20 * unforetold <= taken, "{unforetold} changes could not be foretold");
}
