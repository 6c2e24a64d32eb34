//! Folders that are written into.

use std::path::Path;

use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};

/// Makes a folder that may be there already. `from` is the flag or argument that names it.
pub(in crate::cli) fn made_folder(from: &str, folder: &str) -> Result<(), Failure> {
    let path = Path::new(folder);
    let place = || Place::in_text(from, folder, 0..folder.len());
    // The folder itself, or what it would have to lie in.
    if let Some(file) = path.ancestors().find(|part| part.exists()).filter(|part| !part.is_dir()) {
        let message = format!("{} is a file, and a folder is asked for", file.display());
        let hint = "Name a folder; it is made if it is not there. Nothing was written.";
        return Err(Fault::new("not_a_folder", message, place()).with_hint(hint).into());
    }
    std::fs::create_dir_all(path).map_err(|error| {
        let fault = Fault::new("not_writable", format!("{folder} can't be made: {error}"), place());
        Failure::Storage(fault.with_hint("Choose a folder that may be written to.").into())
    })
}
