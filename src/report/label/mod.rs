//! Labels for vials, bottles and cell sleeves: what is on them, what fits, and sheets of them for print.
//!
//! A label has a QR code that holds the lot code and nothing else, the same code in large type, and as much
//! of the rest as can be read. What does not fit is never cut in silence: the label then ends in
//! `more: sheet`, and [`LabelDrawing::left_off`] names it. The signal word, and the words that say that
//! hazards are not known, are always there.
//!
//! ```
//! use meltbook::report::html::PageSize;
//! use meltbook::report::label::{LabelContent, LabelStock, label_sheet};
//!
//! let label = LabelContent::new("E7", "ChCl:glycerol 1:2").made("made", "2025-11-02").who("kl");
//! let page = label_sheet(&[label], LabelStock::Vial, PageSize::A4)?;
//! assert!(page.contains("HAZARDS NOT"));
//! # Ok::<(), meltbook::report::label::LabelError>(())
//! ```

mod batch;
mod bottle;
mod cell;
mod content;
mod draw;
mod fit;
mod fold_out;
mod fold_pages;
mod hazards;
mod lines;
mod overview;
mod preview;
mod qr;
mod sheet;
mod stock;

pub use batch::batch_label;
pub use bottle::bottle_label;
pub use cell::cell_label;
pub use content::{Against, AgainstUse, LabelContent};
pub use draw::{LabelDrawing, label_drawing};
pub use hazards::{LabelAlert, LabelHazards, LabelRule, LabelStatement, Package, SignalWord};
pub use overview::label_overview;
pub use preview::label_document;
pub use sheet::{LabelRun, label_sheet, label_sheets, labels_per_page};
pub use stock::LabelStock;

/// Why there is no label.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LabelError {
    /// Nothing to write on it, or something that can't be printed as it is.
    #[error("{code:?} can't be a code on a label: it must be printable and must not be empty")]
    BadCode {
        /// As given.
        code: String,
    },
    /// The squares of its QR code would be too small to be read from print.
    #[error("the code {code:?} is too long for a {stock} label: the squares of its QR code would be {} mm wide, not {}", .module_mm, LabelStock::SMALLEST_MODULE_MM)]
    CodeTooLong {
        /// As given.
        code: String,
        /// The label.
        stock: LabelStock,
        /// How wide a square would be, in millimetres.
        module_mm: String,
    },
}
