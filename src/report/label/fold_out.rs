//! The fold-out of a label: all that the scheme asks for and the label has no room for, in full, on a strip that is
//! tied on, folded round, or stuck on as a larger label.
//!
//! A pictogram is the standard's frame, a red square set on a point (GHS Rev. 11, Annex 1, 1.2; CLP Annex I 1.2.1),
//! with its name in words in the place of the symbol.

use maud::{Markup, html};

use super::content::LabelContent;
use super::draw::text;
use super::fit::Placed;
use super::hazards::{LabelAlert, LabelHazards, LabelStatement, SignalWord, pictogram_name};
use super::lines::Line;
use super::stock::LabelStock;
use crate::caution::{Severity, WayPast};
use crate::report::lettering::{Weight, drawable, length, width, wrap};

/// Distance of the text from the edges, in millimetres.
const MARGIN: f64 = 2.0;
/// From one line to the next, in units of the type size.
const LEADING: f64 = 1.2;
/// Sides of a pictogram that are drawn: below the first nobody reads the words, above the last no strip has room.
const SIDES: (f64, f64) = (10.0, 23.0);
/// How thick its red frame is drawn.
const FRAME: f64 = 0.7;

/// What stands on a fold-out. Those of cells with the same content are one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FoldOut {
    /// Codes of its labels.
    pub codes: Vec<String>,
    pictograms: Vec<String>,
    signal_word: Option<SignalWord>,
    side: f64,
    /// Below each other, in full.
    paragraphs: Vec<(String, Weight)>,
}

/// A fold-out that is drawn, as high as it needs to be.
pub(super) struct Drawn {
    pub markup: Markup,
    pub height: f64,
}

impl FoldOut {
    pub(super) fn of(label: &LabelContent, stock: LabelStock) -> Self {
        let hazards = &label.hazards;
        let least = hazards.rule.as_ref().and_then(|rule| rule.size.as_ref()).map(|size| size.pictogram_mm);
        Self {
            codes: vec![label.code.clone()],
            pictograms: hazards.pictograms.clone(),
            signal_word: hazards.signal_word,
            side: least.map_or(SIDES.0, f64::from).clamp(SIDES.0, SIDES.1),
            paragraphs: paragraphs(label, stock),
        }
    }

    /// True if the two say the same.
    pub(super) fn says_the_same(&self, other: &Self) -> bool {
        (&self.pictograms, self.signal_word, &self.paragraphs)
            == (&other.pictograms, other.signal_word, &other.paragraphs)
    }

    /// The drawing at a width and a type size. `title` stands at its head.
    pub(super) fn drawn(&self, title: &str, wide: f64, size: f64) -> Drawn {
        let mut lines = Lines { placed: Vec::new(), y: MARGIN, wide: wide - 2.0 * MARGIN };
        lines.add(title, Weight::Bold, 1.25 * size);
        lines.y += 0.4 * size;
        let diamonds = self.diamonds(&mut lines, wide);
        for (paragraph, weight) in &self.paragraphs {
            lines.add(paragraph, *weight, size);
            lines.y += 0.3 * size;
        }
        let height = lines.y + MARGIN;
        let markup = html! {
            @for diamond in &diamonds { (diamond) }
            @for placed in &lines.placed { (text(placed)) }
        };
        Drawn { markup, height }
    }

    /// The pictograms in rows, and the signal word beside the last.
    fn diamonds(&self, lines: &mut Lines, wide: f64) -> Vec<Markup> {
        let across = self.side * std::f64::consts::SQRT_2 + FRAME;
        let mut drawn = Vec::new();
        let mut x = MARGIN;
        for code in &self.pictograms {
            if wide - MARGIN < x + across && MARGIN < x {
                (x, lines.y) = (MARGIN, lines.y + across + 0.5);
            }
            drawn.push(diamond(code, x, lines.y, across));
            x += across + 1.0;
        }
        let word = self.signal_word.map_or("", SignalWord::word);
        let size = 5.0;
        if wide - MARGIN < x + size * width(word, Weight::Bold) {
            (x, lines.y) = (MARGIN, lines.y + across + 0.5);
        }
        let high = if x == MARGIN { if word.is_empty() { 0.0 } else { 1.2 * size } } else { across };
        let line = Line { text: word.to_owned(), weight: Weight::Bold, size };
        let y = lines.y + high / 2.0 + 0.36 * size;
        lines.placed.extend((!word.is_empty()).then_some(Placed { line, x, y }));
        lines.y += high + 1.0;
        drawn
    }
}

