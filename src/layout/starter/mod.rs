//! A first layout for a garment: something sensible to change, not an answer.

mod burst;
mod flat;
mod gaps;
mod line;
mod spiral;
mod tie;

pub use flat::FlatStart;
pub use spiral::SpiralStart;
pub use tie::starter_tie;

use super::{Colours, FoldSpec, GarmentSpec, LayoutError, LayoutSpec, Limits, Process, Srgb, Swatch, panel_set};
use crate::geometry::{
    BlocksSpec, Centre, DiscCutter, DrawnLine, FreeLine, Garment, GarmentEdge, GarmentKind, LineError, LineFoldSpec, LineKind,
    LineShape, PanelSet, RawMeasures, SizeName, SpiralError, Thread, WrapSpec, middle_mm, whole_at_fold,
};
use crate::measure::RuleMarks;
use crate::telling::{Field, capitalised};
use kurbo::Point;

/// The burst centre's rise above the middle, as a share of the garment's length: "a little above the middle" (common practice, no
/// source).
const RISE_SHARE: f64 = 0.07;
/// What is kept of the deepest pleat at the outermost bind, since a whole number of pleats comes out a little deeper or shallower than
/// wished (our own judgement).
const SPARE_OF_REACH: f64 = 0.95;
/// Cloth left free at the edge, mm.
const EDGE_MM: f64 = 20.0;

/// A layout with a nested burst a little above the middle, gaps tightening toward the centre, and our three example colours.
///
/// # Errors
/// [`LayoutError`] when the size or a measurement does not fit the garment.
pub fn starter(kind: GarmentKind, size: Option<&str>, measures: &RawMeasures) -> Result<LayoutSpec, LayoutError> {
    starter_on_marks(kind, size, measures, RuleMarks::Millimetres1)
}

/// As [`starter`], for a rule with these marks: with those of inches the round numbers are quarters of an inch, else 5 mm.
///
/// # Errors
/// As for [`starter`].
pub fn starter_on_marks(
    kind: GarmentKind,
    size: Option<&str>,
    measures: &RawMeasures,
    marks: RuleMarks,
) -> Result<LayoutSpec, LayoutError> {
    starter_on(FoldStart::Burst, &GarmentSpec::sized(kind, size, measures), marks)
}

/// A fold to begin with.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum FoldStart {
    /// A burst.
    #[default]
    Burst,
    /// Along one of the shapes.
    Line(LineShape),
    /// Along a line that was drawn elsewhere, its middle a little above the garment's.
    Drawn(FreeLine),
    /// Along a parallel to the garment's own edge, this far within the cloth, mm.
    Beside(GarmentEdge, f64),
    /// A flat bundle.
    Flat(FlatStart),
    /// A spiral.
    Spiral(SpiralStart),
}

impl FoldStart {
    /// What it is called, after "fold".
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Burst => "as a burst".to_owned(),
            Self::Line(shape) => format!("along a {}", shape.name()),
            Self::Drawn(line) => format!("along \"{}\"", line.name),
            Self::Beside(edge, _) => format!("along the {}", edge.name()),
            Self::Flat(start) => format!("into {}", start.kind.name()),
            Self::Spiral(_) => "into a spiral".to_owned(),
        }
    }

    /// The one that a fold was begun with, or the one most like it.
    #[must_use]
    pub fn of(fold: &FoldSpec, blocks: Option<&BlocksSpec>, wrap: Option<&WrapSpec>) -> Self {
        match fold {
            FoldSpec::Flat(flat) => Self::Flat(FlatStart::like(flat, blocks, wrap)),
            FoldSpec::Spiral(spiral) => Self::Spiral(SpiralStart::like(spiral)),
            FoldSpec::Burst(_) => Self::Burst,
            FoldSpec::Line(LineFoldSpec { line: DrawnLine::Shape { shape, .. }, .. }) => Self::Line(*shape),
            FoldSpec::Line(LineFoldSpec { line: DrawnLine::Path { kind, path }, centring, .. }) => {
                let whole = if centring.is_folded() { whole_at_fold(path) } else { None };
                let path = whole.unwrap_or_else(|| path.clone());
                // Whether its ends reach the edges depends on the garment.
                let kind = Some(*kind).filter(|kind| *kind != LineKind::Across);
                Self::Drawn(FreeLine { name: "the line".to_owned(), path, width_mm: None, kind })
            }
        }
    }
}

