//! A metric from its text.

use super::keys::{FORMS, Form, METHODS};
use super::{Metric, Per, ToCutOff};
use crate::cell::discharge::Work;
use crate::cell::resistance::Method;
use crate::input::{Fault, Faults, FlagValue, KeyValue, Place, did_you_mean};
use crate::quantity::{Current, Quantity, Resistance, TimeSpan, Typed, Voltage, parse_number};

/// How many days the readings for a resistance may be from the day, unless the text says otherwise (a decision of this
/// project: readings are taken on working days, and a resistance changes little from one to the next).
const WITHIN_DAYS: f64 = 1.0;
const SECONDS_PER_DAY: f64 = 86_400.0;

impl Metric {
    /// Reads a metric as it is typed after `--metric` or kept in a study: "voltage day=14".
    ///
    /// # Errors
    /// All that is wrong with the text: an unknown name or key, a key that is missing, a value that is none.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        Self::parse_at("--metric", text)
    }

    /// The same for a text that stands elsewhere: `origin` is what a fault names.
    ///
    /// # Errors
    /// As [`Metric::parse`].
    pub fn parse_at(origin: &str, text: &str) -> Result<Self, Faults> {
        let name = text.split_whitespace().next().unwrap_or_default().trim_end_matches(',');
        let Some(form) = Form::of(name) else { return Err(unknown(origin, text, name).into()) };
        let mut faults = Faults::none();
        let flag = FlagValue::collecting(origin, text, &form.keys(), &mut faults);
        if flag.name != form.name {
            let message = format!("{:?} is no name of a metric", flag.name);
            faults.push(Fault::new("unknown_metric", message, flag.place()).with_hint(written(form)));
        }
        for key in form.needs.iter().filter(|key| flag.get(key).is_none()) {
            let message = format!("{} needs {key}=", form.name);
            faults.push(Fault::new("metric_incomplete", message, flag.place()).with_hint(written(form)));
        }
        let metric = Reader { flag: &flag, form, faults: &mut faults }.metric();
        faults.sort_by_place();
        match metric {
            Some(metric) => faults.or(metric),
            None => Err(faults),
        }
    }
}

fn unknown(origin: &str, text: &str, name: &str) -> Fault {
    let names = || FORMS.iter().map(|form| form.name);
    let all = format!(
        "The metrics are {}; write one like \"voltage day=14\".",
        names().collect::<Vec<_>>().join(", ")
    );
    let start = text.find(name).unwrap_or(0);
    let place = Place::in_text(origin, text, start..start + name.len());
    let message = format!("no metric is called {name:?}");
    Fault::new("unknown_metric", message, place).with_hint(did_you_mean(name, names(), &all))
}

fn written(form: &Form) -> String {
    format!("Write it like {:?}.", form.example)
}

/// The values of one text. What is missing was reported before.
struct Reader<'r> {
    flag: &'r FlagValue,
    form: &'static Form,
    faults: &'r mut Faults,
}

