//! Labels: the QR code is read back from its picture, nothing is cut in silence, nothing runs over the edge.

mod fit;
mod kept;
pub mod qr;
mod sample;
