//! What `sample-size` shows: one sentence first, then what was assumed, a table and a curve.

use super::amount::{percent, short};
use crate::report::document::{
    Axis, Block, Caution, Chart, Document, Mark, Shape, Stroke, Table, bullets, column, heading, paragraph,
    strong,
};
use crate::statistics::power::{Aim, Enough, Question, Tails};

/// The units of the question, as it was asked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SizeWords {
    /// The unit of all sizes; empty for bare numbers.
    pub unit: String,
    /// The spread in it.
    pub sd: Option<f64>,
    /// The difference, half width or factor asked for.
    pub target: Option<f64>,
    /// The loss as typed.
    pub loss: Option<String>,
    /// Where the spread comes from, if it was not given.
    pub found: Option<FoundSpread>,
}

/// A spread that was found on cells of the book.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundSpread {
    /// The electrolyte or lot.
    pub of: String,
    /// What was taken of each cell, as text.
    pub metric: String,
    /// Its 95 % limits, in the unit of the question.
    pub interval: [f64; 2],
    /// How many cells it stands on.
    pub cells: usize,
    /// How many batches they come from.
    pub batches: usize,
    /// The standard deviation between batches, if there are several.
    pub between: Option<f64>,
    /// How many cells per electrolyte would be needed at the upper limit, if that many are ever enough.
    pub at_most: Option<usize>,
}

impl SizeWords {
    /// A size in the unit, from standard deviations.
    fn size(&self, deviations: f64) -> String {
        match self.sd {
            Some(sd) => self.with_unit(deviations * sd),
            None => format!("{} standard deviations", short(deviations, 3)),
        }
    }

    fn with_unit(&self, value: f64) -> String {
        format!("{} {}", short(value, 3), self.unit).trim_end().to_owned()
    }

    fn sd(&self) -> String {
        self.sd.map_or(String::new(), |sd| self.with_unit(sd))
    }

    /// How it is known.
    fn source(&self) -> String {
        let Some(found) = &self.found else { return "as given".to_owned() };
        let batches = match found.batches {
            1 => "one batch".to_owned(),
            several => format!("{several} batches, pooled within each"),
        };
        format!("by {:?} of {} cells of {} out of {batches}", found.metric, found.cells, found.of)
    }

    fn target(&self) -> String {
        self.target.map_or(String::new(), |target| self.with_unit(target))
    }
}

/// How well a spread is known that was found on cells, and what that does to the answer.
fn uncertain(question: &Question, enough: &Enough, found: &FoundSpread, words: &SizeWords) -> Vec<String> {
    let [low, high] = found.interval;
    let mut said = vec![format!(
        "The true spread may lie between {} and {} (95 %, by χ²).",
        words.with_unit(low),
        words.with_unit(high)
    )];
    match found.at_most {
        Some(more) if question.per_group.is_none() && enough.per_group < more => {
            said.push(format!(
                "At {} it would take {}.",
                words.with_unit(high),
                count(more, question.groups)
            ));
        }
        _ => {}
    }
    if let Some(between) = found.between {
        said.push(if 0.0 < between {
            format!("Beside that, batches of it differ by {} (standard deviation).", words.with_unit(between))
        } else {
            "Beside that, no difference between batches of it could be seen.".to_owned()
        });
    }
    said
}

/// The answer to a question.
pub fn sample_size_document(question: &Question, enough: &Enough, words: &SizeWords) -> Document {
    let mut document = Document::new(title(question)).with(paragraph(strong(first(question, enough, words))));
    document.push(paragraph(meaning(question, enough, words)));
    if let (Some((built, sure)), Some(loss)) = (enough.build, &words.loss) {
        document.push(paragraph(spares(question, enough, built, sure, loss)));
    }
    document.push(around(question, enough, words));
    document.push(curve(question, enough, words));
    document.push(heading(2, "What is assumed"));
    document.push(bullets(assumed(question, enough, words)));
    if question.alpha < 1.0 && is_comparison(question) && enough.per_group < 4 {
        document.push(Caution::note(
            "With fewer than 4 cells a spread is hardly known, and one bad cell decides.",
        ));
    }
    document
}

fn is_comparison(question: &Question) -> bool {
    matches!(question.aim, Aim::Difference(_) | Aim::Means(_) | Aim::Detect)
}

fn title(question: &Question) -> &'static str {
    match question.aim {
        Aim::Difference(_) | Aim::Means(_) | Aim::Detect if question.per_group.is_some() => {
            "What these cells can find"
        }
        _ if question.per_group.is_some() => "What these cells can say",
        _ => "How many cells are enough",
    }
}

