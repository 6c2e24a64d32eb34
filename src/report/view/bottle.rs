//! Bottles on the shelf.

use jiff::civil::Date;
use jiff::{Timestamp, ToSpan as _, tz::TimeZone};

use super::amount::short;
use crate::component::{AssayBasis, Quality};
use crate::record::bottle::Bottle;
use crate::report::document::{Document, Table, Text, column, facts, paragraph};

/// A bottle's date counts as near from so many days before it (common practice: time to order).
const NEAR_DAYS: i64 = 60;
/// A moisture result says little of a bottle that was opened so many days ago (common practice; strongly
/// hygroscopic salts go stale sooner).
const STALE_DAYS: i64 = 30;

/// How a bottle stands on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shelf {
    near_expiry: bool,
    expired: bool,
    moisture_stale: bool,
    empty: bool,
    gone: bool,
}

impl Shelf {
    /// How a bottle stands on a day.
    pub fn of(bottle: &Bottle, today: Date) -> Self {
        let expires = bottle.expires.as_ref().and_then(|day| day.parse::<Date>().ok());
        let opened = bottle.opened.as_ref().and_then(|time| time.parse::<Timestamp>().ok());
        let opened = opened.map(|time| time.to_zoned_datetime(TimeZone::UTC).date());
        let near = today.checked_add(NEAR_DAYS.days()).unwrap_or(today);
        let stale = today.checked_sub(STALE_DAYS.days()).unwrap_or(today);
        Self {
            near_expiry: expires.is_some_and(|day| today <= day && day <= near),
            expired: expires.is_some_and(|day| day < today),
            moisture_stale: bottle.quality.moisture.is_some() && opened.is_some_and(|day| day < stale),
            empty: bottle.left_g <= 1e-9,
            gone: bottle.disposed.is_some(),
        }
    }

    /// True if it may be weighed from without a reason.
    pub fn is_usable(&self) -> bool {
        !self.expired && !self.gone && !self.empty
    }
}

/// The states in words, the gravest first.
pub fn shelf_states(shelf: &Shelf) -> Vec<&'static str> {
    let states = [
        (shelf.gone, "disposed"),
        (shelf.expired, "past its date"),
        (shelf.empty, "empty"),
        (shelf.near_expiry, "near its date"),
        (shelf.moisture_stale, "moisture stale"),
    ];
    states.into_iter().filter(|(is, _)| *is).map(|(_, words)| words).collect()
}

/// One row for each bottle.
pub fn bottle_list(bottles: &[(Bottle, Shelf)]) -> Document {
    let mut table = Table::new([
        column("Code").key("code"),
        column("Component").key("component"),
        column("Quality").key("quality"),
        column("Left").unit("g").key("left_g").decimal(),
        column("Of").unit("g").key("net_g").decimal(),
        column("Opened").key("opened"),
        column("Use by").key("expires"),
        column("State").key("states"),
    ]);
    for (bottle, shelf) in bottles {
        table.push([
            bottle.code.to_string(),
            bottle.component.clone(),
            quality(&bottle.quality),
            format!("{:.2}", bottle.left_g),
            format!("{:.2}", bottle.net_g),
            day(bottle.opened.as_deref()),
            day(bottle.expires.as_deref()),
            shelf_states(shelf).join(", "),
        ]);
    }
    Document::new("Bottles").with(table).with(paragraph(format!(
        "Near its date: within {NEAR_DAYS} days. Moisture stale: the bottle has been open for more than {STALE_DAYS} days."
    )))
}

/// All that is known of a bottle.
pub fn bottle_document(bottle: &Bottle, shelf: &Shelf) -> Document {
    let mut lines: Vec<(&str, Text)> = vec![
        ("Component", format!("{} ({})", bottle.name, bottle.component).into()),
        ("Quality", quality(&bottle.quality).into()),
        ("Left", format!("{} g of {} g", short(bottle.left_g, 7), short(bottle.net_g, 7)).into()),
    ];
    let mut optional = |label, value: Option<String>| lines.extend(value.map(|value| (label, value.into())));
    optional("Supplier", bottle.supplier.clone());
    optional("Supplier's lot", bottle.supplier_lot.clone());
    optional("Dried from", bottle.dried_from.as_ref().map(ToString::to_string));
    optional("Price", bottle.price.as_ref().map(|(amount, currency)| format!("{amount:.2} {currency}")));
    optional("Received", bottle.received.clone());
    optional("Opened", bottle.opened.as_deref().map(|time| day(Some(time))));
    optional("Use by", bottle.expires.clone());
    optional("Disposed of", bottle.disposed.as_deref().map(|time| day(Some(time))));
    optional("Storage", bottle.storage.clone());
    optional("Note", bottle.note.clone());
    let states = shelf_states(shelf).join(", ");
    optional("State", (!states.is_empty()).then_some(states));
    Document::new(format!("Bottle {}", bottle.code)).with(facts(lines))
}

/// Form, assay, basis and moisture in one line.
pub fn quality(quality: &Quality) -> String {
    let mut parts = Vec::new();
    parts.extend(quality.form.as_ref().map(|form| format!("as {}", form.name)));
    parts.extend(quality.assay.as_ref().map(|assay| {
        let default = if quality.basis_stated { "" } else { ", by default" };
        match quality.basis {
            AssayBasis::Dried => format!("assay {} (dried{default})", assay.text),
            basis => format!("assay {} ({}{default})", assay.text, basis.word()),
        }
    }));
    parts.extend(quality.moisture.as_ref().map(|moisture| format!("moisture {}", moisture.text)));
    if parts.is_empty() { "not stated".to_owned() } else { parts.join(", ") }
}

/// The day of a date or a moment.
fn day(text: Option<&str>) -> String {
    text.map_or(String::new(), |text| text.chars().take(10).collect())
}
