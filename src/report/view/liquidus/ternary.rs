//! Three components: the triangle with its isotherms, and the eutectics inside and on its edges.

use super::words::{
    self, celsius, celsius_range, degrees, depth, fraction, fraction_range, ideal_lowest, label_of,
};
use super::{LiquidusView, set_names};
use crate::compose::liquidus::{
    Invariant, LiquidRange, LiquidusPoint, Prediction, Region, Shape, Surface, Ternary,
};
use crate::report::document::{
    Column, Document, Figure, Shape as Sign, Stroke, Table, column, heading, paragraph,
};
use crate::report::triangle::{Field, Place, Triangle, TriangleMark, isolines};
use crate::report::view::short;

/// Most isotherms.
const ISOTHERMS: usize = 9;

/// What is shown of three components.
pub(super) fn push(view: &LiquidusView, document: &mut Document) {
    let eutectics = eutectics(view);
    if !eutectics.rows().is_empty() {
        document.push(eutectics);
    }
    for (prediction, ternary) in each(view) {
        if 1 < view.predictions.len() {
            document.push(heading(1, format!("With {}", label_of(view, prediction))));
        }
        document.push(triangle(view, prediction, ternary));
        if let (Some(at), Some(region)) = (view.question.liquid_at, &ternary.region) {
            document.push(paragraph(liquid_line(at.kelvin(), region, ternary, view)));
            document.extend(ends(view, region, ternary));
        }
    }
    document.extend(words::glass_line(view).map(paragraph));
    *document = std::mem::replace(document, Document::new("")).with_data(data(view));
}

fn each(view: &LiquidusView) -> impl Iterator<Item = (&Prediction, &Ternary)> {
    view.predictions.iter().filter_map(|own| match &own.shape {
        Shape::Ternary(ternary) => Some((own, ternary)),
        Shape::Binary(_) => None,
    })
}

fn liquid_line(kelvin: f64, region: &Region, ternary: &Ternary, view: &LiquidusView) -> String {
    if region.ranges.is_empty() {
        let lowest = ternary.surface.eutectics.first();
        let lowest = lowest
            .map(|own| format!(": the lowest liquidus is that of {}", degrees(own.temperature.kelvin())));
        return format!(
            "No composition stays liquid down to {}{}.{}",
            degrees(kelvin),
            lowest.unwrap_or_default(),
            how_sure(ternary)
        );
    }
    let ranges = view.components.iter().zip(&region.ranges);
    let ranges =
        ranges.map(|(own, range)| format!("{} {} to {}", own.name, fraction(range.from), fraction(range.to)));
    let share = if region.share <= 0.0 {
        "Less than one place of the 1 % grid".to_owned()
    } else {
        format!("About {} % of all compositions, counted on a 1 % grid,", short(100.0 * region.share, 2))
    };
    let is_glass = view.question.liquid_at.is_some_and(|at| view.is_glass(at));
    let inside = if is_glass { "" } else { ", inside the dashed line" };
    format!(
        "{share} are predicted to stay one liquid down to {}{inside}: {}.{}",
        degrees(kelvin),
        ranges.collect::<Vec<_>>().join(", "),
        how_sure(ternary)
    )
}

/// What the uncertainty of the data says of a window.
fn how_sure(ternary: &Ternary) -> String {
    let Some(spread) = &ternary.region_spread else {
        return " No uncertainty is stated, so the limits look sharper than they are.".to_owned();
    };
    let share = short(100.0 * spread.with_region, 3);
    format!(" {share} % of {} draws have such compositions.", spread.draws)
}

/// How far each component reaches, by the data as they stand and by draws.
fn ends(view: &LiquidusView, region: &Region, ternary: &Ternary) -> Option<Table> {
    let spread = ternary.region_spread.as_ref().filter(|own| own.ranges.len() == view.components.len())?;
    let band = format!("{} % of the draws that have any", short(100.0 * view.question.coverage, 3));
    let table = Table::new([
        column("Mole fraction of").key("component"),
        column("From").key("from").decimal(),
        column("To").key("to").decimal(),
        column("From, by draws").key("from_band"),
        column("To, by draws").key("to_band"),
    ])
    .caption(format!("Ends of the window, by the data as they stand and in {band}"));
    let rows = view.components.iter().zip(&spread.ranges).enumerate();
    Some(rows.fold(table, |mut table, (at, (own, (from, to)))| {
        let end = |of: fn(&LiquidRange) -> f64| {
            region.ranges.get(at).map_or("none".to_owned(), |own| fraction(of(own)))
        };
        table.push([
            own.name.clone(),
            end(|own| own.from),
            end(|own| own.to),
            fraction_range(from),
            fraction_range(to),
        ]);
        table
    }))
}

