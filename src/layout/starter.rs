//! A first layout for a garment: something sensible to change, not an answer.

use super::warnings::deepest_outside_mm;
use super::{Colours, FoldSpec, GarmentSpec, LayoutError, LayoutSpec, Limits, Process, Srgb, Swatch, panel_set};
use crate::geometry::{
    Bundle as _, BurstSpec, Centre, Centring, DiscCutter, DrawnLine, FreeLine, Garment, GarmentEdge, GarmentKind, Gather,
    LaidLine, LineError, LineFold, LineFoldSpec, LineKind, LineShape, PanelSet, Pleats, Progression, RawMeasures, SizeName,
    SpacingSpec, Span, Thread, least_gap_mm, middle_mm, whole_at_fold,
};
use crate::measure::RuleMarks;
use crate::telling::{Field, capitalised};
use kurbo::{Point, Size};

/// The burst centre's rise above the middle, as a share of the garment's length: "a little above the middle" (common practice, no
/// source).
const RISE_SHARE: f64 = 0.07;
/// The guide arc's radius, as a share of the distance from the centre to the nearest edge, so that it lies on cloth all round.
const GUIDE_SHARE: f64 = 0.95;
/// Pleat depth wished for, mm: hands fold 20 to 50 (common practice, no source).
const PLEAT_MM: f64 = 35.0;
/// What is kept of the deepest pleat at the outermost bind, since a whole number of pleats comes out a little deeper or shallower than
/// wished (our own judgement).
const SPARE_OF_REACH: f64 = 0.95;
/// Fewest pleats worth folding.
const FEWEST_PLEATS: f64 = 6.0;
/// First gap, as a share of the guide arc's radius, and the ratio from gap to gap inward and outward.
const FIRST_GAP_SHARE: f64 = 0.15;
const INWARD_RATIO: f64 = 0.88;
const OUTWARD_RATIO: f64 = 1.08;
/// Radius left free at the centre, as a share of the guide arc's, and cloth left free at the edge, mm.
const CORE_SHARE: f64 = 0.06;
const EDGE_MM: f64 = 20.0;
/// Cloth left bare between the wraps of two binds at the least, mm, that lets dye into the section between them: with 6 a third of the
/// section and more takes it in the reveal of every starter (computed by it; no source).
const BARE_MM: f64 = 6.0;
/// How much wider the first gap is than the tightest, at the least, so that the rings tighten toward the centre even on a small garment
/// (our own judgement).
const FIRST_OVER_TIGHTEST: f64 = 1.4;

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
        }
    }

    /// The one that a fold was begun with, or the one most like it.
    #[must_use]
    pub fn of(fold: &FoldSpec) -> Self {
        match fold {
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
    let of_fold = |error: LineError| LayoutError::new(Field::from("fold").then(error.field()), error);
    let (fold, binds) = match start {
        FoldStart::Burst => burst(&room, &thread),
        start => begun_line(&start, &room).and_then(|begun| line(&begun, &room, &thread)).map_err(of_fold)?,
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
        thread,
        colours: Colours { rotation: example_colours(), ..Colours::default() },
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
        let above_middle_mm = to_round(2.0 * RISE_SHARE * middle_mm, marks);
        let centre = Point::new(0.0, middle_mm - above_middle_mm);
        let cutters: Vec<DiscCutter> = panels.iter().map(|(_, panel)| DiscCutter::new(panel.whole(), centre)).collect();
        let edge_mm = cutters.iter().map(DiscCutter::nearest_mm).fold(f64::INFINITY, f64::min);
        let farthest_mm = cutters.iter().map(DiscCutter::farthest_mm).fold(0.0, f64::max);
        Self { panels, marks, above_middle_mm, edge_mm, farthest_mm }
    }

    fn round(&self, mm: f64) -> f64 {
        to_round(mm, self.marks)
    }

    fn centre(&self) -> Centre {
        Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: self.above_middle_mm }
    }
}

fn burst(room: &Room, thread: &Thread) -> (FoldSpec, SpacingSpec) {
    let guide_radius_mm = room.round(GUIDE_SHARE * room.edge_mm).max(5.0);
    // A fan widens outward: on long sleeves it begins with narrower pleats, so that dye still reaches into them there.
    let widest = SPARE_OF_REACH * deepest_outside_mm(&Limits::default());
    let reach_mm = widest * guide_radius_mm / room.farthest_mm.max(guide_radius_mm);
    let pleat_mm = PLEAT_MM.min(std::f64::consts::PI * guide_radius_mm / FEWEST_PLEATS);
    let pleat_mm = if reach_mm < pleat_mm { room.round(reach_mm - 2.5) } else { room.round(pleat_mm) };
    let fold = FoldSpec::Burst(BurstSpec {
        centring: Centring::Nested,
        centre: room.centre(),
        guide_radius_mm,
        further_arcs_mm: Vec::new(),
        pleats: Pleats::Depth { depth_mm: pleat_mm.max(1.0) },
    });
    (fold, spacing(guide_radius_mm, room.farthest_mm, thread, room.marks))
}

