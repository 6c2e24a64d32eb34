//! Verdicts, temperatures and rules in words.

use super::model::{Candidate, CandidatesView};
use crate::component::Component;
use crate::compose::candidates::{AlertLevel, Combination, LiquidBasis, Place, SignalLevel, Verdict};
use crate::quantity::Temperature;
use crate::report::document::{Text, code, text};

/// Said with every answer.
pub(super) const PROPOSES: &str = "This proposes what to test and promises nothing: no line says that a mixture will be \
    liquid, stable, or fit to be handled. What is not known counts neither as met nor as missed.";

/// The rule of the order, in words.
pub fn ranking_rule() -> &'static str {
    "fewest limits missed, then fewest that nobody can tell, then the lowest liquidus (of several values the highest), \
     then the lowest price, then by name; what is not known comes after what is, and what an alert stops comes last"
}

/// The message of the whole.
pub(super) fn verdict(view: &CandidatesView) -> String {
    let [meets, open, misses, refused] =
        [Place::Meets, Place::Open, Place::Misses, Place::Refused].map(|place| view.count(place));
    let all = view.candidates.len();
    if all == 0 {
        return "There is nothing to combine: no candidate is left.".to_owned();
    }
    let refused = match refused {
        0 => String::new(),
        n => format!(" {} stopped by an alert and never proposed.", are(n)),
    };
    if view.limits.is_empty() {
        return format!("{} in all, ranked without any limit of yours.{refused}", candidates(all));
    }
    let first = match meets {
        0 => format!("None of {} meets every limit by what is known.", candidates(all)),
        n => format!(
            "{n} of {} {} every limit by what is known.",
            candidates(all),
            if n == 1 { "meets" } else { "meet" }
        ),
    };
    let open = match open {
        0 => String::new(),
        n => format!(
            " {n} {} no limit, but data are missing or disagree.",
            if n == 1 { "misses" } else { "miss" }
        ),
    };
    let misses = match misses {
        0 => String::new(),
        n => format!(" {n} {} at least one.", if n == 1 { "misses" } else { "miss" }),
    };
    format!("{first}{open}{misses}{refused}")
}

fn candidates(count: usize) -> String {
    if count == 1 { "1 candidate".to_owned() } else { format!("{count} candidates") }
}

fn are(count: usize) -> String {
    if count == 1 { "1 is".to_owned() } else { format!("{count} are") }
}

/// A sign that can be told from the others in grey.
pub(super) fn sign(verdict: Option<Verdict>) -> &'static str {
    match verdict {
        None => "",
        Some(Verdict::Met) => "✓ ",
        Some(Verdict::NotMet) => "✗ ",
        Some(Verdict::NoData | Verdict::DataDisagree) => "? ",
    }
}

/// What the signs mean, and where a word does.
pub(super) fn signs(view: &CandidatesView) -> String {
    let mut words = Vec::new();
    if !view.limits.is_empty() {
        words.push("✓ met, ✗ not met, ? nobody can tell by what is known.".to_owned());
    }
    words.push(format!("Order: {}.", ranking_rule()));
    words.join(" ")
}

/// What is not shown.
pub(super) fn more(view: &CandidatesView, shown: usize) -> Vec<String> {
    let listed = view.listed().count();
    let (rest, left_out) = (listed - shown, view.candidates.len() - listed);
    let is = |count: usize| if count == 1 { "is" } else { "are" };
    let how = "see them with --top, or all of them with --format csv or json";
    let rest = (0 < rest).then(|| format!("{rest} more {} not shown: {how}.", is(rest)));
    let left_out = (0 < left_out).then(|| format!("{left_out} {} left out by --only-meeting.", is(left_out)));
    rest.into_iter().chain(left_out).collect()
}

/// What to do with the first that may be proposed.
pub(super) fn next_step(view: &CandidatesView) -> Option<Text> {
    let first = view.listed().find(|own| own.standing.place() == Place::Meets)?;
    let recipe = first.combination.shorthand();
    Some(
        text("Before a test: ")
            .then(code(format!("meltbook cautions \"{recipe}\"")))
            .then(" with what you do to it (heat, sealed, dried), then ")
            .then(code(format!("meltbook plan \"{recipe}\" --mass \"20 g\"")))
            .then("."),
    )
}

/// An id of so many letters is shown as it stands.
const SHORT_ENOUGH: usize = 10;

