//! The codes that the source knows, read from the source.

use std::collections::BTreeSet;

use crate::house::source::{Token, rust_files, shown, text, tokens};

/// Every code of a fault. A place that makes a fault in a way that is not understood here fails.
pub fn in_source() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for file in rust_files("src") {
        let tokens = tokens(&text(&file));
        for at in 0..tokens.len() {
            if let Some(code) = argument(&tokens[at..]) {
                let found = of_argument(code, &tokens, at);
                assert!(
                    !found.is_empty(),
                    "{}: which code is {:?}?",
                    shown(&file),
                    &code[..code.len().min(6)]
                );
                codes.extend(found.into_iter().filter(|code| !code.is_empty()));
            }
        }
    }
    assert!(30 < codes.len(), "the source makes faults");
    codes
}

/// The tokens from the first argument of `Fault::new(…` or `.fault(…` on.
fn argument(tokens: &[Token]) -> Option<&[Token]> {
    let is = |token: &Token, word: &str| matches!(token, Token::Word(found) if found == word);
    match tokens {
        [a, Token::Sign(':'), Token::Sign(':'), b, Token::Sign('('), rest @ ..]
            if is(a, "Fault") && is(b, "new") =>
        {
            Some(rest)
        }
        // A text that looks like a code, where `Fault` itself is declared.
        [a, Token::Sign(':'), Token::Sign(':'), b, Token::Sign('('), rest @ ..]
            if is(a, "Self") && is(b, "new") && matches!(rest, [Token::Literal(_), ..]) =>
        {
            Some(rest)
        }
        // `error.fault(place)` makes a fault where the error is declared.
        [receiver, Token::Sign('.'), a, Token::Sign('('), rest @ ..]
            if is(a, "fault") && !is(receiver, "error") =>
        {
            Some(rest)
        }
        _ => None,
    }
}

/// The codes that an argument can stand for: itself; the texts of the `let code = …;` before it; the
/// texts of any `fn code(…)` if it is a call of one; nothing new if it is passed on from a parameter.
fn of_argument(argument: &[Token], file: &[Token], at: usize) -> Vec<String> {
    match argument {
        [Token::Literal(code), ..] => vec![code.clone()],
        [Token::Word(code), Token::Sign(','), ..] if code == "code" => {
            let parameter = file[..at].windows(3).any(|window| {
                matches!(window, [Token::Word(name), Token::Sign(':'), Token::Sign('&')] if name == "code")
            });
            let bound = bound_to_code(&file[..at]);
            if bound.is_empty() && parameter { vec![String::new()] } else { bound }
        }
        [Token::Word(_), Token::Sign('.'), Token::Word(code), Token::Sign('('), ..] if code == "code" => {
            of_errors()
        }
        _ => Vec::new(),
    }
}

/// The texts in the last `let code = …;`.
fn bound_to_code(before: &[Token]) -> Vec<String> {
    let is_let = |window: &[Token]| matches!(window, [Token::Word(a), Token::Word(b), Token::Sign('=')] if a == "let" && b == "code");
    let Some(start) = before.windows(3).rposition(is_let) else { return Vec::new() };
    literals_until(&before[start..], &Token::Sign(';'))
}

/// The texts of every `fn code` in a file of errors.
fn of_errors() -> Vec<String> {
    let mut codes = Vec::new();
    for file in rust_files("src").iter().filter(|file| file.ends_with("error.rs")) {
        let tokens = tokens(&text(file));
        let is_code = |window: &[Token]| matches!(window, [Token::Word(a), Token::Word(b), Token::Sign('(')] if a == "fn" && b == "code");
        if let Some(start) = tokens.windows(3).position(is_code) {
            codes.extend(literals_until(&tokens[start + 1..], &Token::Word("fn".to_owned())));
        }
    }
    codes
}

fn literals_until(tokens: &[Token], end: &Token) -> Vec<String> {
    let texts = tokens.iter().take_while(|token| *token != end).filter_map(|token| match token {
        Token::Literal(text) => Some(text.clone()),
        _ => None,
    });
    texts.collect()
}
