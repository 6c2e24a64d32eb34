//! The names of the formats.

use meltbook::input::Place;
use meltbook::report::Format;

#[test]
fn every_name_is_read_back() {
    for format in Format::ALL {
        assert_eq!(format.to_string().parse(), Ok(format));
    }
}

#[test]
fn an_unknown_name_gets_the_nearest() {
    let error = "markdwon".parse::<Format>().unwrap_err();
    assert_eq!(error.to_string(), "unknown format \"markdwon\"");
    assert_eq!(error.hint(), "Did you mean \"markdown\"?");
    let fault = "pdf".parse::<Format>().unwrap_err().fault(Place::named("--format"));
    assert_eq!(fault.hint.as_deref(), Some("The formats are table, json, csv, markdown, html."));
}
