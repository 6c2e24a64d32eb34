//! One of every block in every format, kept whole.

use meltbook::report::html::{self, PageSize};
use meltbook::report::terminal::{self, Style};
use meltbook::report::{csv, markdown};

use super::sample::gallery;
use crate::golden;

#[test]
fn terminal_plain() {
    golden::check("render/gallery.txt", &terminal::render(&gallery(), 100, Style::Plain));
}

#[test]
fn terminal_narrow() {
    golden::check("render/gallery-narrow.txt", &terminal::render(&gallery(), 44, Style::Plain));
}

#[test]
fn terminal_ansi() {
    let shown = terminal::render(&gallery(), 100, Style::Ansi).replace('\x1b', "␛");
    golden::check("render/gallery-ansi.txt", &shown);
}

#[test]
fn markdown_page() {
    golden::check("render/gallery.md", &markdown::render(&gallery()));
}

#[test]
fn html_page() {
    golden::check("render/gallery.html", &html::page(&gallery(), PageSize::A4));
}

#[test]
fn csv_of_first_table() {
    golden::check("render/gallery.csv", &csv::first_table(&gallery()).unwrap().unwrap());
}
