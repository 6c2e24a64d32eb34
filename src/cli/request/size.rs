//! How large the batch is to be, from the size flags.

use clap::Args;

use super::shelf::quantity;
use crate::input::{Fault, Faults, Place, Warning};
use crate::plan::{Dose, Size};
use crate::quantity::{Mass, Quantity, Typed, Volume};

/// One of these says how much; with --have alone it is the largest batch that the stock allows.
#[derive(Debug, Args)]
#[command(next_help_heading = "Batch size (one of these)")]
pub(in crate::cli) struct SizeArgs {
    /// Mass in the flask, with water and impurities
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    mass: Option<String>,
    /// Mass of the dry pure components, additions included
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    dry_pure: Option<String>,
    /// Mass of dry acceptor and donor; salts, additives and water come on top
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    dry_parts: Option<String>,
    /// Volume of the final solution; needs --density
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    volume: Option<String>,
    /// Amount of ratio units: for 1:2 one unit is 1 mol and 2 mol
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    amount: Option<String>,
    /// Number of cells to fill; with --dose
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    cells: Option<String>,
    /// Electrolyte for each cell, as mass or (with --density) volume
    #[arg(long, value_name = "MASS or VOLUME", allow_hyphen_values = true, requires = "cells")]
    dose: Option<String>,
    /// What to make beyond the cells, such as "10 %"
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true, requires = "cells")]
    spare: Option<String>,
}

impl SizeArgs {
    /// The size; `stocked` says that a stock is stated, which alone is a size too.
    pub(super) fn size(
        &self,
        stocked: bool,
        faults: &mut Faults,
        warnings: &mut Vec<Warning>,
    ) -> Option<Size> {
        let given = [
            ("--mass", &self.mass),
            ("--dry-pure", &self.dry_pure),
            ("--dry-parts", &self.dry_parts),
            ("--volume", &self.volume),
            ("--amount", &self.amount),
            ("--cells", &self.cells),
        ];
        let given: Vec<(&str, &String)> =
            given.into_iter().filter_map(|(flag, text)| Some((flag, text.as_ref()?))).collect();
        match given.as_slice() {
            [] if stocked => Some(Size::Stock),
            [] => {
                let fault =
                    Fault::new("no_size", "the batch size is missing", Place::named("the command line"));
                faults.push(fault.with_hint("Say how much, as in --mass \"50 g\"."));
                None
            }
            [("--cells", text)] => self.cells(text, faults, warnings),
            [(flag, text)] => one(flag, text, faults, warnings),
            several => {
                let flags: Vec<&str> = several.iter().map(|(flag, _)| *flag).collect();
                let message = format!("{} each say how much to make", flags.join(" and "));
                let fault = Fault::new("two_sizes", message, Place::named(flags.join(" ")));
                faults.push(fault.with_hint("Keep one of them."));
                None
            }
        }
    }

    /// Where a size by volume is given.
    pub(super) fn volume_place(&self) -> Place {
        let (flag, text) = match &self.volume {
            Some(volume) => ("--volume", volume.as_str()),
            None => ("--dose", self.dose.as_deref().unwrap_or_default()),
        };
        Place::in_text(flag, text, 0..text.len())
    }

    fn cells(&self, text: &str, faults: &mut Faults, warnings: &mut Vec<Warning>) -> Option<Size> {
        let cells = text.trim().parse::<u32>().ok().filter(|cells| (1..=100_000).contains(cells));
        if cells.is_none() {
            let place = Place::in_text("--cells", text, 0..text.len());
            let fault = Fault::new(
                "bad_cells",
                format!("{text:?} is no whole number of cells from 1 to 100000"),
                place,
            );
            faults.push(fault.with_hint("Write it like --cells 12."));
        }
        let Some(dose) = &self.dose else {
            let fault = Fault::new("no_dose", "--cells needs --dose", Place::named("--cells"));
            faults.push(fault.with_hint("Say how much each cell takes, as in --dose \"1.2 g\"."));
            return None;
        };
        let dose = dose_of(dose, faults, warnings);
        let spare = match &self.spare {
            Some(spare) => Some(parsed("--spare", spare, faults, warnings)?),
            None => None,
        };
        Some(Size::Cells { cells: cells?, dose: dose?, spare })
    }
}

fn one(flag: &str, text: &str, faults: &mut Faults, warnings: &mut Vec<Warning>) -> Option<Size> {
    match flag {
        "--mass" => parsed(flag, text, faults, warnings).map(Size::Mass),
        "--dry-pure" => parsed(flag, text, faults, warnings).map(Size::DryPure),
        "--dry-parts" => parsed(flag, text, faults, warnings).map(Size::DryParts),
        "--volume" => parsed(flag, text, faults, warnings).map(Size::Volume),
        _ => parsed(flag, text, faults, warnings).map(Size::Amount),
    }
}

/// A dose is a volume if its unit is one.
fn dose_of(text: &str, faults: &mut Faults, warnings: &mut Vec<Warning>) -> Option<Dose> {
    if Typed::<Volume>::parse(text).is_ok() {
        return parsed("--dose", text, faults, warnings).map(Dose::Volume);
    }
    parsed::<Mass>("--dose", text, faults, warnings).map(Dose::Mass)
}

/// A flag's value as a quantity. A decimal comma is read and said.
pub(super) fn parsed<T: Quantity>(
    flag: &str,
    text: &str,
    faults: &mut Faults,
    warnings: &mut Vec<Warning>,
) -> Option<Typed<T>> {
    let typed = faults.collect(quantity::<T>(flag, text))?;
    warnings.extend(comma_warning(flag, &typed));
    Some(typed)
}

/// What to say of a decimal comma.
pub(super) fn comma_warning<T>(flag: &str, typed: &Typed<T>) -> Option<Warning> {
    typed.decimal_comma.then(|| {
        let read = typed.text.replace(',', ".");
        Warning::new(
            "decimal_comma",
            format!("{flag} {:?} was read with a decimal comma, as {read}", typed.text),
        )
    })
}
