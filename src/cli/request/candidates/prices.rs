//! All prices that a person has given: a file first, then the bottles of the book. Nothing is built in.

use std::collections::BTreeMap;

use super::limit::{PriceLimit, price_place};
use super::price_file::PriceFile;
use crate::input::{Fault, Faults};
use crate::record::bottle::Bottle;
use crate::report::view::CandidatePrices;

/// Puts them together in one currency: that of the limit, else of the file, else of most bottles.
pub(super) fn prices(
    file: Option<PriceFile>,
    bottles: &[Bottle],
    limit: Option<(&PriceLimit, &str)>,
    faults: &mut Faults,
) -> CandidatePrices {
    let of_bottles = of_bottles(bottles);
    let wanted = limit.map(|(limit, _)| limit.currency.clone());
    let currency = wanted.or_else(|| file.as_ref().map(|file| file.currency.clone()));
    let currency = currency.or_else(|| most(&of_bottles));
    if let (Some(file), Some((limit, text))) = (&file, limit)
        && file.currency != limit.currency
    {
        let message = format!("the limit is in {} and the prices are in {}", limit.currency, file.currency);
        let fault = Fault::new("other_currency", message, price_place(text));
        faults.push(fault.with_hint("Give both in one currency: none is converted."));
    }
    let mut found = CandidatePrices {
        currency,
        per_gram: BTreeMap::new(),
        from_file: file.as_ref().map_or(0, |file| file.per_gram.len()),
        from_bottles: 0,
        other_currency: Vec::new(),
    };
    for (component, (per_gram, currency)) in of_bottles {
        if file.as_ref().is_some_and(|file| file.per_gram.contains_key(&component)) {
            continue;
        }
        if Some(&currency) == found.currency.as_ref() {
            found.from_bottles += 1;
            found.per_gram.insert(component, per_gram);
        } else {
            found.other_currency.push((component, currency));
        }
    }
    found.per_gram.extend(file.into_iter().flat_map(|file| file.per_gram));
    if let (true, true, Some((limit, text))) = (found.per_gram.is_empty(), faults.is_empty(), limit) {
        let message = format!("no price in {} is known", limit.currency);
        let hint = "Give your own with --price FILE.csv (columns component, price (EUR), amount), or record what \
                    bottles cost with bottle receive --price.";
        faults.push(Fault::new("no_prices", message, price_place(text)).with_hint(hint));
    }
    found
}

/// By the bottle of each component that came last.
fn of_bottles(bottles: &[Bottle]) -> BTreeMap<String, (f64, String)> {
    let priced = bottles
        .iter()
        .filter_map(|bottle| Some((bottle.component.clone(), price_per_gram(&bottle.component, bottles)?)));
    priced.collect()
}

fn most(prices: &BTreeMap<String, (f64, String)>) -> Option<String> {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    prices.values().for_each(|(_, currency)| *counts.entry(currency).or_default() += 1);
    // The last of equals would win: turned round, the first in the alphabet does.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map(|(currency, _)| currency.to_owned())
}

/// Price per gram by the bottle that came last, with its currency.
fn price_per_gram(component: &str, bottles: &[Bottle]) -> Option<(f64, String)> {
    let priced = bottles.iter().filter(|row| row.component == component && 0.0 < row.net_g);
    let last = priced.filter(|row| row.price.is_some()).max_by(|a, b| a.received.cmp(&b.received))?;
    let (amount, currency) = last.price.clone()?;
    Some((amount / last.net_g, currency))
}
