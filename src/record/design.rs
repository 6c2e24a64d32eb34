//! Cell designs: the files that say how cells are built. The reader stands beside the record because a
//! design is frozen into it: what is built from an old design must be readable from the record alone.

use super::cell::{DueReading, FrozenDesign};
use super::reading::ReadingKind;
use crate::input::{Faults, Field, TableReader, TomlFile, did_you_mean};
use crate::quantity::{Area, Length, Mass, MassFraction, Pressure, TimeSpan, Typed};

/// How cells are built.
#[derive(Debug, Clone, PartialEq)]
pub struct CellDesign {
    /// Its name.
    pub name: String,
    /// The file's own text.
    pub text: String,
    /// True if gas can't get out.
    pub sealed: bool,
    /// The electrode that is oxidised on discharge.
    pub negative: Option<Electrode>,
    /// The electrode that is reduced on discharge.
    pub positive: Option<Electrode>,
    /// What lies between them.
    pub separator: Option<Separator>,
    /// Material of the collector.
    pub collector: Option<String>,
    /// Pressure on the stack.
    pub pressure: Option<Typed<Pressure>>,
    /// From wetting to the first reading.
    pub soak: Option<Typed<TimeSpan>>,
    /// How it is put together, step by step.
    pub steps: Vec<String>,
    /// What is read when, in order.
    pub schedule: Vec<DueReading>,
}

/// One electrode.
#[derive(Debug, Clone, PartialEq)]
pub struct Electrode {
    /// Its material, by a name of the component table where there is one.
    pub material: String,
    /// Its mass.
    pub mass: Option<Typed<Mass>>,
    /// Area that faces the other electrode.
    pub area: Option<Typed<Area>>,
    /// Its thickness.
    pub thickness: Option<Typed<Length>>,
    /// How it was cleaned.
    pub cleaning: Option<String>,
    /// How much of the mix is the oxide.
    pub oxide_mass_fraction: Option<Typed<MassFraction>>,
}

/// What lies between the electrodes.
#[derive(Debug, Clone, PartialEq)]
pub struct Separator {
    /// Its material.
    pub material: String,
    /// How many layers.
    pub layers: Option<f64>,
    /// Thickness of one layer.
    pub thickness: Option<Typed<Length>>,
}

/// A schedule longer than this was not meant.
const MOST_READINGS: usize = 1000;
const SECONDS_PER_DAY: f64 = 86_400.0;

/// Reads a design; all faults of the file come together.
///
/// # Errors
/// All that is wrong in it, each with its line.
pub fn read_design(origin: &str, text: &str) -> Result<CellDesign, Faults> {
    TomlFile::new(origin, text).read(|root| {
        let name = root.required_string("name").map(|field| field.value.to_owned());
        let sealed = root.required_string("closure").and_then(|field| closure(root, &field));
        let negative = root.table("negative").map(|table| electrode(&table));
        let positive = root.table("positive").map(|table| electrode(&table));
        let separator = root.table("separator").map(|table| separator(&table));
        let collector = root.table("collector").map(|table| {
            let material = table.required_string("material").map(|field| field.value.to_owned());
            table.finish();
            material
        });
        let (pressure, soak, steps) =
            root.table("assembly").map(|table| assembly(&table)).unwrap_or_default();
        let schedule = schedule(&root.tables("reading"));
        Some(CellDesign {
            name: name?,
            text: text.to_owned(),
            sealed: sealed?,
            negative: negative.flatten(),
            positive: positive.flatten(),
            separator: separator.flatten(),
            collector: collector.flatten(),
            pressure,
            soak,
            steps,
            schedule,
        })
    })
}

fn closure(root: &TableReader<'_>, field: &Field<&str>) -> Option<bool> {
    match field.value.trim() {
        "sealed" => Some(true),
        "vented" => Some(false),
        other => {
            let hint = did_you_mean(other, ["sealed", "vented"], "Write closure = \"sealed\" or \"vented\".");
            root.fault(
                "bad_closure",
                format!("closure is {other:?}, but must be sealed or vented"),
                field.span.clone(),
                hint,
            );
            None
        }
    }
}

fn electrode(table: &TableReader<'_>) -> Option<Electrode> {
    let electrode = Electrode {
        material: table.required_string("material").map(|field| field.value.to_owned()).unwrap_or_default(),
        mass: table.quantity("mass").map(|field| field.value),
        area: table.quantity("area").map(|field| field.value),
        thickness: table.quantity("thickness").map(|field| field.value),
        cleaning: table.string("cleaning").map(|field| field.value.to_owned()),
        oxide_mass_fraction: table.quantity("oxide_mass_fraction").map(|field| field.value),
    };
    table.finish();
    (!electrode.material.is_empty()).then_some(electrode)
}

fn separator(table: &TableReader<'_>) -> Option<Separator> {
    let material = table.required_string("material").map(|field| field.value.to_owned());
    let layers = table.number("layers");
    if let Some(field) = &layers
        && (field.value < 1.0 || field.value.fract() != 0.0)
    {
        let message = format!("{} is no number of layers", field.value);
        table.fault(
            "bad_layers",
            message,
            field.span.clone(),
            "Write a whole number from 1, as in layers = 2.",
        );
    }
    let thickness = table.quantity("thickness").map(|field| field.value);
    table.finish();
    Some(Separator { material: material?, layers: layers.map(|field| field.value), thickness })
}

type Assembly = (Option<Typed<Pressure>>, Option<Typed<TimeSpan>>, Vec<String>);

