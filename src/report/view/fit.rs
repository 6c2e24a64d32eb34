//! What `fit` shows: parameters with their uncertainty, the curve among the points, the residuals, and what speaks
//! against the parameters.

use super::amount::short;
use crate::input::Warning;
use crate::quantity::{significant, to_digits_of};
use crate::report::document::{
    Axis, Block, Caution, Chart, Document, Mark, Series, Shape, Stroke, Table, column, facts, heading, muted,
    paragraph, strong,
};
use crate::statistics::curve_fit::{Band, Doubt, Estimate, Fit, Form, Points, Scale, fewer_runs};

/// Steps of a drawn curve.
const STEPS: usize = 120;
/// Residuals with longer runs of one sign than this probability are remarked on.
const SELDOM: f64 = 0.05;
/// More names than this are drawn in one chart only.
const FEW: usize = 3;
/// More points than this are not drawn.
const DRAWN: usize = 2000;

/// The columns of the file, and the units in which the fit was made.
#[derive(Debug, Clone, PartialEq)]
pub struct FitAxes {
    /// The name of x.
    pub x: String,
    /// Its unit.
    pub x_unit: Option<String>,
    /// The name of y.
    pub y: String,
    /// Its unit.
    pub y_unit: Option<String>,
    /// The name of the column of names.
    pub by: Option<String>,
}

/// The points of one name with their fit.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedGroup {
    /// The name, if the file was fitted name by name.
    pub name: Option<String>,
    /// The points.
    pub points: Points,
    /// The fit.
    pub fit: Fit,
}

impl FittedGroup {
    /// True for a place outside of the points.
    pub fn is_beyond(&self, x: f64) -> bool {
        let (low, high) = self.points.range();
        x < low || high < x
    }
}

impl FitAxes {
    /// The unit of a parameter; `None` if it has none or that of a column is not known.
    pub fn unit_of(&self, form: Form, parameter: &str) -> Option<String> {
        match (form, parameter) {
            (Form::Vft, "b" | "T0") => Some("K".to_owned()),
            (Form::Arrhenius, "E") => Some("J/mol".to_owned()),
            (Form::Line, "slope") => {
                let y = self.y_unit.as_ref()?;
                Some(self.x_unit.as_ref().map_or(format!("{y} per {}", self.x), |x| format!("{y}/{x}")))
            }
            (_, name) if name.starts_with("tau") => {
                Some(self.x_unit.clone().unwrap_or_else(|| format!("units of {}", self.x)))
            }
            _ => self.y_unit.clone(),
        }
    }

    fn titled(name: &str, unit: Option<&String>) -> String {
        unit.map_or(name.to_owned(), |unit| format!("{name} ({unit})"))
    }
}

/// The whole answer. The first table has a row for each parameter.
pub fn fit_document(groups: &[FittedGroup], axes: &FitAxes, at: &[f64], warnings: &[Warning]) -> Document {
    let form = groups.first().map_or(Form::Line, |group| group.fit.form);
    let mut document = Document::new(format!("Fit: {}", title(form)));
    let named = groups.iter().any(|group| group.name.is_some());
    if named {
        document.push(parameters(groups, axes, true));
        document.push(overview(groups, axes));
    }
    for group in groups {
        document.extend(group.name.iter().map(|name| heading(1, name.as_str())));
        document.push(paragraph(strong(verdict(group))));
        document.extend(fit_notes(group).into_iter().map(Caution::note));
        if !named {
            document.push(parameters(std::slice::from_ref(group), axes, false));
        }
        if groups.len() <= FEW {
            document.push(curve(group, axes));
            document.push(residuals(group, axes));
        }
        document.push(quality(group, axes));
        if !at.is_empty() {
            document.push(places(group, axes, at));
        }
    }
    document.extend(warnings.iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(paragraph(muted(
        "Standard errors by the tangent plane at the minimum, intervals by Student's t. They hold for independent, \
         normal errors of the size that the weights say: repeated readings of one cell are not independent.",
    )));
    document
}

fn title(form: Form) -> &'static str {
    match form {
        Form::Line => "y = intercept + slope x",
        Form::Decay => "y = a + b exp(−x/tau)",
        Form::DoubleDecay => "y = a + b1 exp(−x/tau1) + b2 exp(−x/tau2)",
        Form::Vft => "y = a exp(b/(T − T0))",
        Form::Arrhenius => "y = a exp(−E/(R T))",
    }
}

