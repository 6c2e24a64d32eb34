//! The sizes of labels. They are the project's own choice: each fills the width of A4 and of Letter, and its
//! QR code has squares that a telephone reads from print.

use std::fmt;

/// What a label is stuck on or slid into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LabelStock {
    /// A vial: 38 mm × 19 mm.
    Vial,
    /// A bottle: 64 mm × 37 mm.
    Bottle,
    /// The sleeve of a cell: 48 mm × 14 mm.
    CellSleeve,
}

/// Measures of a label, all in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Measures {
    pub width: f64,
    pub height: f64,
    /// Side of the QR code with its quiet zone; it stands in the upper left corner.
    pub qr_side: f64,
    /// Distance of the QR code from the edges.
    pub qr_inset: f64,
    /// Type size of the code, at most.
    pub code_size: f64,
    /// The code stands below the QR code; otherwise above the text.
    pub code_below: bool,
    /// Type sizes of the text: the largest and the smallest that is still read.
    pub text_sizes: (f64, f64),
    /// Distance of the text from the edges.
    pub margin: f64,
}

impl LabelStock {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Vial, Self::Bottle, Self::CellSleeve];

    /// Narrower squares of a QR code than this, in millimetres, are not printed (common practice for
    /// reading with a telephone).
    pub const SMALLEST_MODULE_MM: f64 = 0.4;

    /// Its name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Vial => "vial",
            Self::Bottle => "bottle",
            Self::CellSleeve => "cell-sleeve",
        }
    }

    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::CellSleeve => "cell sleeve",
            other => other.name(),
        }
    }

    /// Width and height in millimetres.
    pub const fn size_mm(self) -> (f64, f64) {
        let measures = self.measures();
        (measures.width, measures.height)
    }

    /// A QR code of the smallest version has 21 squares on a side and 4 of quiet zone around (ISO/IEC
    /// 18004): 29 squares of 0.42 mm, 0.6 mm and 0.4 mm.
    pub(super) const fn measures(self) -> Measures {
        match self {
            Self::Vial => Measures {
                width: 38.0,
                height: 19.0,
                qr_side: 12.18,
                qr_inset: 0.3,
                code_size: 5.5,
                code_below: true,
                text_sizes: (2.4, 1.75),
                margin: 1.0,
            },
            Self::Bottle => Measures {
                width: 64.0,
                height: 37.0,
                qr_side: 17.4,
                qr_inset: 0.5,
                code_size: 10.0,
                code_below: true,
                text_sizes: (3.0, 2.0),
                margin: 1.5,
            },
            Self::CellSleeve => Measures {
                width: 48.0,
                height: 14.0,
                qr_side: 11.6,
                qr_inset: 0.6,
                code_size: 4.2,
                code_below: false,
                text_sizes: (2.3, 1.75),
                margin: 0.5,
            },
        }
    }
}

impl fmt::Display for LabelStock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}
