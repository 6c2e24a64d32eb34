//! Health and environmental classes with their categories, as CLP writes them in short.

use std::fmt;

/// What a class is about, in the order of the chapters of the GHS.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::caution) enum Kind {
    AcuteOral,
    AcuteDermal,
    AcuteInhalation,
    SkinCorrosion,
    SkinIrritation,
    EyeDamage,
    EyeIrritation,
    RespiratorySensitiser,
    SkinSensitiser,
    Mutagen,
    Carcinogen,
    Reproduction,
    Lactation,
    OrgansOnce,
    AirwayIrritation,
    Narcosis,
    OrgansRepeated,
    Aspiration,
    AquaticAcute,
    AquaticChronic,
}

/// A class with its category, such as "Skin Corr. 1B". The category is empty for "Lact.".
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::caution) struct Class {
    pub(in crate::caution) kind: Kind,
    pub(in crate::caution) category: &'static str,
}

/// A kind with its short name, what stands in brackets after it, and its categories with their codes, the
/// gravest first.
struct KindRow {
    kind: Kind,
    name: &'static str,
    bracket: &'static str,
    categories: &'static [(&'static str, &'static str)],
}

const fn row(
    kind: Kind,
    name: &'static str,
    bracket: &'static str,
    categories: &'static [(&'static str, &'static str)],
) -> KindRow {
    KindRow { kind, name, bracket, categories }
}

/// Classes, categories and codes: GHS Rev.11 Annex 3, CLP Annex I and Annex VI Table 1.1 for the short names.
const KINDS: [KindRow; 20] = [
    row(
        Kind::AcuteOral,
        "Acute Tox.",
        "oral",
        &[("1", "H300"), ("2", "H300"), ("3", "H301"), ("4", "H302"), ("5", "H303")],
    ),
    row(
        Kind::AcuteDermal,
        "Acute Tox.",
        "dermal",
        &[("1", "H310"), ("2", "H310"), ("3", "H311"), ("4", "H312"), ("5", "H313")],
    ),
    row(
        Kind::AcuteInhalation,
        "Acute Tox.",
        "inhalation",
        &[("1", "H330"), ("2", "H330"), ("3", "H331"), ("4", "H332"), ("5", "H333")],
    ),
    row(
        Kind::SkinCorrosion,
        "Skin Corr.",
        "",
        &[("1", "H314"), ("1A", "H314"), ("1B", "H314"), ("1C", "H314")],
    ),
    row(Kind::SkinIrritation, "Skin Irrit.", "", &[("2", "H315"), ("3", "H316")]),
    row(Kind::EyeDamage, "Eye Dam.", "", &[("1", "H318")]),
    row(Kind::EyeIrritation, "Eye Irrit.", "", &[("2", "H319"), ("2A", "H319"), ("2B", "H320")]),
    row(Kind::RespiratorySensitiser, "Resp. Sens.", "", &[("1", "H334"), ("1A", "H334"), ("1B", "H334")]),
    row(Kind::SkinSensitiser, "Skin Sens.", "", &[("1", "H317"), ("1A", "H317"), ("1B", "H317")]),
    row(Kind::Mutagen, "Muta.", "", &[("1", "H340"), ("1A", "H340"), ("1B", "H340"), ("2", "H341")]),
    row(Kind::Carcinogen, "Carc.", "", &[("1", "H350"), ("1A", "H350"), ("1B", "H350"), ("2", "H351")]),
    row(Kind::Reproduction, "Repr.", "", &[("1", "H360"), ("1A", "H360"), ("1B", "H360"), ("2", "H361")]),
    row(Kind::Lactation, "Lact.", "", &[("", "H362")]),
    row(Kind::OrgansOnce, "STOT SE", "", &[("1", "H370"), ("2", "H371")]),
    row(Kind::AirwayIrritation, "STOT SE", "H335", &[("3", "H335")]),
    row(Kind::Narcosis, "STOT SE", "H336", &[("3", "H336")]),
    row(Kind::OrgansRepeated, "STOT RE", "", &[("1", "H372"), ("2", "H373")]),
    row(Kind::Aspiration, "Asp. Tox.", "", &[("1", "H304"), ("2", "H305")]),
    row(Kind::AquaticAcute, "Aquatic Acute", "", &[("1", "H400"), ("2", "H401"), ("3", "H402")]),
    row(
        Kind::AquaticChronic,
        "Aquatic Chronic",
        "",
        &[("1", "H410"), ("2", "H411"), ("3", "H412"), ("4", "H413")],
    ),
];

/// A class as a source writes it: "Acute Tox. 3 * (oral, dermal)", "Aquatic Chronic 1/2".
struct Written<'t> {
    name: &'t str,
    categories: Vec<&'t str>,
    bracket: &'t str,
}

