//! Many labels on paper, with lines to cut along.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::LabelError;
use super::content::LabelContent;
use super::draw::drawn;
use super::fold_pages::fold_pages;
use super::stock::LabelStock;
use crate::report::html::PageSize;
use crate::report::lettering::{FONT, length};

/// Free edge of the paper, in millimetres: few printers reach further.
const EDGE: f64 = 8.0;
/// Free strip at the foot for the line that shows whether the print is as large as it should be.
const FOOT: f64 = 6.0;
/// A cut line reaches so far beyond the labels.
const BEYOND: f64 = 3.0;
/// That line begins so far from the edge.
const INDENT: f64 = 1.0;
/// Length of the line to be checked with a ruler.
const RULER: f64 = 50.0;

/// Labels of one size, printed one after the other.
#[derive(Debug, Clone, Copy)]
pub struct LabelRun<'l> {
    /// The size.
    pub stock: LabelStock,
    /// The labels.
    pub labels: &'l [LabelContent],
    /// So many places of the first page stay empty, because they were used before.
    pub skip: usize,
}

/// How many labels of a size have room on one page.
pub fn labels_per_page(stock: LabelStock, size: PageSize) -> usize {
    let grid = Grid::new(stock, size);
    grid.columns * grid.rows
}

/// A page for print with all labels, in rows from the upper left. Print it at its own size: the line at
/// the foot shows whether that was so.
///
/// # Errors
/// If one code can't be printed or is too long for its QR code.
pub fn label_sheet(labels: &[LabelContent], stock: LabelStock, size: PageSize) -> Result<String, LabelError> {
    label_sheets(&[LabelRun { stock, labels, skip: 0 }], size)
}

/// The same for labels of several sizes, each on pages of their own.
///
/// # Errors
/// If one code can't be printed or is too long for its QR code.
pub fn label_sheets(runs: &[LabelRun<'_>], size: PageSize) -> Result<String, LabelError> {
    let drawn = runs.iter().map(|run| pages(run, size)).collect::<Result<Vec<_>, _>>()?;
    let title = match runs {
        [one] => format!("Labels for {}s", one.stock),
        _ => "Labels".to_owned(),
    };
    let style = format!(
        "@page{{size:{};margin:{EDGE}mm}}html,body{{margin:0;background:#fff}}\
         svg{{display:block;break-after:page}}svg:last-child{{break-after:auto}}\
         @media screen{{body{{padding:{EDGE}mm}}svg{{margin-bottom:8mm;outline:1px dotted #000}}}}",
        size.css()
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                title { (title) }
                style { (PreEscaped(style)) }
            }
            body { @for page in drawn.iter().flatten() { (page) } }
        }
    };
    Ok(page.into_string() + "\n")
}

/// The pages of one size, and those of its fold-outs.
fn pages(run: &LabelRun<'_>, size: PageSize) -> Result<Vec<Markup>, LabelError> {
    let mut pages = label_pages(run, size)?;
    pages.extend(fold_pages(run, &Paper::new(size))?);
    Ok(pages)
}

fn label_pages(run: &LabelRun<'_>, size: PageSize) -> Result<Vec<Markup>, LabelError> {
    let grid = Grid::new(run.stock, size);
    let used = std::iter::repeat_n(None, run.skip);
    let places: Vec<Option<&LabelContent>> = used.chain(run.labels.iter().map(Some)).collect();
    let pages: Vec<&[Option<&LabelContent>]> = places.chunks(grid.columns * grid.rows).collect();
    pages.iter().enumerate().map(|(index, page)| grid.page(page, index + 1, pages.len())).collect()
}

/// The printed area of a page.
pub(super) struct Paper {
    width: f64,
    height: f64,
}

impl Paper {
    pub(super) fn new(size: PageSize) -> Self {
        let (width, height) = size.size_mm();
        // Half a millimetre less than there is, so that no rounding starts an empty page.
        Self { width: width - 2.0 * EDGE, height: height - 2.0 * EDGE - 0.5 }
    }

