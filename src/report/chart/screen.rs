//! A chart as characters.

use unicode_width::UnicodeWidthStr as _;

use super::frame::Scale;
use super::tone::{self, Tone};
use crate::report::document::{Chart, Mark, Shape, Stroke};

/// Wider than this no chart gets on a screen.
const WIDEST: usize = 96;
/// Lines of the drawing itself.
const HEIGHT: usize = 15;

/// The lines of a chart in at most `width` columns.
pub(in crate::report) fn lines(chart: &Chart, width: usize) -> Vec<String> {
    let width = width.min(WIDEST);
    let height = match &chart.up.names[..] {
        [] if chart.low => HEIGHT / 2 + 1,
        [] => HEIGHT,
        names => (2 * names.len() + 1).max(3),
    };
    let (x, y) = Scale::of(chart, (width / 12).max(2), (height / 3).max(4));
    let labels = y.ticks.iter().map(|(_, text)| text.width()).max().unwrap_or(0).min(width / 3);
    let beside = beside(chart, width);
    let inner = width.saturating_sub(labels + 2 + beside).max(8);
    let mut canvas = Canvas { cells: vec![vec![' '; inner]; height], x: &x, y: &y };
    chart.marks.iter().for_each(|mark| canvas.draw(mark));
    chart.marks.iter().for_each(|mark| canvas.name_place(mark));
    let mut lines = vec![cut(&chart.up.heading(), width)];
    let ends = canvas.labels(chart, beside);
    for (row, cells) in canvas.cells.iter().enumerate() {
        let tick = y.ticks.iter().find(|(at, _)| canvas.row(*at) == Some(row));
        let (text, sign) = tick.map_or(("", '│'), |(_, text)| (text.as_str(), '┤'));
        let text = cut(text, labels);
        let pad = " ".repeat(labels - text.width());
        lines.push(format!("{pad}{text} {sign}{}{}", cells.iter().collect::<String>(), ends[row]));
    }
    lines.extend(below(&x, labels, inner));
    let title = cut(&chart.across.heading(), width);
    let indent = (labels + 2 + inner).saturating_sub(title.width());
    lines.push(format!("{}{title}", " ".repeat(indent)));
    lines
}

/// Columns for the labels at the right end; none where the screen is narrow.
fn beside(chart: &Chart, width: usize) -> usize {
    let labelled = |mark: &&Mark| !matches!(mark, Mark::Place { .. }) && !mark.label().is_empty();
    let room = |mark: &Mark| mark.label().width() + if mark.series().is_some() { 3 } else { 1 };
    let widest = chart.marks.iter().filter(labelled).map(room).max().unwrap_or(0);
    if width < 50 { 0 } else { widest.min(width / 4) }
}

/// The axis with its numbers below, those left out that would run into the one before.
fn below(x: &Scale, labels: usize, inner: usize) -> [String; 2] {
    let mut axis = vec!['─'; inner];
    let mut numbers = String::new();
    for (at, text) in &x.ticks {
        let Some(column) = column((*at - x.low) / (x.high - x.low), inner) else { continue };
        let start = column.saturating_sub(text.width() / 2).min(inner.saturating_sub(text.width()));
        let reached = numbers.width();
        if 0 < reached && start < reached + 2 || inner < start + text.width() {
            continue;
        }
        axis[column] = '┴';
        numbers.push_str(&" ".repeat(start - reached));
        numbers.push_str(text);
    }
    let indent = " ".repeat(labels + 1);
    [format!("{indent}└{}", axis.iter().collect::<String>()), format!("{indent} {numbers}")]
}

fn column(share: f64, inner: usize) -> Option<usize> {
    (-1e-9..=1.0 + 1e-9)
        .contains(&share)
        .then(|| ((share * (inner - 1) as f64).round() as usize).min(inner - 1))
}

fn cut(text: &str, width: usize) -> String {
    let mut short = String::new();
    for c in text.chars() {
        if width < short.width() + c.to_string().width() {
            break;
        }
        short.push(c);
    }
    short
}

struct Canvas<'c> {
    cells: Vec<Vec<char>>,
    x: &'c Scale,
    y: &'c Scale,
}

