//! What the parts of a fold are called.

use super::{FoldSpec, Layout};
use crate::geometry::{FlatKind, LineKind};
use crate::measure::{LengthStyle, counted};

/// What the parts of a fold are called.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FoldWords {
    /// Its middle: `burst centre`.
    pub middle: &'static str,
    /// What the first bind is tied on: `guide arc`.
    pub guide: &'static str,
    /// What the pleats are measured along: `guide arc`.
    pub pleated: &'static str,
    /// Where the cloth ends within: `the centre`.
    pub tip: &'static str,
    /// A line marked besides: `extra arc`.
    pub further: &'static str,
    /// What its maker measures from: `the centre`.
    pub zero: &'static str,
    /// How distances from there are said, below 0 and above.
    pub sides: [&'static str; 2],
    /// The cloth between two binds: `section`.
    pub section: &'static str,
    /// What is tied on, one piece of thread each: `bind`.
    pub tie: &'static str,
    /// What it makes of the garment, ready to be dyed: `bound rod`.
    pub tied: &'static str,
}

impl FoldWords {
    /// Those of a burst.
    pub const BURST: Self = Self {
        middle: "burst centre",
        guide: "guide arc",
        pleated: "guide arc",
        tip: "the centre",
        further: "extra arc",
        zero: "the centre",
        sides: ["from the centre"; 2],
        section: "section",
        tie: "bind",
        tied: "bound rod",
    };
    /// Those of a line round some cloth.
    pub const RING: Self = Self {
        middle: "middle of the line",
        guide: "line",
        pleated: "fold guide",
        tip: "the tip",
        further: "extra line",
        zero: "the line",
        sides: ["inside the line", "outside the line"],
        section: "section",
        tie: "bind",
        tied: "bound rod",
    };
    /// Those of a line from edge to edge.
    pub const ACROSS: Self = Self { sides: ["below the line", "above the line"], ..Self::RING };
    /// Those of strokes, and of a point.
    pub const STROKE: Self = Self { guide: "first parallel", sides: ["from the line"; 2], ..Self::RING };

    /// Those of a flat bundle.
    pub const FLAT: Self = Self {
        middle: "centre of the wedges",
        guide: "first bind",
        pleated: "first bind",
        tip: "the first end",
        further: "extra line",
        zero: "the first end",
        sides: ["from the first end"; 2],
        section: "section",
        tie: "bind",
        tied: "bundle",
    };
    /// Those of wedges, whose first end is their tip.
    pub const WEDGES: Self = Self { tip: "the tip", zero: "the tip", sides: ["from the tip"; 2], ..Self::FLAT };

    /// Those of a puck, along whose rim its bands lie.
    pub const PUCK: Self = Self {
        middle: "pinch",
        guide: "first band",
        pleated: "pinch",
        tip: "the tick",
        further: "extra line",
        zero: "the tick",
        sides: ["round the rim from the tick"; 2],
        section: "wedge",
        tie: "band",
        tied: "puck",
    };

    /// Those of a fold.
    #[must_use]
    pub const fn of(fold: &FoldSpec) -> Self {
        match fold {
            FoldSpec::Burst(_) => Self::BURST,
            FoldSpec::Line(line) => Self::of_line(line.line.kind()),
            FoldSpec::Flat(flat) => Self::of_flat(flat.pattern.kind()),
            FoldSpec::Spiral(_) => Self::PUCK,
        }
    }

    /// Those of a flat bundle of a kind.
    #[must_use]
    pub const fn of_flat(kind: FlatKind) -> Self {
        match kind {
            FlatKind::Wedges => Self::WEDGES,
            _ => Self::FLAT,
        }
    }

    /// Those of a fold along a line.
    #[must_use]
    pub const fn of_line(kind: LineKind) -> Self {
        match kind {
            LineKind::Ring => Self::RING,
            LineKind::Across => Self::ACROSS,
            LineKind::Stroke | LineKind::Point => Self::STROKE,
        }
    }

