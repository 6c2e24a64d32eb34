//! `--design`: a path, a design of the book, or a worked one.

use std::path::Path;

use super::source::read_text;
use super::surroundings::book_folder;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place, did_you_mean};
use crate::record::{CellDesign, WORKED_DESIGNS, read_design};

/// A design by its path, or by its name in the book's folder, else among the worked ones.
pub(in crate::cli) fn cell_design(common: &Common, name: &str) -> Result<CellDesign, Failure> {
    if name.contains('/') || name.ends_with(".toml") {
        return Ok(read_design(name, &read_text(name)?)?);
    }
    let designs = designs(common)?;
    match designs.iter().find(|(known, _, _)| known == name) {
        Some((_, origin, text)) => Ok(read_design(origin, text)?),
        None => {
            let known = designs.iter().map(|(name, _, _)| name.as_str());
            let hint = did_you_mean(name, known, "See the designs with: meltbook cell design list.");
            let place = Place::in_text("--design", name, 0..name.len());
            Err(Fault::new("unknown_design", format!("there is no design {name:?}"), place)
                .with_hint(hint)
                .into())
        }
    }
}

/// Name, origin and text of every design: the book's own come before worked ones of the same name.
pub(in crate::cli) fn designs(common: &Common) -> Result<Vec<(String, String, String)>, Failure> {
    let mut list = Vec::new();
    let folder = book_folder(common).map(|folder| folder.join("designs")).filter(|folder| folder.is_dir());
    let entries = folder.and_then(|folder| std::fs::read_dir(folder).ok()).into_iter().flatten().flatten();
    for path in entries.map(|entry| entry.path()).filter(|path| is_toml(path)) {
        let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let origin = path.display().to_string();
        let text = read_text(&origin)?;
        list.push((name, origin, text));
    }
    list.sort();
    for (name, text) in WORKED_DESIGNS {
        if !list.iter().any(|(own, _, _)| own == name) {
            list.push((name.to_owned(), format!("worked design {name}"), text.to_owned()));
        }
    }
    Ok(list)
}

fn is_toml(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "toml")
}