/// A red square on its point, with the name of what it shows in its middle and its code below.
fn diamond(code: &str, x: f64, y: f64, across: f64) -> Markup {
    let half = across / 2.0;
    let reach = half - FRAME / 2.0;
    let (middle_x, middle_y) = (x + half, y + half);
    let path = format!(
        "M{cx} {top}L{right} {cy}L{cx} {low}L{left} {cy}z",
        cx = length(middle_x),
        cy = length(middle_y),
        top = length(middle_y - reach),
        low = length(middle_y + reach),
        left = length(middle_x - reach),
        right = length(middle_x + reach)
    );
    let leading = across / 7.2;
    let name = drawable(&pictogram_name(code));
    let words: Vec<String> = name.split_whitespace().map(str::to_owned).chain([drawable(code)]).collect();
    let high = words.len() as f64 * leading;
    let lines = words.into_iter().enumerate().map(|(at, word)| {
        let y = middle_y - high / 2.0 + (at as f64 + 0.8) * leading;
        // A square on its point is the narrower the further from its middle.
        let room = across - 2.0 * (y - 0.3 * leading - middle_y).abs() - 4.0 * FRAME;
        let size = leading.min(room / width(&word, Weight::Regular).max(0.1)).max(0.0);
        let x = middle_x - size * width(&word, Weight::Regular) / 2.0;
        Placed { line: Line { text: word, weight: Weight::Regular, size }, x, y }
    });
    html! {
        path d=(path) fill="#fff" stroke="#e3000f" stroke-width=(length(FRAME)) {}
        @for line in lines { (text(&line)) }
    }
}

fn paragraphs(label: &LabelContent, stock: LabelStock) -> Vec<(String, Weight)> {
    let hazards = &label.hazards;
    let bold = |text: String| (text, Weight::Bold);
    let plain = |text: String| (text, Weight::Regular);
    let mut said = vec![bold(label.name.clone())];
    said.extend(label.against.as_ref().map(|against| bold(against.in_full())));
    said.extend(hazards.blocks().map(|alert| bold(alert_words(alert))));
    said.extend(label.permit.clone().map(bold));
    said.extend(hazards_known(hazards).into_iter().map(plain));
    let warned = hazards.alerts.iter().filter(|alert| alert.severity == Severity::Warn);
    said.extend(warned.map(|alert| plain(alert_words(alert))));
    said.extend(hazards.precautions.iter().map(|said| plain(format!("{} {}", said.code, said.text))));
    said.extend(hazards.supplements.iter().cloned().map(plain));
    if !hazards.not_known.is_empty() {
        let names = hazards.not_known.join(", ");
        said.push(plain(format!("No statement known for {names}, which proves nothing.")));
    }
    // Cells of one set share a fold-out, which therefore leaves out what each has of its own.
    if stock != LabelStock::CellSleeve {
        said.extend(own_words(label).into_iter().map(plain));
    }
    said.push(bold(deferral(label, stock)));
    said
}

fn alert_words(alert: &LabelAlert) -> String {
    let word = match (alert.severity, alert.way_past) {
        (_, WayPast::None) => "NEVER",
        (Severity::Block, _) => "BLOCK",
        (Severity::Warn, _) => "WARN",
        (Severity::Note, _) => "NOTE",
    };
    format!("{word}: {}: {}", alert.title, alert.message)
}

fn hazards_known(hazards: &LabelHazards) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    if !hazards.contains.is_empty() {
        said.push(format!("Contains {}.", hazards.contains.join(", ")));
    }
    let words = |known: &LabelStatement| format!("{} {}", known.code, known.text);
    let (presumed, stated): (Vec<&LabelStatement>, Vec<&LabelStatement>) =
        hazards.statements.iter().partition(|known| known.code.ends_with(" presumed"));
    said.extend(presumed.into_iter().map(words));
    if hazards.of_components && !stated.is_empty() {
        said.push("Statements of the components, not of the mixture:".to_owned());
    }
    said.extend(stated.into_iter().map(words));
    said
}

fn own_words(label: &LabelContent) -> Vec<String> {
    let dated = label.dated.as_ref().map(|(what, on)| format!("{what} {on}"));
    let use_by = label.use_by.as_ref().map(|on| format!("use by {on}"));
    let who = [label.who.clone(), label.laboratory.clone()].into_iter().flatten().collect::<Vec<_>>();
    let of_it = [dated, use_by, (!who.is_empty()).then(|| who.join(", "))];
    let of_it = of_it.into_iter().flatten().collect::<Vec<_>>().join("; ");
    let parts = [label.composition.clone(), Some(of_it), label.storage.clone(), label.note.clone()];
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect()
}

fn deferral(label: &LabelContent, stock: LabelStock) -> String {
    let keep = match stock {
        LabelStock::CellSleeve => "Keep this with the tray in which they stand.",
        LabelStock::Vial | LabelStock::Bottle => "Tie this on, fold it round, or stick it on as the label.",
    };
    let by =
        label.hazards.rule.as_ref().map_or_else(String::new, |rule| format!(" By {}.", rule.scheme_title));
    format!("{keep} Read the supplier's safety data sheet of every component first.{by}")
}

struct Lines {
    placed: Vec<Placed>,
    /// Where the next line begins.
    y: f64,
    wide: f64,
}

impl Lines {
    fn add(&mut self, words: &str, weight: Weight, size: f64) {
        for text in wrap(&drawable(words), weight, self.wide / size) {
            let y = self.y + 0.85 * size;
            self.placed.push(Placed { line: Line { text, weight, size }, x: MARGIN, y });
            self.y += LEADING * size;
        }
    }
}
