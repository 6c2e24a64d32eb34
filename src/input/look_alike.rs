//! Names that a reader takes for one and a program takes for two: other case, blanks, dashes, letters that look the same.

/// Letters of Greek and Cyrillic script that look like Latin ones (Unicode Technical Standard 39, confusables; a selection), and the
/// two characters for micro.
const LOOK_LIKE: [(&str, char); 24] = [
    ("ΑА", 'a'),
    ("а", 'a'),
    ("ΒВ", 'b'),
    ("СсϹϲ", 'c'),
    ("ΕЕе", 'e'),
    ("ΗН", 'h'),
    ("ΙІі", 'i'),
    ("Јј", 'j'),
    ("ΚКκк", 'k'),
    ("ΜМ", 'm'),
    ("Ν", 'n'),
    ("ΟОоοо", 'o'),
    ("ΡРр", 'p'),
    ("Ѕѕ", 's'),
    ("ΤТ", 't'),
    ("ΥУу", 'y'),
    ("ΧХх", 'x'),
    ("Ζ", 'z'),
    ("μ", 'µ'),
    ("‐‑‒–—―−﹣-", '-'),
    ("’‘ʼ′", '\''),
    ("∶꞉", ':'),
    ("·⋅•∙", '·'),
    ("⁄∕", '/'),
];

/// A name as a reader sees it: two that come out the same may be meant as one.
pub fn as_read(name: &str) -> String {
    let words: Vec<String> =
        name.split_whitespace().map(|word| word.chars().filter_map(plain).collect()).collect();
    words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ").to_lowercase()
}

/// The character that this one looks like; `None` for one that can't be seen.
fn plain(c: char) -> Option<char> {
    let unseen = matches!(c, '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' | '\u{ad}');
    let alike = || LOOK_LIKE.iter().find(|(all, _)| all.contains(c)).map(|&(_, plain)| plain);
    (!unseen).then(|| alike().unwrap_or(c))
}

/// Every two names that a reader may take for one, in their order.
pub fn look_alikes<'n>(names: &[&'n str]) -> Vec<(&'n str, &'n str)> {
    let read: Vec<String> = names.iter().map(|name| as_read(name)).collect();
    let mut pairs = Vec::new();
    for (place, name) in names.iter().enumerate() {
        let before = (0..place).find(|&before| read[before] == read[place] && names[before] != *name);
        pairs.extend(before.map(|before| (names[before], *name)));
    }
    pairs
}
