//! Two components: eutectics, the diagram, the window, the curve.

use super::words::{
    self, celsius, celsius_range, degrees, depth, fraction, fraction_range, ideal_lowest, lowest,
};
use super::{LiquidusView, set_names};
use crate::compose::liquidus::{
    Binary, Invariant, InvariantKind, LiquidusPoint, Prediction, Shape, Spread, Window, WindowSpread,
};
use crate::quantity::Temperature;
use crate::report::document::{
    Axis, Block, Chart, Column, Document, Mark, Series, Shape as Sign, Stroke, Table, column, heading,
    paragraph,
};
use crate::report::view::short;

/// Rows of the curve as people see it.
const SHOWN: usize = 10;

/// What is shown of two components.
pub(super) fn push(view: &LiquidusView, document: &mut Document) {
    let eutectics = eutectics(view);
    if !eutectics.rows().is_empty() {
        document.push(eutectics);
    }
    document.push(chart(view));
    if view.question.liquid_at.is_some() {
        push_windows(view, document);
    }
    super::measured::push(view, document);
    document.push(heading(1, "The curve"));
    document.push(curve(view));
    *document = std::mem::replace(document, Document::new("")).with_data(data(view));
}

pub(super) fn each(view: &LiquidusView) -> impl Iterator<Item = (usize, &Prediction, &Binary)> {
    view.predictions.iter().enumerate().filter_map(|(at, own)| match &own.shape {
        Shape::Binary(binary) => Some((at, own, binary)),
        Shape::Ternary(_) => None,
    })
}

pub(super) fn several(view: &LiquidusView) -> bool {
    1 < view.predictions.len()
}

fn set_column(view: &LiquidusView) -> Option<Column> {
    several(view).then(|| column("Fusion data").key("fusion_data"))
}

/// "set 1", which the chart and the tables use.
pub(super) fn set(at: usize) -> String {
    format!("set {}", at + 1)
}

fn set_cell(view: &LiquidusView, at: usize) -> Option<String> {
    several(view).then(|| format!("{}: {}", set(at), set_names(view)[at]))
}

fn eutectics(view: &LiquidusView) -> Table {
    let first = &view.components[0].name;
    let banded = each(view).any(|(_, _, binary)| binary.bands.is_some());
    let compared = each(view).any(|(_, own, _)| !own.case.system.model.is_ideal());
    let band = format!("{} % of draws", short(100.0 * view.question.coverage, 3));
    let mut columns: Vec<Column> = set_column(view).into_iter().collect();
    columns.extend([
        column("").key("kind"),
        column(format!("Mole fraction of {first}")).key("fraction").decimal(),
        column("Ratio").key("ratio"),
        column("Temperature").unit("°C").key("temperature_c").decimal(),
    ]);
    columns.extend(banded.then(|| column(band).unit("°C").key("band_c")));
    columns.extend(compared.then(|| column("Ideal eutectic").unit("°C").key("ideal_c").decimal()));
    columns.extend(compared.then(|| column("Against ideal").unit("K").key("depression_k").right()));
    let mut table = Table::new(columns);
    for (at, prediction, binary) in each(view) {
        let lowest = lowest(prediction);
        for own in binary.diagram.invariants.iter().filter(|own| !own.splits) {
            let mut cells: Vec<String> = set_cell(view, at).into_iter().collect();
            cells.extend([
                kind(view, own),
                fraction(own.fractions[0]),
                ratio(own),
                celsius(own.temperature.kelvin()),
            ]);
            let is_lowest = lowest == Some(own);
            let spread = binary.bands.as_ref().and_then(|bands| bands.eutectic).filter(|_| is_lowest);
            cells.extend(banded.then(|| spread.map_or(String::new(), |own| celsius_range(&own))));
            let ideal = ideal_lowest(prediction).filter(|_| own.kind == InvariantKind::Eutectic);
            cells.extend(compared.then(|| ideal.map_or(String::new(), celsius)));
            let below = ideal.map(|ideal| depth(ideal - own.temperature.kelvin()));
            cells.extend(compared.then(|| below.unwrap_or_default()));
            table.push(cells);
        }
    }
    table
}

