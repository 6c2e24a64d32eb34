//! A triangle of three components: what is drawn on compositions. As SVG and as characters, in grey as well as in
//! colour. No charting library of ours draws one, so it is drawn here.
//!
//! Every place is three fractions in the order of the corners. The first corner is at the top, the second at the lower
//! left, the third at the lower right.
//!
//! ```
//! use meltbook::report::triangle::{Field, Triangle};
//!
//! // x₁ itself at steps of one tenth.
//! let lattice = (0..=10).flat_map(|one| (0..=10 - one).map(move |_| Some(f64::from(one) / 10.0)));
//! let field = Field::new(10, lattice.collect()).levels(vec![0.25, 0.5]);
//! let figure = Triangle::new(["A", "B", "C"], "x of A").with_field(field).figure();
//! assert!(figure.svg().contains("<title>x of A</title>"));
//! ```

mod characters;
mod contour;
mod lattice;
mod svg;

use self::lattice::Lattice;
use super::document::{Figure, Shape, Stroke, text};

pub use self::contour::{isolines, region};

/// A place in the triangle: three fractions that add up to 1.
pub type Place = [f64; 3];

/// What is drawn on three components.
#[derive(Debug, Clone, PartialEq)]
pub struct Triangle {
    corners: [String; 3],
    description: String,
    caption: String,
    field: Option<Field>,
    marks: Vec<TriangleMark>,
}

/// A value at each place of a lattice, drawn as isolines with shades between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    lattice: Lattice,
    levels: Vec<f64>,
    unit: String,
    decimals: usize,
}

/// Something drawn above the field.
#[derive(Debug, Clone, PartialEq)]
pub enum TriangleMark {
    /// Places joined in their order.
    Line {
        /// Where.
        places: Vec<Place>,
        /// How.
        stroke: Stroke,
    },
    /// Places alone.
    Points {
        /// Where.
        places: Vec<Place>,
        /// How.
        shape: Shape,
        /// What they are; it stands beside the last.
        label: String,
    },
    /// Words at a place.
    Words {
        /// Where their middle is.
        at: Place,
        /// What they say.
        words: String,
    },
}

impl Triangle {
    /// An empty triangle by the names of its corners, and what it shows for those who can't see it.
    pub fn new<N: Into<String>>(corners: [N; 3], description: impl Into<String>) -> Self {
        Self {
            corners: corners.map(Into::into),
            description: description.into(),
            caption: String::new(),
            field: None,
            marks: Vec::new(),
        }
    }

    /// The same with a line below it.
    pub fn caption(mut self, caption: impl Into<String>) -> Self {
        self.caption = caption.into();
        self
    }

    /// The same with a field below all marks.
    pub fn with_field(mut self, field: Field) -> Self {
        self.field = Some(field);
        self
    }

    /// The same with one more mark, above those before.
    pub fn with(mut self, mark: TriangleMark) -> Self {
        self.marks.push(mark);
        self
    }

    /// The drawing in all its forms.
    pub fn figure(&self) -> Figure {
        Figure::new(svg::svg(self), text(&self.description))
            .in_characters(characters::lines(self))
            .caption(text(&self.caption))
    }
}

impl Field {
    /// Values on a lattice of so many steps along each edge, row by row: first fraction from 0 up, in each row the
    /// second from 0 up, (steps + 1)(steps + 2)/2 in all; missing ones are left blank.
    pub fn new(steps: usize, values: Vec<Option<f64>>) -> Self {
        Self { lattice: Lattice::new(steps, values), levels: Vec::new(), unit: String::new(), decimals: 0 }
    }

    /// The same with isolines at these values, in rising order.
    pub fn levels(mut self, levels: Vec<f64>) -> Self {
        self.levels = levels;
        self.levels.sort_by(f64::total_cmp);
        self
    }

    /// The same with isolines at round values: steps of 1, 2 or 5 times a power of ten, no more than so many.
    pub fn round_levels(self, most: usize) -> Self {
        let (low, high) = self.lattice.range();
        let rough = (high - low) / most.max(1) as f64;
        if !(rough.is_finite() && 0.0 < rough) {
            return self;
        }
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].map(|part| part * power).into_iter().find(|step| rough <= *step);
        let step = step.unwrap_or(10.0 * power);
        let first = (low / step).floor() as i64 + 1;
        let levels = (first..).map(|at| at as f64 * step).take_while(|level| *level < high).take(100);
        let levels = levels.collect();
        self.decimals((-step.log10().floor()).max(0.0) as usize).levels(levels)
    }

    /// The same with a unit behind the numbers of a legend.
    pub fn unit(mut self, unit: impl Into<String>) -> Self {
        self.unit = unit.into();
        self
    }

    /// The same with so many decimals on isolines.
    pub fn decimals(mut self, decimals: usize) -> Self {
        self.decimals = decimals;
        self
    }

    fn number(&self, value: f64) -> String {
        let text = format!("{value:.*}", self.decimals);
        if text.trim_start_matches('-').chars().all(|c| matches!(c, '0' | '.')) {
            return text.trim_start_matches('-').to_owned();
        }
        text.replace('-', "−")
    }
}

impl TriangleMark {
    /// Places joined in their order.
    pub fn line(places: Vec<Place>, stroke: Stroke) -> Self {
        Self::Line { places, stroke }
    }

    /// Places alone, with what they are.
    pub fn points(places: Vec<Place>, shape: Shape, label: impl Into<String>) -> Self {
        Self::Points { places, shape, label: label.into() }
    }

    /// Words at a place.
    pub fn words(at: Place, words: impl Into<String>) -> Self {
        Self::Words { at, words: words.into() }
    }
}
