//! `data/mixture/label.toml` and `precautions.toml`, read when a label or a mixture is first worked out.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::caution::scheme::Scheme;

/// Everything about labels.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct LabelRules {
    pub(super) omission: Vec<Omission>,
    pub(super) optional: Vec<Optional>,
    pub(super) size: Vec<Size>,
    pub(super) pictogram: PictogramRule,
    pub(super) precautions: PrecautionRule,
    pub(super) fill_in: Vec<FillIn>,
    pub(super) element: Vec<Element>,
    pub(super) content: Vec<Content>,
    pub(super) small: Vec<Small>,
    pub(super) lesser: Lesser,
    pub(super) bench: Bench,
}

/// A statement that covers others.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Omission {
    pub(super) keep: String,
    pub(super) omit: Vec<String>,
    pub(super) source: String,
}

/// Pictograms that may go beside others.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Optional {
    pub(super) beside: Vec<String>,
    pub(super) may_go: Vec<String>,
    #[serde(rename = "source")]
    _source: String,
}

/// Label and pictogram of packages up to a capacity; the last row has no end.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Size {
    pub(super) upto_litres: Option<f64>,
    pub(super) label_mm: [u32; 2],
    #[serde(default)]
    pub(super) if_possible: bool,
    pub(super) pictogram_mm: u32,
    pub(super) pictogram_if_possible_mm: Option<u32>,
}

/// How large a pictogram is at least.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct PictogramRule {
    pub(super) area_mm2: f64,
    pub(super) share_of_label: f64,
    pub(super) source: String,
}

/// How many precautionary statements there are at most.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct PrecautionRule {
    pub(super) most: usize,
    pub(super) schemes: Vec<Scheme>,
    #[serde(rename = "source")]
    _source: String,
}

/// A precautionary statement whose gaps are filled for a label.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FillIn {
    pub(super) code: String,
    pub(super) text: String,
}

/// A part of a label.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Element {
    pub(super) id: String,
    pub(super) words: String,
}

/// The whole content by scheme.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Content {
    pub(super) schemes: Vec<Scheme>,
    pub(super) carries: Vec<String>,
    pub(super) source: String,
}

/// The least content of a small package.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Small {
    pub(super) schemes: Vec<Scheme>,
    pub(super) upto_ml: f64,
    pub(super) carries: Vec<String>,
    #[serde(default)]
    pub(super) spares_graver: bool,
    pub(super) condition: String,
    pub(super) source: String,
}

/// H codes of the lesser classes.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Lesser {
    pub(super) h_codes: Vec<String>,
    #[serde(rename = "source")]
    _source: String,
}

/// What a made-up bottle carries in any case.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Bench {
    pub(super) must: Vec<String>,
    pub(super) advised: Vec<String>,
    pub(super) never: Vec<String>,
    pub(super) immediate_use: String,
    pub(super) pointer: String,
    pub(super) source: String,
}

/// Precautionary statements by hazard statement.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Choices {
    #[serde(rename = "source")]
    _source: String,
    pub(super) choice: Vec<Choice>,
}

/// The statements for some codes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Choice {
    pub(super) h_codes: Vec<String>,
    #[serde(default)]
    pub(super) prevention: Vec<String>,
    #[serde(default)]
    pub(super) response: Vec<String>,
    #[serde(default)]
    pub(super) storage: Vec<String>,
    #[serde(default)]
    pub(super) disposal: Vec<String>,
}

/// Read once. A faulty file would leave no rule at all, which the tests rule out.
pub(super) static RULES: LazyLock<LabelRules> =
    LazyLock::new(|| toml::from_str(include_str!("../../../data/mixture/label.toml")).unwrap_or_default());

/// Read once, as above.
pub(super) static CHOICES: LazyLock<Choices> = LazyLock::new(|| {
    toml::from_str(include_str!("../../../data/mixture/precautions.toml")).unwrap_or_default()
});
