//! A chart: what is plotted against what. Every format draws it as well as it can.

use super::Text;

/// Marks on two axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    pub(in crate::report) description: Text,
    pub(in crate::report) caption: Text,
    pub(in crate::report) across: Axis,
    pub(in crate::report) up: Axis,
    pub(in crate::report) marks: Vec<Mark>,
    pub(in crate::report) low: bool,
}

/// One axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    pub(in crate::report) title: String,
    pub(in crate::report) logarithmic: bool,
    pub(in crate::report) names: Vec<String>,
    pub(in crate::report) least: Option<f64>,
    pub(in crate::report) most: Option<f64>,
    pub(in crate::report) held: bool,
}

/// Something drawn. A label stands beside its right end; an empty one does not.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// Points joined in their order.
    Line {
        /// Where.
        points: Vec<(f64, f64)>,
        /// How.
        stroke: Stroke,
        /// Which of several things it belongs to.
        series: Option<Series>,
        /// What it is.
        label: String,
    },
    /// Points alone.
    Points {
        /// Where.
        points: Vec<(f64, f64)>,
        /// How.
        shape: Shape,
        /// Which of several things they belong to.
        series: Option<Series>,
        /// What they are.
        label: String,
    },
    /// The space between two lines: x, lower and upper y.
    Band {
        /// Where.
        points: Vec<(f64, f64, f64)>,
        /// Which of several things it belongs to.
        series: Option<Series>,
        /// What it is.
        label: String,
    },
    /// A level through the whole chart.
    Level {
        /// Where.
        y: f64,
        /// What it is.
        label: String,
    },
    /// A place on the axis, through the whole chart.
    Place {
        /// Where.
        x: f64,
        /// What it is.
        label: String,
    },
}

/// One of several things in a chart, counted from 0. Each has a colour, dashes, a sign and a shape of its own, so that they can
/// be told apart in grey; after as many as there are they come again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Series(pub usize);

/// The weight of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    /// What the chart is about.
    Strong,
    /// One of many.
    Thin,
    /// A bound or a target.
    Dashed,
    /// How far something may reach.
    Dotted,
    /// A curve through points whose marks tell what it is.
    Through,
}

/// The shape of points: they can be told apart in grey.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// ●
    Filled,
    /// ○
    Hollow,
    /// ×
    Cross,
    /// ■
    FilledSquare,
    /// △
    Triangle,
    /// □
    Square,
    /// ▲
    FilledTriangle,
    /// +
    Plus,
    /// ◇
    Diamond,
}

impl Shape {
    /// As a character.
    pub const fn sign(self) -> char {
        match self {
            Self::Filled => '●',
            Self::Hollow => '○',
            Self::Cross => '×',
            Self::FilledSquare => '■',
            Self::Triangle => '△',
            Self::Square => '□',
            Self::FilledTriangle => '▲',
            Self::Plus => '+',
            Self::Diamond => '◇',
        }
    }
}

impl Series {
    /// So many look different.
    pub const COUNT: usize = 9;

    /// The shape of its points where shapes tell things apart.
    pub const fn shape(self) -> Shape {
        const SHAPES: [Shape; Series::COUNT] = [
            Shape::Hollow,
            Shape::Filled,
            Shape::Cross,
            Shape::FilledSquare,
            Shape::Triangle,
            Shape::Square,
            Shape::FilledTriangle,
            Shape::Plus,
            Shape::Diamond,
        ];
        SHAPES[self.0 % Self::COUNT]
    }
}

impl Chart {
    /// A chart without marks, and what it shows for those who can't see it.
    pub fn new(across: Axis, up: Axis, description: impl Into<Text>) -> Self {
        Self {
            description: description.into(),
            caption: Text::default(),
            across,
            up,
            marks: Vec::new(),
            low: false,
        }
    }

    /// The same with a line below it.
    pub fn caption(mut self, caption: impl Into<Text>) -> Self {
        self.caption = caption.into();
        self
    }

    /// The same at half the height.
    pub fn low(mut self) -> Self {
        self.low = true;
        self
    }

    /// The same with one more mark, above those before.
    pub fn with(mut self, mark: Mark) -> Self {
        self.marks.push(mark);
        self
    }
}

