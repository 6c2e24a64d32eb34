//! Documents for the tests: a gallery of every block, and any document of any texts.

use meltbook::report::document::{
    Block, Boxes, Caution, Chain, Column, Document, Figure, Table, Text, WriteIn, big, bullets, checklist,
    code, column, facts, heading, muted, numbered, page_break, paragraph, strong, text, together, tree,
    write_ins,
};
use proptest::prelude::*;

/// One of everything. The numbers are invented; they only have to be long and short.
pub fn gallery() -> Document {
    Document::new("Weighing sheet: choline chloride and glycerol, 1 to 2")
        .footer("ChCl:glycerol 1:2, 75.3 g, sheet of a made-up batch")
        .with(facts([
            ("Recipe", text("choline chloride and glycerol ").then(code("ChCl:glycerol 1:2"))),
            ("Batch size", "75.3 g in the flask".into()),
            ("Assay", text("98 % ").then(muted("basis: dried; uncertainty not stated"))),
        ]))
        .with(cautions())
        .with(heading(1, "Weigh"))
        .with(
            paragraph(
                text("Weigh into one flask, in this order. ")
                    .then(strong("Close each bottle at once:"))
                    .then(" choline chloride takes up water from the air within minutes, and what it takes up is weighed as salt."),
            ),
        )
        .with(weighing())
        .with(boxes())
        .with(heading(1, "Make"))
        .with(numbered([
            text("Close the flask and heat to 80\u{a0}°C with stirring."),
            text("Hold for 1\u{a0}h, or until it is clear and uniform; note the time at which it turned clear, since a longer time at temperature changes the liquid."),
            text("Let it cool closed."),
        ]))
        .with(checklist(["Flask closed", "Hot plate off", "Spill tray back in its place"]))
        .with(heading(2, "What to look for"))
        .with(bullets(["turbid after a day at room temperature: crystals or water", "yellow: too hot, too long"]))
        .with(heading(3, "Smaller still"))
        .with(heading(4, "Smallest"))
        .with(page_break())
        .with(heading(1, "Why these masses"))
        .with(chain())
        .with(results())
        .with(tree(strong("E-0042").then(" made of")).branch(tree(code("B-0012").then(" choline chloride")).branch(tree("its bottle"))).branch(tree("B-0007 glycerol")))
        .with(Figure::new(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"60\" viewBox=\"0 0 200 60\"><path d=\"M10 10 V50 H190\" fill=\"none\" stroke=\"black\"/><path d=\"M10 20 L100 35 L190 44\" fill=\"none\" stroke=\"black\" stroke-width=\"2\"/></svg>",
            "conductivity falls from left to right",
        ).caption("Conductivity over mole fraction of donor"))
        .with(together([heading(2, "Released by"), write_ins([WriteIn::new("Name").width(2), WriteIn::new("Date")]).into()]))
}

fn cautions() -> Block {
    let block = Caution::block("Never take perchlorate to dryness with organics")
        .detail("No procedure of this book goes past this point.")
        .source(code("alert dry-oxidiser"));
    let warn = Caution::warn("Zinc chloride burns skin and eyes (H314)")
        .detail("Gloves and goggles before the bottle is opened. The supplier's safety data sheet, local code and a qualified person come before this sheet, which only reminds of them.");
    let note = Caution::note("No flash point is known for this mixture: missing data, not absence of hazard");
    together([block, warn, note])
}

fn weighing() -> Table {
    let target = |value: &str| big(value);
    let columns = [
        column("Component"),
        column("Bottle"),
        column("Ratio").right(),
        column("Weigh").unit("g").key("weigh_g").decimal(),
        column("Window").unit("g"),
        column("Weighed").unit("g").write_in(32),
        column("By").write_in(14),
    ];
    Table::new(columns)
        .caption("Targets")
        .row(["choline chloride".into(), code("B-0012"), "1".into(), target("32.480"), "32.32–32.64".into()])
        .row(["glycerol".into(), code("B-0007"), "2".into(), target("42.85"), "42.64–43.06".into()])
        .row([
            "zinc chloride".into(),
            code("B-0031"),
            muted("0.5 mol/kg"),
            target("5.1307"),
            "5.105–5.156".into(),
        ])
        .row([
            "water, added".into(),
            muted("none"),
            "".into(),
            target("0.9"),
            "0.85–0.95".into(),
            "0.91".into(),
        ])
        .total([strong("together"), "".into(), "".into(), target("81.36")])
}