/// The name of a first layout, such as `Crew-neck tee, M`; that of the kind alone where the garment has no size. It follows kind and size
/// until the maker types another.
#[must_use]
pub fn starter_name(kind: GarmentKind, size: Option<&str>) -> String {
    let kind = capitalised(kind.name());
    size.map_or_else(|| kind.clone(), |size| format!("{kind}, {size}"))
}

/// As [`starter_on_marks`], with one of the folds, on a garment as it is given: its kind, size, measurements and outline count.
///
/// # Errors
/// As for [`starter`].
pub fn starter_on(start: FoldStart, garment: &GarmentSpec, marks: RuleMarks) -> Result<LayoutSpec, LayoutError> {
    let GarmentSpec { kind, size, outline, measures, .. } = garment;
    let (kind, size) = (*kind, size.as_deref());
    let size_name = size.map(str::parse::<SizeName>).transpose().map_err(|error| LayoutError::new("garment.size", error))?;
    let garment = Garment::of(kind, size_name, outline.as_ref(), measures);
    let garment = garment.map_err(|error| LayoutError::new(Field::from("garment").then(error.field()), error))?;
    let room = Room::of(panel_set(&garment), marks);
    let thread = Thread::default();
    let of_line = |error: LineError| LayoutError::new(Field::from("fold").then(error.field()), error);
    let (mut blocks, mut wrap) = (None, None);
    let mut rotation = example_colours();
    let (fold, binds) = match start {
        FoldStart::Burst => burst::burst(&room, &thread),
        FoldStart::Flat(start) => {
            let begun = flat::flat(&start, &room, &thread)?;
            (blocks, wrap) = (begun.blocks, begun.wrap);
            // Without binds there is one section, for one colour.
            if blocks.is_some() || wrap.is_some() {
                rotation.truncate(1);
            }
            (FoldSpec::Flat(begun.fold), begun.binds)
        }
        FoldStart::Spiral(start) => {
            let of_spiral = |error: SpiralError| LayoutError::new(Field::from("fold").then(error.field()), error);
            let (fold, binds) = spiral::spiral(start, &room).map_err(of_spiral)?;
            (FoldSpec::Spiral(fold), binds)
        }
        start => {
            let begun = line::begun_line(&start, &room).and_then(|begun| line::line(&begun, &room, &thread));
            begun.map_err(of_line)?
        }
    };
    Ok(LayoutSpec {
        name: starter_name(kind, size),
        note: String::new(),
        garment: GarmentSpec {
            size: size.map(str::to_owned),
            outline: outline.clone(),
            measures: measures.clone(),
            ..GarmentSpec::of(kind)
        },
        fold,
        binds,
        blocks,
        wrap,
        ties: None,
        dips: Vec::new(),
        thread,
        colours: Colours { rotation, ..Colours::default() },
        process: Process::default(),
        limits: Limits::default(),
    })
}

/// The cloth round the place a little above the middle.
struct Room {
    panels: PanelSet,
    marks: RuleMarks,
    above_middle_mm: f64,
    /// To the nearest edge.
    edge_mm: f64,
    /// To the farthest cloth.
    farthest_mm: f64,
}

impl Room {
    fn of(panels: PanelSet, marks: RuleMarks) -> Self {
        let middle_mm = middle_mm(&panels);
        let usual_mm = to_round(2.0 * RISE_SHARE * middle_mm, marks);
        let cutters = |above_middle_mm: f64| -> Vec<DiscCutter> {
            let centre = Point::new(0.0, middle_mm - above_middle_mm);
            panels.iter().map(|(_, panel)| DiscCutter::new(panel.whole(), centre)).collect()
        };
        let room_mm = |above_middle_mm: f64| {
            has_cloth(&panels, above_middle_mm)
                .then(|| cutters(above_middle_mm).iter().map(DiscCutter::nearest_mm).fold(f64::INFINITY, f64::min))
        };
        let is_usual = has_cloth(&panels, usual_mm);
        let above_middle_mm = if is_usual { usual_mm } else { on_cloth(usual_mm, to_round(STEP_MM, marks), middle_mm, room_mm) };
        let cutters = cutters(above_middle_mm);
        let edge_mm = cutters.iter().map(DiscCutter::nearest_mm).fold(f64::INFINITY, f64::min);
        let farthest_mm = cutters.iter().map(DiscCutter::farthest_mm).fold(0.0, f64::max);
        Self { panels, marks, above_middle_mm, edge_mm, farthest_mm }
    }

