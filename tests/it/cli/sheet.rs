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

/// The place of a text in a sheet, which must hold it.
#[track_caller]
fn place(sheet: &str, text: &str) -> usize {
    sheet.find(text).unwrap_or_else(|| panic!("{text:?} is missing in {sheet}"))
}

/// What has to be put right before anything is weighed stands before the weighings.
#[test]
fn what_makes_it_a_no_stands_above_the_weighings() {
    let sheet = answer(
        &[
            "sheet",
            "ChCl:urea 1:2 to 1 wt% water",
            "--mass",
            "50 g",
            "--bottle",
            "ChCl moisture=6%",
            "--have",
            "urea 10 g",
        ],
        1,
    );
    let table = place(&sheet, "Weigh in this order");
    for grave in ["dry first:", "the stock is short of"] {
        assert!(place(&sheet, grave) < table, "{grave}");
    }
}

/// Work that an alert blocks gets boxes for procedure and person; other work does not.
#[test]
fn a_block_has_boxes_to_write_in() {
    let boxes =
        ["BLOCK is done only with a written procedure; its name", "Person responsible, and signature"];
    let blocked =
        answer(&["sheet", "ChCl:EG 1:2 + 0.1 mol/kg NaClO4", "--mass", "20 g", "--format", "html"], 0);
    for label in boxes {
        let label = place(&blocked, &format!("<span class=\"label\">{label}"));
        assert!(blocked[label..].contains("class=\"unit\"") || blocked[label..].contains("class=\"value\""));
        assert!(label < place(&blocked, "Weigh in this order"));
    }
    assert!(!blocked.contains("____"));
    let other = answer(&["sheet", "ChCl:EG 1:2", "--mass", "20 g", "--format", "html"], 0);
    assert!(boxes.iter().all(|label| !other.contains(label)));
}

/// The same trouble of several components is told once, and the gravest statements in words.
#[test]
fn a_sheet_says_a_thing_once_and_the_worst_in_words() {
    let sheet = answer(
        &[
            "sheet",
            "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2",
            "--mass",
            "5 g",
            "--balance",
            "d=0.01g repeatability=0.01g",
        ],
        0,
    );
    assert_eq!(sheet.matches("whose uncertainty takes more than half of the window").count(), 1, "{sheet}");
    let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("Danger: H314 Causes severe skin burns and eye damage (zinc chloride)"), "{flat}");
}

/// Into one flask: what the display shows before and after each, and nothing to tare.
#[test]
fn a_cumulative_sheet_follows_the_display() {
    let arguments = ["sheet", "ChCl:EG 1:2", "--mass", "60 g", "--balance", "d=0.001g", "--cumulative"];
    let sheet = answer(&arguments, 0);
    for text in ["Display", "31.761", "60.000"] {
        place(&sheet, text);
    }
    for text in ["Tare", "Gross"] {
        assert!(!sheet.contains(text), "{sheet}");
    }
    let mut as_csv = arguments.to_vec();
    as_csv.extend(["--format", "csv"]);
    let csv = answer(&as_csv, 0);
    let lines: Vec<&str> = csv.lines().collect();
    assert_eq!(lines[0], "number,component,asked,bottle,target_g,low_g,high_g,volume_ml,before_g,after_g");
    assert_eq!(lines[1], "1,choline-chloride,part 1,,31.761,31.606,31.917,,0.000,31.761");
    assert!(lines[2].starts_with("2,ethylene-glycol,part 2,,28.239,"), "{csv}");
    assert!(lines[2].ends_with(",31.761,60.000"), "{csv}");
}

/// Each step of a worked recipe stands where it is done: nothing is closed or measured before it was hot.
#[test]
fn procedures_are_in_the_order_of_work() {
    for (name, _) in meltbook::recipe::WORKED_RECIPES {
        let text = answer(&["recipe", "show", name], 0);
        let end = place(&text, "Done when:");
        for late in ["Karl Fischer", "stopper at once", "close against moist air", "seal it hot"] {
            assert!(text.find(late).is_none_or(|at| end < at), "{name}: {late}");
        }
        if let Some(hot) = text.find("Heat to") {
            assert!(hot < end, "{name}");
        }
    }
}

/// A row is higher where there is room, and never overlaps the type in it.
#[test]
fn rows_grow_where_there_is_room() {
    let heights = |recipe: &str| -> Vec<f64> {
        let html = answer(&["sheet", recipe, "--mass", "50 g", "--format", "html"], 0);
        let style = &html[html.rfind(".form { --line").unwrap()..];
        ["--row: ", "--target: ", "--second: "]
            .map(|name| {
                let value = style.split(name).nth(1).unwrap();
                value[..value.find(['m', 'p']).unwrap()].parse().unwrap()
            })
            .to_vec()
    };
    let few = heights("ChCl:urea 1:2");
    let many =
        heights("ChCl:urea:EG:glycerol 1:1:1:1 + 0.5 mol/kg ZnCl2 + 0.3 mol/kg NH4Cl + 0.1 wt% thymol");
    assert!(many[0] < few[0], "{many:?} {few:?}");
    for [row, target, second] in [few, many].map(|sizes| [sizes[0], sizes[1], sizes[2]]) {
        assert!((target + 1.12 * second) * 25.4 / 72.0 <= row, "{row} {target} {second}");
        assert!(8.0 <= second, "a window can be read");
    }
}
