//! What stands in the house: the bottles of the book, if there is one.

use std::collections::BTreeMap;

use crate::book::bottles;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::shelf::today;
use crate::cli::request::surroundings::{book_folder, failure, open_book};
use crate::record::bottle::Bottle;
use crate::report::view::Shelf;

/// The bottles of the book around; `None` without a book.
pub(super) fn all_bottles(common: &Common) -> Result<Option<Vec<Bottle>>, Failure> {
    if book_folder(common).is_none() {
        return Ok(None);
    }
    let book = open_book(common)?;
    bottles(&book).map(Some).map_err(|error| failure(&error))
}

/// Grams of each component in bottles that may be weighed from today.
pub(super) fn stock(bottles: &[Bottle]) -> Result<BTreeMap<String, f64>, Failure> {
    let today = today()?;
    let mut stock: BTreeMap<String, f64> = BTreeMap::new();
    for bottle in bottles.iter().filter(|bottle| Shelf::of(bottle, today).is_usable()) {
        *stock.entry(bottle.component.clone()).or_default() += bottle.left_g;
    }
    Ok(stock)
}
