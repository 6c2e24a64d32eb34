//! Which results are of one batch, and so what their error is one of.

use super::MixtureFitView;

/// What counts as one result, and whether results count as independent.
pub(super) fn notes(view: &MixtureFitView<'_>) -> Vec<String> {
    let Some((column, readings, count)) = view.batches else {
        return vec![
            "all results count as independent and equally certain: repeated readings of one batch are not, and runs of one \
             whole plot share what differs between plots"
                .to_owned(),
        ];
    };
    let mut notes = averaged(column, readings);
    notes.push(if count < readings.len() {
        format!(
            "results count as equally certain, and those of one batch ({column}) at several settings as independent, which \
             they are not: they share what batches differ by"
        )
    } else {
        format!(
            "each result is of a batch of its own ({column}); these count as independent and equally certain, and errors are \
             those of batches"
        )
    });
    notes
}

/// The readings that were taken together; none where every batch was read once.
fn averaged(column: &str, readings: &[usize]) -> Vec<String> {
    let (least, most) = (readings.iter().min().copied(), readings.iter().max().copied());
    let (least, most) = (least.unwrap_or(1), most.unwrap_or(1));
    let all: usize = readings.iter().sum();
    let results = format!("{all} readings make {} results", readings.len());
    match (least, most) {
        (_, 1) => Vec::new(),
        (least, most) if least == most => vec![format!(
            "{most} readings of each batch ({column}) at one setting count as one result: its mean; {results}"
        )],
        _ => vec![format!(
            "{least} to {most} readings of a batch ({column}) at one setting count as one result: its plain mean, whatever \
             their number; {results}"
        )],
    }
}
