//! A component's own limits, M factors and toxicity estimates, as CLP Annex VI and safety data sheets write them.

use super::class::Class;

/// What the text of a component's limits says.
#[derive(Debug, Clone, PartialEq, Default)]
pub(in crate::caution) struct OwnLimits {
    /// Specific concentration limits.
    pub(in crate::caution) classes: Vec<ClassLimit>,
    /// EUH codes with the concentration from which they hold, in %.
    pub(in crate::caution) euh: Vec<(String, f64)>,
    /// M factor for acute toxicity in water.
    pub(in crate::caution) m_acute: Option<f64>,
    /// M factor for long-term toxicity in water.
    pub(in crate::caution) m_chronic: Option<f64>,
    /// Acute toxicity estimates by route or form.
    pub(in crate::caution) estimates: Vec<(Exposure, f64)>,
    /// What was not understood.
    pub(in crate::caution) unread: Vec<String>,
}

/// A class that holds from a concentration on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::caution) struct ClassLimit {
    pub(in crate::caution) class: Class,
    /// In %.
    pub(in crate::caution) from: f64,
}

/// How a dose gets in. Inhalation has its own scale for each form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::caution) enum Exposure {
    Oral,
    Dermal,
    Gas,
    Vapour,
    Dust,
}

impl OwnLimits {
    /// Reads `Skin Corr. 1B; H314: C ≥ 5 %`, `STOT SE 3 (H335) C>=5`, `M=10 (acute)`, `oral ATE=481` and the like,
    /// set apart by semicolons.
    pub(in crate::caution) fn read(text: &str) -> Self {
        let mut limits = Self::default();
        let mut waiting: Option<Class> = None;
        for piece in pieces(text) {
            let read = limits.range(piece, waiting)
                || limits.m_factor(piece)
                || limits.estimate(piece)
                || says_nothing(piece);
            waiting = Class::written(piece).first().copied().filter(|_| !read);
            if !read && waiting.is_none() {
                limits.unread.push(piece.to_owned());
            }
        }
        limits
    }

    /// `Skin Irrit. 2 0.5<=C<2`, `EUH031 C>=5`, or a code with its range after the class that waits for it.
    fn range(&mut self, piece: &str, waiting: Option<Class>) -> bool {
        let Some((head, from)) = range(piece) else { return false };
        let head = head.trim().trim_end_matches(':').trim();
        if head.starts_with("EUH") {
            self.euh.push((head.to_owned(), from));
            return true;
        }
        let class = Class::written(head).first().copied().or_else(|| waiting.filter(|c| c.code() == head));
        self.classes.extend(class.map(|class| ClassLimit { class, from }));
        class.is_some()
    }

    /// `M=10 (acute)`, `M = 10`, `M (Chronic) = 1`. Without a word it is for both.
    fn m_factor(&mut self, piece: &str) -> bool {
        let plain = piece.to_lowercase().replace(' ', "");
        let Some(rest) = plain.strip_prefix('m') else { return false };
        let Some(number) = rest.split('=').nth(1).and_then(leading_number) else { return false };
        let (acute, chronic) = (rest.contains("acute"), rest.contains("chronic"));
        if acute || !chronic {
            self.m_acute = Some(number);
        }
        if chronic || !acute {
            self.m_chronic = Some(number);
        }
        true
    }

    /// `oral ATE=481`, `oral: ATE = 500 mg/kg bw`, `inhalation: ATE = 0.5 mg/L (dusts or mists)`.
    fn estimate(&mut self, piece: &str) -> bool {
        let plain = piece.to_lowercase();
        let Some((head, rest)) = plain.split_once("ate") else { return false };
        let number = rest.trim_start().strip_prefix('=').map(str::trim_start).and_then(leading_number);
        let exposure = exposure(head).or_else(|| exposure(rest));
        self.estimates.extend(exposure.zip(number));
        exposure.is_some() && number.is_some()
    }
}

fn exposure(text: &str) -> Option<Exposure> {
    const WORDS: [(&str, Exposure); 6] = [
        ("oral", Exposure::Oral),
        ("dermal", Exposure::Dermal),
        ("gas", Exposure::Gas),
        ("vapour", Exposure::Vapour),
        ("dust", Exposure::Dust),
        ("mist", Exposure::Dust),
    ];
    WORDS.iter().find(|(word, _)| text.contains(word)).map(|(_, exposure)| *exposure)
}

/// Notes and marks that carry no limit.
fn says_nothing(piece: &str) -> bool {
    let plain = piece.to_lowercase();
    plain == "*" || plain.starts_with("note ") || plain.starts_with("no m-factor")
}

/// The pieces between semicolons that stand in no bracket.
fn pieces(text: &str) -> Vec<&str> {
    let (mut depth, mut start, mut pieces) = (0_i32, 0, Vec::new());
    for (at, character) in text.char_indices() {
        match character {
            '(' => depth += 1,
            ')' => depth -= 1,
            ';' if depth <= 0 => {
                pieces.push(&text[start..at]);
                start = at + 1;
            }
            _ => {}
        }
    }
    pieces.push(&text[start..]);
    pieces.into_iter().map(str::trim).filter(|piece| !piece.is_empty()).collect()
}

/// What stands before the range, and its lower end: `C>=5`, `C ≥ 5 %`, `2<=C<5`, `2 % ≤ C < 5 %`.
fn range(piece: &str) -> Option<(&str, f64)> {
    for sign in [">=", "≥"] {
        if let Some((head, rest)) = piece.split_once(sign) {
            let head = head.trim_end().strip_suffix('C')?;
            return Some((head, leading_number(rest.trim_start())?));
        }
    }
    let (before, rest) = ["<=", "≤"].iter().find_map(|sign| piece.split_once(sign))?;
    rest.trim_start().starts_with('C').then_some(())?;
    let before = before.trim_end().trim_end_matches('%').trim_end();
    let digits = before
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |at| at + before[at..].chars().next().map_or(1, char::len_utf8));
    Some((&before[..digits], leading_number(&before[digits..])?))
}

/// The number at the start of a text; a decimal comma is read.
fn leading_number(text: &str) -> Option<f64> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(text.len());
    text[..end].trim_end_matches(['.', ',']).replace(',', ".").parse().ok().filter(|number| 0.0 < *number)
}
