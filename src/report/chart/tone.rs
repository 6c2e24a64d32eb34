//! What the several things of a chart are told apart by: colour, darkness, dashes and sign, so that grey paper will do.

use plotters::style::RGBColor;

use crate::report::document::Series;

/// One of them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tone {
    /// Of lines and points.
    pub(super) colour: RGBColor,
    /// Length of a dash and of the space after it; none for a whole line.
    pub(super) dashes: Option<(i32, i32)>,
    /// On a screen of characters.
    pub(super) sign: char,
}

/// Blue, ochre, green, purple, red, grey, black, light blue and olive of our own choice: far apart in hue for people who see red and green alike, and
/// in darkness for those who see neither.
const TONES: [Tone; Series::COUNT] = [
    tone([0, 68, 136], None, 'o'),
    tone([190, 110, 0], Some((9, 4)), 'x'),
    tone([0, 120, 100], Some((3, 3)), '+'),
    tone([110, 40, 120], Some((14, 3)), '*'),
    tone([200, 60, 60], Some((6, 2)), '#'),
    tone([90, 90, 90], Some((2, 5)), '@'),
    tone([0, 0, 0], Some((20, 4)), '%'),
    tone([40, 130, 190], Some((9, 9)), '&'),
    tone([120, 115, 0], Some((4, 1)), '='),
];

const fn tone(colour: [u8; 3], dashes: Option<(i32, i32)>, sign: char) -> Tone {
    let [red, green, blue] = colour;
    Tone { colour: RGBColor(red, green, blue), dashes, sign }
}

/// How much of its colour a band has: those of several things are seen through one another.
pub(super) const BAND: f64 = 0.18;

/// The look of one of several things.
pub(super) fn of(Series(at): Series) -> Tone {
    TONES[at % TONES.len()]
}
