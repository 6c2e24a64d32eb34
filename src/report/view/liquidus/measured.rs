//! The measured points beside the curves: how deep each lies below an ideal liquid, and what water has to do with it.

use super::LiquidusView;
use super::binary::{each, set, several};
use super::words::{celsius, depth, fraction};
use crate::compose::liquidus::{Prediction, Residual};
use crate::report::document::{Column, Document, Table, column, heading};
use crate::report::view::short;

/// The points one by one, if there are any.
pub(super) fn push(view: &LiquidusView, document: &mut Document) {
    if view.question.points.is_empty() {
        return;
    }
    document.push(heading(1, "Measured points"));
    document.push(table(view));
}

/// Which columns have anything in them.
struct Columns {
    modelled: bool,
    water: bool,
    method: bool,
}

fn table(view: &LiquidusView) -> Table {
    let own = Columns {
        modelled: each(view).any(|(_, own, _)| !own.case.system.model.is_ideal()),
        water: view.origins.iter().any(|own| own.water.is_some()),
        method: view.origins.iter().any(|own| own.method.is_some()),
    };
    let mut columns: Vec<Column> =
        several(view).then(|| column("Fusion data").key("fusion_data")).into_iter().collect();
    columns.extend([
        column("From").key("from"),
        column(format!("Mole fraction of {}", view.components[0].name)).key("fraction").decimal(),
        column("Measured").unit("°C").key("measured_c"),
        column("Ideal").unit("°C").key("ideal_c").decimal(),
        column("Against ideal").unit("K").key("below_ideal_k").right(),
    ]);
    columns.extend(own.modelled.then(|| column("Curve above it").unit("K").key("curve_above_k").decimal()));
    columns.extend(own.water.then(|| column("Water").unit("wt%").key("water")));
    columns.extend(own.water.then(|| column("Ideal, by this water").unit("K").key("by_water_k").decimal()));
    columns.extend(own.method.then(|| column("Seen").key("method").if_room()));
    let mut table = Table::new(columns);
    for (at, prediction, binary) in each(view) {
        for (place, residual) in binary.residuals.iter().enumerate() {
            let mut cells: Vec<String> = several(view).then(|| set(at)).into_iter().collect();
            cells.extend(row(view, prediction, (place, residual), &own));
            table.push(cells);
        }
    }
    table
}

fn row(
    view: &LiquidusView,
    prediction: &Prediction,
    (place, residual): (usize, &Residual),
    columns: &Columns,
) -> Vec<String> {
    let (point, origin) = (residual.point, view.origins.get(place));
    let measured = celsius(point.temperature.kelvin());
    let spread = origin.and_then(|own| own.uncertainty_k);
    let mut cells = vec![
        origin.map_or(String::new(), |own| own.name.clone()),
        fraction(point.fraction),
        spread.map_or_else(|| measured.clone(), |spread| format!("{measured} ± {}", short(spread, 2))),
        known(point.temperature.kelvin() + residual.ideal_k),
        if residual.ideal_k.is_finite() { depth(residual.ideal_k) } else { "no datum".to_owned() },
    ];
    cells.extend(columns.modelled.then(|| known(273.15 + residual.model_k)));
    let water = origin.and_then(|own| own.water);
    cells.extend(columns.water.then(|| {
        water.map_or("not known".to_owned(), |own| {
            let by = if own.titrated { "" } else { ", not titrated" };
            format!("{}{by}", short(own.fraction.percent(), 2))
        })
    }));
    let lowered = water.and_then(|own| {
        let x = [point.fraction, 1.0 - point.fraction];
        prediction.case.system.lowered_by_dilution(&x, own.mole_fraction)
    });
    cells.extend(columns.water.then(|| lowered.map_or(String::new(), |by| celsius(273.15 + by))));
    cells.extend(columns.method.then(|| origin.and_then(|own| own.method.clone()).unwrap_or_default()));
    cells
}

/// Kelvins as degrees; nothing where there is no curve.
fn known(kelvin: f64) -> String {
    if kelvin.is_finite() { celsius(kelvin) } else { "no datum".to_owned() }
}
