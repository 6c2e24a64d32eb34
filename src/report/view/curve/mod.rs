//! Property curves: what they have at the temperatures asked for, the picture, the parameters, where the points end.

mod liquid;
mod measured;
mod picture;
mod verdict;
mod walden;
mod warnings;
mod words;

pub use liquid::Liquid;
pub use measured::measured_at;
pub use walden::{WaldenOfSet, WaldenView, walden_document};
use words::beyond_words;
pub use words::{curve_law, curve_parameters, curve_silence};

use crate::compose::curve::{CurveRefusal, PropertyCurve, Series};
use crate::input::Warning;
use crate::quantity::{MassFraction, Property, Temperature, significant, to_digits_of};
use crate::report::document::{Caution, Document, Table, column, heading, muted, paragraph, strong};
use crate::report::view::short;
use crate::statistics::curve_fit::{Band, Form};

/// A series with its curve, or why it has none.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedSeries {
    /// The series.
    pub series: Series,
    /// The curve.
    pub curve: Result<PropertyCurve, CurveRefusal>,
    /// True if it is all series of a liquid together.
    pub is_together: bool,
}

impl FittedSeries {
    /// Its curve, if the points tell one.
    pub fn told(&self) -> Option<&PropertyCurve> {
        self.curve.as_ref().ok().filter(|curve| curve.identifiable)
    }
}

/// Everything that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveView {
    /// The property.
    pub property: Property,
    /// The liquid as it was named, if values are published ones.
    pub liquid: Option<String>,
    /// The law.
    pub form: Form,
    /// The series liquid by liquid, all of a liquid together behind its own where there are several.
    pub series: Vec<FittedSeries>,
    /// The file and its column of names, where that makes several series.
    pub by: Option<(String, String)>,
    /// The temperatures asked for.
    pub at: Vec<Temperature>,
    /// The water asked for.
    pub water: Option<MassFraction>,
    /// Confidence of intervals.
    pub confidence: f64,
    /// What to know beside it, from reading.
    pub warnings: Vec<Warning>,
}

impl CurveView {
    /// The curves that mean something, with their series.
    pub fn curves(&self) -> impl Iterator<Item = (&Series, &PropertyCurve)> {
        self.series.iter().filter_map(|own| Some((&own.series, own.told()?)))
    }

    /// True if a temperature that was asked for gets neither a curve's value nor a measured one; without any, if there is no
    /// curve.
    pub fn is_silent(&self) -> bool {
        let no_head = |liquid: &Liquid<'_>| {
            let silent = |at: &Temperature| {
                let no_value = |curve: &PropertyCurve| curve.at(at.kelvin(), self.water()).is_err();
                liquid.head(self, *at).map_or_else(|| !measured::is_measured(liquid, *at), no_value)
            };
            self.at.iter().any(silent)
        };
        (self.at.is_empty() && self.curves().next().is_none()) || self.liquids().iter().any(no_head)
    }

    /// The water asked for, as a mass fraction.
    pub fn water(&self) -> Option<f64> {
        self.water.map(MassFraction::get)
    }

    /// Those of reading and those of the curves.
    pub fn all_warnings(&self) -> Vec<Warning> {
        self.warnings.iter().cloned().chain(warnings::warnings(self)).collect()
    }
}

