//! A strip plot in characters.

use unicode_width::UnicodeWidthStr;

use super::{Axis, Strip, StripPlot};

/// Columns of the axis.
const WIDE: usize = 56;
/// Most columns of a name that stands beside its values.
const NAME: usize = 18;
/// Lines get no longer than this; a label without room stands below.
const MOST: usize = 96;

/// Two lines for each group: the values, where a digit counts those that share a place, and below them the mean with its
/// interval; then the axis. Names stand beside the values; where any is too long for that, each has a line above.
pub(super) fn lines(plot: &StripPlot, axis: &Axis) -> Vec<String> {
    let widest = plot.strips.iter().map(|strip| strip.name.width()).max().unwrap_or(0);
    let (beside, room) = if widest <= NAME { (true, widest) } else { (false, 1) };
    let blank = " ".repeat(room);
    let mut lines = Vec::new();
    for strip in &plot.strips {
        let name = if beside {
            format!("{}{}", strip.name, " ".repeat(room - strip.name.width()))
        } else {
            lines.push(strip.name.clone());
            blank.clone()
        };
        lines.push(format!("{name} │{}", values(strip, axis)).trim_end().to_owned());
        let label = strip.label.replace('\n', " ");
        let line = format!("{blank} │{}", interval(strip, axis).trim_end());
        if line.width() + label.width() + 2 <= MOST {
            lines.push(format!("{line}  {label}").trim_end().to_owned());
        } else {
            lines.extend([line, format!("{blank} │  {label}")]);
        }
    }
    let (ticks, numbers) = scale(axis);
    lines.push(format!("{blank} └{ticks}"));
    lines.push(format!("{blank}  {numbers}").trim_end().to_owned());
    lines.push(format!("{blank}  {}", plot.axis));
    lines
}

/// The column of a value, held inside the axis.
fn column(axis: &Axis, value: f64) -> usize {
    ((axis.share(value) * WIDE as f64) as usize).min(WIDE - 1)
}

fn values(strip: &Strip, axis: &Axis) -> String {
    let mut counts = [0_usize; WIDE];
    strip.values.iter().for_each(|value| counts[column(axis, *value)] += 1);
    let mut shown: Vec<char> = counts.iter().map(|&count| count_sign(count)).collect();
    strip.excluded.iter().for_each(|value| shown[column(axis, *value)] = '×');
    shown.into_iter().collect()
}

fn count_sign(count: usize) -> char {
    match count {
        0 => ' ',
        1 => 'o',
        2..=9 => char::from_digit(count as u32, 10).unwrap_or('#'),
        _ => '#',
    }
}

fn interval(strip: &Strip, axis: &Axis) -> String {
    let mut shown = vec![' '; WIDE];
    if let Some([low, high]) = strip.interval {
        let (from, to) = (column(axis, low), column(axis, high));
        shown[from..=to].fill('─');
        shown[from] = if low < axis.low { '◂' } else { '├' };
        shown[to] = if axis.high < high { '▸' } else { '┤' };
    }
    shown[column(axis, strip.mean)] = '┼';
    shown.into_iter().collect()
}

fn scale(axis: &Axis) -> (String, String) {
    let mut ticks = vec!['─'; WIDE];
    let mut numbers = String::new();
    for mark in &axis.marks {
        let at = column(axis, *mark);
        ticks[at] = '┴';
        let text = axis.text(*mark);
        let start = at.saturating_sub(text.width() / 2);
        // A number that would touch the one before is left out.
        if numbers.width() < start || numbers.is_empty() {
            numbers.push_str(&" ".repeat(start.saturating_sub(numbers.width())));
            numbers.push_str(&text);
        }
    }
    (ticks.into_iter().collect(), numbers)
}
