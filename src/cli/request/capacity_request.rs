//! `cell capacity`: from flags, a design, or a cell of the book with its real masses.

use clap::Args;

use super::batch::standing;
use super::cell_design::cell_design;
use super::electrode::ElectrodeSpec;
use super::shelf::quantity;
use super::surroundings::{failure, open_book};
use super::table::component_table;
use crate::book::{Book, cell, readings};
use crate::cell::{CapacityRequest, DischargeBasis, Load, Side};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable};
use crate::input::{Fault, Faults, Place};
use crate::quantity::{Mass, Quantity, Resistance, Typed, Voltage, parse_number};
use crate::record::cell::Cell;
use crate::record::reading::{ReadingKind, SETTLING, disturbed};
use crate::record::{CellDesign, Code, CodeKind, read_design};

/// The arguments that say what the electrodes are.
#[derive(Debug, Args)]
pub(in crate::cli) struct CapacityOptions {
    /// A cell design (a path or a name), or a cell of the book with its real masses, such as C3
    #[arg(value_name = "DESIGN or CELL")]
    of: Option<String>,
    /// The electrode that is oxidised. Keys: mass, purity, electrons, area, thickness, density
    #[arg(long, value_name = "NAME key=value…", allow_hyphen_values = true)]
    negative: Option<String>,
    /// The electrode that is reduced. Keys: mass (of the oxide powder) or mix with oxide (its share of the mix),
    /// purity, electrons, area
    #[arg(long, value_name = "NAME key=value…", allow_hyphen_values = true)]
    positive: Option<String>,
    /// Mass of the electrolyte
    #[arg(long, value_name = "MASS")]
    electrolyte: Option<String>,
    /// A load, for the current to expect, with --voltage
    #[arg(long, value_name = "RESISTANCE")]
    load: Option<String>,
    /// Voltage with no load [default: the last one read of a cell of the book]
    #[arg(long, value_name = "VOLTAGE")]
    voltage: Option<String>,
    /// Internal resistance [default: left out]
    #[arg(long, value_name = "RESISTANCE", requires = "load")]
    internal: Option<String>,
    /// How much negative electrode gives this ratio of negative to positive capacity
    #[arg(long, value_name = "NUMBER")]
    ratio: Option<String>,
}

/// What a design or a cell says beside its electrodes.
#[derive(Default)]
struct Known {
    title: String,
    negative: ElectrodeSpec,
    positive: ElectrodeSpec,
    electrolyte: Option<(Mass, Option<Mass>)>,
    open: Option<(Voltage, String)>,
    conventions: Vec<String>,
}

/// The request, with what it is about in words.
pub(in crate::cli) fn capacity_request(
    common: &Common,
    options: &CapacityOptions,
) -> Result<(String, CapacityRequest), Failure> {
    if options.of.is_none() && options.negative.is_none() && options.positive.is_none() {
        let fault =
            Fault::new("no_electrodes", "it is not said which cell is meant", Place::named("cell capacity"));
        let hint = "Name a design or a cell, or give --negative and --positive.";
        return Err(fault.with_hint(hint).into());
    }
    let table = component_table(common)?;
    let known = known(common, options.of.as_deref(), &table)?;
    let mut faults = Faults::none();
    let mut conventions = known.conventions;
    let mut spec = |side, text: Option<&String>, under: ElectrodeSpec| match text {
        Some(text) => faults.collect(ElectrodeSpec::of_flag(side, text)).map(|over| under.under(over)),
        None => Some(under),
    };
    let negative = spec(Side::Negative, options.negative.as_ref(), known.negative);
    let positive = spec(Side::Positive, options.positive.as_ref(), known.positive);
    let mix = positive.as_ref().and_then(|spec| spec.mix);
    let mut electrode = |side, spec: Option<ElectrodeSpec>| {
        faults.collect(spec?.electrode(side, &table, &mut conventions)).flatten()
    };
    let (negative, positive) = (electrode(Side::Negative, negative), electrode(Side::Positive, positive));
    let electrolyte = optional::<Mass>("--electrolyte", options.electrolyte.as_ref(), &mut faults);
    let electrolyte = electrolyte.map(|typed| (typed.value, None)).or(known.electrolyte);
    let load = load(options, known.open, &mut conventions, &mut faults);
    let wanted_ratio = options.ratio.as_ref().and_then(|text| faults.collect(wanted(text)));
    let request = CapacityRequest { negative, positive, electrolyte, mix, load, wanted_ratio, conventions };
    Ok(faults.or((known.title, request))?)
}