fn verdict(group: &FittedGroup) -> &'static str {
    if !group.fit.converged {
        "Did not converge: these are no parameters of anything."
    } else if !group.fit.is_identifiable() {
        "Not identifiable with these data: other parameters would fit as well."
    } else if group.fit.inference.df == 0 {
        "The curve goes through every point; nothing is left to judge it by."
    } else {
        "Converged."
    }
}

/// What speaks against taking the parameters at their value, in words.
pub fn fit_notes(group: &FittedGroup) -> Vec<String> {
    let mut notes: Vec<String> = group.fit.doubts.iter().map(doubt).collect();
    let mut order: Vec<usize> = (0..group.points.len()).collect();
    order.sort_by(|one, other| group.points.x[*one].total_cmp(&group.points.x[*other]));
    let residuals = group.fit.residuals(&group.points);
    let ordered: Vec<f64> = order.into_iter().map(|at| residuals[at]).collect();
    if group.fit.converged && fewer_runs(&ordered) < SELDOM {
        notes.push(
            "The residuals keep their sign in long runs: the form may be the wrong one, or readings follow one another."
                .to_owned(),
        );
    }
    notes
}

fn doubt(doubt: &Doubt) -> String {
    match doubt {
        Doubt::Indistinct(condition) => format!(
            "The parameters change the curve in nearly the same way (condition number {}); they can't be told apart.",
            short(*condition, 2)
        ),
        Doubt::ShortSpan(spans) => format!(
            "The data span only {} of one tau: where the curve will settle can't be told from them.",
            short(*spans, 2)
        ),
        Doubt::Edge(name) => {
            format!("{name} left the range that these data could show, so it means nothing.")
        }
        Doubt::HoldsZero(name) => {
            format!(
                "The interval of {name} holds zero: the data do not show that this part of the curve is there."
            )
        }
        Doubt::SameTimes => {
            "The two times can't be told apart: one decay says as much about these data.".to_owned()
        }
        Doubt::BelowZeroKelvin => {
            "T0 came out below absolute zero: the data bend less than the form; Arrhenius may do.".to_owned()
        }
        Doubt::Grows(name) => format!("{name} is negative: the data do not settle, they run away."),
        Doubt::AllAlike => "All values are the same to the last digit: they show no scatter, so the standard errors of 0 say \
             nothing. Read to more digits."
            .to_owned(),
        Doubt::NothingLeft => "As many parameters as points: there is no standard error.".to_owned(),
    }
}

fn parameters(groups: &[FittedGroup], axes: &FitAxes, named: bool) -> Table {
    let confidence = groups.first().map_or(0.95, |group| group.fit.inference.confidence);
    let head = format!("{} % interval", short(100.0 * confidence, 3));
    let mut columns = Vec::new();
    if named {
        columns.push(column(axes.by.as_deref().unwrap_or("group")).key("group"));
    }
    columns.extend([
        column("Parameter").key("parameter"),
        column("Value").key("value").decimal(),
        column("Standard error").key("sd").decimal(),
        column(head).key("interval"),
        column("Unit").key("unit"),
    ]);
    if named {
        columns.push(column("").key("verdict"));
    }
    let mut table = Table::new(columns);
    for group in groups {
        for (name, estimate) in group.fit.form.parameters().iter().zip(&group.fit.inference.estimates) {
            let (estimate, unit) = shown(estimate, axes.unit_of(group.fit.form, name));
            let own = group.name.iter().cloned();
            let cells = own.chain([
                (*name).to_owned(),
                digits(estimate.value, estimate.sd),
                if estimate.sd.is_finite() { significant(estimate.sd, 2) } else { "not known".to_owned() },
                interval(&estimate),
                unit.unwrap_or_default(),
            ]);
            let verdict =
                named.then(|| if group.fit.is_identifiable() { "" } else { "see below" }.to_owned());
            table.push(cells.chain(verdict));
        }
    }
    table
}