    /// Whether every panel has cloth on the centre line, so far above the middle.
    fn has_cloth(&self, above_middle_mm: f64) -> bool {
        has_cloth(&self.panels, above_middle_mm)
    }

    fn round(&self, mm: f64) -> f64 {
        to_round(mm, self.marks)
    }

    fn centre(&self) -> Centre {
        Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: self.above_middle_mm }
    }
}

fn has_cloth(panels: &PanelSet, above_middle_mm: f64) -> bool {
    let at = Point::new(0.0, middle_mm(panels) - above_middle_mm);
    panels.iter().all(|(_, panel)| panel.contains(at))
}

/// Where there is no cloth at the usual rise, as between two legs, the nearest above or below it with enough cloth round it, else that with the most.
/// Of a garment without any on its centre line the usual stays, and is refused as any other.
fn on_cloth(usual_mm: f64, step_mm: f64, middle_mm: f64, room_mm: impl Fn(f64) -> Option<f64>) -> f64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "steps of a garment's length")]
    let steps = (2.0 * middle_mm / step_mm).ceil().clamp(0.0, MOST_STEPS) as u32;
    let places = (1..=steps).flat_map(|step| [1.0, -1.0].map(|way| usual_mm + way * f64::from(step) * step_mm));
    let mut most = (0.0, usual_mm);
    for place_mm in places {
        match room_mm(place_mm) {
            Some(room_mm) if room_mm >= ENOUGH_MM => return place_mm,
            Some(room_mm) if room_mm > most.0 => most = (room_mm, place_mm),
            _ => {}
        }
    }
    most.1
}

/// From place to place on the centre line, mm, and most of them; cloth to the nearest edge that is enough to begin with, a hand's breadth (own judgement).
const STEP_MM: f64 = 5.0;
const MOST_STEPS: f64 = 1000.0;
const ENOUGH_MM: f64 = 80.0;

fn example_colours() -> Vec<Swatch> {
    let swatch = |name: &str, red, green, blue| Swatch::plain(name, Srgb { red, green, blue });
    vec![swatch("teal", 15, 124, 138), swatch("amber", 217, 154, 30), swatch("plum", 123, 47, 99)]
}

/// To the nearest 5 mm or quarter of an inch, as a decimal without a tail.
fn to_round(mm: f64, marks: RuleMarks) -> f64 {
    match marks {
        RuleMarks::InchEighth | RuleMarks::InchSixteenth => (mm / 6.35).round() * 635.0 / 100.0,
        RuleMarks::Exact | RuleMarks::Millimetres1 | RuleMarks::Millimetres5 => (mm / 5.0).round() * 5.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Figures, Layout, Warning};

    #[test]
    fn on_an_inch_rule_the_round_numbers_are_quarters() {
        let raw = starter_on_marks(GarmentKind::CrewTee, Some("L"), &RawMeasures::default(), RuleMarks::InchSixteenth).unwrap();
        let radius_mm = raw.fold.burst().unwrap().guide_radius_mm;
        assert!((radius_mm / 6.35 - (radius_mm / 6.35).round()).abs() < 1e-9 && radius_mm.to_string().len() <= 6, "{radius_mm}");
        assert_eq!(raw.binds.marks, RuleMarks::InchSixteenth);
        assert!(Layout::try_from(raw).is_ok());
    }

    /// Every kind in every size can be begun with, and nothing about it needs a warning but what the garment itself brings.
    #[test]
    fn every_garment_has_a_first_layout() {
        for kind in GarmentKind::ALL {
            for size in kind.sizes() {
                let raw = starter(kind, Some(&size.name.to_string()), &RawMeasures::default()).unwrap();
                let layout = Layout::try_from(raw).unwrap_or_else(|error| panic!("{kind} {}: {error}", size.name));
                let figures = Figures::of(&layout);
                assert!(figures.binds.len() >= 5, "{kind} {}: {} binds", size.name, figures.binds.len());
                // Long sleeves make a thick rod.
                let serious = |warning: &&Warning| !matches!(warning, Warning::RodTooThick { .. });
                assert_eq!(figures.warnings.iter().find(serious), None, "{kind} {}", size.name);
            }
        }
    }
}
