//! Text files by path.

use std::io::ErrorKind;

use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};

/// Reads a text file. A missing file is a fault of the input, anything else one of storage.
pub(in crate::cli) fn read_text(path: &str) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|error| {
        let place = Place::named(path);
        match error.kind() {
            ErrorKind::NotFound => {
                let fault = Fault::new("file_not_found", format!("there is no file {path}"), place);
                Failure::Input(fault.with_hint("Check the path and the folder that you are in.").into())
            }
            ErrorKind::InvalidData => {
                let fault = Fault::new("not_text", format!("{path} is no UTF-8 text"), place);
                Failure::Input(fault.with_hint("Save the file as UTF-8.").into())
            }
            _ => {
                let fault = Fault::new("not_readable", format!("{path} can't be read: {error}"), place);
                Failure::Storage(fault.with_hint("Check that it is a file and may be read.").into())
            }
        }
    })
}
