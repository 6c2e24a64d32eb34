//! Walden's product.

use crate::compose::curve::{Series, Walden};
use crate::input::Warning;
use crate::quantity::significant;
use crate::report::document::{
    Axis, Caution, Chart, Document, Mark, Shape, Table, column, muted, paragraph, strong,
};
use crate::report::view::short;

/// Everything that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct WaldenView {
    /// The liquid as it was named.
    pub liquid: Option<String>,
    /// The pairs.
    pub walden: Walden,
    /// Where conductivities come from.
    pub conductivities: Vec<Series>,
    /// Where viscosities come from.
    pub viscosities: Vec<Series>,
    /// What to know beside it.
    pub warnings: Vec<Warning>,
}

/// The whole answer.
pub fn walden_document(view: &WaldenView) -> Document {
    let of = view.liquid.as_ref().map_or(String::new(), |liquid| format!(" of {liquid}"));
    let mut document = Document::new(format!("Walden's product{of}"));
    document.push(paragraph(strong(verdict(view))));
    if !view.walden.points.is_empty() {
        document.push(table(view));
    }
    if 2 < view.walden.points.len() {
        document.push(chart(view));
    }
    document.extend(view.warnings.iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(paragraph(muted(
        "Conductivity times viscosity, as measured: the molar product is this over the concentration of charge, which needs \
         a density and a choice of what carries it. Pairs are values at the same temperature.",
    )));
    document
}

fn verdict(view: &WaldenView) -> String {
    match (view.walden.points.len(), view.walden.exponent) {
        (0, _) => "No conductivity and viscosity were measured at the same temperature.".to_owned(),
        (count, None) => format!("{count} pairs: too few to say how conductivity follows viscosity."),
        (_, Some((exponent, sd))) => format!(
            "Conductivity goes as viscosity to the power −{} (standard error {}); −1 is Walden's rule.",
            short(exponent, 4),
            if sd.is_finite() { significant(sd, 2) } else { "not known".to_owned() }
        ),
    }
}

fn table(view: &WaldenView) -> Table {
    let mut table = Table::new([
        column("Temperature").unit("°C").key("temperature_c").decimal(),
        column("Conductivity").unit("mS/cm").key("conductivity_ms_per_cm").decimal(),
        column("Viscosity").unit("mPa·s").key("viscosity_mpa_s").decimal(),
        column("Product").unit("mS/cm · mPa·s").key("product").decimal(),
    ]);
    for own in &view.walden.points {
        table.push([
            short(own.temperature.celsius(), 5),
            significant(own.conductivity, 4),
            significant(own.viscosity, 4),
            significant(own.product(), 4),
        ]);
    }
    table
}

fn chart(view: &WaldenView) -> Chart {
    let points = view.walden.points.iter().map(|own| (own.temperature.celsius(), own.product())).collect();
    Chart::new(
        Axis::new("temperature (°C)"),
        Axis::new("conductivity · viscosity (mS/cm · mPa·s)"),
        "Walden's product against temperature",
    )
    .with(Mark::points(points, Shape::Hollow, ""))
    .caption("Level where Walden's rule holds.")
}
