//! A line cut into fields. A log's field never runs over several lines, so that a stray quote costs one line
//! and not the rest of the file.

use std::ops::Range;

/// Cuts a line at its separators outside quotes; the ranges have neither the space nor the quotes around a field.
pub(super) fn cut(line: &[u8], separator: u8, fields: &mut Vec<Range<usize>>) {
    fields.clear();
    let (mut from, mut quoted) = (0, false);
    for (at, byte) in line.iter().enumerate() {
        if *byte == b'"' {
            quoted = !quoted;
        } else if *byte == separator && !quoted {
            fields.push(trimmed(line, from..at));
            from = at + 1;
        }
    }
    fields.push(trimmed(line, from..line.len()));
}

fn trimmed(line: &[u8], range: Range<usize>) -> Range<usize> {
    let (mut from, mut to) = (range.start, range.end);
    while from < to && line[from].is_ascii_whitespace() {
        from += 1;
    }
    while from < to && line[to - 1].is_ascii_whitespace() {
        to -= 1;
    }
    if from + 1 < to && line[from] == b'"' && line[to - 1] == b'"' {
        (from, to) = (from + 1, to - 1);
    }
    from..to
}

/// A plain decimal number. A comma is a decimal sign only where it is said to be.
pub(super) fn number(field: &[u8], decimal_comma: bool) -> Option<f64> {
    // Long enough for any double in full; a longer text is no reading of a meter.
    const LONGEST: usize = 40;
    let plain = |byte: &u8| byte.is_ascii_digit() || b"+-.eE".contains(byte);
    if !decimal_comma {
        let text = std::str::from_utf8(field).ok().filter(|_| field.iter().all(plain))?;
        return text.parse().ok().filter(|number: &f64| number.is_finite());
    }
    let mut buffer = [0; LONGEST];
    let copy = buffer.get_mut(..field.len())?;
    for (to, from) in copy.iter_mut().zip(field) {
        *to = if *from == b',' { b'.' } else { *from };
    }
    // With a comma for the decimals, a point could only group thousands.
    if field.contains(&b'.') || !copy.iter().all(plain) {
        return None;
    }
    std::str::from_utf8(copy).ok()?.parse().ok().filter(|number: &f64| number.is_finite())
}
