//! The project's own source as text: the files, and their code without comments and texts.

use std::fs;
use std::path::{Path, PathBuf};

/// The folder of the project.
pub fn project() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file below a folder of the project, in order, by its path from there.
pub fn rust_files(folder: &str) -> Vec<PathBuf> {
    let mut files = Vec::new();
    collect(&project().join(folder), &mut files);
    files.sort();
    assert!(!files.is_empty(), "{folder} holds Rust files");
    files
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder can be read") {
        let path = entry.expect("the entry can be read").path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path.strip_prefix(project()).expect("it lies in the project").to_owned());
        }
    }
}

/// The text of a file of the project.
pub fn text(file: &Path) -> String {
    fs::read_to_string(project().join(file)).expect("the file is UTF-8")
}

/// A path with `/` between its names on every system.
pub fn shown(file: &Path) -> String {
    file.iter().map(|name| name.to_string_lossy()).collect::<Vec<_>>().join("/")
}

/// What stands in a file besides white space.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Token {
    /// A name or keyword.
    Word(String),
    /// A string literal, its escapes as they stand.
    Literal(String),
    /// Any other character.
    Sign(char),
}

/// Takes Rust apart as far as these checks need: comments are left out, and a word inside a string is
/// none.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut rest = text;
    let mut tokens = Vec::new();
    while let Some(first) = rest.chars().next() {
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if let Some((literal, length)) = raw_string(rest).or_else(|| string(rest)) {
            tokens.push(Token::Literal(literal));
            length
        } else if let Some(length) = character(rest) {
            length
        } else if first.is_alphanumeric() || first == '_' {
            let length = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            tokens.push(Token::Word(rest[..length].to_owned()));
            length
        } else {
            if !first.is_whitespace() {
                tokens.push(Token::Sign(first));
            }
            first.len_utf8()
        };
        rest = &rest[length..];
    }
    tokens
}

/// `r"…"` and `r#"…"#`: the content and the length of the whole.
fn raw_string(text: &str) -> Option<(String, usize)> {
    let after = text.strip_prefix('r')?;
    let hashes = after.len() - after.trim_start_matches('#').len();
    let body = after[hashes..].strip_prefix('"')?;
    let end = body.find(&format!("\"{}", "#".repeat(hashes)))?;
    Some((body[..end].to_owned(), 1 + hashes + 1 + end + 1 + hashes))
}

fn string(text: &str) -> Option<(String, usize)> {
    let body = text.strip_prefix('"')?;
    let mut escaped = false;
    for (at, c) in body.char_indices() {
        match c {
            '"' if !escaped => return Some((body[..at].to_owned(), at + 2)),
            _ => escaped = c == '\\' && !escaped,
        }
    }
    None
}

/// `'x'` and `'\n'`, but not the lifetime `'x`.
fn character(text: &str) -> Option<usize> {
    let body = text.strip_prefix('\'')?;
    let first = body.chars().next()?;
    let end = if first == '\\' { 1 + body[1..].chars().next()?.len_utf8() } else { first.len_utf8() };
    let close = body[end..].find('\'')?;
    let unicode = body.starts_with("\\u{");
    (close == 0 || unicode).then_some(1 + end + close + 1)
}

#[test]
fn comments_and_texts_are_told_from_code() {
    let source =
        "// crate::a\nuse b::c; /* d */ let e: &'f str = \"g \\\" h\"; r#\"i\"j\"# 'k' '\\'' '\\u{b5}' l";
    let word = |text: &str| Token::Word(text.to_owned());
    let found: Vec<Token> =
        tokens(source).into_iter().filter(|token| !matches!(token, Token::Sign(_))).collect();
    let literals = [Token::Literal("g \\\" h".to_owned()), Token::Literal("i\"j".to_owned())];
    let mut expected: Vec<Token> = ["use", "b", "c", "let", "e", "f", "str"].map(word).to_vec();
    expected.extend(literals);
    expected.push(word("l"));
    assert_eq!(found, expected);
}