/// Size of a shape, as a share of the distance from its middle to the nearest edge; height of a line from edge to edge, as a share of its
/// breadth, over its number of waves.
const SHAPE_SHARE: f64 = 1.2;
const WAVE_SHARE: f64 = 0.16;
/// Distance of the first parallel round strokes, mm: what a brush stroke's half breadth would be (our own judgement).
const ROUND_STROKES_MM: f64 = 20.0;
/// Depths of pleats that are tried for a line, mm, the first that its corners and bends allow is taken.
const LINE_PLEATS_MM: [f64; 7] = [35.0, 30.0, 25.0, 40.0, 20.0, 15.0, 10.0];
/// Distances from a line that are tried for the parallel that is pleated along, mm: farther out the corners' pleats are less deep at the edge.
const LINE_GUIDES_MM: [f64; 5] = [0.0, 25.0, 50.0, 75.0, 100.0];
/// Places between a line and the edge at which the pleats' depth is looked at.
const WIDTHS: u32 = 12;
/// Most pleats that a line is begun with before deeper ones are tried.
const MOST_LINE_PLEATS: u32 = 60;
/// The first gap on either side of a line, as a share of the distance to the cloth deepest within it.
const LINE_GAP_SHARE: f64 = 0.3;

/// A line to begin with, and how the garment is laid for it.
struct BegunLine {
    centring: Centring,
    line: DrawnLine,
}

fn begun_line(start: &FoldStart, room: &Room) -> Result<BegunLine, LineError> {
    let laid = |LaidLine { centring, kind, path }| BegunLine { centring, line: DrawnLine::Path { kind, path } };
    match start {
        FoldStart::Drawn(line) => line.on(&room.panels, room.centre()).map(laid),
        FoldStart::Beside(edge, inset_mm) => edge.parallel(*inset_mm, &room.panels).map(laid),
        FoldStart::Line(shape) => Ok(shaped(*shape, room)),
        FoldStart::Burst => Err(LineError::NoLine),
    }
}

fn shaped(shape: LineShape, room: &Room) -> BegunLine {
    let size = match shape.kind() {
        LineKind::Across => {
            let half_mm = room.panels.iter().map(|(_, panel)| panel.half().bounds().x1).fold(0.0, f64::max);
            Size::new(2.0 * half_mm, room.round(WAVE_SHARE * 2.0 * half_mm / shape.waves()).max(5.0))
        }
        _ => {
            let natural = shape.natural_size(1.0);
            let longest_mm = room.round(SHAPE_SHARE * room.edge_mm).max(10.0);
            let by = longest_mm / natural.width.max(natural.height);
            Size::new(room.round(by * natural.width).max(5.0), room.round(by * natural.height).max(5.0))
        }
    };
    BegunLine {
        // What has no halves that mirror each other would come out twice.
        centring: if shape.is_mirrored() { Centring::Nested } else { Centring::Open },
        line: DrawnLine::Shape { shape, middle: room.centre(), size },
    }
}

fn line(begun: &BegunLine, room: &Room, thread: &Thread) -> Result<(FoldSpec, SpacingSpec), LineError> {
    let kind = begun.line.kind();
    let guides: &[f64] = if kind.has_no_inside() { &[ROUND_STROKES_MM] } else { &LINE_GUIDES_MM };
    let tries = || guides.iter().flat_map(|&guide_mm| LINE_PLEATS_MM.map(|depth_mm| (guide_mm, depth_mm)));
    let folded = |(guide_mm, depth_mm): (f64, f64)| {
        let spec = LineFoldSpec {
            centring: begun.centring,
            line: begun.line.clone(),
            guide_mm,
            further_mm: Vec::new(),
            pleats: Pleats::Depth { depth_mm },
            gather: Gather::FanFold,
        };
        let fold = spec.on(&room.panels).and_then(|line| LineFold::new(&line, room.panels.clone()));
        fold.map(|fold| (spec, fold))
    };
    let deepest_mm = SPARE_OF_REACH * deepest_outside_mm(&Limits::default());
    let limits = Limits::default();
    let springs_open = |fold: &LineFold| fold.width_mm(fold.guide_mm()) < limits.shallowest_pleat_mm;
    let is_handy = |fold: &LineFold| {
        let (from_mm, to_mm) = (fold.line_mm(), fold.length_mm() - EDGE_MM);
        let at_mm = |at: u32| from_mm + f64::from(at) / f64::from(WIDTHS) * (to_mm - from_mm);
        fold.pleats() <= MOST_LINE_PLEATS && (0..=WIDTHS).all(|at| fold.width_mm(at_mm(at)) <= deepest_mm)
    };
    // Of what is not handy the first whose pleats are at least shallow, then the first that can be folded at all, else what is wrong with
    // the first.
    let rank = |tried: &Result<(LineFoldSpec, LineFold), LineError>| match tried {
        Err(_) => 0,
        Ok((_, fold)) if !is_handy(fold) => 1,
        Ok((_, fold)) if springs_open(fold) => 2,
        Ok(_) => 3,
    };
    let mut best: Option<(u8, Result<_, _>)> = None;
    for tried in tries().map(folded) {
        let rank = rank(&tried);
        if best.as_ref().is_none_or(|(before, _)| rank > *before) {
            best = Some((rank, tried));
        }
        if rank == 3 {
            break;
        }
    }
    let (spec, fold) = best.map_or(Err(LineError::NoLine), |(_, tried)| tried)?;
    let room_mm = [fold.first_bind_mm(), fold.length_mm() - fold.first_bind_mm()];
    Ok((FoldSpec::Line(spec), beside_line(kind, room_mm, thread, room.marks)))
}