/// Energies in kJ/mol.
fn shown(estimate: &Estimate, unit: Option<String>) -> (Estimate, Option<String>) {
    if unit.as_deref() != Some("J/mol") {
        return (*estimate, unit);
    }
    let (low, high) = estimate.interval;
    let kilo =
        Estimate { value: estimate.value / 1e3, sd: estimate.sd / 1e3, interval: (low / 1e3, high / 1e3) };
    (kilo, Some("kJ/mol".to_owned()))
}

/// A value to the digits of its uncertainty; large ones without digits that mean nothing.
fn digits(value: f64, sd: f64) -> String {
    if !value.is_finite() {
        return "none".to_owned();
    }
    if !(sd.is_finite() && 0.0 < sd) {
        return significant(value, 6);
    }
    if 1e-7 < sd { to_digits_of(value, sd, 6) } else { significant(value, 10) }
}

fn interval(estimate: &Estimate) -> String {
    let (low, high) = estimate.interval;
    if !(low.is_finite() && high.is_finite()) {
        return "not known".to_owned();
    }
    format!("{} to {}", digits(low, estimate.sd), digits(high, estimate.sd))
}

/// All curves as thin lines in one chart, each named at its end.
fn overview(groups: &[FittedGroup], axes: &FitAxes) -> Block {
    let (x, y) = chart_axes(groups, axes);
    let mut chart = Chart::new(x, y, format!("{} against {}: all fitted curves", axes.y, axes.x));
    for (at, group) in groups.iter().enumerate() {
        let line = bands(group).iter().map(|band| (band.x, band.y)).filter(|(_, y)| y.is_finite()).collect();
        let name = group.name.as_deref().unwrap_or_default();
        chart = chart.with(Mark::line(line, Stroke::Thin, name).of(Series(at)));
    }
    for (at, group) in groups.iter().enumerate() {
        let points = drawn(group, &group.points.y);
        chart = chart.with(Mark::points(points, Shape::Hollow, "").of(Series(at)));
    }
    chart.caption("All points and curves.").into()
}

/// So many of the points that a drawing can hold them, evenly taken.
fn drawn(group: &FittedGroup, y: &[f64]) -> Vec<(f64, f64)> {
    let step = y.len().div_ceil(DRAWN).max(1);
    group.points.x.iter().copied().zip(y.iter().copied()).step_by(step).collect()
}

fn left_out(group: &FittedGroup) -> String {
    match group.points.len().div_ceil(DRAWN) {
        0 | 1 => String::new(),
        step => format!(" One of {step} points is drawn; all were fitted."),
    }
}

fn bands(group: &FittedGroup) -> Vec<Band> {
    let (low, high) = group.points.range();
    let place = |step: usize| low + (high - low) * step as f64 / STEPS as f64;
    (0..=STEPS).map(|step| group.fit.band(place(step))).collect()
}

fn chart_axes(groups: &[FittedGroup], axes: &FitAxes) -> (Axis, Axis) {
    let x = Axis::new(FitAxes::titled(&axes.x, axes.x_unit.as_ref()));
    let y = Axis::new(FitAxes::titled(&axes.y, axes.y_unit.as_ref()));
    let logarithmic = groups.iter().any(|group| group.fit.scale == Scale::Logarithmic);
    (x, if logarithmic { y.logarithmic() } else { y })
}