impl Reader<'_> {
    fn metric(&mut self) -> Option<Metric> {
        match self.form.name {
            "voltage" => Some(Metric::Voltage { day: self.days("day")? }),
            "current" => Some(Metric::Current { day: self.days("day")? }),
            "loaded" => {
                let (day, load) = (self.days("day"), self.above_zero("load", Resistance::get));
                Some(Metric::Loaded { day: day?, load_ohms: load? })
            }
            "resistance" => self.resistance(),
            "slope" => self.slope(),
            "capacity" => self.discharge().map(Metric::Capacity),
            "energy" => self.discharge().map(Metric::Energy),
            _ => {
                let (fresh, discharge) = (self.days("fresh"), self.discharge());
                Some(Metric::Retention { fresh: fresh?, discharge: discharge? })
            }
        }
    }

    fn resistance(&mut self) -> Option<Metric> {
        let (day, method) = (self.days("day"), self.method());
        let within_d =
            if self.flag.get("within").is_some() { self.days("within") } else { Some(WITHIN_DAYS) };
        let load_ohms = self.above_zero("load", Resistance::get);
        if let (Some(Method::ShortCircuit), Some(pair)) = (method, self.flag.get("load")) {
            self.refuse(pair, "a short circuit has no load", "Leave load= out.".to_owned());
        }
        Some(Metric::Resistance { day: day?, method: method?, within_d: within_d?, load_ohms })
    }

    fn slope(&mut self) -> Option<Metric> {
        let (from, to) = (self.days("from"), self.days("to"));
        let (from, to) = (from?, to?);
        if to <= from
            && let Some(pair) = self.flag.get("to")
        {
            self.refuse(pair, &format!("day {to} is not after day {from}"), written(self.form));
        }
        Some(Metric::Slope { from, to })
    }

    fn discharge(&mut self) -> Option<ToCutOff> {
        let cut_off = self.above_zero("cut-off", Voltage::get);
        let load = self.above_zero("load", Resistance::get);
        let current = self.above_zero("current", Current::get);
        if let (Some(_), Some(pair)) = (self.flag.get("load"), self.flag.get("current")) {
            self.refuse(
                pair,
                "a cell works on a load or on a constant current",
                "Keep one of the two.".to_owned(),
            );
        }
        let work = load.map(Work::Resistance).or(current.map(Work::Current)).unwrap_or(Work::Measured);
        let per = self.per();
        Some(ToCutOff { cut_off_volts: cut_off?, work, per: per? })
    }

    fn per(&mut self) -> Option<Per> {
        let Some(pair) = self.flag.get("per") else { return Some(Per::Cell) };
        match bare(&pair.value) {
            "cell" => Some(Per::Cell),
            "g" => Some(Per::Gram),
            "cm2" | "cm²" => Some(Per::SquareCentimetre),
            other => {
                let message = format!("nothing is divided by {other:?}");
                let hint = "Write per=g (of oxide), per=cm2 (of electrode) or per=cell.";
                self.refuse(pair, &message, hint.to_owned());
                None
            }
        }
    }

    fn method(&mut self) -> Option<Method> {
        let pair = self.flag.get("method")?;
        let given = bare(&pair.value).replace([' ', '_'], "-");
        let found = METHODS.iter().find(|(word, _)| *word == given);
        found.map(|(_, method)| *method).or_else(|| {
            let words = || METHODS.iter().map(|(word, _)| *word);
            let all = format!("The methods are {}.", words().collect::<Vec<_>>().join(", "));
            let message = format!("no method is called {:?}", pair.value);
            self.refuse(pair, &message, did_you_mean(&given, words(), &all));
            None
        })
    }

    /// A number of days from 0, bare or as a time.
    fn days(&mut self, key: &str) -> Option<f64> {
        let pair = self.flag.get(key)?;
        let text = bare(&pair.value);
        let days = match Typed::<TimeSpan>::parse(text) {
            Ok(span) => Some(span.value.get() / SECONDS_PER_DAY),
            Err(_) => parse_number(text).ok().map(|number| number.value),
        };
        match days.filter(|days| 0.0 <= *days) {
            Some(days) => Some(days),
            None => {
                let message = format!("{:?} is no number of days from 0", pair.value);
                self.refuse(pair, &message, format!("Write it like {key}=14 or {key}=2weeks."));
                None
            }
        }
    }

    fn above_zero<T: Quantity>(&mut self, key: &str, get: impl Fn(T) -> f64) -> Option<f64> {
        let pair = self.flag.get(key)?;
        match Typed::<T>::parse(bare(&pair.value)) {
            Ok(typed) if 0.0 < get(typed.value) => Some(get(typed.value)),
            Ok(_) => {
                let message = format!("{:?} is not above 0", pair.value);
                self.refuse(pair, &message, format!("Write it like {key}={:?}.", T::EXAMPLE));
                None
            }
            Err(error) => {
                self.faults.push(Fault::of_quantity(&error, self.flag.place_of(pair)));
                None
            }
        }
    }

    fn refuse(&mut self, pair: &KeyValue, message: &str, hint: String) {
        self.faults.push(Fault::new("bad_metric", message, self.flag.place_of(pair)).with_hint(hint));
    }
}

/// A value without the quotes that a file may keep around it.
fn bare(value: &str) -> &str {
    let inner = value.strip_prefix('"').and_then(|inner| inner.strip_suffix('"'));
    inner.unwrap_or(value).trim()
}
