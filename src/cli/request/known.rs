//! Codes that must be there, all asked for before the first is missed.

use super::surroundings::failure;
use crate::book::BookError;
use crate::cli::outcome::Failure;
use crate::input::Faults;
use crate::record::Code;

/// What the book has of each code.
///
/// # Errors
/// If it has no such thing under some of them, each named; or at once if it can't be read.
pub(in crate::cli) fn all_known<T>(
    codes: &[Code],
    find: impl Fn(&Code) -> Result<T, BookError>,
) -> Result<Vec<T>, Failure> {
    let (mut found, mut faults) = (Vec::new(), Faults::none());
    for code in codes {
        match find(code).map_err(|error| failure(&error)) {
            Ok(one) => found.push(one),
            Err(Failure::Input(unknown)) => faults.extend(unknown),
            Err(storage) => return Err(storage),
        }
    }
    Ok(faults.or(found)?)
}
