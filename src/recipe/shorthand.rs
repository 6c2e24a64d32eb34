//! A recipe in one line, in the trade's notation:
//!
//! ```text
//! ChCl:urea 1:2 + 0.5 mol/kg ZnCl2 + 0.1 wt% thymol to 2 wt% water
//! MnO2:carbon-black 97:3 by mass
//! ```
//!
//! `+` and `to` separate only between spaces, so that a name may hold a plus sign.

use std::ops::Range;
use std::sync::Arc;

use super::amount::{addition_amount, mass_fraction};
use super::check::{Places, check};
use super::procedure::Procedure;
use super::recipe_type::Recipe;
use crate::component::{Addition, Component, ComponentTable, Part, Proportions, RatioBasis};
use crate::input::{Fault, Faults, Place};
use crate::quantity::{MassFraction, Typed};

/// True if the text holds a ratio, which a path or a name does not.
pub fn is_shorthand(text: &str) -> bool {
    let mut words = text.split_whitespace();
    words.next().is_some() && words.any(|word| is_ratio(word) || word == "+")
}

/// Reads the notation. `origin` is the argument as the person would name it.
pub fn read_shorthand(origin: &str, text: &str, table: &ComponentTable) -> Result<Recipe, Faults> {
    let line = Line { origin, text: Arc::from(text), table };
    let mut faults = Faults::none();
    let (rest, water) = line.split_water();
    let mut pieces = line.split_additions(rest);
    let ratio = faults.collect(line.ratio(pieces.remove(0)));
    let additions: Vec<_> = pieces.iter().map(|piece| faults.collect(line.addition(piece.clone()))).collect();
    let water_place = water.clone().map_or_else(Place::default, |span| line.place(span));
    let water = water.and_then(|span| faults.collect(line.water(span)));
    let (Some((basis, parts)), true) = (ratio, faults.is_empty()) else { return Err(faults) };
    let places = Places {
        parts: parts.iter().map(|(_, span)| line.place(span.clone())).collect(),
        additions: pieces.into_iter().map(|piece| line.place(piece)).collect(),
        water: water_place,
    };
    let parts = parts.into_iter().map(|(part, _)| part).collect();
    let additions = additions.into_iter().flatten().collect();
    let proportions = Proportions { basis, parts, additions, water };
    faults.extend(check(&proportions, &places));
    let name = text.split_whitespace().collect::<Vec<_>>().join(" ");
    faults.or(Recipe {
        name,
        text: text.to_owned(),
        source: None,
        note: None,
        proportions,
        ratio_tolerance: None,
        density: None,
        procedure: Procedure::default(),
        limits: Vec::new(),
    })
}

/// A part and where its name stands.
type PlacedPart = (Part, Range<usize>);

struct Line<'l> {
    origin: &'l str,
    text: Arc<str>,
    table: &'l ComponentTable,
}

