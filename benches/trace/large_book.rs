//! A large book: 100,000 cells in sets of 20, 10,000 batches, 1,000 bottles, 200,000 readings. All of it is
//! invented; what goes where follows from counting, so that the book is the same everywhere.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

use jiff::{SignedDuration, Timestamp};
use meltbook::book::{Book, BookError, Stamp, Writer};
use meltbook::component::{AssayBasis, Component, ComponentTable, Quality, RatioBasis};
use meltbook::quantity::{Mass, Typed};
use meltbook::record::batch::{
    BlendPart, Blended, Finished, FrozenLine, FrozenPart, FrozenPlan, HowWeighed, Released, Started, Weighed,
};
use meltbook::record::bottle::{Dried, Received};
use meltbook::record::cell::{Built, BuiltCell, CellUse, FrozenDesign};
use meltbook::record::change::Begun;
use meltbook::record::reading::{ReadingTaken, ReadingValue};
use meltbook::record::{Code, CodeKind, Event, WORKED_DESIGNS};

/// What is traced: something typical of each kind, and one bottle that a fifth of all liquids drew on.
pub const SUBJECTS: [(&str, &str); 6] = [
    ("a cell", "C54321"),
    ("an electrolyte", "E2501"),
    ("a blend", "E7001"),
    ("a cathode mix", "M1234"),
    ("a bottle", "B500"),
    ("a bottle that 1,300 liquids drew on", "B1"),
];

const BOTTLES: u32 = 1_000;
const LIQUIDS: u32 = 6_500;
const BLENDS: u32 = 1_000;
const MIXES: u32 = 2_500;
const SETS: u32 = 5_000;
const CELLS_OF_A_SET: u32 = 20;
/// Batches or sets of one transaction.
const AT_ONCE: u32 = 1_000;

/// The book's folder. It is made if it is not there or not finished.
pub fn made() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("large-book-3");
    let finished = folder.join("finished");
    if !finished.is_file() {
        if folder.exists() {
            std::fs::remove_dir_all(&folder).expect("what is half made goes");
        }
        let start = Instant::now();
        make(&folder).expect("the book is written");
        std::fs::write(&finished, "").expect("it is finished");
        println!("the book was made in {:.0} s", start.elapsed().as_secs_f64());
    }
    let book = Book::open(&folder).expect("it opens");
    println!("{} entries in {}", book.head().expect("it has a head").0, folder.display());
    folder
}

/// What the records are made of.
struct Maker {
    components: Vec<Arc<Component>>,
    at: Timestamp,
}