/// Gaps on either side of a line, tightening inward; of a line from edge to edge alike on both.
fn beside_line(kind: LineKind, [inside_mm, outside_mm]: [f64; 2], thread: &Thread, marks: RuleMarks) -> SpacingSpec {
    let bare_mm = BARE_MM + marks.step_mm().unwrap_or(0.0);
    let thin_wraps = thread.wraps + thread.thin_extra_wraps;
    let tightest_mm = least_gap_mm(thread, [thin_wraps; 2], bare_mm / thread.diameter_mm);
    // A line from edge to edge may run close to one of them.
    let deep_mm = if kind == LineKind::Across { inside_mm.max(outside_mm) } else { inside_mm };
    let first_mm = (LINE_GAP_SHARE * deep_mm).clamp(FIRST_OVER_TIGHTEST * tightest_mm, 3.0 * tightest_mm).round();
    let on_side = |room_mm: f64, ratio: f64| {
        let leave_mm = EDGE_MM.min(0.5 * room_mm);
        if room_mm - leave_mm < tightest_mm {
            Progression::List { gaps_mm: Vec::new() }
        } else if kind == LineKind::Across {
            Progression::Even {
                count: None,
                gap_mm: Some(first_mm.min(room_mm - leave_mm)),
                span: Some(Span::ToEnd { leave_mm }),
            }
        } else {
            side(first_mm.min(room_mm - leave_mm), ratio, leave_mm)
        }
    };
    SpacingSpec {
        inward: if kind.has_no_inside() {
            Progression::List { gaps_mm: Vec::new() }
        } else {
            on_side(inside_mm, inward_ratio(first_mm, tightest_mm, (inside_mm - EDGE_MM).max(first_mm)))
        },
        outward: on_side(outside_mm, OUTWARD_RATIO),
        marks,
        smallest_gap_mm: None,
        edits: Vec::new(),
    }
}

/// Gaps that can be tied and dyed: they tighten toward the centre by [`INWARD_RATIO`], or less where the tightest would be too small for
/// the wraps of a thin rod.
fn spacing(guide_radius_mm: f64, farthest_mm: f64, thread: &Thread, marks: RuleMarks) -> SpacingSpec {
    // Rounding to the marks can take one from a gap.
    let bare_mm = BARE_MM + marks.step_mm().unwrap_or(0.0);
    let thin_wraps = thread.wraps + thread.thin_extra_wraps;
    let tightest_mm = least_gap_mm(thread, [thin_wraps; 2], bare_mm / thread.diameter_mm);
    let first_mm = (FIRST_GAP_SHARE * guide_radius_mm).max(FIRST_OVER_TIGHTEST * tightest_mm).round();
    let core_mm = (CORE_SHARE * guide_radius_mm).max(least_gap_mm(thread, [0, thin_wraps], bare_mm / thread.diameter_mm));
    // On a scrap of cloth half of what there is stays for the binds.
    let inside_leave_mm = core_mm.ceil().min(0.5 * guide_radius_mm);
    let outside_mm = (farthest_mm - guide_radius_mm).max(0.0);
    let outside_leave_mm = EDGE_MM.min(0.5 * outside_mm);
    let inside_mm = guide_radius_mm - inside_leave_mm;
    SpacingSpec {
        inward: side(first_mm.min(inside_mm), inward_ratio(first_mm, tightest_mm, inside_mm), inside_leave_mm),
        outward: side(first_mm.min(outside_mm - outside_leave_mm), OUTWARD_RATIO, outside_leave_mm),
        marks,
        smallest_gap_mm: None,
        edits: Vec::new(),
    }
}

fn side(first_gap_mm: f64, ratio: f64, leave_mm: f64) -> Progression {
    Progression::Ratio {
        count: None,
        first_gap_mm: Some(first_gap_mm),
        last_gap_mm: None,
        ratio: Some(ratio),
        span: Some(Span::ToEnd { leave_mm }),
    }
}

/// The ratio from gap to gap at which gaps that fill the span end with one of `last_mm`, to the next hundredth upward;
/// [`INWARD_RATIO`] where its last gap is larger.
///
/// `n` gaps from `first` to `last` span `(first - ratio last) / (1 - ratio)`, the sum of a geometric series.
fn inward_ratio(first_mm: f64, last_mm: f64, span_mm: f64) -> f64 {
    let ratio = (span_mm - first_mm) / (span_mm - last_mm);
    ((100.0 * ratio).ceil() / 100.0).clamp(INWARD_RATIO, 1.0)
}

fn example_colours() -> Vec<Swatch> {
    let swatch = |name: &str, red, green, blue| Swatch { name: name.to_owned(), srgb: Srgb { red, green, blue } };
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
