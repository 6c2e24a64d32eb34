//! The triangle of three components: isolines where they must be, regions of the right size, a drawing that a reader
//! of SVG takes.

use approx::assert_relative_eq;
use meltbook::report::document::{Document, Shape, Stroke};
use meltbook::report::html::{self, PageSize};
use meltbook::report::terminal::{self, Style};
use meltbook::report::triangle::{Field, Place, Triangle, TriangleMark, isolines, region};

use crate::golden;

/// A function of the fractions at even steps.
fn field(steps: usize, of: impl Fn(Place) -> f64) -> Field {
    let part = |at: usize| at as f64 / steps as f64;
    let rows = (0..=steps).flat_map(|one| (0..=steps - one).map(move |two| (one, two)));
    let values = rows.map(|(one, two)| Some(of([part(one), part(two), part(steps - one - two)])));
    Field::new(steps, values.collect())
}

/// Twice the area by the shoelace formula, in first and second fraction: 1 for the whole triangle.
fn area(polygon: &[Place]) -> f64 {
    let cross = |one: &Place, other: &Place| one[0] * other[1] - other[0] * one[1];
    (0..polygon.len()).map(|at| cross(&polygon[at], &polygon[(at + 1) % polygon.len()])).sum::<f64>().abs()
}

#[test]
fn an_isoline_of_a_fraction_is_straight_and_goes_from_edge_to_edge() {
    let field = field(20, |[first, _, _]| first);
    let lines = isolines(&field, 0.33);
    let [line] = &lines[..] else { panic!("{} lines", lines.len()) };
    assert!(line.iter().all(|place| (place[0] - 0.33).abs() < 1e-12));
    let mut ends = [line[0], line[line.len() - 1]].map(|place| place[1]);
    ends.sort_by(f64::total_cmp);
    assert_relative_eq!(ends[0], 0.0, epsilon = 1e-12);
    assert_relative_eq!(ends[1], 0.67, epsilon = 1e-12);
}

#[test]
fn a_closed_isoline_is_one_line_that_ends_where_it_begins() {
    let about = |place: Place| place.iter().map(|part| (part - 1.0 / 3.0).powi(2)).sum::<f64>();
    let lines = isolines(&field(30, about), 0.05);
    let [line] = &lines[..] else { panic!("{} lines", lines.len()) };
    assert_eq!(line.first(), line.last());
    // The plane through three places lies above a bowl, so the line lies inside the circle, by a little.
    assert!(line.iter().all(|place| (0.047..=0.0501).contains(&about(*place))));
}

#[test]
fn regions_have_the_area_of_what_lies_above() {
    let whole = |polygons: &[Vec<Place>]| polygons.iter().map(|polygon| area(polygon)).sum::<f64>();
    let first = field(20, |[first, _, _]| first);
    for level in [0.0, 0.05, 0.31, 0.5, 0.99] {
        assert_relative_eq!(whole(&region(&first, level)), (1.0_f64 - level).powi(2), epsilon = 1e-12);
    }
    let third = field(7, |[_, _, third]| -third);
    assert_relative_eq!(whole(&region(&third, -0.4)), 1.0 - 0.36, epsilon = 1e-12);
    assert_eq!(region(&first, 1.1), Vec::<Vec<Place>>::new());
}

#[test]
fn what_has_no_value_stays_blank() {
    let steps = 10;
    let rows = (0..=steps).flat_map(|one| (0..=steps - one).map(move |two| (one, two)));
    let values = rows.map(|(one, two)| (one + two < 8).then_some(1.0));
    let area: f64 =
        region(&Field::new(steps, values.collect()), 0.5).iter().map(|polygon| area(polygon)).sum();
    assert_relative_eq!(area, 0.49, epsilon = 1e-12);
}

fn sample() -> Triangle {
    let bowl = |[a, b, c]: Place| 20.0 + 200.0 * ((a - 0.3).powi(2) + (b - 0.3).powi(2) + (c - 0.4).powi(2));
    Triangle::new(["naphthalene", "biphenyl", "p-dichlorobenzene"], "a bowl <with> a & sign")
        .caption("A bowl.")
        .with_field(field(50, bowl).round_levels(9).unit("°C"))
        .with(TriangleMark::line(vec![[0.3, 0.3, 0.4], [0.5, 0.5, 0.0]], Stroke::Strong))
        .with(TriangleMark::points(vec![[0.3, 0.3, 0.4]], Shape::Filled, "20 °C"))
}

#[test]
fn every_format_shows_it() {
    let document = Document::new("Triangle").with(sample().figure());
    golden::check("render/triangle.txt", &terminal::render(&document, 80, Style::Plain));
    golden::check("render/triangle.svg", sample().figure().svg());
    let page = html::page(&document, PageSize::A4);
    assert!(page.contains("a bowl &lt;with&gt; a &amp; sign"));
}
