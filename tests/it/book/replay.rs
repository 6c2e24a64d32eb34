//! Random histories against a simple model: projections equal a replay, and masses add up.

use std::collections::BTreeMap;

use meltbook::book::{Book, Why};
use proptest::prelude::*;

use super::shelf::{Shelf, code, dried, received, stamp, weighed};
use meltbook::record::{Code, CodeKind};

/// A change that may leave less than nothing.
fn in_spite(reason: &str) -> Why<'_> {
    Why { reason, in_spite: Some("it is so") }
}

/// A step; numbers choose among what there is.
#[derive(Debug, Clone)]
enum Step {
    Receive(u16),
    Dry { from: u8, part: u8 },
    WeighBack { which: u8, part: u8 },
    CorrectNet { which: u8, net: u16 },
    StrikeLast,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        (1..1000u16).prop_map(Step::Receive),
        (any::<u8>(), any::<u8>()).prop_map(|(from, part)| Step::Dry { from, part }),
        (any::<u8>(), any::<u8>()).prop_map(|(which, part)| Step::WeighBack { which, part }),
        (any::<u8>(), 1..1000u16).prop_map(|(which, net)| Step::CorrectNet { which, net }),
        Just(Step::StrikeLast),
    ]
}

/// What is left of each bottle by the plainest arithmetic: every event that stands, in order.
#[derive(Default)]
struct Model {
    events: Vec<(u64, Kept)>,
}

#[derive(Clone)]
enum Kept {
    Received(Code, f64),
    Dried { code: Code, from: Code, grams: f64 },
    Left(Code, f64),
}

impl Model {
    fn left(&self) -> BTreeMap<Code, f64> {
        let mut left = BTreeMap::new();
        for (_, kept) in &self.events {
            match kept {
                Kept::Received(code, grams) => {
                    left.insert(code.clone(), *grams);
                }
                Kept::Dried { code, from, grams } => {
                    *left.entry(from.clone()).or_default() -= grams;
                    left.insert(code.clone(), *grams);
                }
                Kept::Left(code, grams) => {
                    left.insert(code.clone(), *grams);
                }
            }
        }
        left
    }

    fn pick(&self, number: u8) -> Option<Code> {
        let left = self.left();
        let codes: Vec<&Code> = left.keys().collect();
        (!codes.is_empty()).then(|| codes[usize::from(number) % codes.len()].clone())
    }

    fn run(&mut self, shelf: &mut Shelf, step: &Step) {
        match step {
            Step::Receive(grams) => {
                let code = shelf.receive(&format!("{grams} g"));
                let entry = shelf.book.head().expect("a head").0;
                self.events.push((entry, Kept::Received(code, f64::from(*grams))));
            }
            Step::Dry { from, part } => {
                let Some(from) = self.pick(*from) else { return };
                let whole = self.left()[&from];
                let grams = (whole * f64::from(*part) / 255.0).floor();
                if grams < 1.0 {
                    return;
                }
                let text = format!("{grams} g");
                let name = from.to_string();
                let written = shelf.book.write(&stamp(), |writer| {
                    let code = writer.next_code(CodeKind::Bottle)?;
                    writer.append(&dried(code.clone(), &name, &text, &text)).map(|entry| (entry, code))
                });
                let (entry, code) = written.expect("there is enough");
                self.events.push((entry, Kept::Dried { code, from, grams }));
            }
            Step::WeighBack { which, part } => {
                let Some(code) = self.pick(*which) else { return };
                let grams = f64::from(*part);
                let entry = shelf.append(&weighed(&code.to_string(), &format!("{grams} g")));
                self.events.push((entry, Kept::Left(code, grams)));
            }
            Step::CorrectNet { which, net } => {
                let all: Vec<usize> = (0..self.events.len())
                    .filter(|&index| matches!(self.events[index].1, Kept::Received(..)))
                    .collect();
                if all.is_empty() {
                    return;
                }
                let (entry, kept) = &mut self.events[all[usize::from(*which) % all.len()]];
                let Kept::Received(code, grams) = kept else { return };
                *grams = f64::from(*net);
                let event = received(code.clone(), &format!("{net} g"));
                let entry = *entry;
                shelf
                    .book
                    .write(&stamp(), |writer| writer.correct(entry, &event, in_spite("misread")))
                    .expect("corrected");
            }
            Step::StrikeLast => {
                let Some((entry, _)) = self.events.last() else { return };
                let entry = *entry;
                shelf
                    .book
                    .write(&stamp(), |writer| writer.strike(entry, in_spite("by mistake")))
                    .expect("nothing is on it");
                self.events.pop();
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn any_history_replays_to_what_the_model_says(steps in proptest::collection::vec(step(), 1..25)) {
        let mut shelf = Shelf::new();
        let mut model = Model::default();
        for step in &steps {
            model.run(&mut shelf, step);
        }
        for (code, grams) in model.left() {
            let stored = shelf.left(&code.to_string());
            prop_assert!((stored - grams).abs() < 1e-6, "{code}: {stored} is not {grams}");
        }
        prop_assert_eq!(shelf.findings(), Vec::<String>::new());
        let (archive, again) = (shelf.folder.path().join("archive"), shelf.folder.path().join("again"));
        let head = shelf.book.archive(&archive).expect("it is archived");
        let restored = Book::restore(&archive, &again).expect("it is restored");
        prop_assert_eq!(restored.head().expect("a head"), head);
        prop_assert_eq!(restored.verify().expect("it reads").findings, Vec::new());
    }
}

#[test]
fn the_model_is_reached() {
    let mut shelf = Shelf::new();
    let mut model = Model::default();
    let steps = [
        Step::Receive(100),
        Step::Dry { from: 0, part: 128 },
        Step::StrikeLast,
        Step::CorrectNet { which: 0, net: 70 },
    ];
    steps.iter().for_each(|step| model.run(&mut shelf, step));
    assert_eq!(shelf.left("B1"), 70.0);
    assert_eq!(shelf.receive("1 g"), code("B3"));
}
