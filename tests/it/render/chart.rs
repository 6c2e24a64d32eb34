//! Charts: well-formed, nothing typed becomes a tag, every mark inside the frame, as wide as asked for.

use meltbook::report::document::{Axis, Block, Chart, Document, Mark, Shape, Stroke};
use meltbook::report::terminal::{self, Style};
use meltbook::report::{html, markdown};
use proptest::prelude::*;
use resvg::usvg::roxmltree::Document as Xml;
use unicode_width::UnicodeWidthStr as _;

use super::sample::any_text;
use crate::golden;

/// A curve with its band, points, a target and a place.
fn sample() -> Chart {
    let line: Vec<(f64, f64)> =
        (0..=40).map(|day| (f64::from(day), 1.2 + 0.12 * (-f64::from(day) / 9.0).exp())).collect();
    let band = line.iter().map(|(x, y)| (*x, y - 0.006, y + 0.006)).collect();
    let points =
        [(0.0, 1.323), (3.0, 1.288), (7.0, 1.26), (7.0, 1.261), (14.0, 1.226), (28.0, 1.205), (40.0, 1.2)];
    Chart::new(Axis::new("day (d)"), Axis::new("voltage (V)"), "voltage against day")
        .with(Mark::band(band, ""))
        .with(Mark::level(1.25, "cut-off"))
        .with(Mark::place(9.0, "tau"))
        .with(Mark::line(line, Stroke::Strong, "fit"))
        .with(Mark::points(points.to_vec(), Shape::Hollow, "read"))
}

fn log_sample() -> Chart {
    let points = (0..8).map(|step| (f64::from(step), 10f64.powi(step - 3))).collect();
    Chart::new(Axis::new("step"), Axis::new("viscosity (mPa·s)").logarithmic(), "a log axis")
        .with(Mark::points(points, Shape::Cross, ""))
}

fn page(chart: Chart) -> Document {
    Document::new("t").with(Block::from(chart))
}

fn svg(chart: Chart) -> String {
    let body = html::body(&page(chart));
    let (start, end) = (body.find("<svg").unwrap(), body.find("</svg>").unwrap() + "</svg>".len());
    body[start..end].to_owned()
}

#[test]
fn charts_look_as_kept() {
    golden::check("render/chart.txt", &terminal::render(&page(sample()), 80, Style::Plain));
    golden::check("render/chart-narrow.txt", &terminal::render(&page(sample()), 40, Style::Plain));
    golden::check("render/chart-log.txt", &terminal::render(&page(log_sample()), 80, Style::Plain));
    golden::check("render/chart.svg", &svg(sample()));
    golden::check("render/chart.md", &markdown::render(&page(sample())));
}

/// Two readings in one place are counted, not hidden.
#[test]
fn points_on_one_another_are_counted() {
    let points = Mark::points(vec![(1.0, 1.0), (1.0, 1.0), (2.0, 2.0)], Shape::Filled, "");
    let chart = Chart::new(Axis::new("x"), Axis::new("y"), "").with(points);
    let screen = terminal::render(&page(chart), 60, Style::Plain);
    assert!(screen.lines().any(|line| line.ends_with("┤  2")), "{screen}");
}

/// One outlier leaves the others on one line of the screen, and still inside the frame.
#[test]
fn odd_data_are_drawn() {
    let shapes = [
        vec![],
        vec![(0.0, 0.0)],
        vec![(1.0, 5.0), (2.0, 5.0)],
        vec![(0.0, 1.3), (1.0, 1.31), (2.0, 1e9)],
        vec![(0.0, f64::NAN), (f64::INFINITY, 1.0), (1.0, 2.0)],
        vec![(-1e-300, -1e300), (1e-300, 1e300)],
        vec![(1e15, 1e15 + 1.0), (1e15 + 2.0, 1e15 + 3.0)],
    ];
    for points in shapes {
        for axis in [Axis::new("y"), Axis::new("y").logarithmic()] {
            let chart = Chart::new(Axis::new("x"), axis, "odd")
                .with(Mark::line(points.clone(), Stroke::Thin, "line"))
                .with(Mark::points(points.clone(), Shape::Filled, "points"));
            inside(chart.clone());
            assert!(terminal::render(&page(chart), 60, Style::Plain).contains('└'), "{points:?}");
        }
    }
}

#[test]
fn names_stand_in_the_place_of_numbers() {
    let points = vec![(1.31, 0.0), (1.32, 0.0), (1.29, 1.0)];
    let chart = Chart::new(Axis::new("voltage (V)"), Axis::new("").names(["E1", "E2"]), "strips")
        .with(Mark::points(points, Shape::Filled, ""));
    let screen = terminal::render(&page(chart.clone()), 60, Style::Plain);
    assert!(screen.contains("E1 ┤") && screen.contains("E2 ┤"), "{screen}");
    inside(chart);
}

/// The drawing is XML, and every circle lies on it.
fn inside(chart: Chart) {
    let picture = svg(chart);
    let xml = Xml::parse(&picture).unwrap();
    let sides: Vec<f64> = xml
        .root_element()
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|side| side.parse().unwrap())
        .collect();
    for circle in xml.descendants().filter(|node| node.has_tag_name("circle")) {
        let at = |name: &str| circle.attribute(name).unwrap().parse::<f64>().unwrap();
        assert!((0.0..=sides[2]).contains(&at("cx")) && (0.0..=sides[3]).contains(&at("cy")), "{circle:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn any_words_and_any_points(
        title in any_text(),
        label in any_text(),
        points in prop::collection::vec((-1e6..1e6f64, -1e6..1e6f64), 0..12),
        width in 20..120usize,
    ) {
        let chart = Chart::new(Axis::new(title.clone()), Axis::new(label.clone()), title)
            .with(Mark::line(points.clone(), Stroke::Dashed, label.clone()))
            .with(Mark::points(points, Shape::Hollow, label));
        inside(chart.clone());
        let screen = terminal::render(&page(chart), width, Style::Plain);
        for line in screen.lines().filter(|line| line.contains(['│', '┤', '└'])) {
            prop_assert!(line.width() <= width.max(20), "{}: {}", width, line);
        }
    }
}