fn kind(view: &LiquidusView, own: &Invariant) -> String {
    let kind = match own.kind {
        InvariantKind::Eutectic => "eutectic",
        InvariantKind::Peritectic => "peritectic",
    };
    if view.is_glass(own.temperature) { format!("{kind} (glass)") } else { kind.to_owned() }
}

/// As the trade writes compositions, with the smaller part as 1.
fn ratio(own: &Invariant) -> String {
    let (one, other) = (own.fractions[0], own.fractions[1]);
    if one <= other { format!("1:{}", short(other / one, 3)) } else { format!("{}:1", short(one / other, 3)) }
}

fn chart(view: &LiquidusView) -> Block {
    let [one, other] = [&view.components[0].name, &view.components[1].name];
    let across = Axis::new(format!("mole fraction of {one} (0: {other})")).from(0.0).to(1.0);
    let description = format!("predicted liquidus of {one} and {other} against composition");
    let mut chart = Chart::new(across, Axis::new("temperature (°C)"), description);
    for (at, _, binary) in each(view) {
        let band = binary.bands.iter().flat_map(|bands| &bands.curve);
        // Of a band that reaches into the glass the part above it is drawn.
        let floor = view.glass.map_or(f64::NEG_INFINITY, Temperature::celsius);
        let band = band.map(|(x, own)| (*x, (own.low - 273.15).max(floor), own.high - 273.15));
        let band: Vec<_> = band.map(|place| below_decomposition(view, place)).collect();
        for piece in band.split(|(_, low, high)| high <= low && *low == floor).filter(|own| 1 < own.len()) {
            for piece in piece.split(|(_, low, high)| high < low).filter(|own| 1 < own.len()) {
                chart = chart.with(of_set(view, at, Mark::band(piece.to_vec(), "")));
            }
        }
    }
    if let (false, Some((_, own, binary))) = (several(view), each(view).next())
        && !own.case.system.model.is_ideal()
    {
        chart = drawn_in_pieces(view, chart, &binary.ideal.points, None, "ideal");
    }
    for (at, _, binary) in each(view) {
        let label = if several(view) { set(at) } else { String::new() };
        chart = drawn_in_pieces(view, chart, &binary.diagram.points, Some(at), &label);
    }
    for (at, _, binary) in each(view) {
        let met = binary.diagram.invariants.iter().filter(|own| !own.splits);
        let met = met.filter(|own| !view.is_glass(own.temperature));
        let met: Vec<_> = met.map(|own| (own.fractions[0], own.temperature.celsius())).collect();
        chart = chart.with(of_set(view, at, Mark::points(met, Sign::Filled, "")));
    }
    levelled(view, measured(view, chart)).caption(caption(view)).into()
}

/// In the look of its set, where there are several.
fn of_set(view: &LiquidusView, at: usize, mark: Mark) -> Mark {
    if several(view) { mark.of(Series(at)) } else { mark }
}

/// A curve as far as it is drawn, its label at the end; that of no set is thin.
fn drawn_in_pieces(
    view: &LiquidusView,
    mut chart: Chart,
    points: &[LiquidusPoint],
    at: Option<usize>,
    label: &str,
) -> Chart {
    let pieces: Vec<Vec<(f64, f64)>> = pieces(view, points);
    let last = pieces.len().saturating_sub(1);
    for (index, piece) in pieces.into_iter().enumerate() {
        let label = if index == last { label } else { "" };
        chart = chart.with(match at {
            Some(at) => of_set(view, at, Mark::line(piece, Stroke::Strong, label)),
            None => Mark::line(piece, Stroke::Thin, label),
        });
    }
    chart
}

/// A band as far as no component decomposes; above all of it where one does.
fn below_decomposition(view: &LiquidusView, (x, low, high): (f64, f64, f64)) -> (f64, f64, f64) {
    let limits = super::notes::decomposing(view).into_iter().filter(|(at, _)| 0.0 < [x, 1.0 - x][*at]);
    (x, low, limits.map(|(_, from)| from).fold(high, f64::min))
}

fn place(point: &LiquidusPoint) -> (f64, f64) {
    (point.fractions[0], point.temperature.celsius())
}

