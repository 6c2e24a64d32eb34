//! The label of a bottle.

use jiff::civil::Date;

use super::content::{AgainstUse, LabelContent};
use super::hazards::LabelHazards;
use crate::record::bottle::Bottle;
use crate::report::view::quality;

/// What a bottle of the book bears. `today` says whether its date is over, `who` took it in.
pub fn bottle_label(bottle: &Bottle, hazards: LabelHazards, who: &str, today: Date) -> LabelContent {
    let mut label = LabelContent::new(bottle.code.to_string(), bottle.name.as_str())
        .composition(contents(bottle))
        .composition_in_short(stated_quality(bottle))
        .hazards(hazards)
        .who(who);
    label.dated = dated(bottle);
    label.use_by.clone_from(&bottle.expires);
    label.storage.clone_from(&bottle.storage);
    label.note = note(bottle);
    match against(bottle, today) {
        Some((what, why)) => label.against(what, why),
        None => label,
    }
}

/// Quality and where it comes from.
fn contents(bottle: &Bottle) -> String {
    let mut parts = vec![stated_quality(bottle)];
    parts.extend(bottle.dried_from.as_ref().map(|from| format!("dried portion of {from}")));
    parts.extend(bottle.supplier.as_ref().map(|supplier| format!("from {supplier}")));
    parts.extend(bottle.supplier_lot.as_ref().map(|lot| format!("lot {lot}")));
    parts.join("; ")
}

fn stated_quality(bottle: &Bottle) -> String {
    let known = bottle.quality.assay.is_some() || bottle.quality.moisture.is_some();
    let words = quality(&bottle.quality);
    if known || bottle.quality.form.is_some() { words } else { format!("quality {words}") }
}

fn dated(bottle: &Bottle) -> Option<(String, String)> {
    let received = bottle.received.as_ref().map(|on| ("received".to_owned(), day(on)));
    let dried = bottle.dried_from.as_ref().and(bottle.opened.as_ref());
    received.or_else(|| dried.map(|on| ("dried".to_owned(), day(on))))
}

/// When it was opened, for its moisture changes from then on; and what was noted.
fn note(bottle: &Bottle) -> Option<String> {
    let opened = bottle.opened.as_ref().filter(|_| bottle.dried_from.is_none());
    let parts = [opened.map(|on| format!("opened {}", day(on))), bottle.note.clone()];
    let said: Vec<String> = parts.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join("; "))
}

fn against(bottle: &Bottle, today: Date) -> Option<(AgainstUse, Option<String>)> {
    if let Some(disposed) = &bottle.disposed {
        return Some((AgainstUse::DisposedOf, Some(day(disposed))));
    }
    let expires = bottle.expires.as_ref().and_then(|on| on.parse::<Date>().ok());
    expires.filter(|on| *on < today).map(|_| (AgainstUse::PastItsDate, None))
}

/// The day of a date or a moment.
fn day(text: &str) -> String {
    text.chars().take(10).collect()
}
