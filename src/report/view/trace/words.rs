//! Amounts and things of a trace in words.

use super::fold::{Bundle, Thread};
use crate::record::graph::{Node, Total};
use crate::report::document::{Text, muted, text};
use crate::report::view::amount::short;

/// Grams to six digits: no balance at a bench shows more.
pub(super) fn grams(grams: f64) -> String {
    format!("{}\u{a0}g", short(grams, 6))
}

/// A sum that says what it leaves out; nothing where nothing was summed.
pub(super) fn total(total: Total) -> String {
    match (total.weighed, total.unweighed) {
        (0, 0) => String::new(),
        (0, _) => "not weighed".to_owned(),
        (_, 0) => grams(total.grams),
        (_, missing) => format!("{} and {missing} not weighed", grams(total.grams)),
    }
}

/// What went from one bundle into another.
pub(super) fn amount(thread: &Thread) -> String {
    let all_weighed = thread.total.unweighed == 0 && 0 < thread.total.weighed;
    if !all_weighed || thread.total.weighed == 1 {
        return total(thread.total);
    }
    if !thread.is_one_each {
        return format!("{} in all", grams(thread.total.grams));
    }
    let (least, most) = (short(thread.least, 6), short(thread.most, 6));
    match least == most {
        true => format!("{most}\u{a0}g each"),
        false => format!("{least}–{most}\u{a0}g each"),
    }
}

/// Kind and label: "electrolyte, ChCl:glycerol 1:2".
pub(super) fn kind_and_label(node: &Node) -> String {
    match node.label.is_empty() {
        true => node.kind.words().to_owned(),
        false => format!("{}, {}", node.kind, node.label),
    }
}

/// Kind, label, what is left and what became of it.
pub(super) fn described(node: &Node) -> Text {
    let left = node.left_grams.map(|left| format!("{} left", grams(left)));
    let marks = node.marks.iter().map(|mark| mark.words().to_owned());
    let more: Vec<String> = left.into_iter().chain(marks).collect();
    text(kind_and_label(node)).then(remark(&more))
}

/// Remarks behind a comma, less important than what they are about.
pub(super) fn remark(remarks: &[String]) -> Text {
    if remarks.is_empty() { Text::default() } else { muted(format!("; {}", remarks.join(", "))) }
}

/// All that is to be said of a bundle, on one line without its codes.
pub(super) fn bundle_words(bundle: &Bundle<'_>) -> String {
    let kind = bundle.count().or_else(|| bundle.kind().map(|kind| kind.words().to_owned()));
    let label = bundle.label().map(str::to_owned);
    let words: Vec<String> = kind.into_iter().chain(label).chain(bundle.readings_in_words()).collect();
    words.join(", ")
}