impl Canvas<'_> {
    fn column(&self, x: f64) -> Option<usize> {
        column(self.x.share(x)?, self.cells[0].len())
    }

    /// The row of a value in the steps of the axis.
    fn row(&self, inner: f64) -> Option<usize> {
        let share = (inner - self.y.low) / (self.y.high - self.y.low);
        column(1.0 - share, self.cells.len())
    }

    fn row_of(&self, y: f64) -> Option<usize> {
        self.row(self.y.inner(y)?)
    }

    fn put(&mut self, column: usize, row: usize, sign: char) {
        self.cells[row][column] = sign;
    }

    fn draw(&mut self, mark: &Mark) {
        match mark {
            Mark::Line { points, stroke, series, .. } => self.line(points, *stroke, series.map(tone::of)),
            Mark::Points { points, shape, .. } => self.points(points, *shape),
            Mark::Band { points, .. } => self.band(points),
            Mark::Level { y, .. } => {
                let row = self.row_of(*y);
                for column in 0..self.cells[0].len() {
                    if let Some(row) = row
                        && self.cells[row][column] == ' '
                    {
                        self.put(column, row, '╌');
                    }
                }
            }
            Mark::Place { x, .. } => {
                let Some(column) = self.column(*x) else { return };
                for row in 0..self.cells.len() {
                    if self.cells[row][column] == ' ' {
                        self.put(column, row, '┊');
                    }
                }
            }
        }
    }

    /// In each column the value there, and all rows from the one before.
    fn line(&mut self, points: &[(f64, f64)], stroke: Stroke, own: Option<Tone>) {
        let own = own.filter(|_| stroke != Stroke::Through);
        let sign = own.map_or(if stroke == Stroke::Strong { '•' } else { '·' }, |tone| tone.sign);
        for pair in points.windows(2) {
            let ends = [pair[0], pair[1]].map(|(x, y)| Some((self.x.share(x)?, self.y.inner(y)?)));
            let [Some((x0, y0)), Some((x1, y1))] = ends else { continue };
            let steps = 2 * self.cells[0].len().max(self.cells.len());
            for step in 0..=steps {
                let part = step as f64 / steps as f64;
                let column = column(x0 + part * (x1 - x0), self.cells[0].len());
                if matches!(stroke, Stroke::Dashed | Stroke::Dotted)
                    && column.is_some_and(|column| column % 3 == 2)
                {
                    continue;
                }
                if let (Some(column), Some(row)) = (column, self.row(y0 + part * (y1 - y0))) {
                    self.put(column, row, sign);
                }
            }
        }
    }

    /// Where several fall on one another, a number says how many.
    fn points(&mut self, points: &[(f64, f64)], shape: Shape) {
        let sign = shape.sign();
        let mut taken: Vec<((usize, usize), u32)> = Vec::new();
        for (x, y) in points {
            let (Some(column), Some(row)) = (self.column(*x), self.row_of(*y)) else { continue };
            match taken.iter_mut().find(|(place, _)| *place == (column, row)) {
                Some((_, count)) => *count += 1,
                None => taken.push(((column, row), 1)),
            }
        }
        for ((column, row), count) in taken {
            let many = char::from_digit(count.min(9), 10).unwrap_or('9');
            self.put(column, row, if count == 1 { sign } else { many });
        }
    }

    fn band(&mut self, points: &[(f64, f64, f64)]) {
        let wide = self.cells[0].len();
        for at in 0..wide {
            let share = at as f64 / (wide - 1) as f64;
            let place = self.x.low + share * (self.x.high - self.x.low);
            let between = points.windows(2).find_map(|pair| {
                let (x0, x1) = (self.x.inner(pair[0].0)?, self.x.inner(pair[1].0)?);
                let part = if x0 < x1 { (place - x0) / (x1 - x0) } else { return None };
                let mix = |a: f64, b: f64| a + part * (b - a);
                (0.0..=1.0).contains(&part).then(|| (mix(pair[0].1, pair[1].1), mix(pair[0].2, pair[1].2)))
            });
            let Some((low, high)) = between else { continue };
            let (Some(bottom), Some(top)) = (self.row_of(low), self.row_of(high)) else { continue };
            for row in top..=bottom {
                self.put(at, row, '░');
            }
        }
    }

    /// The label of a place, in the first row from above with room beside it.
    fn name_place(&mut self, mark: &Mark) {
        let Mark::Place { x, label } = mark else { return };
        let (Some(column), wide) = (self.column(*x), label.width()) else { return };
        for row in 0..self.cells.len() {
            let starts = [column + 2, column.wrapping_sub(wide + 1)];
            let free = |start: &usize| {
                let cells = self.cells[row].get(start.wrapping_sub(1)..start.wrapping_add(wide + 1));
                cells.is_some_and(|cells| cells.iter().all(|cell| matches!(cell, ' ' | '┊')))
            };
            if let Some(start) = starts.into_iter().find(free) {
                label.chars().enumerate().for_each(|(at, c)| self.put(start + at, row, c));
                return;
            }
        }
    }

    /// A label for each row, beside the right end of its mark; one that finds its row taken moves to the next
    /// free one.
    fn labels(&self, chart: &Chart, beside: usize) -> Vec<String> {
        let mut ends = vec![String::new(); self.cells.len()];
        for mark in &chart.marks {
            let row =
                mark.end().and_then(|y| self.row_of(y)).filter(|_| 0 < beside && !mark.label().is_empty());
            let Some(row) = row else { continue };
            let free = (0..ends.len()).filter(|at| ends[*at].is_empty()).min_by_key(|at| at.abs_diff(row));
            if let Some(free) = free {
                let sign = mark.series().map(|series| match mark {
                    Mark::Points { shape, .. } => format!("{} ", shape.sign()),
                    _ => format!("{} ", tone::of(series).sign),
                });
                ends[free] = format!(" {}", cut(&(sign.unwrap_or_default() + mark.label()), beside - 1));
            }
        }
        ends
    }
}
