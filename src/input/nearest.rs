//! The nearest known name, for a name that is not known.

/// The known name most like `given`, if any is like enough to be meant.
pub fn nearest<'n>(given: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let folded = given.to_lowercase();
    let score = |name: &str| strsim::jaro_winkler(&folded, &name.to_lowercase());
    known
        .into_iter()
        .map(|name| (score(name), name))
        .filter(|(score, _)| 0.8 <= *score)
        // The first of equals wins, so that the answer does not depend on the order of comparison.
        .fold(None, |best: Option<(f64, &str)>, next| match best {
            Some(best) if next.0 <= best.0 => Some(best),
            _ => Some(next),
        })
        .map(|(_, name)| name)
}

/// "Did you mean …?" with the nearest name, or the list command that shows all names.
pub fn did_you_mean<'n>(given: &str, known: impl IntoIterator<Item = &'n str>, otherwise: &str) -> String {
    match nearest(given, known) {
        Some(name) => format!("Did you mean {name:?}?"),
        None => otherwise.to_owned(),
    }
}
