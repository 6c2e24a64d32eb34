//! Materials that are met at a bench and are not in the component table.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::component::Group;

/// A material known by its reactive groups alone.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Its name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Its reactive groups.
    pub groups: Vec<Group>,
}

/// The file of materials.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MaterialFile {
    /// For the reader of the file; a material carries no value that would need it.
    #[serde(rename = "source")]
    _source: String,
    material: Vec<Material>,
}

static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| {
    // A faulty file would leave the list empty, which the tests rule out.
    let file = toml::from_str::<MaterialFile>(include_str!("../../data/alerts/materials.toml"));
    file.map(|file| file.material).unwrap_or_default()
});

/// All of them, in the order of the file.
pub fn materials() -> &'static [Material] {
    &MATERIALS
}

/// The water in open air.
pub(super) fn humid_air() -> Option<&'static Material> {
    materials().iter().find(|material| material.name == "humid air")
}

impl Material {
    /// True if this is one of its names, whatever the case; a space is a hyphen.
    pub fn is_called(&self, name: &str) -> bool {
        let wanted = folded(name);
        folded(&self.name) == wanted || self.aliases.iter().any(|alias| folded(alias) == wanted)
    }
}

/// Names are compared without case, and a space is a hyphen, as in the component table.
pub(super) fn folded(name: &str) -> String {
    name.trim().to_lowercase().replace([' ', '_'], "-")
}
