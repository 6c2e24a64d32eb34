//! The QR code read back from the label's picture, as a telephone would: drawn by resvg at the resolution
//! of a common printer, read by rqrr.

use meltbook::report::label::{LabelContent, LabelError, LabelStock, label_drawing};
use proptest::prelude::*;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use rqrr::PreparedImage;

use super::sample::{corrosive, everything};

/// Dots per inch of a common printer.
const PRINTER: f32 = 300.0;
/// Pixels per inch of a drawing without scale (CSS Values 4, 6.2).
const DRAWING: f32 = 96.0;

/// All QR codes in the picture of a label.
pub fn read(svg: &str) -> Vec<String> {
    let tree = Tree::from_str(svg, &Options::default()).unwrap();
    let scale = PRINTER / DRAWING;
    let (width, height) = (tree.size().width() * scale, tree.size().height() * scale);
    let mut pixels = Pixmap::new(width.ceil() as u32, height.ceil() as u32).unwrap();
    pixels.fill(resvg::tiny_skia::Color::WHITE);
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    let width = pixels.width();
    let grey = |x: usize, y: usize| pixels.pixel(x as u32, y as u32).unwrap().green();
    let mut image = PreparedImage::prepare_from_greyscale(width as usize, pixels.height() as usize, grey);
    image.detect_grids().iter().map(|grid| grid.decode().unwrap().1).collect()
}

#[test]
fn every_code_is_read_back_from_every_label() {
    for stock in LabelStock::ALL {
        for code in ["C1", "E7", "B12", "S3", "M40", "C12345", "C4294967295"] {
            let label = LabelContent { code: code.to_owned(), ..corrosive() };
            let svg = label_drawing(&label, stock).map(|drawing| drawing.svg);
            assert_eq!(svg.map(|svg| read(&svg)), Ok(vec![code.to_owned()]), "{stock}");
        }
    }
}

#[test]
fn a_crowded_label_is_read_too() {
    for stock in LabelStock::ALL {
        let label = LabelContent::new("C12345", "x".repeat(400)).hazards(everything());
        assert_eq!(read(&label_drawing(&label, stock).unwrap().svg), ["C12345"]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_code_is_read_back(code in "[BESMC][1-9][0-9]{0,6}") {
        for stock in LabelStock::ALL {
            let drawing = label_drawing(&LabelContent::new(&code, "any"), stock).unwrap();
            prop_assert_eq!(read(&drawing.svg), [code.clone()]);
        }
    }
}

/// The width of a square in millimetres, from the scale of the path.
fn square_mm(svg: &str) -> f64 {
    let start = svg.find("scale(").unwrap() + "scale(".len();
    svg[start..].split(')').next().unwrap().parse().unwrap()
}

#[test]
fn squares_are_wide_enough_and_the_quiet_zone_is_four_of_them() {
    for stock in LabelStock::ALL {
        let svg = label_drawing(&corrosive(), stock).unwrap().svg;
        assert!(LabelStock::SMALLEST_MODULE_MM <= square_mm(&svg));
        // The upper left finder pattern is a row of seven (ISO/IEC 18004, 6.3.3) behind the quiet zone.
        assert!(svg.contains("d=\"M4 4h7v1h-7z"), "{svg}");
    }
}

#[test]
fn what_is_no_code_or_too_long_is_refused() {
    let refused = |code: &str, stock| label_drawing(&LabelContent::new(code, ""), stock).unwrap_err();
    for code in ["", " ", " E7", "E7\n", "E\u{202e}7", "E\u{1b}7"] {
        let error = refused(code, LabelStock::Vial);
        assert!(matches!(error, LabelError::BadCode { .. }), "{code:?}: {error}");
    }
    let error = refused("ELECTROLYTE-2025-11-02-LOT-0000007", LabelStock::CellSleeve).to_string();
    assert!(
        error.starts_with(
            "the code \"ELECTROLYTE-2025-11-02-LOT-0000007\" is too long for a cell sleeve label"
        )
    );
    assert!(error.ends_with("mm wide, not 0.4"), "{error}");
}