/// Where so many of the draws stay liquid at the temperature asked for: in all but a few, and in hardly any.
fn reaches(view: &LiquidusView, ternary: &Ternary) -> Vec<Vec<Place>> {
    let shown = view.question.liquid_at.is_some_and(|at| !view.is_glass(at));
    let Some(spread) = ternary.region_spread.as_ref().filter(|_| shown) else { return Vec::new() };
    let field = Field::new(spread.steps, spread.shares.iter().copied().map(Some).collect());
    tails(view).into_iter().flat_map(|share| isolines(&field, share)).collect()
}

/// Shares of the draws at the ends of a band.
fn tails(view: &LiquidusView) -> [f64; 2] {
    [(1.0 - view.question.coverage) / 2.0, (1.0 + view.question.coverage) / 2.0]
}

/// "of three", with what a glass does to it.
fn kind(view: &LiquidusView, of: &str, own: &Invariant) -> String {
    if view.is_glass(own.temperature) { format!("{of} (glass)") } else { of.to_owned() }
}

fn eutectics(view: &LiquidusView) -> Table {
    let several = 1 < view.predictions.len();
    let banded = each(view).any(|(_, ternary)| ternary.spread.is_some());
    let compared = each(view).any(|(own, _)| !own.case.system.model.is_ideal());
    let mut columns: Vec<Column> =
        several.then(|| column("Fusion data").key("fusion_data")).into_iter().collect();
    columns.push(column("Eutectic").key("kind"));
    columns
        .extend(view.components.iter().map(|own| column(own.name.as_str()).key(own.id.as_str()).decimal()));
    columns.push(column("Temperature").unit("°C").key("temperature_c").decimal());
    let band = format!("{} % of draws", short(100.0 * view.question.coverage, 3));
    columns.extend(banded.then(|| column(band).unit("°C").key("band_c")));
    columns.extend(compared.then(|| column("Against ideal").unit("K").key("depression_k").right()));
    let mut table = Table::new(columns);
    for (at, (prediction, ternary)) in each(view).enumerate() {
        let name = set_names(view)[at].clone();
        for (place, own) in ternary.surface.eutectics.iter().filter(|own| !own.splits).enumerate() {
            let mut cells: Vec<String> = several.then(|| name.clone()).into_iter().collect();
            cells.push(kind(view, "of three", own));
            cells.extend(own.fractions.iter().map(|share| fraction(*share)));
            cells.push(celsius(own.temperature.kelvin()));
            let spread = ternary.spread.as_ref().filter(|_| place == 0);
            cells.extend(banded.then(|| spread.map_or(String::new(), |own| celsius_range(&own.temperature))));
            let below = ideal_lowest(prediction).map(|ideal| depth(ideal - own.temperature.kelvin()));
            cells.extend(compared.then(|| below.unwrap_or_default()));
            table.push(cells);
        }
        for ((one, other), diagram) in &ternary.edges {
            for own in diagram.eutectics() {
                let mut cells: Vec<String> = several.then(|| name.clone()).into_iter().collect();
                cells.push(kind(view, "of two", own));
                cells.extend((0..3).map(|at| match at {
                    at if at == *one => fraction(own.fractions[0]),
                    at if at == *other => fraction(own.fractions[1]),
                    _ => String::new(),
                }));
                cells.push(celsius(own.temperature.kelvin()));
                cells.extend(banded.then(String::new));
                cells.extend(compared.then(String::new));
                table.push(cells);
            }
        }
    }
    table
}

