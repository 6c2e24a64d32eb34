//! The README's consoles print what they show.

use crate::demo::{NOW, Sample};

/// They stand in the sample book, as somebody does when its story has just ended.
#[test]
fn consoles() {
    let sample = Sample::new();
    let cases = trycmd::TestCases::new();
    cases.register_bin("meltbook", trycmd::cargo::cargo_bin!("meltbook"));
    cases.env("NO_COLOR", "1").env("TZ", "UTC").env("MELTBOOK_NOW", NOW);
    cases.env("MELTBOOK_BOOK", sample.path().to_str().expect("a path of the tests is text"));
    cases.case("README.md");
}