impl Axis {
    /// An axis by its title, with the unit in brackets.
    pub fn new(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            logarithmic: false,
            names: Vec::new(),
            least: None,
            most: None,
            held: false,
        }
    }

    /// The same in even ratios. What is not above 0 is not drawn.
    pub fn logarithmic(mut self) -> Self {
        self.logarithmic = true;
        self
    }

    /// The same from here to there and no further: what lies beyond is not drawn.
    pub fn within(mut self, least: f64, most: f64) -> Self {
        (self.least, self.most, self.held) = (Some(least), Some(most), true);
        self
    }

    /// The title as it is shown: even ratios are said.
    pub(in crate::report) fn heading(&self) -> String {
        if self.logarithmic { format!("{}, logarithmic", self.title) } else { self.title.clone() }
    }

    /// The same with names at 0, 1, 2 and so on instead of numbers.
    pub fn names<N: Into<String>>(mut self, names: impl IntoIterator<Item = N>) -> Self {
        self.names = names.into_iter().map(Into::into).collect();
        self
    }

    /// The same from at least here on, whatever is drawn.
    pub fn from(mut self, least: f64) -> Self {
        self.least = Some(least);
        self
    }

    /// The same up to at least here, whatever is drawn.
    pub fn to(mut self, most: f64) -> Self {
        self.most = Some(most);
        self
    }
}

impl Mark {
    /// Points joined by a line.
    pub fn line(points: Vec<(f64, f64)>, stroke: Stroke, label: impl Into<String>) -> Self {
        Self::Line { points, stroke, series: None, label: label.into() }
    }

    /// Points alone.
    pub fn points(points: Vec<(f64, f64)>, shape: Shape, label: impl Into<String>) -> Self {
        Self::Points { points, shape, series: None, label: label.into() }
    }

    /// The space between two lines.
    pub fn band(points: Vec<(f64, f64, f64)>, label: impl Into<String>) -> Self {
        Self::Band { points, series: None, label: label.into() }
    }

    /// A level through the whole chart.
    pub fn level(y: f64, label: impl Into<String>) -> Self {
        Self::Level { y, label: label.into() }
    }

    /// A place through the whole chart.
    pub fn place(x: f64, label: impl Into<String>) -> Self {
        Self::Place { x, label: label.into() }
    }

    /// The same as part of one of several things; a level and a place belong to none.
    pub fn of(mut self, which: Series) -> Self {
        if let Self::Line { series, .. } | Self::Points { series, .. } | Self::Band { series, .. } = &mut self
        {
            *series = Some(which);
        }
        self
    }

    /// What it is.
    pub(in crate::report) fn label(&self) -> &str {
        match self {
            Self::Line { label, .. }
            | Self::Points { label, .. }
            | Self::Band { label, .. }
            | Self::Level { label, .. }
            | Self::Place { label, .. } => label,
        }
    }

    /// The height at which it ends on the right; a place has none.
    pub(in crate::report) fn end(&self) -> Option<f64> {
        let finite = |y: &f64| y.is_finite();
        match self {
            Self::Line { points, .. } | Self::Points { points, .. } => {
                points.iter().rev().map(|(_, y)| *y).find(finite)
            }
            Self::Band { points, .. } => {
                points.iter().rev().map(|(_, low, high)| (low + high) / 2.0).find(finite)
            }
            Self::Level { y, .. } => Some(*y),
            Self::Place { .. } => None,
        }
    }

    /// Which of several things it belongs to.
    pub(in crate::report) fn series(&self) -> Option<Series> {
        match self {
            Self::Line { series, .. } | Self::Points { series, .. } | Self::Band { series, .. } => *series,
            Self::Level { .. } | Self::Place { .. } => None,
        }
    }

    /// Every place that it takes, as far as it is finite; a level and a place have one coordinate.
    pub(in crate::report) fn extent(&self) -> Vec<(Option<f64>, Option<f64>)> {
        let both = |(x, y): &(f64, f64)| (Some(*x), Some(*y));
        let all: Vec<(Option<f64>, Option<f64>)> = match self {
            Self::Line { points, .. } | Self::Points { points, .. } => points.iter().map(both).collect(),
            Self::Band { points, .. } => {
                points.iter().flat_map(|(x, low, high)| [both(&(*x, *low)), both(&(*x, *high))]).collect()
            }
            Self::Level { y, .. } => vec![(None, Some(*y))],
            Self::Place { x, .. } => vec![(Some(*x), None)],
        };
        let finite = |value: Option<f64>| value.filter(|value| value.is_finite());
        all.into_iter().map(|(x, y)| (finite(x), finite(y))).collect()
    }
}
