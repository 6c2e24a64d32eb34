//! The QR code (ISO/IEC 18004) as one path.

use fast_qr::{ECL, QRBuilder, QRCode};

/// Squares of quiet zone on each side (ISO/IEC 18004: four).
const QUIET: usize = 4;

/// A QR code that holds a text and nothing else.
pub(super) struct Qr {
    /// Squares on a side, quiet zone included.
    pub modules: usize,
    /// The dark squares, one unit of length each, quiet zone included.
    pub path: String,
}

/// The smallest that holds the text, with as much correction as its size gives for nothing: a label is
/// rubbed and splashed. `None` if no size holds it.
pub(super) fn qr(text: &str) -> Option<Qr> {
    let built = [ECL::H, ECL::Q, ECL::M].map(|level| QRBuilder::new(text).ecl(level).build().ok());
    let smallest = built.into_iter().flatten().min_by_key(|code| code.size)?;
    Some(Qr { modules: smallest.size + 2 * QUIET, path: path(&smallest) })
}

/// A rectangle for each run of dark squares in a row.
fn path(code: &QRCode) -> String {
    let mut path = String::new();
    for row in 0..code.size {
        let mut column = 0;
        for run in code[row].chunk_by(|a, b| a.value() == b.value()) {
            if run[0].value() {
                let (x, y, wide) = (column + QUIET, row + QUIET, run.len());
                path.push_str(&format!("M{x} {y}h{wide}v1h-{wide}z"));
            }
            column += run.len();
        }
    }
    path
}
