//! The README's consoles print what they show.

#[test]
fn consoles() {
    let cases = trycmd::TestCases::new();
    cases.register_bin("meltbook", trycmd::cargo::cargo_bin!("meltbook"));
    cases.env("NO_COLOR", "1").case("README.md");
}