/// The capacity of a cell of the book, with its real masses.
pub(in crate::cli) fn capacity_of_cell(
    common: &Common,
    code: &Code,
    table: &ComponentTable,
) -> Result<CapacityRequest, Failure> {
    let known = of_cell(common, code, table)?;
    let mut conventions = known.conventions;
    let negative = known.negative.electrode(Side::Negative, table, &mut conventions)?;
    let positive = known.positive.electrode(Side::Positive, table, &mut conventions)?;
    let (mix, electrolyte) = (known.positive.mix, known.electrolyte);
    Ok(CapacityRequest { negative, positive, electrolyte, mix, load: None, wanted_ratio: None, conventions })
}

/// What a discharge of a cell is reckoned against; what is not known of it is left out.
pub(in crate::cli) fn discharge_basis(
    common: &Common,
    cell: &Cell,
    table: &ComponentTable,
) -> Result<DischargeBasis, Failure> {
    let request = capacity_of_cell(common, &cell.code, table)?;
    let oxide = request.positive.as_ref().map(|electrode| electrode.active());
    let area = request.positive.as_ref().and_then(|electrode| electrode.area);
    let theoretical = crate::cell::capacity(request).least();
    Ok(DischargeBasis { oxide, area, theoretical, built: Some(cell.set.built) })
}

fn known(common: &Common, of: Option<&str>, table: &ComponentTable) -> Result<Known, Failure> {
    let Some(of) = of else { return Ok(Known { title: "a cell".to_owned(), ..Known::default() }) };
    let code = of.parse::<Code>().ok().filter(|code| code.kind() == CodeKind::Cell);
    match code {
        Some(code) => of_cell(common, &code, table),
        None => Ok(of_design(&cell_design(common, of)?)),
    }
}

fn of_design(design: &CellDesign) -> Known {
    let spec = |electrode: Option<&crate::record::Electrode>| {
        electrode.map(ElectrodeSpec::of_design).unwrap_or_default()
    };
    Known {
        title: design.name.clone(),
        negative: spec(design.negative.as_ref()),
        positive: spec(design.positive.as_ref()),
        ..Known::default()
    }
}

/// A cell of the book: its design as it was frozen, with the masses that were really filled in.
fn of_cell(common: &Common, code: &Code, table: &ComponentTable) -> Result<Known, Failure> {
    let book = open_book(common)?;
    let cell = cell(&book, code).map_err(|error| failure(&error))?;
    let design = read_design("the recorded design", &cell.set.design.text)?;
    let mut known = of_design(&design);
    known.title = format!("{code}, {}", design.name);
    if let Some(component) = known.positive.component(Side::Positive, table)? {
        let mix = mix_in(&book, &cell, &component, &mut known.conventions)?;
        known.positive = known.positive.under(mix);
    }
    known.electrolyte = electrolyte_in(&book, &cell, &mut known.conventions)?;
    known.open = last_open(&book, code)?;
    Ok(known)
}

/// The cathode mix in a cell, and how much of it is the oxide, by what was weighed into it.
fn mix_in(
    book: &Book,
    cell: &Cell,
    oxide: &Component,
    conventions: &mut Vec<String>,
) -> Result<ElectrodeSpec, Failure> {
    let mut spec = ElectrodeSpec::default();
    let Some(content) = cell.contents.iter().find(|content| content.batch.kind() == CodeKind::CathodeMix)
    else {
        return Ok(spec);
    };
    let how = if content.weighed_g.is_some() { "weighed" } else { "planned, not weighed" };
    conventions.push(format!("{}: {} g in this cell, {how}", content.batch, content.mass_g()));
    spec.mix = Some(Mass::new(content.mass_g()));
    let standing = standing(book, &content.batch)?;
    if let Some(made) = &standing.made
        && let Some(own) = made.composition.constituent(oxide.id.as_str())
    {
        let share = own.anhydrous / made.mass;
        spec.oxide = Some((share, format!("{} in {} as it was made", oxide.name, content.batch)));
    }
    Ok(spec)
}