fn boxes() -> Boxes {
    write_ins([
        WriteIn::new("Lot code").width(3).value("E-0042"),
        WriteIn::new("Date").width(2),
        WriteIn::new("Initials"),
        WriteIn::new("Checked by").width(2),
    ])
    .row([
        WriteIn::new("Humidity").unit("%"),
        WriteIn::new("Room").unit("°C"),
        WriteIn::new("Time open").unit("min"),
    ])
    .row([WriteIn::new("Remarks").lines(2)])
}

fn chain() -> Chain {
    Chain::new("Choline chloride")
        .step("amount", "", "0.2280 mol")
        .step("pure mass", "0.2280 mol × 139.62 g/mol", "31.83 g")
        .step("gross mass", "31.83 g / 0.98", "32.480 g")
        .step("of which water", "32.480 g × 0", "0 g")
}

fn results() -> Table {
    Table::new([column("Cell"), column("Open circuit").unit("V").decimal(), column("Judgement")])
        .row(["C-001", "1.482", "within its limits"])
        .row(["C-002", "1.4", "within its limits; read after the electrolyte was left open for some hours"])
        .row(["C-003", "not read", "electrode | broken <wire> & \"tape\""])
}

/// Any text, with the characters that some format gives a meaning more often than others.
pub fn any_text() -> impl Strategy<Value = String> {
    let meant = r#"[<>&"'|`*_\\#\-\[\](){}!~$;=,.:0-9a-z \n\r\t\u{1b}\u{202e}\u{a0}µ°×–é]{0,24}"#;
    prop_oneof![
        meant.prop_map(String::from),
        any::<String>(),
        Just("</style><script>alert(1)</script>".to_owned()),
        Just("\"><img src=x onerror=alert(1)>".to_owned()),
        Just("\u{1b}[31mred".to_owned()),
        "[0-9]{1,4}(\\.[0-9]{1,4})?",
    ]
}

/// Any span of any text.
pub fn any_span() -> impl Strategy<Value = Text> {
    (any_text(), 0..5).prop_map(|(given, kind)| match kind {
        0 => text(given),
        1 => strong(given),
        2 => code(given),
        3 => muted(given),
        _ => big(given),
    })
}

fn any_column() -> impl Strategy<Value = Column> {
    (any_span(), any_span(), 0..4, 0u16..80).prop_map(|(header, unit, kind, width)| {
        let column = column(header).unit(unit);
        match kind {
            0 => column,
            1 => column.right(),
            2 => column.decimal(),
            _ => column.write_in(width),
        }
    })
}

/// Any table of one to six columns, with rows too short and too long.
pub fn any_table() -> impl Strategy<Value = Table> {
    let row = || proptest::collection::vec(any_span(), 0..7);
    let columns = proptest::collection::vec(any_column(), 1..6);
    (columns, proptest::collection::vec(row(), 0..5), proptest::option::of(row()), any_span()).prop_map(
        |(columns, rows, total, caption)| {
            let table = rows.into_iter().fold(Table::new(columns).caption(caption), Table::row);
            match total {
                Some(total) => table.total(total),
                None => table,
            }
        },
    )
}

/// A document that has the given texts, in turn, in every field there is.
pub fn any_document() -> impl Strategy<Value = Document> {
    (proptest::collection::vec(any_span(), 1..8), any_table()).prop_map(|(texts, table)| {
        let mut turn = texts.into_iter().cycle();
        let mut next = move || turn.next().unwrap();
        let caution =
            |title: Text, detail: Text, source: Text| Caution::warn(title).detail(detail).source(source);
        Document::new(next())
            .footer(next())
            .with(heading(1, next()))
            .with(heading(3, next()))
            .with(paragraph(next().then(next())))
            .with(bullets([next(), next()]))
            .with(numbered([next(), next()]))
            .with(checklist([next(), next()]))
            .with(facts([(next(), next()), (next(), next())]))
            .with(table)
            .with(together([caution(next(), next(), next())]))
            .with(Caution::block(next()))
            .with(write_ins([WriteIn::new(next()).unit(next()), WriteIn::new(next()).value(next()).width(3)]))
            .with(Chain::new(next()).step(next(), next(), next()).step(next(), next(), next()))
            .with(tree(next()).branch(tree(next()).branch(tree(next()))).branch(tree(next())))
            .with(Figure::new("<svg></svg>", next()).caption(next()))
            .with(page_break())
    })
}
