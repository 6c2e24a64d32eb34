//! `--price`: a person's own prices from a file of columns: component, price, amount.

use std::collections::BTreeMap;
use std::io::Read;

use crate::cli::outcome::Failure;
use crate::cli::request::source::open_file;
use crate::component::ComponentTable;
use crate::input::{ColumnFile, ColumnRow, Fault, Faults, Place, did_you_mean};
use crate::quantity::{Mass, Quantity as _, Typed};

const FLAG: &str = "--price";

/// Prices of one currency.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PriceFile {
    pub(super) currency: String,
    /// Id of a component → price of a gram; those without a price are not in it.
    pub(super) per_gram: BTreeMap<String, f64>,
}

struct Columns {
    component: usize,
    price: usize,
    amount: usize,
    /// Grams of the unit in the head of the amounts; `None` where each cell has its own.
    grams: Option<f64>,
    currency: String,
}

/// Reads the file; all faults come together.
pub(super) fn price_file(path: &str, table: &ComponentTable) -> Result<PriceFile, Failure> {
    let mut file = ColumnFile::open(path, open_file(path)?.0)?;
    let columns = columns(&file)?;
    let mut lines: BTreeMap<String, u64> = BTreeMap::new();
    let mut found = PriceFile { currency: columns.currency.clone(), per_gram: BTreeMap::new() };
    file.each_row(|file, row, faults| {
        let id = faults.collect(component(&row, &columns, table));
        if let (Some(id), Some(line)) = (&id, id.as_ref().and_then(|id| lines.get(id))) {
            let message = format!("{id} has a price in line {line} already");
            let fault = Fault::new("component_twice", message, row.place(columns.component));
            faults.push(fault.with_hint("Keep the line that counts."));
            return;
        }
        let per_gram = faults.collect(columns.per_gram(file, &row));
        let (Some(id), Some(per_gram)) = (id, per_gram) else { return };
        lines.insert(id.clone(), row.line);
        found.per_gram.extend(per_gram.map(|per_gram| (id, per_gram)));
    })?;
    Ok(found)
}

fn component(row: &ColumnRow, columns: &Columns, table: &ComponentTable) -> Result<String, Fault> {
    let name = row.text(columns.component);
    let found = table.find(name).map(|own| own.id.to_string());
    found.map_err(|error| {
        let fault = error.fault(row.place(columns.component));
        let hint = fault.hint.clone().unwrap_or_default();
        fault.with_hint(format!("{hint} A line for something else can be left out."))
    })
}

fn columns<R: Read>(file: &ColumnFile<R>) -> Result<Columns, Faults> {
    let mut faults = Faults::none();
    let mut find = |name: &str| faults.collect(file.column(FLAG, name));
    let (component, price, amount) = (find("component"), find("price"), find("amount"));
    let currency = price.and_then(|price| {
        let unit = file.head(price).unit.clone();
        faults.collect(unit.ok_or_else(|| {
            let message = format!("{:?} has no currency behind it", file.head(price).text);
            Fault::new("unit_missing", message, Place::named(FLAG))
                .with_hint("Write the currency into the head, as in \"price (EUR)\".")
        }))
    });
    let grams =
        amount.and_then(|amount| faults.collect(grams(file.head(amount).unit.as_deref()).transpose()));
    match (component, price, amount, currency, grams) {
        (Some(component), Some(price), Some(amount), Some(currency), Some(grams)) => {
            faults.or(Columns { component, price, amount, grams, currency })
        }
        _ => Err(faults),
    }
}

/// How many grams the unit in a head is.
fn grams(unit: Option<&str>) -> Option<Result<f64, Fault>> {
    let unit = unit?;
    let known = Mass::UNITS.iter().find(|known| known.symbol == unit).map(|known| known.factor);
    Some(known.ok_or_else(|| {
        let symbols: Vec<&str> = Mass::UNITS.iter().map(|known| known.symbol).collect();
        let hint =
            did_you_mean(unit, symbols.iter().copied(), "Give amounts as masses, as in \"amount (g)\".");
        let message = format!("{unit:?} is no unit of mass");
        Fault::new("unit_missing", message, Place::named(FLAG)).with_hint(hint)
    }))
}

impl Columns {
    /// What a gram costs; `None` where no price stands.
    fn per_gram<R: Read>(&self, file: &ColumnFile<R>, row: &ColumnRow) -> Result<Option<f64>, Faults> {
        let mut faults = Faults::none();
        let price = faults.collect(file.number(row, self.price));
        let amount = faults.collect(self.amount(file, row));
        let (Some(price), Some(amount)) = (price, amount) else { return Err(faults) };
        let Some(price) = price else { return Ok(None) };
        if price < 0.0 {
            let fault = Fault::new("bad_price", "a price is not below 0", row.place(self.price));
            faults.push(fault.with_hint("Leave the cell empty where no price is known."));
        }
        let Some(amount) = amount.filter(|amount| 0.0 < *amount) else {
            let message = "a price without the amount that it buys";
            let fault = Fault::new("no_amount", message, row.place(self.amount));
            faults.push(fault.with_hint("Write the mass of the package, such as 500 g."));
            return Err(faults);
        };
        faults.or(Some(price / amount))
    }

    /// Grams.
    fn amount<R: Read>(&self, file: &ColumnFile<R>, row: &ColumnRow) -> Result<Option<f64>, Fault> {
        if let Some(grams) = self.grams {
            return Ok(file.number(row, self.amount)?.map(|amount| amount * grams));
        }
        let text = row.text(self.amount);
        if text.is_empty() {
            return Ok(None);
        }
        let typed = Typed::<Mass>::parse(text);
        typed
            .map(|typed| Some(typed.value.get()))
            .map_err(|error| Fault::of_quantity(&error, row.place(self.amount)))
    }
}
