//! A strip plot as SVG 1.1.

use maud::{Markup, html};

use super::swarm::offsets;
use super::{Axis, MOST_DOTS, Strip, StripPlot};
use crate::report::lettering::{FONT, Weight, drawable, length, width, wrap};

/// Width of the whole.
const WIDE: f64 = 760.0;
/// Height of the row of a group.
const ROW: f64 = 58.0;
/// Size of letters.
const SIZE: f64 = 12.0;
/// Diameter of a dot with the white around it.
const DOT: f64 = 7.0;
/// How far dots may stand off the line, in half dots.
const OFF: i32 = 5;
/// Widest column of names.
const MOST_NAME: f64 = 150.0;
/// Widest column of means.
const MOST_LABEL: f64 = 230.0;
/// A typeface that stands in for the one asked for may be wider.
const WIDER: f64 = 1.15;
/// Room above the first row.
const TOP: f64 = 8.0;
/// The one colour beside black; as grey it is as dark as a lead pencil.
const BLUE: &str = "#004488";

/// Where things stand across.
struct Across<'a> {
    axis: &'a Axis,
    left: f64,
    right: f64,
}

impl Across<'_> {
    fn x(&self, value: f64) -> f64 {
        self.left + self.axis.share(value) * (self.right - self.left)
    }

    /// The same, held inside the axis.
    fn inside(&self, value: f64) -> f64 {
        self.x(value).clamp(self.left, self.right)
    }
}

pub(super) fn svg(plot: &StripPlot, axis: &Axis) -> String {
    let widest = |texts: &mut dyn Iterator<Item = &str>, weight: Weight| {
        texts.map(|text| WIDER * SIZE * width(text, weight)).fold(0.0, f64::max)
    };
    let names = widest(&mut plot.strips.iter().map(|strip| strip.name.as_str()), Weight::Bold).min(MOST_NAME);
    let labels = widest(&mut plot.strips.iter().flat_map(|strip| strip.label.lines()), Weight::Regular)
        .min(MOST_LABEL);
    let across = Across { axis, left: names + 24.0, right: WIDE - labels - 24.0 };
    let bottom = TOP + ROW * plot.strips.len() as f64;
    let (wide, high) = (length(WIDE), length(bottom + 44.0));
    let drawing = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(wide) height=(high)
            viewBox=(format!("0 0 {wide} {high}")) font-family=(FONT) font-size=(length(SIZE)) {
            title { (drawable(&plot.title)) }
            (grid(&across, bottom))
            @for (at, strip) in plot.strips.iter().enumerate() {
                (row(strip, &across, TOP + ROW * (at as f64 + 0.5)))
            }
            text x=(length((across.left + across.right) / 2.0)) y=(length(bottom + 36.0)) text-anchor="middle" {
                (drawable(&plot.axis))
            }
        }
    };
    drawing.into_string()
}

fn grid(across: &Across<'_>, bottom: f64) -> Markup {
    html! {
        g stroke="#bbb" stroke-width="0.6" {
            @for mark in &across.axis.marks {
                path d=(format!("M{} {}V{}", length(across.x(*mark)), length(TOP), length(bottom))) {}
            }
        }
        path d=(format!("M{} {}H{}", length(across.left), length(bottom), length(across.right))) stroke="#000" {}
        g text-anchor="middle" {
            @for mark in &across.axis.marks {
                text x=(length(across.x(*mark))) y=(length(bottom + 16.0)) { (across.axis.text(*mark)) }
            }
        }
    }
}