/// The electrolyte in a cell with its water.
fn electrolyte_in(
    book: &Book,
    cell: &Cell,
    conventions: &mut Vec<String>,
) -> Result<Option<(Mass, Option<Mass>)>, Failure> {
    let mut sum: Option<(Mass, Option<Mass>)> = None;
    for content in cell.contents.iter().filter(|content| content.batch.kind() == CodeKind::Electrolyte) {
        let mass = Mass::new(content.mass_g());
        let how = if content.weighed_g.is_some() { "weighed" } else { "planned, not weighed" };
        conventions.push(format!("{}: {} g in this cell, {how}", content.batch, content.mass_g()));
        let standing = standing(book, &content.batch)?;
        let made = standing.titrated.as_ref().or(standing.made.as_ref());
        let by =
            if standing.titrated.is_some() { "by titration" } else { "by what was put in, never titrated" };
        conventions.push(format!("water of {}: {by}", content.batch));
        let water = made.map(|made| mass * made.composition.water_fraction().get());
        let (masses, waters) = sum.unwrap_or((Mass::ZERO, Some(Mass::ZERO)));
        sum = Some((masses + mass, waters.zip(water).map(|(sum, more)| sum + more)));
    }
    Ok(sum)
}

/// The last open-circuit voltage of a cell that no short circuit disturbs.
fn last_open(book: &Book, code: &Code) -> Result<Option<(Voltage, String)>, Failure> {
    let readings = readings(book, std::slice::from_ref(code)).map_err(|error| failure(&error))?;
    let since = disturbed(&readings, SETTLING);
    let fits = readings
        .iter()
        .zip(since)
        .rfind(|(reading, since)| reading.taken.value.kind() == ReadingKind::OpenCircuit && since.is_none());
    Ok(fits.map(|(reading, _)| {
        let words = format!("{} read in entry {}", reading.taken.value.text(), reading.entry);
        (Voltage::new(reading.taken.value.number()), words)
    }))
}

fn load(
    options: &CapacityOptions,
    read: Option<(Voltage, String)>,
    conventions: &mut Vec<String>,
    faults: &mut Faults,
) -> Option<Load> {
    let voltage = optional::<Voltage>("--voltage", options.voltage.as_ref(), faults);
    let internal = optional::<Resistance>("--internal", options.internal.as_ref(), faults);
    let resistance = optional::<Resistance>("--load", options.load.as_ref(), faults)?;
    let open = match (voltage, read) {
        (Some(typed), _) => typed.value,
        (None, Some((voltage, words))) => {
            conventions.push(format!("voltage with no load: {words}"));
            voltage
        }
        (None, None) => {
            let fault =
                Fault::new("no_voltage", "the voltage with no load is not known", Place::named("--load"));
            faults.push(fault.with_hint("Add --voltage, as in --voltage \"1.48 V\"."));
            return None;
        }
    };
    if resistance.value + internal.as_ref().map_or(Resistance::ZERO, |typed| typed.value) <= Resistance::ZERO
    {
        let fault = Fault::new("no_load", "nothing holds the current back", Place::named("--load"));
        faults.push(fault.with_hint("Give a load above 0 Ω, or the internal resistance with --internal."));
        return None;
    }
    match &internal {
        Some(typed) => conventions.push(format!("internal resistance {}", typed.text)),
        None => conventions.push("the internal resistance is left out: the real current is lower".to_owned()),
    }
    Some(Load { open, resistance: resistance.value, internal: internal.map(|typed| typed.value) })
}

fn wanted(text: &str) -> Result<f64, Fault> {
    let number = parse_number(text).ok().map(|number| number.value).filter(|number| 0.0 < *number);
    number.ok_or_else(|| {
        let place = Place::in_text("--ratio", text, 0..text.len());
        Fault::new("bad_number", format!("{text:?} is no ratio above 0"), place)
            .with_hint("Write it like --ratio 2.")
    })
}

fn optional<T: Quantity>(flag: &str, text: Option<&String>, faults: &mut Faults) -> Option<Typed<T>> {
    text.and_then(|text| faults.collect(quantity::<T>(flag, text)))
}
