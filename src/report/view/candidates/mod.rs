//! What to test next: the verdict first, then the table by the person's own limits, a picture of where each is liquid,
//! what stops the work, and what every column rests on.

mod basis;
mod chart;
mod data;
mod missing;
mod model;
mod refused;
mod table;
mod words;

use crate::report::document::{Caution, Document, heading, muted, paragraph, strong};

pub use model::{
    Candidate, CandidateHazards, CandidateHouse, CandidateList, CandidatePrice, CandidatePrices,
    CandidateRatios, CandidateRecipe, CandidateStock, CandidatesView, LimitTexts,
};
pub use words::ranking_rule;

/// The whole answer. Its table for scripts has a row for each candidate, shown or not.
pub fn candidates_document(view: &CandidatesView) -> Document {
    let mut document = Document::new("Candidates to test").with(basis::asked(view));
    document.push(paragraph(strong(words::verdict(view))));
    document.push(paragraph(words::PROPOSES));
    document.extend(view.warnings.iter().map(|warning| Caution::note(warning.message.as_str())));
    let shown = view.shown();
    if !shown.is_empty() {
        document.push(heading(1, "By your limits"));
        document.push(table::ranked(view, &shown));
        document.push(paragraph(muted(words::signs(view))));
        document.extend(words::short_names(&shown).map(|names| paragraph(muted(names))));
        document.extend(chart::chart(view, &shown));
    }
    document.extend(words::more(view, shown.len()).into_iter().map(paragraph));
    document.extend(words::next_step(view).filter(|_| !shown.is_empty()).map(paragraph));
    refused::push(view, &mut document);
    if !shown.is_empty() {
        document.push(heading(1, "What each column rests on"));
        document.push(basis::columns(view));
        document.extend(missing::missing(view, &shown));
        document.extend(basis::known(&shown));
        document.extend(basis::fusion(&shown));
    }
    document.with_data(data::table(view))
}
