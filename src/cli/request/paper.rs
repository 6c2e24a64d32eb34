//! `--paper`.

use clap::ValueEnum;

use crate::report::html::PageSize;

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::cli) enum Paper {
    /// 210 mm × 297 mm
    A4,
    /// 8.5 in × 11 in
    Letter,
}

impl Paper {
    /// The size of its page.
    pub(in crate::cli) const fn size(self) -> PageSize {
        match self {
            Self::A4 => PageSize::A4,
            Self::Letter => PageSize::Letter,
        }
    }
}