/// The component's id; of a long one the shortest name that a command understands: "ChCl".
pub(super) fn short_name(component: &Component) -> &str {
    if component.id.as_str().len() <= SHORT_ENOUGH {
        return component.id.as_str();
    }
    let aliases = component.aliases.iter().map(String::as_str);
    aliases.fold(component.id.as_str(), |best, next| if next.len() < best.len() { next } else { best })
}

/// "ChCl:urea 1:2".
pub(super) fn short_recipe(combination: &Combination) -> String {
    let names: Vec<&str> = combination.parts.iter().map(|(component, _)| short_name(component)).collect();
    format!("{} {}", names.join(":"), combination.ratio())
}

/// What the short names stand for.
pub(super) fn short_names(shown: &[&Candidate]) -> Option<String> {
    let parts = shown.iter().flat_map(|own| &own.combination.parts);
    let mut names: Vec<String> = parts
        .filter(|(component, _)| short_name(component) != component.id.as_str())
        .map(|(component, _)| format!("{} {}", short_name(component), component.id))
        .collect();
    names.sort();
    names.dedup();
    (!names.is_empty()).then(|| format!("Short for: {}.", names.join(", ")))
}

/// Degrees Celsius to a tenth, with a true minus sign.
pub(super) fn celsius(kelvin: f64) -> String {
    let text = format!("{:.1}", Temperature::from_kelvin(kelvin).celsius());
    let text = if text == "-0.0" { "0.0".to_owned() } else { text };
    text.replace('-', "−")
}

/// The deciding temperatures: "12.0 to 31.8", "≤ 25.0".
pub(super) fn liquid(candidate: &Candidate) -> String {
    match candidate.facts.liquid.deciding() {
        None => "no data".to_owned(),
        Some((LiquidBasis::SeenLiquid, seen, _)) => format!("≤ {}", celsius(seen)),
        Some((_, low, high)) if high - low < 0.05 => celsius(low),
        Some((_, low, high)) => format!("{} to {}", celsius(low), celsius(high)),
    }
}

/// What they rest on.
pub(super) fn liquid_by(candidate: &Candidate) -> &'static str {
    match candidate.facts.liquid.deciding() {
        None => "",
        Some((LiquidBasis::Measured, ..)) => "measured",
        Some((LiquidBasis::SeenLiquid, ..)) => "seen",
        Some((LiquidBasis::Ideal, ..)) => "ideal",
    }
}

/// The signal word; what is missing could make it graver.
pub(super) fn signal(candidate: &Candidate) -> String {
    let signal = candidate.hazards.signal;
    let word = match signal.worst {
        Some(SignalLevel::Danger) => "Danger",
        Some(SignalLevel::Warning) => "Warning",
        Some(SignalLevel::None) if signal.complete => "none found",
        Some(SignalLevel::None) | None => return "no data".to_owned(),
    };
    // Nothing is graver than danger.
    let or_more = !signal.complete && signal.worst < Some(SignalLevel::Danger);
    if or_more { format!("{word} or more") } else { word.to_owned() }
}

pub(super) fn signal_level(level: SignalLevel) -> &'static str {
    match level {
        SignalLevel::None => "none",
        SignalLevel::Warning => "Warning",
        SignalLevel::Danger => "Danger",
    }
}

pub(super) fn alert_level(level: AlertLevel) -> &'static str {
    match level {
        AlertLevel::None => "none",
        AlertLevel::Note => "note",
        AlertLevel::Warn => "warn",
        AlertLevel::Block => "BLOCK",
    }
}

/// The worst water uptake.
pub(super) fn moistness(candidate: &Candidate) -> String {
    let graded = candidate.facts.hygroscopic;
    match graded.worst {
        None => "no data".to_owned(),
        Some(worst) if graded.complete || worst == crate::component::Moistness::Strong => {
            worst.word().to_owned()
        }
        Some(worst) => format!("{} or more", worst.word()),
    }
}

/// A price of a kilogram.
pub(super) fn price(candidate: &Candidate) -> String {
    candidate.price.per_kg.map_or_else(|| "no data".to_owned(), |price| format!("{price:.2}"))
}

/// The largest batch.
pub(super) fn house(candidate: &Candidate) -> String {
    candidate.house.batch_g.map_or_else(|| "no data".to_owned(), |grams| format!("{grams:.0}"))
}
