//! Storage classes, and waste streams: what may share a cupboard or a container by a published scheme.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::selector::Selector;
use super::subject::Member;
use crate::component::{Component, State};

/// The storage class of a component.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct StorageClass {
    /// Such as "8B".
    pub class: String,
    /// What it stands for.
    pub words: String,
    /// The scheme; local rules decide.
    pub source: String,
}

/// A stream of waste with what goes into it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WasteStream {
    /// Its name for scripts.
    pub id: String,
    /// Its heading.
    pub title: String,
    /// How it is kept.
    pub how: String,
    /// What of the things at hand goes into it.
    pub takes: Vec<String>,
    /// The source; local rules decide.
    pub source: String,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct StorageFile {
    source: String,
    class: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    class: String,
    words: String,
    #[serde(default)]
    h_codes: Vec<String>,
    #[serde(default)]
    burns: bool,
    #[serde(default)]
    liquid: bool,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct WasteFile {
    source: String,
    stream: Vec<Stream>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Stream {
    id: String,
    title: String,
    how: String,
    any: Vec<Selector>,
}

// A faulty file would give no class and no stream, which the tests rule out.
static STORAGE: LazyLock<StorageFile> =
    LazyLock::new(|| toml::from_str(include_str!("../../data/alerts/storage.toml")).unwrap_or_default());
static WASTE: LazyLock<WasteFile> =
    LazyLock::new(|| toml::from_str(include_str!("../../data/alerts/waste.toml")).unwrap_or_default());

/// The storage class of a component; `None` if no hazard data was found, since the class would only be guessed.
pub(super) fn storage_class(component: &Component) -> Option<StorageClass> {
    if component.hazard.basis == crate::component::HazardBasis::NoneFound {
        return None;
    }
    let row = STORAGE.class.iter().find(|row| row.fits(component))?;
    Some(StorageClass { class: row.class.clone(), words: row.words.clone(), source: STORAGE.source.clone() })
}

impl Row {
    fn fits(&self, component: &Component) -> bool {
        let carried =
            |wanted: &String| component.hazard.codes.iter().any(|code| code.starts_with(wanted.as_str()));
        let burning = ["organic-fuel", "carbon-powder"];
        let burns = component.groups.iter().any(|group| burning.contains(&group.as_str()));
        let liquid = component.state == Some(State::Liquid);
        (self.h_codes.is_empty() || self.h_codes.iter().any(carried))
            && (!self.burns || burns)
            && (!self.liquid || liquid)
    }
}

/// The streams for what is at hand, each thing in the first that fits it.
pub(super) fn waste_streams(members: &[(String, Member<'_>)]) -> Vec<WasteStream> {
    let mut streams: Vec<WasteStream> = Vec::new();
    for stream in &WASTE.stream {
        let first = |member: &Member<'_>| {
            WASTE.stream.iter().find(|other| other.fits(member)).is_some_and(|other| other.id == stream.id)
        };
        let takes: Vec<String> =
            members.iter().filter(|(_, member)| first(member)).map(|(name, _)| name.clone()).collect();
        if !takes.is_empty() {
            streams.push(WasteStream {
                id: stream.id.clone(),
                title: stream.title.clone(),
                how: stream.how.clone(),
                takes,
                source: WASTE.source.clone(),
            });
        }
    }
    streams
}

impl Stream {
    /// The last stream names nothing and takes what is left.
    fn fits(&self, member: &Member<'_>) -> bool {
        self.any.is_empty() || self.any.iter().any(|selector| selector.fits(member))
    }
}
