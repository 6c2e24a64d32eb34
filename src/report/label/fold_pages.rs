//! Fold-outs on paper, beside and below each other, with lines to cut along.

use maud::{Markup, html};

use super::LabelError;
use super::content::LabelContent;
use super::draw::label_drawing;
use super::fold_out::{Drawn, FoldOut};
use super::lines::needs_fold_out;
use super::sheet::{LabelRun, Paper};
use super::stock::LabelStock;
use crate::record::Code;
use crate::report::lettering::length;
use crate::report::view::code_range;

/// Width of a fold-out: two stand beside each other on A4 and on Letter.
const WIDE: f64 = 92.0;
/// Type sizes: what is usual, and what is still read.
const SIZES: [f64; 2] = [2.3, 1.9];

/// The fold-outs of those labels that need one, each as often as its label; those of cells that say the same once.
///
/// # Errors
/// If one code can't be printed or is too long for its QR code.
pub(super) fn fold_outs(labels: &[LabelContent], stock: LabelStock) -> Result<Vec<FoldOut>, LabelError> {
    let mut all: Vec<FoldOut> = Vec::new();
    for label in labels {
        if !needs_fold_out(label, &label_drawing(label, stock)?.left_off) {
            continue;
        }
        let own = FoldOut::of(label, stock);
        match all.iter_mut().find(|known| stock == LabelStock::CellSleeve && known.says_the_same(&own)) {
            Some(known) => known.codes.extend(own.codes),
            None => all.push(own),
        }
    }
    Ok(all)
}

/// The pages with the fold-outs of one size of label.
pub(super) fn fold_pages(run: &LabelRun<'_>, paper: &Paper) -> Result<Vec<Markup>, LabelError> {
    let fold_outs = fold_outs(run.labels, run.stock)?;
    let mut pages: Vec<Page> = Vec::new();
    for fold_out in &fold_outs {
        let (drawn, wide) = fitting(fold_out, paper);
        let placed = pages.last_mut().is_some_and(|page| page.take(&drawn, wide, paper));
        if !placed {
            let mut page = Page::default();
            page.take(&drawn, wide, paper);
            pages.push(page);
        }
    }
    let count = pages.len();
    let page = |(at, page): (usize, Page)| paper.page(&page.markup(), &words(run.stock, at + 1, count));
    Ok(pages.into_iter().enumerate().map(page).collect())
}

/// As large as it can be read, over both columns if it is longer than a page.
fn fitting(fold_out: &FoldOut, paper: &Paper) -> (Drawn, f64) {
    let title = format!("{} – fold-out of the label", range(&fold_out.codes));
    let both = 2.0 * WIDE;
    let ways = [WIDE, both].into_iter().flat_map(|wide| SIZES.map(|size| (wide, size)));
    let mut drawn = ways.map(|(wide, size)| (fold_out.drawn(&title, wide, size), wide));
    let fits = drawn.find(|(drawn, _)| drawn.height <= paper.for_labels());
    fits.unwrap_or_else(|| (fold_out.drawn(&title, both, SIZES[1]), both))
}

fn range(codes: &[String]) -> String {
    let known: Vec<Code> = codes.iter().filter_map(|code| code.parse().ok()).collect();
    if known.len() == codes.len() { code_range(&known) } else { codes.join(", ") }
}

fn words(stock: LabelStock, number: usize, count: usize) -> String {
    format!("Page {number} of {count}; fold-outs of {stock} labels: cut along the lines.")
}

/// How far two columns are filled, and what stands in them.
#[derive(Default)]
struct Page {
    filled: [f64; 2],
    drawn: Vec<Markup>,
}

impl Page {
    /// Takes a strip into the emptier column, or over both; false if the page has no room.
    fn take(&mut self, drawn: &Drawn, wide: f64, paper: &Paper) -> bool {
        let both = WIDE < wide;
        let column = usize::from(self.filled[1] < self.filled[0]);
        let top = if both { self.filled[0].max(self.filled[1]) } else { self.filled[column] };
        let low = top + drawn.height;
        if 0.0 < top && paper.for_labels() < low {
            return false;
        }
        for (at, filled) in self.filled.iter_mut().enumerate() {
            if both || at == column {
                *filled = low;
            }
        }
        let x = if both { 0.0 } else { column as f64 * WIDE };
        let frame = format!("M0 0H{w}V{h}H0z", w = length(wide), h = length(drawn.height));
        self.drawn.push(html! {
            g transform=(format!("translate({} {})", length(x), length(top))) {
                path d=(frame) fill="none" stroke="#000" stroke-width="0.1" stroke-dasharray="0.8 0.8" {}
                (drawn.markup)
            }
        });
        true
    }

    fn markup(self) -> Markup {
        html! { @for strip in &self.drawn { (strip) } }
    }
}
