//! The library neither talks nor looks around, and nothing in the program panics on purpose.

use std::path::Path;

use super::source::{Token, rust_files, shown, text, tokens};

/// What only the command line may do, as tokens without space between them.
const ONLY_THE_COMMAND_LINE: &[&str] = &[
    "println!",
    "eprintln!",
    "print!",
    "eprint!",
    "std::process",
    "process::exit",
    "std::env",
    "env::var",
    "env::var_os",
    "env::args",
    "env::args_os",
    "env::current_dir",
    "env::home_dir",
    "home_dir",
    "io::stdin",
    "io::stdout",
    "io::stderr",
    "IsTerminal",
    "terminal_size",
    "SystemTime",
    "Instant",
];

/// What no file of `src` may hold: a fault is a value.
const NOWHERE: &[&str] = &[
    ".unwrap(",
    ".expect(",
    ".unwrap_unchecked(",
    "panic!",
    "todo!",
    "unimplemented!",
    "unreachable!",
    "dbg!",
    "process::exit",
    "process::abort",
];

#[test]
fn the_library_is_quiet() {
    let found = holding(ONLY_THE_COMMAND_LINE, |file| !is_command_line(file));
    assert!(found.is_empty(), "only src/cli may do this:\n{}", found.join("\n"));
}

#[test]
fn nothing_panics_on_purpose() {
    let found = holding(NOWHERE, |_| true);
    assert!(found.is_empty(), "give a fault instead:\n{}", found.join("\n"));
}

/// The checks above see what they look for.
#[test]
fn a_noise_is_heard() {
    let heard = |source: &str, noise: &str| contains(&tokens(source), &tokens(noise));
    assert!(heard("fn f() { std::env::var(\"HOME\"); }", "std::env"));
    assert!(heard("let now = std :: time :: Instant::now();", "Instant"));
    assert!(heard("x\n    .unwrap()", ".unwrap("));
    assert!(!heard("x.unwrap_or(1)", ".unwrap("));
    assert!(!heard("// println!\nlet x = \"println!\";", "println!"));
}

fn is_command_line(file: &Path) -> bool {
    file.starts_with("src/cli") || file.ends_with("main.rs")
}

fn holding(noises: &[&str], concerns: impl Fn(&Path) -> bool) -> Vec<String> {
    let noises: Vec<(&str, Vec<Token>)> = noises.iter().map(|noise| (*noise, tokens(noise))).collect();
    let mut found = Vec::new();
    for file in rust_files("src").iter().filter(|file| concerns(file)) {
        let code = tokens(&text(file));
        let heard = noises.iter().filter(|(_, noise)| contains(&code, noise));
        found.extend(heard.map(|(noise, _)| format!("{}: {noise}", shown(file))));
    }
    found
}

fn contains(code: &[Token], noise: &[Token]) -> bool {
    code.windows(noise.len()).any(|window| window == noise)
}