    /// What its maker measures from, in one word, as a table's head has it: `centre`, `end`.
    #[must_use]
    pub fn from(self) -> &'static str {
        self.zero.rsplit(' ').next().unwrap_or(self.zero)
    }

    /// Whether distances from there have sides, so that some are below 0.
    #[must_use]
    pub fn has_sides(self) -> bool {
        self.sides[0] != self.sides[1]
    }

    /// A distance from where its maker measures, mm, in words: `230 mm from the centre`, `40 mm outside the line`.
    ///
    /// ```
    /// use pleatwright::layout::FoldWords;
    /// use pleatwright::measure::LengthStyle;
    /// let mm = LengthStyle::default();
    /// assert_eq!(FoldWords::BURST.place(230.0, mm), "230 mm from the centre");
    /// assert_eq!(FoldWords::RING.place(-12.0, mm), "12 mm inside the line");
    /// assert_eq!(FoldWords::ACROSS.place(0.0, mm), "on the line");
    /// ```
    #[must_use]
    pub fn place(self, from_zero_mm: f64, lengths: LengthStyle) -> String {
        let [below, above] = self.sides;
        if from_zero_mm.abs() < ON_IT_MM && below != above {
            return format!("on {}", self.zero);
        }
        let side = if from_zero_mm < 0.0 { below } else { above };
        format!("{} {side}", lengths.format(from_zero_mm.abs()))
    }
}

impl FoldWords {
    /// The same without what it is measured from: `230 mm`, `40 mm outside`.
    ///
    /// ```
    /// use pleatwright::layout::FoldWords;
    /// use pleatwright::measure::LengthStyle;
    /// let mm = LengthStyle::default();
    /// assert_eq!(FoldWords::BURST.short_place(230.0, mm), "230 mm");
    /// assert_eq!(FoldWords::RING.short_place(40.0, mm), "40 mm outside");
    /// assert_eq!(FoldWords::RING.short_place(0.0, mm), "the line");
    /// ```
    #[must_use]
    pub fn short_place(self, from_zero_mm: f64, lengths: LengthStyle) -> String {
        let [below, above] = self.sides;
        let length = lengths.format(from_zero_mm.abs());
        if below == above {
            return length;
        }
        if from_zero_mm.abs() < ON_IT_MM {
            return self.zero.to_owned();
        }
        format!("{length} {}", self.side(from_zero_mm))
    }

    /// On which side of where its maker measures from: `inside`; nothing where there are no sides.
    #[must_use]
    pub fn side(self, from_zero_mm: f64) -> &'static str {
        let [below, above] = self.sides;
        let side = if from_zero_mm < 0.0 { below } else { above };
        if below == above { "" } else { side.trim_end_matches(self.zero).trim_end() }
    }
}

/// What is no farther from a line than this is on it, mm: less than is written.
const ON_IT_MM: f64 = 0.05;

impl Layout {
    /// What the parts of its fold are called.
    #[must_use]
    pub fn words(&self) -> FoldWords {
        FoldWords::of(&self.raw().fold)
    }

    /// What is tied on, counted in pieces of thread: `17 binds`, of a puck `3 bands`, each of which parts its cloth at two places; of
    /// several ties `3 ties, 24 binds`.
    #[must_use]
    pub fn bound_with(&self) -> String {
        if self.is_of_several() {
            let binds: usize = self.ties().iter().map(|tie| tie.binds().binds.len()).sum();
            return format!("{}, {}", counted(self.ties().len(), "tie"), counted(binds, "bind"));
        }
        let count = self.raw().fold.spiral().map_or(self.binds().binds.len(), |spiral| spiral.bands as usize);
        counted(count, self.words().tie)
    }

    /// A place along the bundle as its maker measures it, mm: a burst's from the centre, a line's from the line.
    #[must_use]
    pub fn from_zero_mm(&self, along_mm: f64) -> f64 {
        along_mm - self.zero_mm()
    }
}