impl Class {
    /// The class of this kind and category; `None` if there is none.
    pub(in crate::caution) fn new(kind: Kind, category: &str) -> Option<Self> {
        let row = KINDS.iter().find(|row| row.kind == kind)?;
        let known = row.categories.iter().find(|(known, _)| *known == category);
        known.map(|(category, _)| Self { kind, category })
    }

    /// Its H code.
    pub(in crate::caution) fn code(self) -> &'static str {
        let row = KINDS.iter().find(|row| row.kind == self.kind);
        let known = row.and_then(|row| row.categories.iter().find(|(known, _)| *known == self.category));
        known.map_or("", |(_, code)| code)
    }

    /// The first figure of its category: 1 for "1B"; 0 for the class without categories.
    pub(in crate::caution) fn number(self) -> usize {
        self.category.chars().next().and_then(|c| c.to_digit(10)).unwrap_or(0) as usize
    }

    /// The classes that a text may mean: several where it names several routes, or a route not at all.
    pub(in crate::caution) fn written(text: &str) -> Vec<Self> {
        let Some(written) = Written::read(text) else { return Vec::new() };
        KINDS.iter().filter(|row| written.is_of(row)).filter_map(|row| written.gravest(row)).collect()
    }

    /// True if a text names the kind of a class, in whatever category.
    pub(in crate::caution) fn is_named_in(self, text: &str) -> bool {
        let row = KINDS.iter().find(|row| row.kind == self.kind);
        Written::read(text).zip(row).is_some_and(|(written, row)| written.is_of(row))
    }

    /// True if one of the classes that a text may mean has this code.
    pub(in crate::caution) fn may_be(code: &str, text: &str) -> bool {
        let Some(written) = Written::read(text) else { return false };
        let rows = KINDS.iter().filter(|row| written.is_of(row));
        rows.flat_map(|row| row.categories)
            .any(|(category, known)| *known == code && written.categories.contains(category))
    }

    /// The classes that a component's codes and texts give, each kind once, by the gravest category named.
    pub(in crate::caution) fn all_of(codes: &[String], texts: &[String]) -> Vec<Self> {
        let written: Vec<Written<'_>> = texts.iter().filter_map(|text| Written::read(text)).collect();
        let mut classes: Vec<Self> = Vec::new();
        for code in codes.iter().flat_map(|code| code.split('+')) {
            let rows = KINDS.iter().filter_map(|row| of_code(row, code, &written));
            classes.extend(rows);
        }
        for text in texts {
            let meant = Self::written(text);
            // Several candidates without a code say no more than the codes already did.
            let sure = meant.len() == 1 || text.contains('(');
            let new = |class: &Self| sure && !classes.iter().any(|known| known.kind == class.kind);
            let more: Vec<Self> = meant.into_iter().filter(new).collect();
            classes.extend(more);
        }
        classes.sort();
        classes.dedup_by_key(|class| class.kind);
        classes
    }
}

/// The class of a code in a row: the category that a text names, else the gravest of the code.
fn of_code(row: &KindRow, code: &str, written: &[Written<'_>]) -> Option<Class> {
    let base = code.get(..4)?;
    let mut categories = row.categories.iter().filter(|(_, known)| *known == base).map(|(c, _)| *c);
    let gravest = categories.clone().next()?;
    let named = categories.find(|category| {
        written.iter().any(|text| text.name == row.name && text.categories.contains(category))
    });
    Class::new(row.kind, named.unwrap_or(gravest))
}

impl<'t> Written<'t> {
    fn read(text: &'t str) -> Option<Self> {
        let (head, bracket) = match text.split_once('(') {
            Some((head, rest)) => (head, rest.split(')').next().unwrap_or_default()),
            None => (text, ""),
        };
        let head = head.trim().trim_end_matches('*').trim();
        let name = KINDS.iter().map(|row| row.name).find(|name| head.starts_with(name))?;
        let categories = head[name.len()..].trim().split('/').map(str::trim).collect();
        Some(Self { name, categories, bracket })
    }

    fn is_of(&self, row: &KindRow) -> bool {
        let routes: Vec<&str> = self.bracket.split([',', ' ']).filter(|word| !word.is_empty()).collect();
        self.name == row.name
            && (row.bracket.is_empty() || routes.is_empty() || routes.contains(&row.bracket))
    }

    fn gravest(&self, row: &KindRow) -> Option<Class> {
        let known = row.categories.iter().map(|(category, _)| *category);
        let mut named = known.filter(|category| self.categories.contains(category));
        named.next().and_then(|category| Class::new(row.kind, category))
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(row) = KINDS.iter().find(|row| row.kind == self.kind) else { return Ok(()) };
        f.write_str(row.name)?;
        if !self.category.is_empty() {
            write!(f, " {}", self.category)?;
        }
        if !row.bracket.is_empty() {
            write!(f, " ({})", row.bracket)?;
        }
        Ok(())
    }
}
