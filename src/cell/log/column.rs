//! Finding a column: by the name or number that is given, or by what its head says.

use super::error::{LayoutProblem, ProblemKind, problem};
use super::head::LogHead;
use super::unit::{Holds, in_head, symbols, unit};
use crate::input::did_you_mean;
use crate::record::log::LogColumn;

/// A column as a person names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnWish {
    /// Its head, with or without the unit in it, or `#2` for the second.
    pub name: String,
    /// The unit, before what the head says.
    pub unit: Option<String>,
}

/// The place of a named column, from 0.
pub(super) fn named(head: &LogHead, name: &str) -> Result<usize, LayoutProblem> {
    if let Some(number) = name.strip_prefix('#').and_then(|number| number.trim().parse::<usize>().ok()) {
        let message = || format!("there is no column {number}: there are {}", head.columns.len());
        return number
            .checked_sub(1)
            .filter(|at| *at < head.columns.len())
            .ok_or_else(|| problem(ProblemKind::UnknownColumn, message(), "Count the columns from 1."));
    }
    let wanted = name.trim().to_lowercase();
    let is = |column: &str| column.trim().to_lowercase() == wanted;
    let bare = |column: &str| bare(column).to_lowercase() == wanted;
    let at = |fits: &dyn Fn(&str) -> bool| head.columns.iter().position(|column| fits(column));
    at(&is).or_else(|| at(&bare)).ok_or_else(|| {
        let known = head.columns.iter().map(String::as_str);
        let all = format!("The columns are {}.", head.columns.join(", "));
        problem(
            ProblemKind::UnknownColumn,
            format!("there is no column {name:?}"),
            did_you_mean(name, known, &all),
        )
    })
}

/// A head without its unit.
fn bare(head: &str) -> &str {
    let Some(symbol) = in_head(head) else { return head.trim() };
    let end = head.rfind(symbol).unwrap_or(head.len());
    head[..end].trim_end().trim_end_matches(['(', '[', '/', '_']).trim_end()
}

/// A column of numbers: the named one, or the only one whose head has a unit of this.
pub(super) fn numbers(
    head: &LogHead,
    wish: Option<&ColumnWish>,
    holds: Holds,
    flag: &str,
) -> Result<Option<LogColumn>, LayoutProblem> {
    let Some(wish) = wish else { return by_unit(head, holds, flag) };
    let at = named(head, &wish.name)?;
    let symbol = wish.unit.as_deref().or_else(|| in_head(&head.columns[at]));
    let Some(symbol) = symbol else {
        let message = format!("the column {:?} has no unit in its head", head.columns[at]);
        let hint = format!(
            "Say it, as in {flag} \"{} unit={}\".",
            wish.name,
            symbols(holds).split(", ").next().unwrap_or_default()
        );
        return Err(problem(ProblemKind::NoUnit, message, hint));
    };
    match unit(symbol) {
        Some((found, factor)) if found == holds => Ok(Some(column(head, at, symbol, factor))),
        _ => {
            let message = format!("{symbol:?} is no unit for the column {:?}", head.columns[at]);
            Err(problem(ProblemKind::WrongUnit, message, format!("Use one of {}.", symbols(holds))))
        }
    }
}

fn by_unit(head: &LogHead, holds: Holds, flag: &str) -> Result<Option<LogColumn>, LayoutProblem> {
    let fits = |(at, name): (usize, &String)| {
        let symbol = in_head(name)?;
        let (found, factor) = unit(symbol)?;
        (found == holds).then(|| column(head, at, symbol, factor))
    };
    let mut columns = head.columns.iter().enumerate().filter_map(fits);
    let (first, second) = (columns.next(), columns.next());
    match (first, second) {
        (Some(first), Some(second)) => {
            let message = format!("both {:?} and {:?} could be meant", first.name, second.name);
            Err(problem(ProblemKind::ColumnUnclear, message, format!("Name one of them with {flag}.")))
        }
        (first, _) => Ok(first),
    }
}

fn column(head: &LogHead, at: usize, symbol: &str, factor: f64) -> LogColumn {
    LogColumn { number: at + 1, name: head.columns[at].clone(), unit: symbol.to_owned(), factor }
}
