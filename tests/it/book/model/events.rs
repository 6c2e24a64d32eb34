//! A fact of the model as the event that a command writes.

use std::sync::Arc;

use jiff::Timestamp;
use meltbook::component::{ComponentId, Quality, RatioBasis};
use meltbook::record::Event;
use meltbook::record::batch::{
    Added, BlendPart, Blended, Finished, FrozenLine, FrozenPart, FrozenPlan, HowWeighed, LeftWeighed,
    Rejected, Released, Started, Wasted, WaterMeasured, WaterReplicate, Weighed,
};
use meltbook::record::bottle::{self, Disposed, Dried, Opened, Received};
use meltbook::record::cell::{Built, BuiltCell, Cause, CellUse, CellWeighed, FrozenDesign, Retired};
use meltbook::record::reading::{ReadingTaken, ReadingValue};
use meltbook::record::study::{Assigned, Looked, Planned, Studied, StudyMethod};

use super::facts::Fact;
use crate::setup::{grams, table, typed};

/// Everything happens at once: what follows from times is tested elsewhere.
fn at() -> Timestamp {
    "2026-11-25T09:00:00Z".parse().expect("a time")
}

fn reason(excused: bool) -> Option<String> {
    excused.then(|| "it must be".to_owned())
}

pub fn event(fact: &Fact) -> Event {
    match fact {
        Fact::Received { .. }
        | Fact::Opened(_)
        | Fact::Dried { .. }
        | Fact::BottleLeft { .. }
        | Fact::Disposed(_) => of_bottle(fact),
        Fact::StudyPlanned { .. } | Fact::StudyAssigned { .. } | Fact::StudyLooked(_) => of_study(fact),
        Fact::Built { .. } | Fact::CellWeighed { .. } | Fact::Retired(_) | Fact::Read(_) => of_cell(fact),
        _ => of_batch(fact),
    }
}

fn of_bottle(fact: &Fact) -> Event {
    match fact.clone() {
        Fact::Received { code, grams: net } => Event::BottleReceived(Received {
            code,
            component: ComponentId::from_text("urea").expect("an id"),
            name: "urea".to_owned(),
            quality: Quality::default(),
            supplier: None,
            supplier_lot: None,
            net: grams(net),
            price: None,
            received: "2026-11-20".parse().expect("a date"),
            expires: None,
            storage: None,
            note: None,
        }),
        Fact::Opened(code) => Event::BottleOpened(Opened { code, at: at() }),
        Fact::Dried { code, from, taken, dried } => Event::BottleDried(Dried {
            code,
            from,
            taken: grams(taken),
            dried: grams(dried),
            heat: None,
            time: None,
            atmosphere: None,
            moisture: None,
            at: at(),
        }),
        Fact::BottleLeft { code, grams: left } => {
            Event::BottleWeighed(bottle::LeftWeighed { code, left: grams(left), at: at() })
        }
        Fact::Disposed(code) => Event::BottleDisposed(Disposed { code, reason: "old".to_owned(), at: at() }),
        other => unreachable!("{other:?} is not of a bottle"),
    }
}

fn of_batch(fact: &Fact) -> Event {
    let at = at();
    match fact.clone() {
        Fact::Started { code } => {
            Event::BatchStarted(Box::new(Started { code, plan: plan(), permit: None, because: None, at }))
        }
        Fact::Weighed { batch, from, grams: mass, excused } => Event::BatchWeighed(Box::new(Weighed {
            batch,
            component: ComponentId::from_text("urea").expect("an id"),
            entry: Arc::clone(table().find("urea").expect("urea is known")),
            from: Some(from),
            quality: Quality::default(),
            mass: grams(mass),
            how: HowWeighed::Net,
            humidity: None,
            open: None,
            later: false,
            permit: None,
            because: reason(excused),
            at,
        })),
        Fact::Added { batch, from, grams: mass, excused } => Event::BatchAdded(Added {
            batch,
            from,
            mass: grams(mass),
            because: reason(excused),
            permit: None,
            at,
        }),
        Fact::Blended { code, parts, excused } => {
            let part = |(batch, mass)| BlendPart { batch, mass: grams(mass) };
            let from = parts.into_iter().map(part).collect();
            let name = "a blend".to_owned();
            Event::BatchBlended(Blended { code, name, from, permit: None, because: reason(excused), at })
        }
        Fact::Finished { batch, grams: mass, excused } => Event::BatchFinished(Finished {
            batch,
            route: None,
            heat: None,
            time: None,
            atmosphere: None,
            end: None,
            mass: mass.map(grams),
            because: reason(excused),
            at,
        }),
        Fact::Sampled { batch, grams: mass } => Event::BatchWater(WaterMeasured {
            batch,
            method: "Karl Fischer, coulometric".to_owned(),
            replicates: vec![WaterReplicate { sample: grams(mass), water: typed("1 mg"), time: None }],
            drift_ug_per_min: None,
            blank_ug: None,
            result: None,
            instrument: None,
            at,
        }),
        Fact::Wasted { batch, grams: mass } => {
            Event::BatchWasted(Wasted { batch, mass: grams(mass), reason: "spilt".to_owned(), at })
        }
        Fact::BatchLeft { batch, grams: left } => {
            Event::BatchLeftWeighed(LeftWeighed { batch, left: grams(left), at })
        }
        Fact::Released { batch, excused } => {
            Event::BatchReleased(Released { batch, basis: Vec::new(), because: reason(excused), at })
        }
        Fact::Rejected(batch) => {
            Event::BatchRejected(Rejected { batch, reason: "crystals".to_owned(), basis: Vec::new(), at })
        }
        other => unreachable!("{other:?} is not of a batch"),
    }
}