    /// Height above the foot.
    pub(super) fn for_labels(&self) -> f64 {
        self.height - FOOT
    }

    /// A page with its foot: the line to be checked with a ruler, and words beside it.
    pub(super) fn page(&self, content: &Markup, words: &str) -> Markup {
        let (width, height) = (length(self.width), length(self.height));
        html! {
            svg xmlns="http://www.w3.org/2000/svg" width=(format!("{width}mm")) height=(format!("{height}mm"))
                viewBox=(format!("0 0 {width} {height}")) font-family=(FONT) {
                (content)
                (self.foot(words))
            }
        }
    }

    fn foot(&self, words: &str) -> Markup {
        let line = self.height - 2.0;
        let ends = format!(
            "M{left} {line}H{right}M{left} {low}V{high}M{right} {low}V{high}",
            left = length(INDENT),
            right = length(INDENT + RULER),
            line = length(line),
            low = length(line - 1.0),
            high = length(line + 1.0)
        );
        html! {
            path d=(ends) fill="none" stroke="#000" stroke-width="0.2" {}
            text x=(length(INDENT + RULER + 2.0)) y=(length(line + 0.8)) font-size="2.6" { (words) }
        }
    }
}

struct Grid {
    stock: LabelStock,
    columns: usize,
    rows: usize,
    paper: Paper,
}

impl Grid {
    fn new(stock: LabelStock, size: PageSize) -> Self {
        let (wide, high) = stock.size_mm();
        let paper = Paper::new(size);
        let fitting = |room: f64, side: f64| (room / side).floor().max(1.0) as usize;
        Self { stock, columns: fitting(paper.width, wide), rows: fitting(paper.for_labels(), high), paper }
    }

    fn page(
        &self,
        places: &[Option<&LabelContent>],
        number: usize,
        count: usize,
    ) -> Result<Markup, LabelError> {
        let (wide, high) = self.stock.size_mm();
        let place =
            |index: usize| ((index % self.columns) as f64 * wide, (index / self.columns) as f64 * high);
        let mut placed = Vec::with_capacity(places.len());
        for (index, label) in places.iter().enumerate() {
            let Some(label) = label else { continue };
            let (x, y) = place(index);
            let (label, _) = drawn(label, self.stock)?;
            placed
                .push(html! { g transform=(format!("translate({} {})", length(x), length(y))) { (label) } });
        }
        let content = html! {
            path d=(self.cut_lines(places.len())) fill="none" stroke="#000" stroke-width="0.1"
                stroke-dasharray="0.8 0.8" {}
            @for label in &placed { (label) }
        };
        let words = format!(
            "Page {number} of {count}; {} labels, {wide} mm by {high} mm; this line is {RULER} mm long if printed at its size.",
            capital(self.stock.words())
        );
        Ok(self.paper.page(&content, &words))
    }

    /// A line beside each place up to the last label, from edge to edge.
    fn cut_lines(&self, count: usize) -> String {
        let (wide, high) = self.stock.size_mm();
        let columns = count.min(self.columns);
        let rows = count.div_ceil(self.columns);
        let across = (columns as f64 * wide + BEYOND).min(self.paper.width);
        let down = rows as f64 * high + BEYOND;
        let vertical =
            (1..=columns).map(|column| format!("M{} 0V{}", length(column as f64 * wide), length(down)));
        let horizontal = (1..=rows).map(|row| format!("M0 {}H{}", length(row as f64 * high), length(across)));
        let edges = format!("M0 0H{}M0 0V{}", length(across), length(down));
        [edges].into_iter().chain(vertical).chain(horizontal).collect()
    }
}

fn capital(words: &str) -> String {
    let mut characters = words.chars();
    characters.next().map(|first| first.to_uppercase().to_string() + characters.as_str()).unwrap_or_default()
}
