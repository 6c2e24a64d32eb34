//! Label and pictogram by the capacity of the package (CLP Annex I, Table 1.3).

use serde::Serialize;

use super::rules::{RULES, Size};

/// How large label and pictogram are at least.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelSize {
    /// Width and height of the label in mm, the shorter first.
    pub label_mm: [u32; 2],
    /// True if the size of the label is asked for only where it is possible.
    pub if_possible: bool,
    /// Side of the pictogram in mm, along its red frame.
    pub pictogram_mm: u32,
    /// A larger side, where it is possible.
    pub pictogram_if_possible_mm: Option<u32>,
    /// Least area of a pictogram in mm²: a share of the least label, and never below 1 cm².
    pub pictogram_area_mm2: f64,
    /// The source.
    pub source: String,
}

/// The row for a package of this capacity in mL.
pub fn label_size(capacity_ml: f64) -> Option<LabelSize> {
    let fits = |size: &&Size| size.upto_litres.is_none_or(|upto| capacity_ml <= 1000.0 * upto);
    let size = RULES.size.iter().find(fits)?;
    let rule = &RULES.pictogram;
    let [width, height] = size.label_mm.map(f64::from);
    Some(LabelSize {
        label_mm: size.label_mm,
        if_possible: size.if_possible,
        pictogram_mm: size.pictogram_mm,
        pictogram_if_possible_mm: size.pictogram_if_possible_mm,
        pictogram_area_mm2: (width * height / rule.share_of_label).max(rule.area_mm2),
        source: rule.source.clone(),
    })
}
