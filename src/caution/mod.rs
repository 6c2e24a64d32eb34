//! Cautions for what is at hand: statements of each component, alerts for what must not meet, for heat
//! and for what is done with it, and practice at the bench.
//!
//! [`review`] takes a [`Subject`] (components, other materials, the composition if known) and a
//! [`Context`] (sealed, heated, …) and gives a [`Review`]. Cautions inform and never bless: data that is
//! missing is said in words, and a quiet review is no proof of anything.
//!
//! The rules and texts are in `data/statements` and `data/alerts`; they are read once, when first needed.

mod alert;
mod component_hazard;
mod context;
mod find;
mod hazard_check;
mod heat;
mod keep_apart;
mod label;
mod material;
mod mixture;
mod pictogram;
mod practice;
mod precaution;
mod review;
mod rule;
mod scheme;
mod selector;
mod severity;
mod shelf;
mod statement;
mod storage;
mod subject;

pub use alert::Alert;
pub use component_hazard::{ComponentHazard, ListedHeatLimit};
pub use context::{Condition, Context};
pub use find::{Named, find_named};
pub use hazard_check::{HazardFault, HazardFinding, check_hazard};
pub use heat::heat_rule_ids;
pub use label::{
    LabelContent, LabelElement, LabelLine, LabelSize, Omitted, Placed, label_content, label_size,
};
pub use material::{Material, materials};
pub use mixture::{Estimate, Finding, Gap, Mixture, Part, Presumed, Sum};
pub use pictogram::{Pictogram, pictogram, shown_pictograms};
pub use practice::{Practice, all_practice};
pub use precaution::{Precaution, precaution, precautions};
pub use review::{MaterialHazard, Review, review};
pub use rule::rule_ids;
pub use scheme::Scheme;
pub use severity::{Severity, WayPast};
pub use shelf::{Apart, OnShelf, ShelfItem, ShelfReview, review_shelf};
pub use statement::{Statement, hazard_codes, statement, supplemental_codes};
pub use storage::{StorageClass, WasteStream};
pub use subject::Subject;