/// "12 cells per electrolyte, 24 in all."
fn first(question: &Question, enough: &Enough, words: &SizeWords) -> String {
    let number = count(enough.per_group, question.groups);
    match question.aim {
        Aim::Detect => format!(
            "{number}: the smallest true difference that they find with a power of {} is {}.",
            percent(question.power, 3),
            words.size(enough.detectable.unwrap_or(f64::NAN))
        ),
        _ => format!("{number}."),
    }
}

fn count(per_group: usize, groups: usize) -> String {
    match groups {
        1 => format!("{per_group} cells"),
        groups => format!("{per_group} cells per electrolyte, {} in all", per_group * groups),
    }
}

fn meaning(question: &Question, enough: &Enough, words: &SizeWords) -> String {
    let confidence = percent(question.confidence, 3);
    match question.aim {
        Aim::Difference(_) | Aim::Means(_) => found(question, enough, words),
        Aim::Detect => format!(
            "A smaller difference may well be there and not be found: \"no difference found\" then means no \
             more than \"probably less than {}\".",
            words.size(enough.detectable.unwrap_or(f64::NAN))
        ),
        Aim::HalfWidth(_) => format!(
            "If they scatter by {} as planned, the {confidence} interval of the mean reaches {} to each side. In \
             about half of such experiments the spread comes out larger, and the interval wider.",
            words.sd(),
            words.size(enough.reached)
        ),
        Aim::Spread(_) => format!(
            "The true standard deviation is then at most {} above the one found, with {confidence} confidence.",
            percent(enough.reached - 1.0, 3)
        ),
        Aim::Tolerance(_) => {
            let reach = match words.sd {
                Some(sd) if words.unit.is_empty() => short(sd * enough.reached, 3),
                Some(_) => words.size(enough.reached),
                None => format!("{} standard deviations", short(enough.reached, 4)),
            };
            format!(
                "{} of all further cells then lie within {reach} of the mean found, with {confidence} confidence.",
                percent(question.coverage, 3)
            )
        }
    }
}

fn found(question: &Question, enough: &Enough, words: &SizeWords) -> String {
    let hundred = (100.0 * enough.reached).floor().min(99.0);
    let (what, where_) = match (question.aim, question.groups) {
        (Aim::Means(_), _) => ("that the true means are not all equal".to_owned(), String::new()),
        (_, 2) => (format!("a true difference of {}", words.target()), String::new()),
        _ => (
            "that the electrolytes differ".to_owned(),
            format!("the lowest and the highest differ by {}, the others lie midway, and ", words.target()),
        ),
    };
    let short_of = if enough.reached < question.power && question.per_group.is_some() {
        let detectable = words.size(enough.detectable.unwrap_or(f64::NAN));
        let asked = percent(question.power, 3);
        format!(" That is less than the {asked} asked for, which they have from {detectable} on.")
    } else {
        String::new()
    };
    format!(
        "With these, {hundred} of 100 such experiments find {what}, if {where_}cells of one electrolyte scatter by \
         {}.{short_of}",
        words.sd()
    )
}

fn spares(question: &Question, enough: &Enough, built: usize, sure: f64, loss: &str) -> String {
    let every = if question.groups == 1 { "" } else { " in every electrolyte" };
    format!(
        "Build {}: where {loss} of the cells are lost, at least {} survive{every} with a probability of {}.",
        count(built, question.groups),
        enough.per_group,
        percent(sure, 3)
    )
}

/// The number and its neighbours, so that one cell more or less can be weighed up.
fn around(question: &Question, enough: &Enough, words: &SizeWords) -> Table {
    let mut columns = vec![column("Cells per electrolyte").key("per_group").right()];
    if question.groups != 1 {
        columns.push(column("In all").key("total").right());
    }
    let head = match question.aim {
        Aim::Difference(_) | Aim::Means(_) => column("Power").unit("%").key("power_pct"),
        Aim::Detect => column("Smallest difference found").unit(words.unit.as_str()).key("detectable"),
        Aim::HalfWidth(_) => column("Half width").unit(words.unit.as_str()).key("half_width"),
        Aim::Spread(_) => column("True spread at most above").unit("%").key("spread_above_pct"),
        Aim::Tolerance(_) => column("Factor k").key("tolerance_k"),
    };
    columns.push(head.decimal());
    let mut table = Table::new(columns);
    let n = enough.per_group;
    let least = n.saturating_sub(2).max(2);
    for own in (least..=least + 4).chain([n + n / 2, 2 * n].into_iter().filter(|more| least + 4 < *more)) {
        let mark = |text: String| if own == n { strong(text) } else { text.into() };
        let mut row = vec![mark(own.to_string())];
        if question.groups != 1 {
            row.push(mark((own * question.groups).to_string()));
        }
        row.push(mark(value(question, question.reached(own), words)));
        table.push(row);
    }
    table
}