fn triangle(view: &LiquidusView, prediction: &Prediction, ternary: &Ternary) -> Figure {
    let names: [String; 3] = std::array::from_fn(|at| view.components[at].name.clone());
    let description = format!(
        "predicted liquidus of {}, isotherms in °C",
        super::words::listed(&names.each_ref().map(String::as_str))
    );
    let drawn = |point: &LiquidusPoint| {
        !point.splits
            && point.untold.is_empty()
            && !view.is_glass(point.temperature)
            && view.decomposing(&point.fractions, point.temperature).is_none()
    };
    let values =
        ternary.surface.lattice.iter().map(|point| {
            point.as_ref().filter(|point| drawn(point)).map(|point| point.temperature.celsius())
        });
    let field = Field::new(ternary.surface.steps, values.collect()).round_levels(ISOTHERMS).unit("°C");
    let asked = view.question.liquid_at.filter(|at| !view.is_glass(*at));
    let dashed = asked.map(|at| isolines(&field, at.celsius())).unwrap_or_default();
    let mut triangle = Triangle::new(names, description).with_field(field);
    for line in fields(prediction, &ternary.surface, &drawn) {
        triangle = triangle.with(TriangleMark::line(line, Stroke::Strong));
    }
    for line in dashed {
        triangle = triangle.with(TriangleMark::line(line, Stroke::Dashed));
    }
    let reaches = reaches(view, ternary);
    let grid = ternary.region_spread.as_ref().filter(|_| !reaches.is_empty()).map(|own| own.steps);
    let caption = caption(view, grid);
    for line in reaches {
        triangle = triangle.with(TriangleMark::line(line, Stroke::Dotted));
    }
    let is_drawn = |own: &&Invariant| !own.splits && !view.is_glass(own.temperature);
    for own in ternary.surface.eutectics.iter().filter(is_drawn) {
        let place: Place = std::array::from_fn(|at| own.fractions[at]);
        let label = format!("{} °C", celsius(own.temperature.kelvin()));
        triangle = triangle.with(TriangleMark::points(vec![place], Sign::Filled, label));
    }
    let edges =
        ternary.edges.iter().flat_map(|(pair, diagram)| diagram.eutectics().map(move |own| (pair, own)));
    for ((one, other), own) in edges.filter(|(_, own)| is_drawn(own)) {
        let place: Place = std::array::from_fn(|at| match at {
            at if at == *one => own.fractions[0],
            at if at == *other => own.fractions[1],
            _ => 0.0,
        });
        triangle = triangle.with(TriangleMark::points(vec![place], Sign::Hollow, ""));
    }
    triangle.caption(caption).figure()
}

fn caption(view: &LiquidusView, grid: Option<usize>) -> String {
    let mut words = "Isotherms of the liquidus in °C, dark where it is low. Thick lines part the fields of the first solid; ● the \
                     eutectic of three, ○ those of two."
        .to_owned();
    if let (Some(steps), Some(at)) = (grid, view.question.liquid_at) {
        let [few, most] = tails(view).map(|share| short(100.0 * share, 3));
        words.push_str(&format!(
            " Dotted in the drawing: within the inner line {most} % of the draws or more are liquid at {}, beyond the outer \
             one less than {few} %, counted on a {} % grid.",
            degrees(at.kelvin()),
            short(100.0 / steps as f64, 3)
        ));
    }
    words
}

/// Where two solids come out together: zero lines of the difference between a solid's own saturation and the highest
/// of the others.
fn fields(
    prediction: &Prediction,
    surface: &Surface,
    is_drawn: &dyn Fn(&LiquidusPoint) -> bool,
) -> Vec<Vec<Place>> {
    let system = &prediction.case.system;
    let mut lines = Vec::new();
    // The last solid's borders are those of the others.
    for solid in 0..system.solids.len().saturating_sub(1) {
        let lead = |point: &LiquidusPoint| {
            let own = system.saturation(solid, &point.fractions).unwrap_or(0.0);
            let later = (solid + 1..system.solids.len())
                .filter_map(|other| system.saturation(other, &point.fractions));
            let earlier =
                (0..solid).filter_map(|other| system.saturation(other, &point.fractions)).fold(0.0, f64::max);
            let later = later.fold(0.0, f64::max);
            // Where an earlier solid leads, this border is not one of the liquidus.
            (own.max(later) >= earlier).then_some(own - later)
        };
        let values =
            surface.lattice.iter().map(|point| point.as_ref().filter(|own| is_drawn(own)).and_then(lead));
        lines.extend(isolines(&Field::new(surface.steps, values.collect()), 0.0));
    }
    lines
}

/// Every place for scripts.
fn data(view: &LiquidusView) -> Table {
    let several = 1 < view.predictions.len();
    let mut columns: Vec<Column> = several.then(|| column("").key("set")).into_iter().collect();
    columns.extend(view.components.iter().map(|own| column("").key(format!("x_{}", own.id))));
    columns.extend([column("").key("temperature_k"), column("").key("solid"), column("").key("two_liquids")]);
    let mut table = Table::new(columns);
    for (at, (prediction, ternary)) in each(view).enumerate() {
        for point in ternary.surface.lattice.iter().flatten() {
            let mut cells: Vec<String> = several.then(|| (at + 1).to_string()).into_iter().collect();
            cells.extend(point.fractions.iter().map(|share| short(*share, 10)));
            // Where there are two liquids, what one would do is no equilibrium.
            cells.push(if point.splits { String::new() } else { short(point.temperature.kelvin(), 10) });
            cells.push(prediction.case.system.solids[point.solid].name.clone());
            cells.push(if point.splits { "yes" } else { "no" }.to_owned());
            table.push(cells);
        }
    }
    table
}
