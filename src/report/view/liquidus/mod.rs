//! The predicted liquidus: eutectics first, then the picture, then what it rests on and where it ends.

mod basis;
mod binary;
mod fit_notes;
mod measured;
mod notes;
mod origin;
mod ternary;
mod words;

use crate::compose::liquidus::{Case, Prediction, Question, Shape};
use crate::input::Warning;
use crate::quantity::Temperature;
use crate::report::document::{Caution, Document, heading, muted, paragraph, strong};

pub use origin::{LiquidusOrigin, LiquidusWater};
pub use words::set_names as liquidus_set_names;
use words::set_names;

/// A component of the liquid, as far as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct LiquidusComponent {
    /// Its id.
    pub id: String,
    /// Its name in words.
    pub name: String,
    /// What heat does to it.
    pub heat: Vec<LiquidusHeat>,
    /// What the table remarks, where published data disagree.
    pub note: Option<String>,
    /// Transitions between solids whose enthalpy is not known.
    pub without_enthalpy: Vec<Temperature>,
}

/// What happens to a component on heating.
#[derive(Debug, Clone, PartialEq)]
pub struct LiquidusHeat {
    /// From this temperature.
    pub from: Temperature,
    /// What happens.
    pub what: String,
    /// The source.
    pub source: String,
}

/// Everything that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct LiquidusView {
    /// The components in their order.
    pub components: Vec<LiquidusComponent>,
    /// One prediction for each set of published data.
    pub predictions: Vec<Prediction>,
    /// What was asked.
    pub question: Question,
    /// A measured glass transition.
    pub glass: Option<Temperature>,
    /// Where each measured point comes from, in the order of the question's points.
    pub origins: Vec<LiquidusOrigin>,
    /// What to know beside it, from reading.
    pub warnings: Vec<Warning>,
}

impl LiquidusView {
    /// True if nothing is predicted to stay liquid where that was asked, or a fit means nothing.
    pub fn is_no(&self) -> bool {
        let dry = self.question.liquid_at.is_some()
            && self.predictions.iter().all(|own| match &own.shape {
                Shape::Binary(binary) => binary.windows.is_empty(),
                Shape::Ternary(ternary) => ternary.region.as_ref().is_none_or(|own| own.ranges.is_empty()),
            });
        dry || self.predictions.iter().any(|own| own.fit.as_ref().is_some_and(|fit| !fit.identifiable))
    }

    /// Those of reading and those of the predictions.
    pub fn all_warnings(&self) -> Vec<Warning> {
        let own = notes::warnings(self);
        self.warnings.iter().cloned().chain(own).collect()
    }

    /// True where a liquid sets as a glass by the measured transition.
    pub fn is_glass(&self, at: Temperature) -> bool {
        self.glass.is_some_and(|glass| at < glass)
    }

    /// The component of a liquid that decomposes there, below its own melting point.
    pub fn decomposing(&self, fractions: &[f64], at: Temperature) -> Option<usize> {
        let limits = notes::decomposing(self).into_iter();
        limits.filter(|(own, from)| 0.0 < fractions[*own] && *from < at.celsius()).map(|(own, _)| own).next()
    }

    fn first(&self) -> Option<&Case> {
        self.predictions.first().map(|prediction| &prediction.case)
    }
}

/// The whole answer. Its table for scripts is the curve, or the surface, point by point.
pub fn liquidus_document(view: &LiquidusView) -> Document {
    let names: Vec<&str> = view.components.iter().map(|own| own.name.as_str()).collect();
    let mut document = Document::new(format!("Predicted liquidus: {}", words::listed(&names)));
    document.push(paragraph(strong(words::verdict(view))));
    match view.components.len() {
        3 => ternary::push(view, &mut document),
        _ => binary::push(view, &mut document),
    }
    document.push(heading(1, "What it rests on"));
    document.push(basis::model(view));
    document.push(basis::pure(view));
    document.extend(view.all_warnings().iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(paragraph(muted(words::CONVENTIONS)));
    document
}
