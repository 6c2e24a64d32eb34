//! The rules of `cell figures`, and readings that are given by flags.

use clap::Args;
use jiff::SignedDuration;

use super::shelf::quantity;
use crate::cell::{FigureRules, Settling, Shot, ShotPairing, Shown};
use crate::input::{Fault, Faults, FlagValue};
use crate::quantity::{Current, Resistance, TimeSpan, Typed, Voltage};

/// How readings are taken together, and readings in no book.
#[derive(Debug, Args)]
pub(in crate::cli) struct RuleOptions {
    /// Readings sooner after building than this are set apart as settling [default: 7 d]
    #[arg(long, value_name = "TIME", help_heading = "Rules")]
    settled_after: Option<String>,
    /// Readings of a cell no farther apart than this are of one state [default: 1 h]
    #[arg(long, value_name = "TIME", help_heading = "Rules")]
    within: Option<String>,
    /// Resistance of the voltmeter [default: what it draws is left out]
    #[arg(long, value_name = "RESISTANCE", help_heading = "Rules")]
    voltmeter: Option<String>,
    /// Voltage with no load
    #[arg(long, value_name = "VOLTAGE", help_heading = "Readings in no book")]
    open_circuit: Option<String>,
    /// A voltage on a load, or a current through a meter's range: "1.205V load=10ohm after=5s", "2.4mA load=375ohm";
    /// repeatable
    #[arg(long, value_name = "VALUE load=…", help_heading = "Readings in no book")]
    loaded: Vec<String>,
    /// Current through a meter alone: "8.25mA meter=0.01ohm after=2s"
    #[arg(long, value_name = "CURRENT", help_heading = "Readings in no book")]
    short_circuit: Option<String>,
}

/// Until when a cell settles, unless a person says otherwise.
const SETTLED_AFTER: SignedDuration = SignedDuration::from_hours(7 * 24);
/// How far apart readings of one state are, unless a person says otherwise.
const WITHIN: SignedDuration = SignedDuration::from_hours(1);

/// The rules that count unless a person says otherwise.
pub(in crate::cli) fn usual_rules() -> FigureRules {
    FigureRules {
        pairing: ShotPairing { within: WITHIN, voltmeter_ohms: None },
        settling: Settling { until: SETTLED_AFTER },
    }
}

impl RuleOptions {
    /// The rules, each with its default.
    pub(in crate::cli) fn rules(&self) -> Result<FigureRules, Faults> {
        let mut faults = Faults::none();
        let mut span = |flag: &str, text: &Option<String>, default: SignedDuration| {
            let typed = text.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>(flag, text)));
            typed
                .and_then(|typed| SignedDuration::try_from_secs_f64(typed.value.get()).ok())
                .unwrap_or(default)
        };
        let until = span("--settled-after", &self.settled_after, SETTLED_AFTER);
        let within = span("--within", &self.within, WITHIN);
        let voltmeter = self.voltmeter.as_ref();
        let voltmeter =
            voltmeter.and_then(|text| faults.collect(quantity::<Resistance>("--voltmeter", text)));
        if voltmeter.as_ref().is_some_and(|typed| typed.value <= Resistance::ZERO) {
            let place = crate::input::Place::named("--voltmeter");
            let fault = Fault::new("no_load", "a voltmeter of 0 Ω shows no voltage", place);
            faults.push(fault.with_hint("Write it like --voltmeter \"10 Mohm\"."));
        }
        let voltmeter_ohms = voltmeter.map(|typed| typed.value.get());
        let pairing = ShotPairing { within, voltmeter_ohms };
        faults.or(FigureRules { pairing, settling: Settling { until } })
    }

    /// True if readings are given.
    pub(in crate::cli) fn has_shots(&self) -> bool {
        self.open_circuit.is_some() || !self.loaded.is_empty() || self.short_circuit.is_some()
    }

    /// The readings that are given, all of one state.
    pub(in crate::cli) fn shots(&self) -> Result<Vec<Shot>, Faults> {
        let mut faults = Faults::none();
        let mut shots = Vec::new();
        if let Some(text) = &self.open_circuit {
            let typed = faults.collect(quantity::<Voltage>("--open-circuit", text));
            shots.extend(typed.map(|typed| shot(Shown::Open { volts: typed.value.get() }, None)));
        }
        for text in &self.loaded {
            shots.extend(faults.collect(loaded(text)));
        }
        if let Some(text) = &self.short_circuit {
            shots.extend(faults.collect(short(text)));
        }
        faults.or(shots)
    }
}

fn shot(shown: Shown, after: Option<Typed<TimeSpan>>) -> Shot {
    Shot { shown, after_s: after.map(|after| after.value.get()), at: None, entry: None, disturbed: false }
}

fn loaded(text: &str) -> Result<Shot, Faults> {
    let flag = FlagValue::parse("--loaded", text, &["load", "after"])?;
    let mut faults = Faults::none();
    let load = flag.quantity::<Resistance>("load", &mut faults);
    let after = flag.quantity::<TimeSpan>("after", &mut faults);
    let load = match load {
        Some(load) if Resistance::ZERO < load.value => load.value.get(),
        _ => {
            if faults.is_empty() {
                let fault =
                    Fault::new("load_incomplete", format!("{text:?} names no load above 0 Ω"), flag.place());
                faults.push(fault.with_hint("Write it like --loaded \"1.205V load=10ohm after=5s\"."));
            }
            return Err(faults);
        }
    };
    let shown = match (Typed::<Voltage>::parse(&flag.name), Typed::<Current>::parse(&flag.name)) {
        (Ok(typed), _) => Some(Shown::Loaded { volts: typed.value.get(), load_ohms: load }),
        (_, Ok(typed)) => Some(Shown::Current { amperes: typed.value.get(), meter_ohms: Some(load) }),
        (Err(error), _) => {
            faults.push(Fault::of_quantity(&error, flag.place()));
            None
        }
    };
    match shown {
        Some(shown) if faults.is_empty() => Ok(shot(shown, after)),
        _ => Err(faults),
    }
}

fn short(text: &str) -> Result<Shot, Faults> {
    let flag = FlagValue::parse("--short-circuit", text, &["meter", "after"])?;
    let mut faults = Faults::none();
    let meter = flag.quantity::<Resistance>("meter", &mut faults);
    let after = flag.quantity::<TimeSpan>("after", &mut faults);
    let current = Typed::<Current>::parse(&flag.name)
        .map_err(|error| faults.push(Fault::of_quantity(&error, flag.place())))
        .ok();
    let shown = current.map(|typed| Shown::Current {
        amperes: typed.value.get(),
        meter_ohms: meter.map(|meter| meter.value.get()),
    });
    match shown {
        Some(shown) if faults.is_empty() => Ok(shot(shown, after)),
        _ => Err(faults),
    }
}
