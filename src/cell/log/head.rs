//! The beginning of a log: where its head is, its columns, what stands between them, and a few rows to judge by.

use super::fields::cut;

/// The head of a log with the first rows below it.
#[derive(Debug, Clone, PartialEq)]
pub struct LogHead {
    /// Line of the head, from 1.
    pub line: u64,
    /// What stands between the columns.
    pub separator: char,
    /// The names of the columns.
    pub columns: Vec<String>,
    /// The first rows.
    pub rows: Vec<Vec<String>>,
}

/// A file that is no log.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum HeadError {
    /// Bytes that no text has.
    #[error("it is no plain text: save it as CSV in UTF-8")]
    NoText,
    /// No line with several columns above another like it.
    #[error("no head with rows below it is found")]
    NoHead,
    /// The line that was named is not there.
    #[error("it has no line {0}")]
    NoSuchLine(u64),
}

/// Lines that are looked at to judge by.
const ROWS: usize = 200;

impl LogHead {
    /// Reads the beginning of a file: the named line, or else the first that has several columns, as many as the line
    /// after it, and is not all numbers. Lines above it are what the instrument says of itself.
    ///
    /// # Errors
    /// If there is no such line.
    pub fn read(beginning: &[u8], line: Option<u64>, separator: Option<char>) -> Result<Self, HeadError> {
        if beginning.contains(&0) {
            return Err(HeadError::NoText);
        }
        let text = String::from_utf8_lossy(beginning);
        let text = text.trim_start_matches('\u{feff}');
        let lines: Vec<&str> = text.lines().collect();
        let (at, separator) = match line {
            Some(number) => {
                let at = usize::try_from(number).ok().and_then(|number| number.checked_sub(1));
                let at = at.filter(|at| *at < lines.len()).ok_or(HeadError::NoSuchLine(number))?;
                (at, separator.unwrap_or_else(|| between(lines[at])))
            }
            None => found(&lines, separator).ok_or(HeadError::NoHead)?,
        };
        let columns = split(lines[at], separator);
        let rows = lines[at + 1..].iter().filter(|line| !line.trim().is_empty()).take(ROWS);
        let rows = rows.map(|line| split(line, separator)).collect();
        Ok(Self { line: at as u64 + 1, separator, columns, rows })
    }

    /// Decides from the rows whether the decimal sign in these columns (numbers from 0) is a comma.
    pub fn has_decimal_comma(&self, columns: &[usize]) -> bool {
        let fields = self.rows.iter().flat_map(|row| columns.iter().filter_map(|at| row.get(*at)));
        let mut with_comma = fields.filter(|field| {
            field.contains(',') && field.chars().all(|c| c.is_ascii_digit() || "+-,eE".contains(c))
        });
        with_comma.next().is_some()
    }
}

fn found(lines: &[&str], separator: Option<char>) -> Option<(usize, char)> {
    lines.iter().enumerate().find_map(|(at, line)| {
        let separator = separator.unwrap_or_else(|| between(line));
        let names = split(line, separator);
        let count = names.len();
        let next = lines[at + 1..].iter().find(|next| !next.trim().is_empty())?;
        let alike = 1 < count && split(next, separator).len() == count;
        (alike && !names.iter().all(|name| is_number(name))).then_some((at, separator))
    })
}

/// A number, or nothing: no name of a column.
fn is_number(field: &str) -> bool {
    field.chars().all(|c| c.is_ascii_digit() || " +-.,eE".contains(c)) && !field.contains(char::is_alphabetic)
        || field.trim().parse::<f64>().is_ok()
}

/// Tabs and semicolons are meant to separate; a comma may also be a decimal sign.
fn between(line: &str) -> char {
    ['\t', ';'].into_iter().find(|separator| line.contains(*separator)).unwrap_or(',')
}

fn split(line: &str, separator: char) -> Vec<String> {
    let mut ranges = Vec::new();
    cut(line.as_bytes(), separator as u8, &mut ranges);
    let field = |range: &std::ops::Range<usize>| line.get(range.clone()).unwrap_or_default().to_owned();
    ranges.iter().map(field).collect()
}
