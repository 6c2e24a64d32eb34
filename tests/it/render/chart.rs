//! Charts: well-formed, nothing typed becomes a tag, every mark inside the frame, as wide as asked for.

use meltbook::report::document::{Axis, Block, Chart, Document, Mark, Series, Shape, Stroke};
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
    golden::check("render/chart-replicates.svg", &svg(replicates(Axis::new("voltage (V)"))));
    golden::check(
        "render/chart-replicates-log.svg",
        &svg(replicates(Axis::new("voltage (V)").logarithmic())),
    );
    golden::check(
        "render/chart-replicates.txt",
        &terminal::render(&page(replicates(Axis::new("voltage (V)"))), 80, Style::Plain),
    );
    golden::check("render/chart.md", &markdown::render(&page(sample())));
}

/// Twelve cells of three electrolytes that lie upon one another, one of them with a week without readings and one far out.
fn replicates(up: Axis) -> Chart {
    let mut chart = Chart::new(Axis::new("age (d)"), up, "voltage of twelve cells against age");
    for cell in 0..12 {
        let (own, which) = (f64::from(cell), Series(cell as usize / 4));
        let missing = |day: f64| cell == 5 && (7.0..14.0).contains(&day);
        let outlier = |day: f64| if cell == 9 && 20.0 < day { 0.6 } else { 0.0 };
        let at = |day: f64| {
            let level = 1.30 - 0.02 * (cell / 4) as f64 + 0.002 * (own * 2.3).sin();
            let volts = level - 0.0012 * day - outlier(day);
            (day, if missing(day) { f64::NAN } else { volts })
        };
        let points: Vec<(f64, f64)> = (0..=28).map(f64::from).map(at).collect();
        let label = if cell % 4 == 0 { format!("electrolyte {}", cell / 4 + 1) } else { String::new() };
        chart = chart.with(Mark::line(points, Stroke::Thin, label).of(which));
    }
    chart
}

/// What ends in one place has its labels one below the other, within the drawing.
#[test]
fn labels_stand_apart() {
    let picture = svg(replicates(Axis::new("voltage (V)")));
    let xml = Xml::parse(&picture).unwrap();
    let labels = xml
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter(|node| node.text().is_some_and(|text| text.trim().starts_with("electrolyte ")));
    let mut places: Vec<f64> = labels.map(|node| node.attribute("y").unwrap().parse().unwrap()).collect();
    places.sort_by(f64::total_cmp);
    assert_eq!(places.len(), 3);
    assert!(places.windows(2).all(|pair| 12.0 * 4.0 < pair[1] - pair[0]), "{places:?}");
}

/// A week without readings is a gap: nothing is drawn through it.
#[test]
fn a_gap_stays_open() {
    let days = (0..=28).map(f64::from);
    let level = |day: f64| (day, if (7.0..14.0).contains(&day) { f64::NAN } else { 1.3 });
    let line = Mark::line(days.map(level).collect(), Stroke::Thin, "");
    let picture = svg(Chart::new(Axis::new("age (d)"), Axis::new("voltage (V)"), "gap").with(line));
    assert_eq!(picture.matches("stroke=\"#6E6E6E\"").count(), 2, "{picture}");
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

/// What a mark adds to the drawing.
fn added(mark: Mark) -> Vec<String> {
    let empty = || Chart::new(Axis::new("x").within(0.0, 9.0), Axis::new("y").within(0.0, 9.0), "");
    let base = svg(empty());
    svg(empty().with(mark)).lines().filter(|line| !base.contains(line)).map(str::to_owned).collect()
}

/// Relative luminance after WCAG 2.2, of "#RRGGBB".
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
    let linear = |part: f64| if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) };
    0.2126 * linear(part(1)) + 0.7152 * linear(part(3)) + 0.0722 * linear(part(5))
}

/// Each of nine things differs from all others by its dashes, by its shape and by its sign, so that grey paper will do; each
/// colour has a contrast of 3 to 1 against white (WCAG 2.2, 1.4.11).
#[test]
fn nine_things_are_told_apart() {
    let all = || (0..Series::COUNT).map(Series);
    let line = |own| Mark::line(vec![(1.0, 1.0), (8.0, 7.0)], Stroke::Thin, "").of(own);
    let dot = |own: Series| Mark::points(vec![(4.0, 4.0)], own.shape(), "").of(own);
    let colour = |drawn: &[String]| drawn[0].split_once("stroke=\"").unwrap().1[..7].to_owned();
    let colours: Vec<String> = all().map(|own| colour(&added(line(own)))).collect();
    for colour in &colours {
        assert!(3.0 <= 1.05 / (luminance(colour) + 0.05), "{colour}");
    }
    let grey = |drawn: Vec<String>, own: Series| drawn.join("\n").replace(&colours[own.0], "grey");
    let on_screen = |own| {
        let chart = Chart::new(Axis::new("x"), Axis::new("y"), "").with(line(own));
        terminal::render(&page(chart), 60, Style::Plain)
    };
    let looks: [Vec<String>; 5] = [
        colours.clone(),
        all().map(|own| grey(added(line(own)), own)).collect(),
        all().map(|own| grey(added(dot(own)), own)).collect(),
        all().map(|own| own.shape().sign().to_string()).collect(),
        all().map(on_screen).collect(),
    ];
    for look in looks {
        for (at, one) in look.iter().enumerate() {
            assert!(!one.is_empty() && !look[at + 1..].contains(one), "{at}: {one}");
        }
    }
}
