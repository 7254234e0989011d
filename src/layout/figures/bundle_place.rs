//! How a garment is folded into a flat bundle, in words.

use super::{FlatFigures, FoldFigures};
use crate::geometry::{FlatKind, FlatPattern, HalfFold, Top, centre_at};
use crate::layout::Layout;
use crate::measure::LengthStyle;

/// How a garment is folded into a flat bundle, and what holds it beside binds.
#[derive(Debug, Clone, PartialEq)]
pub struct BundlePlace {
    /// What it is folded into.
    pub kind: FlatKind,
    /// Whether the pieces are rolled up; if not they go to and fro.
    pub is_rolled: bool,
    /// Width of stripes or of the strip, mm.
    pub width_mm: Option<f64>,
    /// From crease to crease along a strip of squares, mm.
    pub height_mm: Option<f64>,
    /// The direction that their creases run in, degrees clockwise from straight up.
    pub angle_deg: Option<f64>,
    /// Wedges in the whole turn.
    pub wedges: Option<u32>,
    /// What the height is counted from.
    pub top: Top,
    /// The wedges' centre below that and from the centre line, mm.
    pub centre_mm: Option<[f64; 2]>,
    /// How often something is folded over.
    pub folds: u32,
    /// Length across the binds, width and free height of the bundle, mm.
    pub size_mm: [f64; 3],
    /// Layers where most lie on each other; not known of work that was written down before this was told.
    pub most_layers: Option<u32>,
    /// Whether the strip is turned over before it is folded along itself.
    pub turns_strip_over: bool,
    /// Half folds, each by a point that its crease runs through, below the top and from the centre line, mm, and its direction, degrees clockwise
    /// from straight up.
    pub half_folds: Vec<[f64; 3]>,
    /// The blocks that hold it.
    pub blocks: Option<BlocksPlace>,
    /// The thread that is wound round it.
    pub wrap: Option<WrapPlace>,
}

/// A thread as it is wound round a bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WrapPlace {
    /// Where it begins and where it ends, from the bundle's first end, mm.
    pub stretch_mm: [f64; 2],
    /// How far a turn goes along the bundle, mm.
    pub gap_mm: f64,
    /// Whether it is wound back again.
    pub crossed: bool,
    /// How often it goes round, one way.
    pub turns: f64,
    /// Thread to cut, mm.
    pub thread_mm: f64,
}

/// Blocks as they are put on.
#[derive(Debug, Clone, PartialEq)]
pub struct BlocksPlace {
    /// What they are called.
    pub shape: String,
    /// The sizes that they are cut by, mm: side or diameter twice, or length and width.
    pub size_mm: [f64; 2],
    /// By how much they are turned from along the bundle towards across it, degrees.
    pub turn_deg: f64,
    /// How far their middle lies from the bundle's along and across, mm.
    pub from_middle_mm: [f64; 2],
    /// How far a clamp opens over the cloth alone, mm.
    pub opening_mm: f64,
}

/// What is no farther from the middle than this lies on it, mm: less than is written.
const ON_IT_MM: f64 = 0.05;

impl BundlePlace {
    pub(super) fn of(layout: &Layout, flat: &FlatFigures, fold: &FoldFigures) -> Option<Self> {
        let (of, spec) = (layout.flat()?, layout.raw().blocks.as_ref());
        let blocks = flat.blocks.zip(spec).map(|(figures, spec)| BlocksPlace {
            shape: figures.shape.to_owned(),
            size_mm: spec.shape.sizes_mm(),
            turn_deg: spec.turn_deg,
            from_middle_mm: [spec.along_mm, spec.across_mm],
            opening_mm: figures.opening_mm,
        });
        Some(Self {
            kind: of.spec().pattern.kind(),
            is_rolled: flat.is_rolled,
            width_mm: flat.width_mm,
            height_mm: flat.height_mm,
            angle_deg: flat.angle_deg,
            wedges: flat.wedges,
            top: fold.top,
            centre_mm: flat.centre_below_shoulder_mm.zip(flat.centre_from_centre_line_mm).map(|(below, aside)| [below, aside]),
            folds: flat.folds,
            size_mm: [flat.bundle_length_mm, flat.bundle_width_mm, flat.bundle_height_mm],
            most_layers: Some(flat.most_layers),
            turns_strip_over: of.turns_strip_over(),
            half_folds: half_folds(layout),
            blocks,
            wrap: flat.wrap.map(|wrap| WrapPlace {
                stretch_mm: [wrap.from_mm, wrap.to_mm],
                gap_mm: wrap.gap_mm,
                crossed: wrap.crossed,
                turns: wrap.turns,
                thread_mm: wrap.thread_mm,
            }),
        })
    }

