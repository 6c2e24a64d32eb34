//! The story of the sample book: command lines as a person would type them, each at its time.

use jiff::{SignedDuration, Timestamp};

const TEXT: &str = include_str!("../../../data/demo/story.txt");
/// From one command to the next, where the story does not set the clock.
const PACE: SignedDuration = SignedDuration::from_mins(2);

/// One step of the story.
pub(super) struct Step {
    /// Its line in the file.
    pub(super) line: usize,
    /// What the clock says.
    pub(super) at: Timestamp,
    /// Who does it.
    pub(super) by: String,
    /// What is done.
    pub(super) what: What,
}

/// What a step does.
pub(super) enum What {
    /// A command: the words behind `meltbook`.
    Command(Vec<String>),
    /// A bench table written by hand: the file, what is in it, the times of its columns.
    Table(Vec<String>),
    /// Somebody remembers the number of the last entry under a name.
    Remember(String),
}

/// The steps in their order.
///
/// # Errors
/// The number of a line that is none.
pub(super) fn steps() -> Result<Vec<Step>, usize> {
    let mut clock: Option<(Timestamp, String)> = None;
    let mut steps = Vec::new();
    for (line, text) in joined(TEXT) {
        let words = words(&text);
        let Some((first, rest)) = words.split_first() else { continue };
        if first == "@" {
            clock = Some(clock_set(rest).ok_or(line)?);
            continue;
        }
        let (at, by) = clock.as_mut().ok_or(line)?;
        let what = what(first, rest).ok_or(line)?;
        let next = if matches!(what, What::Command(_)) { *at + PACE } else { *at };
        steps.push(Step { line, at: *at, by: by.clone(), what });
        *at = next;
    }
    Ok(steps)
}

fn clock_set(words: &[String]) -> Option<(Timestamp, String)> {
    let [time, by] = words else { return None };
    Some((time.parse().ok()?, by.clone()))
}

fn what(first: &str, rest: &[String]) -> Option<What> {
    match (first, rest) {
        ("meltbook", words) => Some(What::Command(words.to_vec())),
        ("table", [_, _, ..]) => Some(What::Table(rest.to_vec())),
        ("remember", [name]) => Some(What::Remember(name.clone())),
        _ => None,
    }
}

/// Lines with their numbers; a backslash at the end goes on in the next, what starts with # is a remark.
fn joined(text: &str) -> Vec<(usize, String)> {
    let mut lines: Vec<(usize, String)> = Vec::new();
    let mut goes_on = false;
    for (number, line) in (1..).zip(text.lines().map(str::trim)) {
        let (part, more) = line.strip_suffix('\\').map_or((line, false), |part| (part, true));
        match lines.last_mut() {
            Some((_, whole)) if goes_on => whole.push_str(part),
            _ if line.starts_with('#') => {}
            _ => lines.push((number, part.to_owned())),
        }
        goes_on = more;
    }
    lines
}

/// The words of a line; double quotes hold one together.
fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => {
                quoted = !quoted;
                word.get_or_insert_default();
            }
            ' ' if !quoted => words.extend(word.take()),
            c => word.get_or_insert_default().push(c),
        }
    }
    words.extend(word);
    words
}
