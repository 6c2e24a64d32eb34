//! `--bottle CODE`: a bottle of the book as what a component is taken from.

use super::surroundings::{failure, open_book};
use crate::book::bottle;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{ComponentId, ComponentTable};
use crate::input::{Fault, Faults, Place};
use crate::plan::Supply;
use crate::quantity::{Mass, Typed, significant};
use crate::record::bottle::Bottle;
use crate::record::{Code, CodeKind};

/// `--bottle` flags, told apart.
pub(super) struct ByCode {
    /// Of the bottles that stand in the book.
    pub(super) supplies: Vec<Supply>,
    /// Which component is taken from which of them.
    pub(super) bottles: Vec<(ComponentId, Code)>,
    /// The flags that describe a bottle.
    pub(super) described: Vec<String>,
}

/// Looks up the bottles that are named by code. What is left in them is the stock.
pub(super) fn by_code(
    common: &Common,
    texts: &[String],
    table: &ComponentTable,
    faults: &mut Faults,
) -> Result<ByCode, Failure> {
    let code = |text: &String| text.parse::<Code>().ok().filter(|code| code.kind() == CodeKind::Bottle);
    let (coded, described): (Vec<_>, Vec<_>) =
        texts.iter().map(|text| (text, code(text))).partition(|(_, code)| code.is_some());
    let described = described.into_iter().map(|(text, _)| text.clone()).collect();
    let mut found = ByCode { supplies: Vec::new(), bottles: Vec::new(), described };
    if coded.is_empty() {
        return Ok(found);
    }
    let book = open_book(common)?;
    for (text, code) in coded.into_iter().filter_map(|(text, code)| Some((text, code?))) {
        let row = bottle(&book, &code).map_err(|error| failure(&error))?;
        match supply(&row, text, table) {
            Ok(supply) if found.supplies.iter().any(|other| other.component == supply.component) => {
                let message = format!("{} has two bottles", supply.component);
                let fault = Fault::new("bottle_twice", message, place(text));
                faults.push(fault.with_hint(
                    "A plan takes each component from one bottle: plan with one of them, and weigh the rest out of \
                     the other.",
                ));
            }
            Ok(supply) => {
                found.bottles.push((supply.component.clone(), code));
                found.supplies.push(supply);
            }
            Err(fault) => faults.push(fault),
        }
    }
    Ok(found)
}

fn supply(row: &Bottle, text: &str, table: &ComponentTable) -> Result<Supply, Fault> {
    let component = table.find(&row.component).map_err(|error| error.fault(place(text)))?;
    let left = row.left_g.max(0.0);
    let stock =
        Typed { value: Mass::new(left), text: format!("{} g", significant(left, 7)), decimal_comma: false };
    Ok(Supply {
        component: component.id.clone(),
        label: Some(row.code.to_string()),
        quality: row.quality.clone(),
        density: None,
        stock: Some(stock),
    })
}

fn place(text: &str) -> Place {
    Place::in_text("--bottle", text, 0..text.len())
}
