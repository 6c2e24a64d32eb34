//! Labels, kept whole.

use meltbook::report::html::PageSize;
use meltbook::report::label::{LabelStock, label_document, label_drawing, label_sheet};
use meltbook::report::markdown;
use meltbook::report::terminal::{self, Style};

use super::sample::{cell, corrosive, gallery, quiet};
use crate::golden;

#[test]
fn drawings() {
    for (label, stock) in
        [(corrosive(), LabelStock::Vial), (quiet(), LabelStock::Bottle), (cell(), LabelStock::CellSleeve)]
    {
        let svg = label_drawing(&label, stock).unwrap().svg.replace("><", ">\n<");
        golden::check(&format!("labels/{}.svg", stock.name()), &(svg + "\n"));
    }
}

#[test]
fn a_sheet() {
    golden::check("labels/bottles.html", &label_sheet(&gallery(), LabelStock::Bottle, PageSize::A4).unwrap());
}

#[test]
fn previews() {
    let vials = label_document(&gallery(), LabelStock::Vial).unwrap();
    golden::check("labels/vials.txt", &terminal::render(&vials, 100, Style::Plain));
    let bottles = label_document(&[corrosive(), quiet()], LabelStock::Bottle).unwrap();
    golden::check("labels/bottles.md", &markdown::render(&bottles));
}

#[test]
fn small_labels_on_sheets() {
    let pages = |stock| label_sheet(&gallery(), stock, PageSize::Letter).unwrap();
    golden::check("labels/vials.html", &pages(LabelStock::Vial));
    golden::check("labels/cell-sleeves.html", &pages(LabelStock::CellSleeve));
}