fn of_cell(fact: &Fact) -> Event {
    let at = at();
    match fact.clone() {
        Fact::Built { cells, uses, excused } => {
            let built = cells.into_iter().zip(1..);
            let cell = |(code, position)| BuiltCell { code, position, block: None };
            let uses = uses.into_iter().map(|(batch, dose)| CellUse { batch, dose: grams(dose) });
            Event::CellsBuilt(Box::new(Built {
                cells: built.map(cell).collect(),
                design: design(),
                uses: uses.collect(),
                seed: 1,
                deviations: Vec::new(),
                operator: None,
                permit: None,
                because: reason(excused),
                at,
            }))
        }
        Fact::CellWeighed { cell, batch, grams: mass, excused } => {
            Event::CellWeighed(CellWeighed { cell, batch, mass: grams(mass), because: reason(excused), at })
        }
        Fact::Retired(cell) => Event::CellRetired(Retired { cell, cause: Cause::Leak, note: None, at }),
        Fact::Read(cell) => Event::ReadingTaken(ReadingTaken {
            cell,
            value: ReadingValue::OpenCircuit { volts: 1.48, text: "1.48 V".to_owned() },
            temperature: None,
            humidity: None,
            instrument: None,
            note: None,
            because: None,
            at,
        }),
        other => unreachable!("{other:?} is not of a cell"),
    }
}

fn of_study(fact: &Fact) -> Event {
    let at = at();
    match fact.clone() {
        Fact::StudyPlanned { code, batches } => {
            let studied =
                |(name, batch)| Studied { name: String::from(name), recipe: None, batches: vec![batch] };
            Event::StudyPlanned(Box::new(Planned {
                code,
                question: "which?".to_owned(),
                electrolytes: ["A", "B"].into_iter().zip(batches).map(studied).collect(),
                metric: "voltage day=14".to_owned(),
                per_electrolyte: 2,
                blocks: vec!["block 1".to_owned(), "block 2".to_owned()],
                seed: 1,
                schedule: Vec::new(),
                ends: "2026-12-24".parse().expect("a date"),
                causes: vec![Cause::Leak],
                smallest: None,
                spread: None,
                baseline: None,
                method: StudyMethod::Welch,
                confidence: 0.95,
                at,
            }))
        }
        Fact::StudyAssigned { study, cells } => Event::StudyAssigned(Assigned { study, cells, at }),
        Fact::StudyLooked(study) => {
            let command = "meltbook compare".to_owned();
            Event::StudyLooked(Looked { study, command, with_value: 1, of: 2, at })
        }
        other => unreachable!("{other:?} is not of a study"),
    }
}

fn design() -> FrozenDesign {
    FrozenDesign {
        name: "a vial".to_owned(),
        text: "name = \"a vial\"\nclosure = \"vented\"\n".to_owned(),
        sealed: false,
        fields: Vec::new(),
        schedule: Vec::new(),
    }
}

/// A plan of one component.
fn plan() -> FrozenPlan {
    let line = FrozenLine {
        component: Arc::clone(table().find("urea").expect("urea is known")),
        part: FrozenPart::Ratio(1.0),
        bottle: None,
        quality: Quality::default(),
        target_g: 10.0,
        window_g: None,
        counted: 1.0,
        water_g: 0.0,
        mass_g: 10.0,
        in_air_g_per_ml: None,
    };
    FrozenPlan {
        recipe: "urea".to_owned(),
        recipe_text: "urea 1".to_owned(),
        basis: RatioBasis::Mass,
        tolerance: 0.01,
        size: "10 g".to_owned(),
        mass_g: 10.0,
        water: 0.0,
        water_target: None,
        balance: None,
        lines: vec![line],
        conventions: Vec::new(),
        procedure: Vec::new(),
        limits: Vec::new(),
        cumulative: false,
    }
}
