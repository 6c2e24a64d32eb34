//! Walden's product: conductivity times viscosity, and where a density is known the molar one beside the ideal line.

use crate::compose::curve::{IDEAL_PRODUCT, Walden, WaldenPoint};
use crate::input::Warning;
use crate::quantity::significant;
use crate::report::document::{
    Axis, Caution, Chart, Column, Document, Mark, Series, Stroke, Table, bullets, column, muted, paragraph,
    strong,
};
use crate::report::view::short;

/// mPa·s in a poise, in which the classical plot is drawn.
const MPA_S_IN_POISE: f64 = 100.0;

/// What is known of one liquid.
#[derive(Debug, Clone, PartialEq)]
pub struct WaldenOfSet {
    /// A batch, a name in a file, or "published".
    pub name: String,
    /// The pairs.
    pub walden: Walden,
    /// The salt that is counted, and grams of liquid for each mole of it; else what is missing.
    pub salt: Result<(String, f64), String>,
}

/// Everything that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct WaldenView {
    /// The liquid as it was named.
    pub liquid: Option<String>,
    /// Each liquid by itself.
    pub sets: Vec<WaldenOfSet>,
    /// What to know beside it, from reading.
    pub warnings: Vec<Warning>,
}

impl WaldenView {
    /// Those of reading, and what keeps products from being molar.
    pub fn all_warnings(&self) -> Vec<Warning> {
        let own = self.sets.iter().filter_map(missing);
        self.warnings.iter().cloned().chain(own).collect()
    }

    fn points(&self) -> impl Iterator<Item = (&WaldenOfSet, &WaldenPoint)> {
        self.sets.iter().flat_map(|set| set.walden.points.iter().map(move |point| (set, point)))
    }

    fn is_molar(&self) -> bool {
        self.points().any(|(_, point)| point.molar.is_some())
    }
}

fn missing(set: &WaldenOfSet) -> Option<Warning> {
    let without = set.walden.points.iter().filter(|own| own.molar.is_none()).count();
    if without == 0 {
        return None;
    }
    let message = match &set.salt {
        Err(reason) => format!("{}: no molar conductivity: {reason}", set.name),
        Ok(_) => format!(
            "{}: {without} of {} pairs lie beyond the temperatures of its densities, and have no molar conductivity",
            set.name,
            set.walden.points.len()
        ),
    };
    Some(Warning::new("no_molar_conductivity", message))
}