fn assembly(table: &TableReader<'_>) -> Assembly {
    let pressure = table.quantity("pressure").map(|field| field.value);
    let soak = table.quantity("soak").map(|field| field.value);
    let steps = table.strings("steps").into_iter().map(|field| field.value.to_owned()).collect();
    table.finish();
    (pressure, soak, steps)
}

fn schedule(tables: &[TableReader<'_>]) -> Vec<DueReading> {
    let mut schedule: Vec<DueReading> = tables.iter().flat_map(readings).collect();
    schedule.sort_by(|a, b| a.day.total_cmp(&b.day).then_with(|| a.what.cmp(&b.what)));
    // A day that two lines name is read once.
    schedule.dedup();
    schedule
}

fn readings(table: &TableReader<'_>) -> Vec<DueReading> {
    let days = days(table);
    let kinds: Vec<ReadingKind> =
        table.strings("what").into_iter().filter_map(|field| kind(table, &field)).collect();
    if kinds.is_empty() && !table.has("what") {
        let hint = "Write what = [\"open-circuit\"], or under-load, or short-circuit.";
        table.fault("missing_key", "the key \"what\" is missing", table.span(), hint);
    }
    table.finish();
    let due = |day: &f64| {
        let day = *day;
        kinds.iter().map(move |kind| DueReading { day, what: kind.word().to_owned() }).collect::<Vec<_>>()
    };
    days.iter().flat_map(due).collect()
}

fn days(table: &TableReader<'_>) -> Vec<f64> {
    let in_days = |field: Field<Typed<TimeSpan>>| field.value.value.get() / SECONDS_PER_DAY;
    let after = table.quantity::<TimeSpan>("after").map(in_days);
    let every = table.quantity::<TimeSpan>("every").map(in_days);
    let until = table.quantity::<TimeSpan>("until").map(in_days);
    let hint = "Write after = \"1 h\", or every = \"7 d\" with until = \"42 d\".";
    match (after, every, until) {
        (Some(after), None, None) => vec![after],
        (None, Some(every), Some(until)) if 0.0 < every && until / every < MOST_READINGS as f64 => {
            // A last day that only rounding puts past the end is meant.
            let last = (until / every + 1e-9).floor();
            (1..=MOST_READINGS)
                .map(|time| time as f64)
                .take_while(|time| *time <= last)
                .map(|time| time * every)
                .collect()
        }
        _ => {
            let unread = ["after", "every", "until"].iter().any(|key| table.has(key));
            let message = if unread { "these times make no schedule" } else { "a reading has no time" };
            table.fault("bad_schedule", message, table.span(), hint);
            Vec::new()
        }
    }
}

fn kind(table: &TableReader<'_>, field: &Field<&str>) -> Option<ReadingKind> {
    let kind = ReadingKind::from_word(field.value);
    if kind.is_none() {
        let words = ReadingKind::ALL.map(ReadingKind::word);
        let hint = did_you_mean(field.value, words, &format!("What can be read is {}.", words.join(", ")));
        table.fault("unknown_reading", format!("{:?} can't be read", field.value), field.span.clone(), hint);
    }
    kind
}

impl CellDesign {
    /// The materials that it names, the negative electrode's first.
    pub fn materials(&self) -> Vec<&str> {
        let electrodes = [&self.negative, &self.positive].into_iter().flatten();
        let electrodes = electrodes.map(|electrode| electrode.material.as_str());
        let separator = self.separator.iter().map(|separator| separator.material.as_str());
        electrodes.chain(separator).chain(self.collector.as_deref()).collect()
    }

    /// The design as a record keeps it.
    pub fn freeze(&self) -> FrozenDesign {
        FrozenDesign {
            name: self.name.clone(),
            text: self.text.clone(),
            sealed: self.sealed,
            fields: self.fields(),
            schedule: self.schedule.clone(),
        }
    }

    /// What is done and how, by field, as the file says.
    pub fn fields(&self) -> Vec<(String, String)> {
        let mut fields =
            vec![("closure".to_owned(), if self.sealed { "sealed" } else { "vented" }.to_owned())];
        let electrodes = [("negative", &self.negative), ("positive", &self.positive)];
        for (side, electrode) in electrodes {
            let Some(electrode) = electrode else { continue };
            let parts = [
                ("material", Some(electrode.material.clone())),
                ("mass", electrode.mass.as_ref().map(|typed| typed.text.clone())),
                ("area", electrode.area.as_ref().map(|typed| typed.text.clone())),
                ("thickness", electrode.thickness.as_ref().map(|typed| typed.text.clone())),
                ("cleaning", electrode.cleaning.clone()),
                (
                    "oxide mass fraction",
                    electrode.oxide_mass_fraction.as_ref().map(|typed| typed.text.clone()),
                ),
            ];
            let named = parts.into_iter().filter_map(|(name, text)| Some((format!("{side} {name}"), text?)));
            fields.extend(named);
        }
        if let Some(separator) = &self.separator {
            fields.push(("separator material".to_owned(), separator.material.clone()));
            fields.extend(separator.layers.map(|layers| ("separator layers".to_owned(), layers.to_string())));
            let thickness = separator.thickness.as_ref().map(|typed| typed.text.clone());
            fields.extend(thickness.map(|text| ("separator thickness".to_owned(), text)));
        }
        fields.extend(self.collector.iter().map(|material| ("collector".to_owned(), material.clone())));
        fields.extend(self.pressure.iter().map(|typed| ("pressure".to_owned(), typed.text.clone())));
        fields.extend(self.soak.iter().map(|typed| ("soak".to_owned(), typed.text.clone())));
        fields.extend((1..).zip(&self.steps).map(|(at, step)| (format!("step {at}"), step.clone())));
        fields
    }
}
