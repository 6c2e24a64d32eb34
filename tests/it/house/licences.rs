//! Every library that the program or its tests are built from has a licence that lets anyone pass them on.

use std::process::Command;

use serde_json::Value;

use super::source::project;

/// Licences by their SPDX identifiers.
const ALLOWED: [&str; 10] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "Unlicense",
    "ISC",
    "MPL-2.0",
    "Unicode-3.0",
    "0BSD",
];

#[test]
fn every_licence_is_allowed() {
    let refused: Vec<String> = packages()
        .iter()
        .filter_map(|package| {
            let licence = package["license"].as_str().unwrap_or("no licence");
            let name = package["name"].as_str().expect("a package has a name");
            (!allows(licence)).then(|| format!("{name}: {licence}"))
        })
        .collect();
    assert!(refused.is_empty(), "{}", refused.join("\n"));
}

/// The packages that are built here. Those of other systems need not have been fetched.
fn packages() -> Vec<Value> {
    let host = format!("--filter-platform={}", host());
    let args = ["metadata", "--locked", "--offline", "--format-version=1", &host];
    let output = Command::new(env!("CARGO")).args(args).current_dir(project()).output().expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("metadata is JSON");
    let packages = metadata["packages"].as_array().expect("there are packages").clone();
    assert!(20 < packages.len(), "the libraries are among the packages");
    packages
}

fn host() -> String {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let output = Command::new(rustc).arg("-vV").output().expect("rustc runs");
    let text = String::from_utf8(output.stdout).expect("its answer is UTF-8");
    let line = text.lines().find_map(|line| line.strip_prefix("host: "));
    line.expect("it names its host").to_owned()
}

/// True if an SPDX expression can be fulfilled by allowed licences alone. `/` is an older way to write
/// OR; AND binds more closely than OR (SPDX specification 2.3, annex D).
fn allows(expression: &str) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let (fulfilled, rest) = any_of(&words);
    fulfilled && rest.is_empty()
}

fn any_of<'w>(words: &'w [&'w str]) -> (bool, &'w [&'w str]) {
    let (mut fulfilled, mut rest) = all_of(words);
    while let ["OR", more @ ..] = rest {
        let (other, after) = all_of(more);
        fulfilled |= other;
        rest = after;
    }
    (fulfilled, rest)
}

fn all_of<'w>(words: &'w [&'w str]) -> (bool, &'w [&'w str]) {
    let (mut fulfilled, mut rest) = one(words);
    while let ["AND", more @ ..] = rest {
        let (other, after) = one(more);
        fulfilled &= other;
        rest = after;
    }
    (fulfilled, rest)
}

/// A licence, or an expression in brackets. An exception only adds permissions.
fn one<'w>(words: &'w [&'w str]) -> (bool, &'w [&'w str]) {
    match words {
        ["(", inside @ ..] => match any_of(inside) {
            (fulfilled, [")", rest @ ..]) => (fulfilled, rest),
            _ => (false, &[]),
        },
        [licence, "WITH", _exception, rest @ ..] => (ALLOWED.contains(licence), rest),
        [licence, rest @ ..] => (ALLOWED.contains(licence), rest),
        [] => (false, &[]),
    }
}

#[test]
fn licence_expressions_are_read() {
    for allowed in [
        "MIT",
        "MIT OR Apache-2.0",
        "MIT/Apache-2.0",
        "(MIT OR Apache-2.0) AND Unicode-3.0",
        "GPL-3.0-only OR MIT",
        "Apache-2.0 WITH LLVM-exception OR GPL-2.0-only",
    ] {
        assert!(allows(allowed), "{allowed}");
    }
    for refused in
        ["GPL-3.0-only", "MIT AND GPL-3.0-only", "no licence", "", "(MIT", "LGPL-2.1-only OR AGPL-3.0-only"]
    {
        assert!(!allows(refused), "{refused}");
    }
}
