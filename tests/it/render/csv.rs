//! CSV (RFC 4180): read back by the reader of the csv crate, the cells are the same.

use meltbook::report::csv;
use meltbook::report::document::{Document, Table, column, together};
use proptest::prelude::*;

use super::sample::any_table;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn cells_come_back(table in any_table()) {
        let written = csv::render(&table).unwrap();
        let mut reader = ::csv::ReaderBuilder::new().has_headers(false).from_reader(written.as_bytes());
        let read: Vec<Vec<String>> =
            reader.records().map(|record| record.unwrap().iter().map(String::from).collect()).collect();
        let cells = |row: &Vec<_>| row.iter().map(ToString::to_string).collect::<Vec<String>>();
        prop_assert_eq!(read.len(), table.rows().len() + 1);
        prop_assert_eq!(&read[1..], &table.rows().iter().map(cells).collect::<Vec<_>>()[..]);
    }
}

#[test]
fn heads_have_units_or_keys_and_boxes_are_empty() {
    let table = Table::new([
        column("Component"),
        column("Weigh").unit("g"),
        column("Low").unit("g").key("low_g").decimal(),
        column("Weighed").unit("g").write_in(30),
    ])
    .row(["a, \"b\"", "1.0", "0.9"])
    .total(["together", "1.0"]);
    let written = csv::render(&table).unwrap();
    assert_eq!(written, "Component,Weigh (g),low_g,Weighed (g)\r\n\"a, \"\"b\"\"\",1.0,0.9,\r\n");
}

#[test]
fn the_first_table_is_found_in_a_group() {
    let table = Table::new([column("a")]).row(["1"]);
    let document = Document::new("t").with(together([table.clone(), table]));
    assert_eq!(csv::first_table(&document).unwrap().as_deref(), Some("a\r\n1\r\n"));
    assert_eq!(csv::first_table(&Document::new("t")).unwrap(), None);
}