fn value(question: &Question, reached: f64, words: &SizeWords) -> String {
    match question.aim {
        Aim::Difference(_) | Aim::Means(_) => format!("{:.1}", 100.0 * reached),
        Aim::Detect | Aim::HalfWidth(_) => short(reached * words.sd.unwrap_or(1.0), 3),
        Aim::Spread(_) => format!("{:.1}", 100.0 * (reached - 1.0)),
        Aim::Tolerance(_) => format!("{reached:.3}"),
    }
}

fn curve(question: &Question, enough: &Enough, words: &SizeWords) -> Block {
    let sd = words.sd.unwrap_or(1.0);
    let unit = if words.unit.is_empty() { String::new() } else { format!(" ({})", words.unit) };
    let (title, factor, target) = match question.aim {
        Aim::Difference(_) | Aim::Means(_) => ("power (%)".to_owned(), 100.0, 100.0 * question.power),
        Aim::Detect => (format!("smallest difference found{unit}"), sd, f64::NAN),
        Aim::HalfWidth(most) => (format!("half width of the interval{unit}"), sd, most * sd),
        Aim::Spread(most) => ("true spread by that found, at most".to_owned(), 1.0, most),
        Aim::Tolerance(most) => ("tolerance factor k".to_owned(), 1.0, most),
    };
    let is_power = matches!(question.aim, Aim::Difference(_) | Aim::Means(_));
    let up = Axis::new(title.clone()).from(0.0);
    let up = if is_power { up.to(100.0) } else { up };
    // Two cells say so little that they would leave no room for the others.
    let shown = enough.curve.iter().filter(|(n, _)| is_power || 3 <= *n || enough.per_group < 5);
    let points: Vec<(f64, f64)> = shown.map(|(n, reached)| (*n as f64, factor * reached)).collect();
    let here = (enough.per_group as f64, factor * enough.reached);
    let described = format!("{title} against the number of cells per electrolyte");
    let mut chart = Chart::new(Axis::new("cells per electrolyte"), up, described);
    if target.is_finite() {
        chart = chart.with(Mark::level(target, "asked for"));
    }
    let chart = chart.with(Mark::place(here.0, format!("{} cells", enough.per_group)));
    let chart = chart.with(Mark::line(points, Stroke::Strong, ""));
    chart.with(Mark::points(vec![here], Shape::Filled, "")).into()
}

fn assumed(question: &Question, enough: &Enough, words: &SizeWords) -> Vec<String> {
    let mut points = Vec::new();
    if is_comparison(question) {
        let sides = match question.tails {
            Tails::Two => "two-sided: a difference in either direction counts",
            Tails::One => "one-sided: only the direction chosen beforehand counts",
        };
        let test = if question.groups == 2 && !matches!(question.aim, Aim::Means(_)) {
            format!("Student's t at a level of {}, {sides}", percent(question.alpha, 3))
        } else {
            format!("one-way analysis of variance at a level of {}", percent(question.alpha, 3))
        };
        points.push(format!("Test: {test}. Electrolytes spread alike and cells are normally distributed."));
        if 2 < question.groups {
            points.push(
                "That they differ does not say which: comparing every pair needs more cells than this."
                    .to_owned(),
            );
        }
        points.push(format!(
            "Spread between cells of one electrolyte: {} {}. If it is larger, the power is less.",
            words.sd(),
            words.source()
        ));
    } else {
        points.push("Cells are normally distributed.".to_owned());
    }
    if matches!(question.aim, Aim::HalfWidth(_)) {
        points.push(format!("Spread: {} {}. Intervals by Student's t.", words.sd(), words.source()));
    }
    points
        .extend(words.found.as_ref().into_iter().flat_map(|found| uncertain(question, enough, found, words)));
    if let Some(free) = enough.distribution_free {
        points.push(format!(
            "Without a normal distribution, the least and the greatest of {free} cells enclose {} of all further \
             ones with {} confidence.",
            percent(question.coverage, 3),
            percent(question.confidence, 3)
        ));
    }
    if question.loss.is_some() {
        points.push(
            "Cells are lost by chance, whatever the electrolyte. A loss that depends on it is a result."
                .to_owned(),
        );
    }
    points.push(
        "Cells are independent. Cells filled from one batch are repeats of that batch: to judge an electrolyte, make \
         it several times and count batches."
            .to_owned(),
    );
    points
}