    /// What it is folded into and where: `Stripes, 90 mm wide, straight up.`
    #[must_use]
    pub fn pattern_words(&self, lengths: LengthStyle) -> String {
        let format = |mm: f64| lengths.format(mm);
        let size = match (self.kind, self.width_mm, self.height_mm) {
            (FlatKind::Squares, Some(width_mm), Some(height_mm)) if (width_mm - height_mm).abs() > ON_IT_MM => {
                format!("Rectangles of {} by {}", format(width_mm), format(height_mm))
            }
            (FlatKind::Squares, Some(width_mm), _) => format!("Squares of {}", format(width_mm)),
            (FlatKind::Triangles, Some(width_mm), _) => format!("Triangles {} high", format(width_mm)),
            (FlatKind::RightTriangles, Some(width_mm), _) => format!("Right triangles with legs of {}", format(width_mm)),
            (_, Some(width_mm), _) => format!("Stripes {} wide", format(width_mm)),
            (FlatKind::Wedges, ..) => format!("{} wedges in the whole turn", self.wedges.unwrap_or_default()),
            _ => self.half_fold_words(lengths),
        };
        let way = self.angle_deg.map_or_else(String::new, |angle_deg| format!(", the strip running {}", angle_words(angle_deg)));
        let way = if self.kind == FlatKind::Stripes { way.replace("the strip ", "") } else { way };
        let place = |centre_mm| format!("; their centre {}", self.top.place(centre_mm, lengths));
        let centre = self.centre_mm.map(place).unwrap_or_default();
        format!("{size}{way}{centre}.")
    }

    /// Where half folds run: `Half folds: 1. straight across, 368 mm below the shoulder point; 2. ...`
    fn half_fold_words(&self, lengths: LengthStyle) -> String {
        let fold = |(number, &[below_mm, aside_mm, angle_deg]): (u32, &[f64; 3])| {
            let aside = match aside_mm {
                0.0 => String::new(),
                _ => format!(" and {} from the centre line", lengths.format(aside_mm)),
            };
            format!("{number}. {}, through {}{aside}", angle_words(angle_deg), self.top.height(below_mm, lengths))
        };
        let folds: Vec<String> = (1..).zip(&self.half_folds).map(fold).collect();
        if folds.is_empty() { "Half folds".to_owned() } else { format!("Half folds: {}", folds.join("; ")) }
    }

    /// How it is folded: `Fold 8 times in the order of the numbers, the way each arrow points, on top of what lies there. ...`
    #[must_use]
    pub fn fold_words(&self, lengths: LengthStyle, pieces: u32, layers: u32) -> String {
        let times = match self.folds {
            1 => "once, the way the arrow points".to_owned(),
            folds => format!("{folds} times in the order of the numbers, the way each arrow points"),
        };
        let way = match (self.kind, self.is_rolled) {
            (FlatKind::Halves, _) => ", each time through all that lies there, on top of it",
            (_, true) => ": all that is folded already onto the next piece, so that it rolls up",
            (_, false) => ": all that is left on top of what is folded, so that it goes to and fro",
        };
        let turn = if self.turns_strip_over { " Turn the strip over before you fold along it." } else { "" };
        let [length, width, height] = self.size_mm.map(|mm| lengths.format(mm));
        let most = self.most_layers.unwrap_or(pieces * layers);
        format!(
            "Fold {times}{way}.{turn} It makes a bundle {length} by {width}, about {height} high, with {most} layers where most lie."
        )
    }
}