fn curve(group: &FittedGroup, axes: &FitAxes) -> Block {
    let bands = bands(group);
    let confidence = short(100.0 * group.fit.inference.confidence, 3);
    let description = format!("{} against {}, the fitted curve and its {confidence} % band", axes.y, axes.x);
    let (x, y) = chart_axes(std::slice::from_ref(group), axes);
    let mut chart = Chart::new(x, y, description);
    let known = |band: &&Band| band.mean.0.is_finite() && band.mean.1.is_finite();
    let inner: Vec<(f64, f64, f64)> =
        bands.iter().filter(known).map(|band| (band.x, band.mean.0, band.mean.1)).collect();
    if !inner.is_empty() && group.fit.is_identifiable() {
        chart = chart.with(Mark::band(inner, ""));
    }
    let line = bands.iter().map(|band| (band.x, band.y)).filter(|(_, y)| y.is_finite()).collect();
    let chart = chart.with(Mark::line(line, Stroke::Strong, ""));
    let points = drawn(group, &group.points.y);
    let caption = format!("Points, curve and its {confidence} % band.{}", left_out(group));
    chart.with(Mark::points(points, Shape::Hollow, "")).caption(caption).into()
}

fn residuals(group: &FittedGroup, axes: &FitAxes) -> Block {
    let unit = match group.fit.scale {
        Scale::Plain => FitAxes::titled("residual", axes.y_unit.as_ref()),
        Scale::Logarithmic => "residual of ln y".to_owned(),
    };
    let points = drawn(group, &group.fit.residuals(&group.points));
    let x = Axis::new(FitAxes::titled(&axes.x, axes.x_unit.as_ref()));
    let chart = Chart::new(x, Axis::new(unit), format!("residuals against {}", axes.x)).low();
    let caption = "What the curve leaves: it should scatter about zero without a pattern.";
    chart.with(Mark::level(0.0, "")).with(Mark::points(points, Shape::Hollow, "")).caption(caption).into()
}

fn quality(group: &FittedGroup, axes: &FitAxes) -> Block {
    let fit = &group.fit;
    let unit = if fit.scale == Scale::Plain {
        axes.y_unit.clone().unwrap_or_default()
    } else {
        "in ln y".to_owned()
    };
    let spread = if fit.inference.df == 0 {
        "not known".to_owned()
    } else {
        format!("{} {unit}", significant(fit.inference.residual_sd, 3)).trim_end().to_owned()
    };
    let weighted = if group.points.weighted { ", weighted by 1/variance" } else { ", all of one weight" };
    facts([
        ("Points", format!("{}{weighted}", group.points.len())),
        ("Residual standard deviation", format!("{spread}, with {} degrees of freedom", fit.inference.df)),
        ("Residual sum of squares", format!("{:.6e}", fit.rss)),
        (
            "R²",
            if fit.r_squared.is_finite() {
                format!("{:.5}: what any curve that follows the trend has, right or wrong", fit.r_squared)
            } else {
                "none: all values are the same".to_owned()
            },
        ),
    ])
}

fn places(group: &FittedGroup, axes: &FitAxes, at: &[f64]) -> Table {
    let further = !group.points.weighted;
    let mut columns = vec![
        column(axes.x.as_str()).unit(axes.x_unit.as_deref().unwrap_or_default()).key("x").decimal(),
        column(axes.y.as_str()).unit(axes.y_unit.as_deref().unwrap_or_default()).key("y").decimal(),
        column("Curve between").key("mean"),
    ];
    if further {
        columns.push(column("One further point between").key("further"));
    }
    columns.push(column("").key("beyond"));
    let mut table = Table::new(columns);
    for x in at {
        let band = group.fit.band(*x);
        let sd = (band.mean.1 - band.mean.0) / 4.0;
        let pair = |(low, high): (f64, f64)| {
            if low.is_finite() {
                format!("{} and {}", digits(low, sd), digits(high, sd))
            } else {
                "not known".to_owned()
            }
        };
        let beyond = if group.is_beyond(*x) { "beyond the data: only if the form goes on" } else { "" };
        let cells = [short(*x, 6), digits(band.y, sd), pair(band.mean)].into_iter();
        table.push(cells.chain(further.then(|| pair(band.further))).chain([beyond.to_owned()]));
    }
    table
}
