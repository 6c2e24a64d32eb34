//! `sheet`: what is printed and weighed from.

use crate::golden;
use crate::run::answer;

const WITH_ADDITION: [&str; 10] = [
    "sheet",
    "choline-chloride-urea-zinc-sulfate",
    "--mass",
    "50 g",
    "--balance",
    "d=0.001g repeatability=0.001g",
    "--bottle",
    "ChCl assay=98..100% basis=dried moisture=1.5%",
    "--format",
    "html",
];

#[test]
fn sheets_as_they_are_printed() {
    golden::check("cli/sheet-addition-a4.html", &answer(&WITH_ADDITION, 0));
    let letter = ["sheet", "ChCl:oxalic-acid 1:1", "--mass", "30 g", "--paper", "letter", "--format", "html"];
    golden::check("cli/sheet-letter.html", &answer(&letter, 0));
}

#[test]
fn a_sheet_in_text() {
    let arguments = ["sheet", "ChCl:urea 1:2", "--mass", "50 g"];
    golden::check("cli/sheet.txt", &answer(&arguments, 0));
    let markdown = ["sheet", "ChCl:urea 1:2", "--mass", "50 g", "--format", "markdown"];
    golden::check("cli/sheet.md", &answer(&markdown, 0));
}

/// Whatever is on it, a sheet needs nothing from elsewhere and defers to those who know more.
#[test]
fn a_sheet_stands_alone_and_defers() {
    for arguments in
        [&WITH_ADDITION[..], &["sheet", "menthol-thymol-1-1", "--mass", "20 g", "--format", "html"]]
    {
        let html = answer(arguments, 0);
        for outside in ["http:", "https:", "<script", " src=", "url(", "@import", "<link"] {
            assert!(!html.contains(outside), "{outside} in {arguments:?}");
        }
        assert!(html.contains("safety data sheet"), "{arguments:?}");
        for blessing in ["is safe", "harmless", "approved"] {
            assert!(!html.contains(blessing), "{blessing} in {arguments:?}");
        }
    }
}