fn half_folds(layout: &Layout) -> Vec<[f64; 3]> {
    let place = |fold: &HalfFold| {
        let at = centre_at(fold.through, layout.panels());
        [at.y, at.x, fold.angle_deg]
    };
    match layout.flat().map(|flat| &flat.spec().pattern) {
        Some(FlatPattern::Halves { half_folds }) => half_folds.iter().map(place).collect(),
        _ => Vec::new(),
    }
}

impl BlocksPlace {
    /// How they are put on and clamped.
    #[must_use]
    pub fn words(&self, lengths: LengthStyle) -> String {
        let place = match self.from_middle_mm {
            [along_mm, across_mm] if along_mm.abs() < ON_IT_MM && across_mm.abs() < ON_IT_MM => "in its middle".to_owned(),
            [along_mm, across_mm] => {
                let [along, across] = [along_mm, across_mm].map(|mm| lengths.format(mm.abs()));
                let end = if along_mm < 0.0 { "first" } else { "other" };
                let side = if across_mm < 0.0 { "upper" } else { "lower" };
                format!("{along} from its middle toward the {end} end and {across} toward the {side} side, as its sheet shows it")
            }
        };
        format!(
            "Lay the bundle between two equal blocks ({}), one on each flat, {place}{}, and clamp them: {} of pressed cloth, and the blocks. \
             Amounts are for all the cloth, under the blocks too; a bath's depth leaves out the blocks' own thickness.",
            self.size_words(lengths),
            self.turn_words(),
            lengths.format(self.opening_mm)
        )
    }
}

impl BlocksPlace {
    /// What is cut: `square, 62 mm a side`, `bar, 200 mm by 50 mm`.
    #[must_use]
    pub fn size_words(&self, lengths: LengthStyle) -> String {
        let [first, second] = self.size_mm.map(|mm| lengths.format(mm));
        match self.shape.as_str() {
            "disc" => format!("disc, {first} across"),
            "square" | "triangle" => format!("{}, {first} a side", self.shape),
            shape => format!("{shape}, {first} by {second}"),
        }
    }

    /// How they are turned: `, turned by 30 degrees`; nothing where they lie straight.
    fn turn_words(&self) -> String {
        let degrees = (10.0 * self.turn_deg).round() / 10.0;
        if degrees == 0.0 { String::new() } else { format!(", turned by {degrees} degrees") }
    }
}

impl WrapPlace {
    /// How it is wound with this kind of thread, from a place that is told.
    #[must_use]
    pub fn words(&self, thread: &str, from: &str, lengths: LengthStyle) -> String {
        let format = |mm: f64| lengths.format(mm);
        let turns = (10.0 * self.turns).round() / 10.0;
        let turns = if turns == 1.0 { "1 turn".to_owned() } else { format!("{turns} turns") };
        let back = if self.crossed {
            " There lay it straight across and wind it back with the opposite slant, so that the turns cross in the middle of both faces."
        } else {
            ""
        };
        format!(
            "Wind {thread} round the bundle, from {from} to {}: {turns}, each {} on. Over the bundle it goes aslant from the upper side to the \
             lower, {} on, and under it back to the upper, as far on again.{back} Pull tight, and knot both ends: {} of thread, tails included.",
            format(self.stretch_mm[1]),
            format(self.gap_mm),
            format(0.5 * self.gap_mm),
            lengths.format_long(self.thread_mm)
        )
    }
}

/// A direction in words: `straight up`, `at 45 degrees from straight up`.
fn angle_words(angle_deg: f64) -> String {
    match angle_deg.rem_euclid(180.0) {
        0.0 => "straight up".to_owned(),
        90.0 => "straight across".to_owned(),
        _ => format!("at {} degrees from straight up", (10.0 * angle_deg).round() / 10.0),
    }
}