/// The curve without what lies where the liquid comes apart, is a glass or decomposes, or a lower bound.
fn pieces(view: &LiquidusView, points: &[LiquidusPoint]) -> Vec<Vec<(f64, f64)>> {
    let drawn = |point: &LiquidusPoint| {
        !point.splits
            && point.untold.is_empty()
            && !view.is_glass(point.temperature)
            && view.decomposing(&point.fractions, point.temperature).is_none()
    };
    points
        .split(|point| !drawn(point))
        .filter(|piece| 1 < piece.len())
        .map(|piece| piece.iter().map(place).collect())
        .collect()
}

fn measured(view: &LiquidusView, chart: Chart) -> Chart {
    let points = view.question.points.iter();
    let points: Vec<_> = points.map(|point| (point.fraction, point.temperature.celsius())).collect();
    if points.is_empty() { chart } else { chart.with(Mark::points(points, Sign::Hollow, "")) }
}

/// Levels that matter, as far as the curve reaches them.
fn levelled(view: &LiquidusView, mut chart: Chart) -> Chart {
    if let Some(at) = view.question.liquid_at {
        chart = chart.with(Mark::level(at.celsius(), "liquid at"));
    }
    if let Some(glass) = view.glass {
        chart = chart.with(Mark::level(glass.celsius(), "glass"));
    }
    for (_, from) in super::notes::decomposing(view) {
        chart = chart.with(Mark::level(from, "decomposition"));
    }
    chart
}

fn caption(view: &LiquidusView) -> String {
    let mut words = vec!["Above the curve all is liquid; ● eutectics and peritectics.".to_owned()];
    if !view.question.points.is_empty() {
        words.push("○ measured points.".to_owned());
    }
    if each(view).any(|(_, _, binary)| binary.bands.is_some()) {
        words.push(format!(
            "Shaded: {} % of {} draws from the stated uncertainties, seed {}.",
            short(100.0 * view.question.coverage, 3),
            view.question.draws,
            view.question.seed
        ));
    }
    words.join(" ")
}

fn push_windows(view: &LiquidusView, document: &mut Document) {
    let Some(at) = view.question.liquid_at else { return };
    let first = &view.components[0].name;
    document.push(heading(1, format!("Liquid down to {}", degrees(at.kelvin()))));
    let spreads =
        |binary: &Binary| binary.bands.iter().flat_map(|own| own.windows.clone()).collect::<Vec<_>>();
    let banded = each(view).any(|(_, _, own)| spreads(own).iter().any(|own| own.ends.is_some()));
    let shared = banded && each(view).any(|(_, _, own)| 1 < own.windows.len());
    let mut columns: Vec<Column> = set_column(view).into_iter().collect();
    columns.extend([
        column(format!("From, mole fraction of {first}")).key("from").decimal(),
        column("To").key("to").decimal(),
    ]);
    if banded {
        columns.push(column("From, by draws").key("from_band"));
        columns.push(column("To, by draws").key("to_band"));
    }
    columns.extend(shared.then(|| column("In draws").unit("%").key("draws_pct").decimal()));
    let mut table = Table::new(columns);
    let mut lines = Vec::new();
    for (at_set, prediction, binary) in each(view) {
        let spreads = spreads(binary);
        for (place, window) in binary.windows.iter().enumerate() {
            let mut cells: Vec<String> = set_cell(view, at_set).into_iter().collect();
            cells.extend([fraction(window.from), fraction(window.to)]);
            if banded {
                let spread = spreads.get(place).and_then(|own| own.ends);
                cells.push(spread.map_or(String::new(), |own| fraction_range(&own.0)));
                cells.push(spread.map_or(String::new(), |own| fraction_range(&own.1)));
            }
            let share = spreads.get(place).map_or(String::new(), |own| short(100.0 * own.share, 3));
            cells.extend(shared.then_some(share));
            table.push(cells);
        }
        lines.extend(two_liquids_line(view, at_set, binary));
        lines.extend(window_line(view, at_set, prediction, binary));
        lines.extend(number_line(&spreads).filter(|_| !binary.windows.is_empty()));
    }
    if !table.rows().is_empty() {
        document.push(table);
    }
    lines.extend(words::glass_line(view));
    document.extend(lines.into_iter().map(paragraph));
}