fn row(strip: &Strip, across: &Across<'_>, middle: f64) -> Markup {
    let line = middle + 17.0;
    let names = wrap(&drawable(&strip.name), Weight::Bold, MOST_NAME / (WIDER * SIZE));
    let labels: Vec<String> = strip
        .label
        .lines()
        .flat_map(|line| wrap(&drawable(line), Weight::Regular, MOST_LABEL / (WIDER * SIZE)))
        .collect();
    let start = |count: usize| middle + 4.0 - 7.0 * (count as f64 - 1.0);
    html! {
        g {
            @for (at, name) in names.iter().enumerate() {
                text x=(length(across.left - 12.0)) y=(length(start(names.len()) + 14.0 * at as f64)) text-anchor="end"
                    font-weight="bold" { (name) }
            }
            @if strip.values.len() <= MOST_DOTS { (dots(strip, across, middle)) } @else { (box_of(strip, across, middle)) }
            (crosses(strip, across, middle))
            (interval(strip, across, line))
            @for (at, label) in labels.iter().enumerate() {
                text x=(length(across.right + 12.0)) y=(length(start(labels.len()) + 14.0 * at as f64)) { (label) }
            }
        }
    }
}

fn dots(strip: &Strip, across: &Across<'_>, middle: f64) -> Markup {
    let places: Vec<f64> = strip.values.iter().map(|value| across.x(*value)).collect();
    let offsets = offsets(&places, DOT, OFF);
    html! {
        g fill=(BLUE) stroke="#fff" stroke-width="1" {
            @for (x, off) in places.iter().zip(offsets) {
                circle cx=(length(*x)) cy=(length(middle - 4.0 + f64::from(off) * DOT / 2.0)) r=(length(DOT / 2.0)) {}
            }
        }
    }
}

/// Too many for dots: the quartiles as a box, the range as a line.
fn box_of(strip: &Strip, across: &Across<'_>, middle: f64) -> Markup {
    let least = strip.values.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = strip.values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let [low, high] = strip.quartiles.map(|value| across.x(value));
    html! {
        path d=(format!("M{} {}H{}", length(across.x(least)), length(middle - 4.0), length(across.x(greatest))))
            stroke=(BLUE) stroke-width="1.5" {}
        rect x=(length(low)) y=(length(middle - 13.0)) width=(length(high - low)) height="18" fill="#fff" stroke=(BLUE)
            stroke-width="1.5" {}
    }
}

/// Crosses; one that lies beyond the axis stands at its end with its value beside it.
fn crosses(strip: &Strip, across: &Across<'_>, middle: f64) -> Markup {
    let y = middle - 4.0;
    let cross =
        |value: f64| format!("M{} {}l7 7m0 -7l-7 7", length(across.inside(value) - 3.5), length(y - 3.5));
    let beyond = |value: &&f64| !(0.0..=1.0).contains(&across.axis.share(**value));
    html! {
        g stroke="#000" stroke-width="1.5" fill="none" {
            @for value in &strip.excluded { path d=(cross(*value)) {} }
        }
        @for value in strip.excluded.iter().filter(beyond) {
            @let (side, anchor) = if *value < across.axis.low { (9.0, "start") } else { (-9.0, "end") };
            text x=(length(across.inside(*value) + side)) y=(length(y + 4.0)) text-anchor=(anchor) font-size="10" {
                (across.axis.text(*value))
            }
        }
    }
}

/// The mean as an upright stroke, its interval as a line with ends; an arrow where it goes on beyond the axis.
fn interval(strip: &Strip, across: &Across<'_>, y: f64) -> Markup {
    let mean = across.inside(strip.mean);
    let mut path = format!("M{} {}v10", length(mean), length(y - 5.0));
    if let Some([low, high]) = strip.interval {
        path.push_str(&format!(
            "M{} {}H{}",
            length(across.inside(low)),
            length(y),
            length(across.inside(high))
        ));
        for (limit, beyond, inward) in
            [(low, low < across.axis.low, 6.0), (high, across.axis.high < high, -6.0)]
        {
            let x = length(across.inside(limit));
            path.push_str(&if beyond {
                format!("M{x} {}l{inward} -4m{} 4l{inward} 4", length(y), -inward)
            } else {
                format!("M{x} {}v6", length(y - 3.0))
            });
        }
    }
    html! { path d=(path) stroke="#000" stroke-width="1.8" fill="none" {} }
}