type One = fn(&Maker, &mut Writer<'_>, u32) -> Result<(), BookError>;

fn make(folder: &Path) -> Result<(), BookError> {
    let begun = Begun { laboratory: "Room 12".to_owned(), program: "0.1.0".to_owned() };
    let mut book = Book::create(folder, "large", "laboratory = \"Room 12\"\n", &begun, &stamp())?;
    let maker = Maker::new();
    let steps: [(u32, One); 6] = [
        (BOTTLES, Maker::bottle),
        (LIQUIDS, Maker::liquid),
        (BLENDS, Maker::blend),
        (MIXES, Maker::mix),
        (SETS, Maker::cells),
        (SETS, Maker::readings),
    ];
    for (count, one) in steps {
        for first in (0..count).step_by(AT_ONCE as usize) {
            let mut some = first..count.min(first + AT_ONCE);
            book.write(&stamp(), |writer| some.try_for_each(|number| one(&maker, writer, number)))?;
        }
    }
    Ok(())
}

fn stamp() -> Stamp {
    Stamp { author: "AB".to_owned(), time: "2026-01-05T08:00:00.000Z".to_owned() }
}

/// A code by its number from 0.
fn code(kind: CodeKind, number: u32) -> Code {
    Code::new(kind, number + 1)
}

/// The bottle of a component that the user of this number draws on: one in six holds each.
fn bottle_of(component: u32, user: u32) -> u32 {
    let turn = if component == 0 && user.is_multiple_of(5) { 0 } else { user * 7 % 166 };
    6 * turn + component
}

fn grams(text: &str) -> Typed<Mass> {
    Typed::parse(text).expect("it is a mass")
}

fn quality() -> Quality {
    Quality { form: None, assay: None, basis: AssayBasis::Dried, basis_stated: false, moisture: None }
}

impl Maker {
    fn new() -> Self {
        let table = ComponentTable::builtin();
        let names = ["ChCl", "ethylene-glycol", "urea", "glycerol", "manganese-dioxide", "graphite"];
        let find = |name: &str| Arc::clone(table.find(name).expect("it is in the table"));
        Self {
            components: names.into_iter().map(find).collect(),
            at: "2026-01-05T08:00:00Z".parse().expect("it is a time"),
        }
    }

    fn component(&self, bottle: u32) -> &Arc<Component> {
        &self.components[bottle as usize % self.components.len()]
    }

    /// Nine in ten came in, the last are dried portions of others.
    fn bottle(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        let own = code(CodeKind::Bottle, number);
        let event = if number < BOTTLES * 9 / 10 {
            let component = self.component(number);
            Event::BottleReceived(Received {
                code: own,
                component: component.id.clone(),
                name: component.name.clone(),
                quality: quality(),
                supplier: Some("invented".to_owned()),
                supplier_lot: Some(format!("L{}", number / 3)),
                net: grams("50 kg"),
                price: None,
                received: jiff::civil::date(2026, 1, 5),
                expires: None,
                storage: None,
                note: None,
            })
        } else {
            Event::BottleDried(Dried {
                code: own,
                from: code(CodeKind::Bottle, number - 600),
                taken: grams("5 kg"),
                dried: grams("4.9 kg"),
                heat: None,
                time: None,
                atmosphere: None,
                moisture: None,
                at: self.at,
            })
        };
        writer.append(&event).map(drop)
    }

    fn liquid(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        let donor = 1 + number % 3;
        let of = [bottle_of(0, number), bottle_of(donor, number)];
        self.batch(writer, &code(CodeKind::Electrolyte, number), of, "30 g")
    }

    fn mix(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        let of = [bottle_of(4, number), bottle_of(5, number)];
        self.batch(writer, &code(CodeKind::CathodeMix, number), of, "10 g")
    }

    fn blend(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        let part = |number: u32| BlendPart {
            batch: code(CodeKind::Electrolyte, number % LIQUIDS),
            mass: grams("15 g"),
        };
        let own = code(CodeKind::Electrolyte, LIQUIDS + number);
        writer.append(&Event::BatchBlended(Blended {
            code: own.clone(),
            name: "blend of two".to_owned(),
            from: vec![part(number * 13), part(number * 13 + 1)],
            permit: None,
            because: None,
            at: self.at,
        }))?;
        self.release(writer, &own)
    }

    /// A batch of two bottles, planned, weighed, finished and released.
    fn batch(&self, writer: &mut Writer<'_>, own: &Code, of: [u32; 2], each: &str) -> Result<(), BookError> {
        let names: Vec<&str> = of.iter().map(|bottle| self.component(*bottle).id.as_str()).collect();
        let recipe = format!("{} 1:2", names.join(":"));
        let mass = grams(each);
        let plan = FrozenPlan {
            recipe: recipe.clone(),
            recipe_text: recipe,
            basis: RatioBasis::Mass,
            tolerance: 0.01,
            size: "the sum".to_owned(),
            mass_g: 2.0 * mass.value.get(),
            water: 0.0,
            water_target: None,
            balance: None,
            lines: of.iter().map(|bottle| self.line(*bottle, mass.value.get())).collect(),
            conventions: Vec::new(),
            procedure: Vec::new(),
            limits: Vec::new(),
            cumulative: false,
        };
        let started = Started { code: own.clone(), plan, permit: None, because: None, at: self.at };
        writer.append(&Event::BatchStarted(Box::new(started)))?;
        for bottle in of {
            writer.append(&Event::BatchWeighed(Box::new(self.weighed(own, bottle, &mass))))?;
        }
        writer.append(&Event::BatchFinished(Finished {
            batch: own.clone(),
            route: None,
            heat: None,
            time: None,
            atmosphere: None,
            end: None,
            mass: None,
            because: None,
            at: self.at,
        }))?;
        self.release(writer, own)
    }

    fn line(&self, bottle: u32, grams: f64) -> FrozenLine {
        FrozenLine {
            component: Arc::clone(self.component(bottle)),
            part: FrozenPart::Ratio(1.0),
            bottle: Some(code(CodeKind::Bottle, bottle)),
            quality: quality(),
            target_g: grams,
            window_g: None,
            counted: 1.0,
            water_g: 0.0,
            mass_g: grams,
            in_air_g_per_ml: None,
        }
    }

    fn weighed(&self, batch: &Code, bottle: u32, mass: &Typed<Mass>) -> Weighed {
        let entry = Arc::clone(self.component(bottle));
        Weighed {
            batch: batch.clone(),
            component: entry.id.clone(),
            entry,
            from: Some(code(CodeKind::Bottle, bottle)),
            quality: quality(),
            mass: mass.clone(),
            how: HowWeighed::Net,
            humidity: None,
            open: None,
            later: false,
            permit: None,
            because: None,
            at: self.at,
        }
    }

    fn release(&self, writer: &mut Writer<'_>, batch: &Code) -> Result<(), BookError> {
        let basis = vec!["as the bench wants it".to_owned()];
        let released = Released { batch: batch.clone(), basis, because: None, at: self.at };
        writer.append(&Event::BatchReleased(released)).map(drop)
    }

    /// A set of cells of one liquid and one mix; seven steps on, each liquid has one set at most.
    fn cells(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        let (_, text) = WORKED_DESIGNS[0];
        let dose = |batch: Code, dose: &str| CellUse { batch, dose: grams(dose) };
        let cell = |position: u32| BuiltCell {
            code: code(CodeKind::Cell, number * CELLS_OF_A_SET + position),
            position: position + 1,
            block: None,
        };
        let built = Built {
            cells: (0..CELLS_OF_A_SET).map(cell).collect(),
            design: FrozenDesign {
                name: "open vial".to_owned(),
                text: text.to_owned(),
                sealed: false,
                fields: Vec::new(),
                schedule: Vec::new(),
            },
            uses: vec![
                dose(code(CodeKind::Electrolyte, number * 7 % (LIQUIDS + BLENDS)), "1.2 g"),
                dose(code(CodeKind::CathodeMix, number % MIXES), "0.4 g"),
            ],
            seed: u64::from(number),
            deviations: Vec::new(),
            operator: None,
            permit: None,
            because: None,
            at: self.at,
        };
        writer.append(&Event::CellsBuilt(Box::new(built))).map(drop)
    }

    /// Two readings of each cell of a set, a day and a week after.
    fn readings(&self, writer: &mut Writer<'_>, number: u32) -> Result<(), BookError> {
        for days in [1, 7] {
            for position in 0..CELLS_OF_A_SET {
                let volts = 1.5 - f64::from(days + position) / 1000.0;
                writer.append(&Event::ReadingTaken(ReadingTaken {
                    cell: code(CodeKind::Cell, number * CELLS_OF_A_SET + position),
                    value: ReadingValue::OpenCircuit { volts, text: format!("{volts:.3} V") },
                    temperature: None,
                    humidity: None,
                    instrument: Some(format!("DMM-{}", 1 + number % 10)),
                    note: None,
                    because: None,
                    at: self.at + SignedDuration::from_hours(24 * i64::from(days)),
                }))?;
            }
        }
        Ok(())
    }
}