impl Line<'_> {
    fn place(&self, span: Range<usize>) -> Place {
        Place::in_text(self.origin, Arc::clone(&self.text), span)
    }

    fn fault(&self, code: &'static str, message: impl Into<String>, span: Range<usize>, hint: &str) -> Fault {
        Fault::new(code, message, self.place(span)).with_hint(hint)
    }

    /// The text before ` to … water`, and what stands behind ` to `.
    fn split_water(&self) -> (Range<usize>, Option<Range<usize>>) {
        let whole = 0..self.text.len();
        let Some(at) = self.text.rfind(" to ") else { return (whole, None) };
        let after = at + " to ".len()..self.text.len();
        (0..at, Some(self.trimmed(after)))
    }

    fn split_additions(&self, within: Range<usize>) -> Vec<Range<usize>> {
        let mut pieces = Vec::new();
        let mut start = within.start;
        for (at, plus) in self.text[within.clone()].match_indices(" + ") {
            pieces.push(self.trimmed(start..at));
            start = at + plus.len();
        }
        pieces.push(self.trimmed(start..within.end));
        pieces
    }

    fn trimmed(&self, span: Range<usize>) -> Range<usize> {
        let piece = &self.text[span.clone()];
        let start = span.start + (piece.len() - piece.trim_start().len());
        start..start + piece.trim().len()
    }

    /// `ChCl:urea 1:2`, with ` by mass` or ` by weight` behind it for grams.
    fn ratio(&self, span: Range<usize>) -> Result<(RatioBasis, Vec<PlacedPart>), Faults> {
        let text = &self.text[span.clone()];
        let by_mass = ["by mass", "by weight"].into_iter().find_map(|words| text.strip_suffix(words));
        let (core, basis) = match by_mass {
            Some(core) => (core.trim_end(), RatioBasis::Mass),
            None => (text, RatioBasis::Mole),
        };
        // "1 : 2" and "ChCl : urea" may have spaces: the ratio starts at the last word that is not
        // joined to the one before it by a colon.
        let Some(split) = ratio_start(core) else {
            if core.split_whitespace().any(is_ratio) {
                let message = format!("a name is missing before the ratio of {core:?}");
                return Err(self.fault("no_name", message, span, "Write it like \"ChCl:urea 1:2\".").into());
            }
            let message = format!("{core:?} has no ratio behind the names");
            return Err(self.fault("no_ratio", message, span, "Write it like \"ChCl:urea 1:2\".").into());
        };
        let names = self.fields(span.start..span.start + split);
        let ratios = self.fields(span.start + split..span.start + core.len());
        self.parts(&names, &ratios, span).map(|parts| (basis, parts))
    }

    fn parts(
        &self,
        names: &[Range<usize>],
        ratios: &[Range<usize>],
        span: Range<usize>,
    ) -> Result<Vec<PlacedPart>, Faults> {
        let mut faults = Faults::none();
        if names.len() != ratios.len() {
            let message = format!(
                "{}, but {} in the ratio",
                counted(names.len(), "name"),
                counted(ratios.len(), "number")
            );
            faults.push(self.fault(
                "ratio_mismatch",
                message,
                span,
                "Give one number for each name, as in A:B:C 1:2:1.",
            ));
        }
        let components: Vec<_> =
            names.iter().map(|name| faults.collect(self.component(name.clone()))).collect();
        let numbers: Vec<_> = ratios.iter().map(|ratio| faults.collect(self.number(ratio.clone()))).collect();
        let parts =
            components.into_iter().zip(numbers).zip(names).filter_map(|((component, ratio), name)| {
                Some((Part { component: component?, ratio: ratio? }, name.clone()))
            });
        let parts = parts.collect();
        faults.or(parts)
    }

    /// The pieces between colons.
    fn fields(&self, span: Range<usize>) -> Vec<Range<usize>> {
        let mut fields = Vec::new();
        let mut start = span.start;
        for piece in self.text[span].split(':') {
            fields.push(self.trimmed(start..start + piece.len()));
            start += piece.len() + 1;
        }
        fields
    }

    fn component(&self, span: Range<usize>) -> Result<Arc<Component>, Fault> {
        let name = &self.text[span.clone()];
        if name.is_empty() {
            return Err(self.fault("no_name", "a name is missing", span, "Write it like \"ChCl:urea 1:2\"."));
        }
        self.table.find(name).map(Arc::clone).map_err(|error| error.fault(self.place(span)))
    }

    fn number(&self, span: Range<usize>) -> Result<f64, Fault> {
        let text = &self.text[span.clone()];
        let number = text.parse::<f64>().ok().filter(|number| 0.0 < *number && *number <= 1e6);
        number.ok_or_else(|| {
            let message =
                format!("{text:?} is no number for a ratio: above 0, at most 1000000, with a decimal point");
            self.fault("bad_ratio", message, span, "Write it like 1:2 or 1:2.5.")
        })
    }

    /// `0.5 mol/kg ZnCl2`: the last word is the component.
    fn addition(&self, span: Range<usize>) -> Result<Addition, Faults> {
        let text = &self.text[span.clone()];
        let Some(at) = text.rfind(char::is_whitespace) else {
            let message = format!("{text:?} has no amount before the name");
            return Err(self
                .fault("bad_addition", message, span, "Write it like \"+ 0.5 mol/kg ZnCl2\".")
                .into());
        };
        let mut faults = Faults::none();
        let amount_span = self.trimmed(span.start..span.start + at);
        let amount =
            faults.collect(addition_amount(&self.text[amount_span.clone()], self.place(amount_span)));
        let component = faults.collect(self.component(self.trimmed(span.start + at..span.end)));
        match (component, amount) {
            (Some(component), Some(amount)) => Ok(Addition { component, amount }),
            _ => Err(faults),
        }
    }

    fn water(&self, span: Range<usize>) -> Result<Typed<MassFraction>, Fault> {
        let text = &self.text[span.clone()];
        if text.contains(" + ") {
            let message = format!("{text:?} is no water content: an addition stands behind the water");
            let hint = "Give the water last, as in \"… + 0.5 mol/kg ZnCl2 to 2 wt% water\".";
            return Err(self.fault("water_not_last", message, span, hint));
        }
        let Some(amount) = text.strip_suffix("water") else {
            let message = format!("{text:?} does not say what it is the content of");
            return Err(self.fault("bad_water", message, span, "Write it like \"to 2 wt% water\"."));
        };
        mass_fraction(amount.trim_end(), self.place(span.start..span.start + amount.trim_end().len()))
    }
}

fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

/// True also for numbers below zero: they are no ratio, but meant as one, and told so.
fn is_ratio(word: &str) -> bool {
    let digits = |number: &str| number.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    word.split(':').all(|number| digits(number.strip_prefix(['-', '\u{2212}']).unwrap_or(number)))
}

/// Where the ratio starts in `A : B 1 : 2`: behind the last space that has no colon on either side.
fn ratio_start(text: &str) -> Option<usize> {
    let spaces = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, c)| at + c.len_utf8());
    spaces.collect::<Vec<_>>().into_iter().rev().find(|&at| {
        let before = text[..at].trim_end();
        let after = text[at..].trim_start();
        !before.is_empty() && !before.ends_with(':') && !after.is_empty() && !after.starts_with(':')
    })
}