/// Which compositions are two liquids at the temperature asked for.
fn two_liquids_line(view: &LiquidusView, at: usize, binary: &Binary) -> Option<String> {
    let ranges = binary.two_liquids.iter();
    let ranges: Vec<String> =
        ranges.map(|own| format!("from {} to {}", fraction(own.from), fraction(own.to))).collect();
    let of = if several(view) { format!("By {}", set(at)) } else { "By these data".to_owned() };
    (!ranges.is_empty()).then(|| {
        format!(
            "{of} there are two liquids {} {}: all of it is liquid, but not one liquid, and it is not in the window.",
            ranges.join(" and "),
            view.components[0].name
        )
    })
}

/// What there is to say of a window: that there is none, or how sure it is.
fn window_line(view: &LiquidusView, at: usize, prediction: &Prediction, binary: &Binary) -> Option<String> {
    let of = if several(view) { format!("By {}", set(at)) } else { "By these data".to_owned() };
    let share = binary.bands.as_ref().map(|bands| format!("{} %", short(100.0 * bands.with_window, 3)));
    if binary.windows.is_empty() && binary.diagram.points.iter().any(|own| !own.untold.is_empty()) {
        let ended = "the curve of a solid ends above it, and nothing tells where that solid comes out";
        return Some(format!("{of} no window can be told: {ended}."));
    }
    if binary.windows.is_empty() {
        let lowest = lowest(prediction).map(|own| degrees(own.temperature.kelvin()));
        let reach =
            lowest.map_or(String::new(), |lowest| format!(": the lowest liquidus is that of {lowest}"));
        let draws = share.map_or(String::new(), |share| format!(" {share} of the draws have one."));
        return Some(format!("{of} no composition stays liquid so far down{reach}.{draws}"));
    }
    Some(match share {
        Some(share) => format!(
            "{of} {share} of the draws have such a window; the limits are those of the draws that do."
        ),
        None => format!("{of} no uncertainty is stated, so the limits look sharper than they are."),
    })
}

/// In how many draws windows are joined or parted.
fn number_line(spreads: &[WindowSpread]) -> Option<String> {
    let share = |share: f64| format!("in {} % of the draws", short(100.0 * share, 3));
    let joined = spreads.iter().map(|own| own.joined).fold(0.0, f64::max);
    let mut words: Vec<String> = Vec::new();
    if 0.0 < joined {
        let they = if spreads.len() == 2 { "they are one" } else { "two or more of them are one" };
        words.push(format!("{} {they}", share(joined)));
    }
    for own in spreads {
        let near = own.parted_near.map_or(String::new(), |x| format!(" near {}", fraction(x)));
        let it = own.ends.filter(|_| 1 < spreads.len());
        let it = it.map_or("it".to_owned(), |(from, _)| format!("that from {}", fraction(from.middle)));
        let each = [(own.parted_by_liquids, "two liquids part"), (own.parted_by_solid, "a solid parts")];
        let each = each.iter().filter(|(part, _)| 0.0 < *part);
        words.extend(each.map(|(part, who)| format!("{} {who} {it}{near}", share(*part))));
    }
    (!words.is_empty()).then(|| {
        let words = words.join("; ");
        format!("I{}. Their draws are not in the limits by draws.", &words[1..])
    })
}

fn curve(view: &LiquidusView) -> Table {
    let first = &view.components[0].name;
    let mut columns = vec![column(format!("Mole fraction of {first}")).key("fraction").decimal()];
    for (at, _, binary) in each(view) {
        let head = if several(view) { set(at) } else { "Liquidus".to_owned() };
        columns.push(column(head).unit("°C").decimal());
        if binary.bands.is_some() {
            columns.push(column("Between").unit("°C").if_room());
        }
        columns.push(column("First solid"));
    }
    let mut table = Table::new(columns);
    for step in 0..=SHOWN {
        let x = step as f64 / SHOWN as f64;
        let mut cells = vec![format!("{x:.1}")];
        for (_, own, binary) in each(view) {
            let near = |point: &&LiquidusPoint| (point.fractions[0] - x).abs() < 1e-9;
            let point = binary.diagram.points.iter().find(near);
            let glass = point.is_some_and(|point| view.is_glass(point.temperature));
            cells.push(match point {
                None => "no datum".to_owned(),
                Some(_) if glass => "a glass".to_owned(),
                Some(point) if !point.untold.is_empty() => {
                    format!("≥ {}", celsius(point.temperature.kelvin()))
                }
                Some(point) => celsius(point.temperature.kelvin()),
            });
            if let Some(bands) = &binary.bands {
                let spread = bands.curve.iter().find(|(at, _)| !glass && (at - x).abs() < 1e-9);
                cells.push(spread.map_or(String::new(), |(_, own)| above_glass(view, own)));
            }
            let solid = point.filter(|_| !glass);
            cells.push(solid.map_or(String::new(), |point| first_solid(view, own, point)));
        }
        table.push(cells);
    }
    table
}