/// The whole answer. The first table is what was asked for, else the parameters.
pub fn curve_document(view: &CurveView) -> Document {
    let of = view.liquid.as_ref().map_or(String::new(), |liquid| format!(" of {liquid}"));
    let mut document =
        Document::new(format!("{}{of} against temperature", words::capital(view.property.id())));
    document.extend(verdict::verdicts(view).into_iter().map(|words| paragraph(strong(words))));
    let is_measured = |at: &Temperature| view.series.iter().any(|own| !measured_at(own, *at).is_empty());
    if view.curves().next().is_some() || view.at.iter().any(is_measured) {
        document.extend((!view.at.is_empty()).then(|| places(view)));
    }
    document.push(picture::chart(view));
    if view.curves().next().is_some() {
        document.push(heading(1, format!("The law: {}", curve_law(view))));
        document.push(parameters(view));
    }
    document.push(heading(1, "What it rests on"));
    document.push(sources(view));
    document.extend(view.all_warnings().iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(paragraph(muted(
        "Intervals by Student's t. Of a series by itself they come from its scatter about its own curve. All together is one \
         law whose shape comes from within the series and whose level is the mean of theirs, each counted once; its interval \
         holds what the series differ by. Values of a source are not independent of one another, so all intervals are the \
         least that is to be expected.",
    )));
    document
}

fn places(view: &CurveView) -> Table {
    let percent = short(100.0 * view.confidence, 3);
    let mut table = Table::new([
        column("At").unit("°C").key("temperature_c").decimal(),
        column("Series").key("series"),
        column(words::capital(view.property.id())).unit(view.property.unit()).key("value").decimal(),
        column(format!("Curve, {percent} %")).key("mean"),
        column("One further value").key("further").if_room(),
        column("").key("beyond"),
    ]);
    for at in &view.at {
        for (series, curve) in view.curves() {
            let band = match curve.at(at.kelvin(), view.water()) {
                Ok(band) => band,
                Err(silence) => {
                    let why = curve_silence(view, silence);
                    let none = || "–".to_owned();
                    table.push([short(at.celsius(), 5), series.name.clone(), none(), none(), none(), why]);
                    continue;
                }
            };
            table.push([
                short(at.celsius(), 5),
                series.name.clone(),
                value(band.y, &band),
                pair(band.mean, &band),
                pair(band.further, &band),
                beyond_words(curve.beyond(at.kelvin(), view.water())),
            ]);
        }
        for (name, values, why) in measured::rows(view, *at) {
            let none = || "–".to_owned();
            table.push([short(at.celsius(), 5), name.to_owned(), values, none(), none(), why]);
        }
    }
    table
}

/// To the digits of the curve's own uncertainty, or four where there is none.
fn value(value: f64, band: &Band) -> String {
    let sd = (band.mean.1 - band.mean.0) / 4.0;
    if sd.is_finite() && 1e-6 * value.abs() < sd { to_digits_of(value, sd, 3) } else { significant(value, 5) }
}

fn pair((low, high): (f64, f64), band: &Band) -> String {
    if low.is_finite() && high.is_finite() {
        format!("{} to {}", value(low, band), value(high, band))
    } else {
        "not known".to_owned()
    }
}

fn parameters(view: &CurveView) -> Table {
    let mut table = Table::new([
        column("Series").key("series"),
        column("Parameter").key("parameter"),
        column("Value").key("value").decimal(),
        column("Standard error").key("sd").decimal(),
        column("Unit").key("unit"),
    ]);
    for (series, curve) in view.curves() {
        for (name, own) in curve_parameters(view, curve) {
            let digits = if own.sd.is_finite() && 0.0 < own.sd && 1e-8 < own.sd {
                to_digits_of(own.value, own.sd, 6)
            } else {
                significant(own.value, 6)
            };
            let sd = if own.sd.is_finite() { significant(own.sd, 2) } else { "not known".to_owned() };
            let unit = words::unit_of(view, name);
            table.push([series.name.clone(), name.to_owned(), digits, sd, unit]);
        }
    }
    table
}

fn sources(view: &CurveView) -> Table {
    let mut table = Table::new([
        column("Series").key("series"),
        column("Points").key("points").right(),
        column("From").unit("°C").key("from_c").decimal(),
        column("To").unit("°C").key("to_c").decimal(),
        column("Water").unit("wt%").key("water"),
        column("Scatter").key("scatter"),
        column("Remarks").key("remarks").if_room(),
    ]);
    for own in &view.series {
        let (low, high) = own.series.kelvins();
        let celsius = |kelvin: f64| {
            if kelvin.is_finite() {
                short(Temperature::from_kelvin(kelvin).celsius(), 4)
            } else {
                String::new()
            }
        };
        table.push([
            own.series.name.clone(),
            own.series.points.len().to_string(),
            celsius(low),
            celsius(high),
            words::water_of(&own.series),
            words::scatter(own, view),
            words::remarks(own),
        ]);
    }
    table
}
