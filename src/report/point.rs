//! Where the decimal point of a cell stands, so that points can be put one below the other.

use unicode_width::UnicodeWidthStr;

/// How far the whole part of the first number in `cell` reaches, in bytes; `None` without a digit.
pub(super) fn whole_part(cell: &str) -> Option<usize> {
    let first = cell.find(|c: char| c.is_ascii_digit())?;
    let digits = cell[first..].find(|c: char| !c.is_ascii_digit());
    Some(digits.map_or(cell.len(), |digits| first + digits))
}

/// The part after the whole part, empty without a digit.
pub(super) fn fraction(cell: &str) -> &str {
    whole_part(cell).map_or("", |at| &cell[at..])
}

/// The cells of a column padded with spaces, so that they all have one width and their points are in one
/// place. A cell without a digit ends where the widest ends; an empty one stays empty.
pub(super) fn aligned(cells: &[String]) -> Vec<String> {
    let split = |cell: &String| whole_part(cell).map(|at| (cell[..at].width(), cell[at..].width()));
    let parts: Vec<Option<(usize, usize)>> = cells.iter().map(split).collect();
    let before = parts.iter().flatten().map(|part| part.0).max().unwrap_or(0);
    let after = parts.iter().flatten().map(|part| part.1).max().unwrap_or(0);
    let width = cells.iter().map(|cell| cell.width()).max().unwrap_or(0).max(before + after);
    let pad = |(cell, part): (&String, &Option<(usize, usize)>)| match part {
        _ if cell.is_empty() => String::new(),
        Some((_, tail)) => {
            let right = after - tail;
            let left = (width - right).saturating_sub(cell.width());
            format!("{}{cell}{}", " ".repeat(left), " ".repeat(right))
        }
        None => format!("{}{cell}", " ".repeat(width.saturating_sub(cell.width()))),
    };
    cells.iter().zip(&parts).map(pad).collect()
}
