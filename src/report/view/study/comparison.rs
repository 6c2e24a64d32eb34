//! The comparison that a study asked for.

use jiff::tz::TimeZone;

use super::departure_blocks;
use super::matters::PairMatters;
use crate::record::study::{Departure, Study};
use crate::report::document::{Caution, Document, bullets, facts, heading, paragraph};

/// A look at the data before the planned end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EarlyLook {
    /// How many looks there were with it.
    pub number: usize,
    /// Whole days to the planned end.
    pub days_before_end: u32,
    /// The entry that records it; `None` if it was asked not to be.
    pub entry: Option<u64>,
}

impl EarlyLook {
    /// The look in words.
    pub fn sentence(&self) -> String {
        let (number, days) = (self.number, self.days_before_end);
        let unit = if days == 1 { "day" } else { "days" };
        let recorded = match self.entry {
            Some(entry) => format!("This look was recorded, as entry {entry}."),
            None => "This look was NOT recorded, as --unrecorded asks: nobody will count it.".to_owned(),
        };
        format!("Look {number} of the data, {days} {unit} before the planned end. {recorded}")
    }
}

/// What is shown around the comparison.
pub struct StudyComparison<'a> {
    /// The study.
    pub study: &'a Study,
    /// The look that this is, where it comes before the planned end.
    pub look: Option<&'a EarlyLook>,
    /// What the work did otherwise.
    pub departures: &'a [Departure],
    /// The differences against the smallest one that matters; empty where nobody said which that is.
    pub matters: &'a [PairMatters],
    /// The zone in which times are shown.
    pub zone: &'a TimeZone,
}

/// The comparison with its study around it.
pub fn study_comparison_document(view: &StudyComparison<'_>, comparison: &Document) -> Document {
    let (study, planned) = (view.study, &view.study.planned);
    let title = format!("Study {}: {}", planned.code, comparison.title());
    let mut document = Document::new(title).with(paragraph(planned.question.as_str()));
    document.push(facts([
        ("Written", super::written(study, view.departures, view.zone)),
        ("Planned end", planned.ends.to_string()),
    ]));
    if let Some(look) = view.look {
        document.push(Caution::warn(look.sentence()).detail(
            "Each look before the end is a chance to stop on a difference that is only there by chance.",
        ));
    }
    match view.departures.len() {
        0 => {}
        1 => document.push(Caution::warn("The work departed from the plan in one point; see below.")),
        several => document
            .push(Caution::warn(format!("The work departed from the plan in {several} points; see below."))),
    }
    document.extend(comparison.blocks().iter().cloned());
    document.push(heading(1, "Against the smallest difference that matters"));
    document.push(match &planned.smallest {
        _ if !view.matters.is_empty() => bullets(view.matters.iter().map(PairMatters::sentence)).into(),
        Some(size) => {
            paragraph(format!("{size} matters by the study, and nothing here can be held against that."))
        }
        None => {
            paragraph("The study does not say which difference matters, so that none can be called small.")
        }
    });
    document.push(heading(1, "Departures from the plan"));
    document.extend(departure_blocks(view.departures, view.zone));
    if let Some(table) = comparison.data() {
        document = document.with_data(table.clone());
    }
    document
}