/// The whole answer.
pub fn walden_document(view: &WaldenView) -> Document {
    let of = view.liquid.as_ref().map_or(String::new(), |liquid| format!(" of {liquid}"));
    let mut document = Document::new(format!("Walden's product{of}"));
    let verdicts: Vec<String> = view.sets.iter().map(|own| verdict(view, own)).collect();
    match &verdicts[..] {
        [one] => document.push(paragraph(strong(one.as_str()))),
        all => document.push(bullets(all.iter().map(String::as_str))),
    }
    let count = view.points().count();
    if 0 < count {
        document.push(table(view));
    }
    if view.is_molar() {
        document.push(walden_plot(view));
    } else if 2 < count {
        document.push(products(view));
    }
    document.extend(view.all_warnings().iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(paragraph(muted(conventions(view))));
    document
}

fn conventions(view: &WaldenView) -> String {
    let mut words = "Pairs are values at the same temperature.".to_owned();
    if !view.is_molar() {
        words.push_str(
            " Conductivity times viscosity, as measured: the molar product is this over the concentration of charge, which \
             needs a density and a choice of what carries it.",
        );
        return words;
    }
    for (salt, grams) in view.sets.iter().filter_map(|own| own.salt.as_ref().ok()) {
        let own = format!(" Moles are those of {salt}, one in {} g of the liquid.", short(*grams, 5));
        if !words.contains(&own) {
            words.push_str(&own);
        }
    }
    words.push_str(&format!(
        " A density is the one measured at the temperature, else that of the line through the densities. The ideal line has a \
         slope of 1 and goes through potassium chloride, 0.01 mol/L in water at 25 °C: 141.3 S cm²/mol (after \
         Pratt and others, Pure Appl. Chem. 73 (2001) 1783) and 0.890 mPa·s (from memory), together {} S cm²/mol · mPa·s; \
         that it is drawn so is common practice. It is a convention: that solution itself \
         does not follow a slope of 1 on warming, and what lies below the line is no measure of paired ions alone.",
        significant(IDEAL_PRODUCT, 4)
    ));
    words
}

fn verdict(view: &WaldenView, set: &WaldenOfSet) -> String {
    let of = if view.sets.len() == 1 { String::new() } else { format!("{}: ", set.name) };
    let own = match (set.walden.points.len(), set.walden.exponent) {
        (0, _) => "No conductivity and viscosity were measured at the same temperature.".to_owned(),
        (1, None) => "One pair: too few to say how conductivity follows viscosity.".to_owned(),
        (count, None) => format!("{count} pairs: too few to say how conductivity follows viscosity."),
        (_, Some(exponent)) => {
            format!("Conductivity goes as viscosity to the power {}; −1 is Walden's rule.", power(exponent))
        }
    };
    format!("{of}{own}{}", molar_verdict(set))
}

fn power((exponent, sd): (f64, f64)) -> String {
    let sd = if sd.is_finite() { significant(sd, 2) } else { "not known".to_owned() };
    format!("−{} (standard error {sd})", short(exponent, 4))
}

/// What the molar product says: the exponent, and how far from the ideal line.
fn molar_verdict(set: &WaldenOfSet) -> String {
    let mut words = String::new();
    if let Some(exponent) = set.walden.molar_exponent {
        words = format!(" Molar conductivity goes as viscosity to the power {}.", power(exponent));
    }
    let shares: Vec<f64> = set.walden.points.iter().filter_map(WaldenPoint::beside_ideal).collect();
    let (low, high) =
        shares.iter().fold((f64::INFINITY, 0.0f64), |(low, high), own| (low.min(*own), high.max(*own)));
    if shares.is_empty() {
        return words;
    }
    let percent = |own: f64| significant(100.0 * own, 2);
    let reach = if percent(low) == percent(high) {
        percent(low)
    } else {
        format!("{} to {}", percent(low), percent(high))
    };
    format!("{words} The molar product is {reach} % of that of the ideal line.")
}

fn table(view: &WaldenView) -> Table {
    let (several, molar) = (1 < view.sets.len(), view.is_molar());
    let mut columns: Vec<Column> = several.then(|| column("Liquid").key("liquid")).into_iter().collect();
    columns.extend([
        column("Temperature").unit("°C").key("temperature_c").decimal(),
        column("Conductivity").unit("mS/cm").key("conductivity_ms_per_cm").decimal(),
        column("Viscosity").unit("mPa·s").key("viscosity_mpa_s").decimal(),
        column("Product").unit("mS/cm · mPa·s").key("product").decimal(),
    ]);
    if molar {
        columns.extend([
            column("Density").unit("g/mL").key("density_g_per_ml").decimal(),
            column("Molar conductivity").unit("S cm²/mol").key("molar_s_cm2_per_mol").decimal(),
            column("Of the ideal line").unit("%").key("of_ideal_percent").decimal(),
        ]);
    }
    let mut table = Table::new(columns);
    for (set, own) in view.points() {
        let mut cells: Vec<String> = several.then(|| set.name.clone()).into_iter().collect();
        cells.extend([
            short(own.temperature.celsius(), 5),
            significant(own.conductivity, 4),
            significant(own.viscosity, 4),
            significant(own.product(), 4),
        ]);
        let known = |value: Option<f64>, digits| {
            value.map_or("not known".to_owned(), |value| significant(value, digits))
        };
        if molar {
            let share = own.beside_ideal().map(|own| 100.0 * own);
            cells.extend([known(own.density, 5), known(own.molar, 4), known(share, 3)]);
        }
        table.push(cells);
    }
    table
}

/// The points of a liquid; its look where there are several.
fn points_of(view: &WaldenView, at: usize, points: Vec<(f64, f64)>) -> Mark {
    let mark = Mark::points(points, Series(at).shape(), label(view, &view.sets[at]));
    if 1 < view.sets.len() { mark.of(Series(at)) } else { mark }
}

/// Its name where there are several.
fn label<'s>(view: &WaldenView, set: &'s WaldenOfSet) -> &'s str {
    if 1 < view.sets.len() { &set.name } else { "" }
}

fn products(view: &WaldenView) -> Chart {
    let mut chart = Chart::new(
        Axis::new("temperature (°C)"),
        Axis::new("conductivity · viscosity (mS/cm · mPa·s)"),
        "Walden's product against temperature",
    );
    for (at, set) in view.sets.iter().enumerate() {
        let points = set.walden.points.iter().map(|own| (own.temperature.celsius(), own.product()));
        chart = chart.with(points_of(view, at, points.collect()));
    }
    chart.caption("Level where Walden's rule holds.")
}

/// log Λ against log(1/η), the ideal line beside it.
fn walden_plot(view: &WaldenView) -> Chart {
    let place = |own: &WaldenPoint| Some(((MPA_S_IN_POISE / own.viscosity).log10(), own.molar?.log10()));
    let all: Vec<(f64, f64)> = view.points().filter_map(|(_, own)| place(own)).collect();
    let across = |from: f64, of: fn(f64, f64) -> f64| all.iter().map(|(x, _)| *x).fold(from, of);
    let (low, high) = (across(f64::INFINITY, f64::min), across(f64::NEG_INFINITY, f64::max));
    let margin = 0.1 * (high - low).max(0.1);
    let above = (IDEAL_PRODUCT / MPA_S_IN_POISE).log10();
    let ends = [low - margin, high + margin].map(|x| (x, x + above));
    let mut chart = Chart::new(
        Axis::new("log₁₀ of 1/viscosity (1/P)"),
        Axis::new("log₁₀ of molar conductivity (S cm²/mol)"),
        "molar conductivity against fluidity, both logarithmic, beside the ideal line",
    )
    .with(Mark::line(ends.to_vec(), Stroke::Dashed, "ideal"));
    for (at, set) in view.sets.iter().enumerate() {
        let points: Vec<_> = set.walden.points.iter().filter_map(place).collect();
        if !points.is_empty() {
            chart = chart.with(points_of(view, at, points));
        }
    }
    chart.caption("Dashed: the ideal line; below it, less charge moves than the viscosity would let through.")
}