/// A band as far as it lies above a glass.
fn above_glass(view: &LiquidusView, spread: &Spread) -> String {
    match view.glass {
        Some(glass) if spread.low < glass.kelvin() => format!("a glass to {}", celsius(spread.high)),
        _ => celsius_range(spread),
    }
}

fn first_solid(view: &LiquidusView, prediction: &Prediction, point: &LiquidusPoint) -> String {
    let solids = &prediction.case.system.solids;
    let name = solids[point.solid].name.as_str();
    if point.splits {
        return format!("{name}, out of two liquids");
    }
    if let [untold, ..] = point.untold[..] {
        return format!("{name}; {} is not known", solids[untold].name);
    }
    match view.decomposing(&point.fractions, point.temperature) {
        Some(at) if view.components[at].name == name => format!("{name}, decomposing"),
        Some(at) => format!("{name}; {} decomposes", view.components[at].name),
        None => name.to_owned(),
    }
}

/// Every point for scripts.
fn data(view: &LiquidusView) -> Table {
    let [one, other] = [&view.components[0].id, &view.components[1].id];
    let mut columns: Vec<Column> = several(view).then(|| column("").key("set")).into_iter().collect();
    columns.extend([
        column("").key(format!("x_{one}")),
        column("").key(format!("x_{other}")),
        column("").key("temperature_k"),
        column("").key("solid"),
        column("").key("two_liquids"),
    ]);
    let banded = each(view).any(|(_, _, binary)| binary.bands.is_some());
    let ended = each(view).any(|(_, _, binary)| !binary.diagram.ends.is_empty());
    if banded {
        columns.extend([column("").key("low_k"), column("").key("high_k")]);
    }
    columns.extend(ended.then(|| column("").key("not_known_of")));
    columns.extend(view.glass.map(|_| column("").key("below_glass")));
    columns.extend(view.question.liquid_at.map(|_| column("").key("liquid_at")));
    let mut table = Table::new(columns);
    for (at, prediction, binary) in each(view) {
        for point in &binary.diagram.points {
            let mut cells: Vec<String> = several(view).then(|| (at + 1).to_string()).into_iter().collect();
            cells.extend(point.fractions.iter().map(|share| short(*share, 10)));
            cells.push(short(point.temperature.kelvin(), 10));
            cells.push(prediction.case.system.solids[point.solid].name.clone());
            cells.push(yes(point.splits));
            if banded {
                let near = |(x, _): &&(f64, Spread)| (x - point.fractions[0]).abs() < 1e-9;
                let spread = binary.bands.iter().flat_map(|own| &own.curve).find(near);
                let end =
                    |of: fn(&Spread) -> f64| spread.map_or(String::new(), |(_, own)| short(of(own), 10));
                cells.extend([end(|own| own.low), end(|own| own.high)]);
            }
            let untold = point.untold.iter().map(|at| prediction.case.system.solids[*at].name.as_str());
            cells.extend(ended.then(|| untold.collect::<Vec<_>>().join("; ")));
            cells.extend(view.glass.map(|_| yes(view.is_glass(point.temperature))));
            cells.extend(view.question.liquid_at.map(|_| held(binary, point.fractions[0])));
            table.push(cells);
        }
    }
    table
}

fn yes(is: bool) -> String {
    if is { "yes" } else { "no" }.to_owned()
}

/// How a composition is at the temperature asked for.
fn held(binary: &Binary, x: f64) -> String {
    let holds = |ranges: &[Window]| ranges.iter().any(|own| own.from <= x && x <= own.to);
    if holds(&binary.two_liquids) { "two liquids".to_owned() } else { yes(holds(&binary.windows)) }
}
