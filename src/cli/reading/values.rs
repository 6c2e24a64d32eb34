//! From flags to what was read: each value checked for what a single cell can show.

use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{Current, Resistance, TimeSpan, Typed, Voltage};
use crate::record::reading::{ReadingKind, ReadingValue};

/// Above this a single cell with zinc in a melt is not expected (common practice); it is asked about.
const ODD_VOLTS: f64 = 3.0;
/// Above this no single galvanic cell reads (from memory: lithium against fluorine, about 6 V).
const MOST_VOLTS: f64 = 10.0;
/// Above this no home-built cell delivers.
const MOST_AMPERES: f64 = 1000.0;

/// What goes with a value: the load and its time, the meter's resistance.
#[derive(Debug, Clone, Default)]
pub(super) struct Circuit {
    pub(super) load: Option<Typed<Resistance>>,
    pub(super) after: Option<Typed<TimeSpan>>,
    pub(super) meter: Option<Typed<Resistance>>,
}

impl Circuit {
    /// Refuses what does not go with the kinds that are read, and misses what must.
    pub(super) fn check(&self, kinds: &[ReadingKind], faults: &mut Faults) {
        let reads = |kind| kinds.contains(&kind);
        let (load, short) = (reads(ReadingKind::UnderLoad), reads(ReadingKind::ShortCircuit));
        let mut missing = |flag: &str, example: &str| {
            let message = format!("a voltage under load needs {flag}");
            let fault = Fault::new("load_incomplete", message, Place::named(flag));
            faults.push(fault.with_hint(format!("Write it like {flag} {example:?}.")));
        };
        if load && self.load.is_none() {
            missing("--load", "10 ohm");
        }
        if load && self.after.is_none() {
            missing("--after", "5 s");
        }
        let stray = [
            ("--load", self.load.is_some() && !load, "a voltage under load"),
            ("--after", self.after.is_some() && !load && !short, "a voltage under load or a short circuit"),
            ("--meter", self.meter.is_some() && !short, "a short circuit"),
        ];
        for (flag, _, with) in stray.iter().filter(|(_, stray, _)| *stray) {
            let fault =
                Fault::new("stray_flag", format!("{flag} goes with {with} only"), Place::named(*flag));
            faults.push(fault.with_hint("Leave it out, or give what it belongs to."));
        }
        if self.load.as_ref().is_some_and(|load| load.value <= Resistance::ZERO) {
            let fault = Fault::new("no_load", "a load of 0 Ω is a short circuit", Place::named("--load"));
            faults.push(fault.with_hint("Give the current with --short-circuit."));
        }
    }

    /// The value of a kind, with what goes with it.
    pub(super) fn value(
        &self,
        kind: ReadingKind,
        text: &str,
        place: Place,
        warnings: &mut Vec<Warning>,
    ) -> Result<ReadingValue, Fault> {
        let typed = |text: &str| {
            Typed::<Voltage>::parse(text).map_err(|error| Fault::of_quantity(&error, place.clone()))
        };
        match kind {
            ReadingKind::OpenCircuit => {
                let volts = voltage(&typed(text)?, place.clone(), warnings)?;
                Ok(ReadingValue::OpenCircuit { volts, text: text.trim().to_owned() })
            }
            ReadingKind::UnderLoad => {
                let volts = voltage(&typed(text)?, place.clone(), warnings)?;
                Ok(ReadingValue::UnderLoad {
                    volts,
                    text: text.trim().to_owned(),
                    ohms: self.load.as_ref().map_or(f64::NAN, |load| load.value.get()),
                    after_s: self.after.as_ref().map_or(f64::NAN, |after| after.value.get()),
                })
            }
            ReadingKind::ShortCircuit => {
                let current = Typed::<Current>::parse(text)
                    .map_err(|error| Fault::of_quantity(&error, place.clone()))?;
                Ok(ReadingValue::ShortCircuit {
                    amperes: amperes(&current, place)?,
                    text: text.trim().to_owned(),
                    meter_ohms: self.meter.as_ref().map(|meter| meter.value.get()),
                    after_s: self.after.as_ref().map(|after| after.value.get()),
                })
            }
        }
    }
}

fn voltage(typed: &Typed<Voltage>, place: Place, warnings: &mut Vec<Warning>) -> Result<f64, Fault> {
    let volts = typed.value.get();
    if volts < 0.0 {
        return Err(negative(&typed.text, "a voltage", place));
    }
    if MOST_VOLTS < volts {
        return Err(too_much(&typed.text, &format!("no single cell reads more than {MOST_VOLTS} V"), place));
    }
    if ODD_VOLTS < volts {
        let message = format!(
            "{} is more than {ODD_VOLTS} V, which is not expected of one cell: check the range of the meter",
            typed.text
        );
        warnings.push(Warning::new("high_voltage", message));
    }
    Ok(volts)
}

fn amperes(typed: &Typed<Current>, place: Place) -> Result<f64, Fault> {
    let amperes = typed.value.get();
    if amperes < 0.0 {
        return Err(negative(&typed.text, "a current", place));
    }
    if MOST_AMPERES < amperes {
        return Err(too_much(
            &typed.text,
            &format!("no home-built cell delivers more than {MOST_AMPERES} A"),
            place,
        ));
    }
    Ok(amperes)
}

fn negative(text: &str, what: &str, place: Place) -> Fault {
    Fault::new("negative_reading", format!("{text:?} is {what} below 0"), place)
        .with_hint("Check how the leads are connected; record the size, and a reversed cell in --note.")
}

fn too_much(text: &str, rule: &str, place: Place) -> Fault {
    Fault::new("absurd_reading", format!("{text:?} can't be: {rule}"), place)
        .with_hint("Check the unit and the decimal sign.")
}
