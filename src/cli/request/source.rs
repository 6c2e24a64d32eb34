//! Text files by path.

use std::fs::File;
use std::io::{ErrorKind, Write as _};

use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};

/// Reads a text file. A missing file is a fault of the input, anything else one of storage.
pub(in crate::cli) fn read_text(path: &str) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|error| failed(path, &error))
}

/// Opens a file, and says how many bytes it has.
pub(in crate::cli) fn open_file(path: &str) -> Result<(File, u64), Failure> {
    let opened = File::open(path).and_then(|file| {
        let metadata = file.metadata()?;
        if metadata.is_dir() {
            Err(std::io::Error::other("it is a folder"))
        } else {
            Ok((file, metadata.len()))
        }
    });
    opened.map_err(|error| failed(path, &error))
}

fn failed(path: &str, error: &std::io::Error) -> Failure {
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
}

/// Writes a file that is not there yet.
pub(in crate::cli) fn write_new(path: &str, text: &str) -> Result<(), Failure> {
    let written = File::create_new(path).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.sync_all()
    });
    written.map_err(|error| {
        let place = Place::named(path);
        if error.kind() == ErrorKind::AlreadyExists {
            let fault = Fault::new("file_exists", format!("{path} is there already"), place);
            return Failure::Input(fault.with_hint("Choose another name.").into());
        }
        let fault = Fault::new("not_writable", format!("{path} can't be written: {error}"), place);
        Failure::Storage(fault.with_hint("Choose a folder that is there and may be written to.").into())
    })
}
