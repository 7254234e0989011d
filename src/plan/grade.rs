//! Grading: one layout carried over to another size by a stated rule.
//!
//! The rule, in full:
//! - *Garment*: the other size of the same kind. A measurement that was taken by hand is carried over in the proportion in which
//!   the size table and its derivations differ between the two sizes.
//! - *Centre*: relative to the garment. Its distance below the shoulder, or its rise above the middle, grows with the length; its
//!   distance from the centre line with the width.
//! - *Line*: a shape's middle as a centre; its size scaled with the width, or kept. A line from edge to edge always takes the other size's
//!   breadth. A path of the maker's own is scaled about the shoulder point or the upper edge, or kept.
//! - *Flat bundles*: points that creases run through and the centre of wedges as a centre; the width of stripes and strips, the first
//!   bind, blocks, where thread is wound and its gap, and how deep edges and corners are dipped scaled with the width, or kept; angles, minutes and the layers that a
//!   dipped flat has in dye stay.
//! - *Spirals*: the pinch as a centre; the puck's diameter scaled with the width, or kept; turns, bands and a given height stay.
//! - *Several ties*: each as a layout of it alone.
//! - *Rings*: scaled with the width, which is what limits a ring, or kept as they are. Scaling covers the guide arc, further arcs,
//!   gaps and corrections by hand. Rule marks, thread, the depth of a pleat or a count of pleats stay: they belong to the hand.
//!
//! The result is a start: measure a garment of that size before binding thirty of them.

use crate::geometry::{
    BindEdit, BlocksSpec, BurstSpec, Centre, DipPart, DrawnLine, FlatFoldSpec, FlatPattern, Garment, GarmentError, GarmentKind,
    HalfFold, LineFoldSpec, LineKind, Measure, RawMeasures, SizeName, SpacingSpec, SpiralSpec, WrapSpec,
};
use crate::layout::{FoldSpec, Layout, LayoutError, LayoutSpec};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use kurbo::{Affine, Size};

/// What happens to the rings on another size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GradeRule {
    /// They grow and shrink with the garment's width.
    #[default]
    Scaled,
    /// They stay as they are.
    Kept,
}

/// Why a layout can't be graded.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum GradeError {
    /// The layout has no size to start from.
    NoSize {
        /// The layout.
        name: String,
    },
    /// The kind does not come in that size, or it can't be drafted there.
    Garment(#[from] GarmentError),
    /// The graded layout can't be.
    Layout {
        /// The size.
        size: SizeName,
        /// What is wrong.
        problem: Box<LayoutError>,
    },
}

displayed_as_in_files!(GradeError);

impl Refused for GradeError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::NoSize { name } => Told::new(
                format!("layout \"{name}\" has a garment without a size, so there is nothing to grade from"),
                "give its garment a size",
            ),
            Self::Garment(error) => error.told(voice),
            Self::Layout { size, problem } => problem.told(voice).within(&format!("graded to {size}")),
        }
    }
}

/// A layout for another size of its garment, by the rule stated at the top of this module.
///
/// # Errors
/// [`GradeError`] if the layout names no size, its kind lacks the other one, or the result can't be.
pub fn grade(layout: &Layout, size: SizeName, rule: GradeRule) -> Result<Layout, GradeError> {
    let raw = layout.raw();
    let kind = raw.garment.kind;
    let old_size = layout.garment().size().ok_or_else(|| match kind {
        GarmentKind::Own => GarmentError::NotASizeOfKind { kind, size }.into(),
        _ => GradeError::NoSize { name: raw.name.clone() },
    })?;
    if old_size == size {
        return Ok(layout.clone());
    }
    let plain = |size| Garment::new(kind, Some(size), &RawMeasures::default());
    let (from, to) = (plain(old_size)?, plain(size)?);
    let ratio = |measure| ratio(&from, &to, measure);
    let across = first(&[Measure::HalfChest, Measure::BagWidth, Measure::ClothWidth], ratio);
    let down = first(&[Measure::Length, Measure::BagHeight, Measure::ClothHeight], ratio);
    let rings = match rule {
        GradeRule::Scaled => across,
        GradeRule::Kept => 1.0,
    };
    let mut graded: LayoutSpec = raw.clone();
    graded.name = graded_name(&raw.name, old_size, size);
    graded.garment.size = Some(size.to_string());
    graded.garment.measures = measures(&raw.garment.measures, ratio);
    let fold = |old: &FoldSpec| match old {
        FoldSpec::Burst(old) => FoldSpec::Burst(burst(old, across, down, rings)),
        FoldSpec::Line(old) => FoldSpec::Line(line(old, across, down, rings)),
        FoldSpec::Flat(old) => FoldSpec::Flat(flat(old, across, down, rings)),
        FoldSpec::Spiral(old) => FoldSpec::Spiral(spiral(old, across, down, rings)),
    };
    graded.fold = fold(&raw.fold);
    for tie in graded.ties.iter_mut().flat_map(|ties| &mut ties.further) {
        (tie.fold, tie.binds) = (fold(&tie.fold), spacing(&tie.binds, rings));
    }
    graded.blocks = raw.blocks.as_ref().map(|old| blocks(old, rings));
    graded.wrap = None;
    for dip in &mut graded.dips {
        // As many layers lie in dye in every size.
        if matches!(dip.part, DipPart::Edge(_) | DipPart::Corner(_)) {
            dip.depth_mm *= rings;
        }
    }
    graded.binds = spacing(&raw.binds, rings);
    let checked = |graded| Layout::try_from(graded).map_err(|problem| GradeError::Layout { size, problem: Box::new(problem) });
    if let Some(old) = raw.wrap {
        let along = match rule {
            GradeRule::Scaled => checked(graded.clone())?.fold().length_mm() / layout.fold().length_mm(),
            GradeRule::Kept => 1.0,
        };
        graded.wrap = Some(wrap(old, along, rings));
    }
    checked(graded)
}

/// A measurement in the other size over this one's, by size table and derivations alone; none if the kind lacks it.
fn ratio(from: &Garment, to: &Garment, measure: Measure) -> Option<f64> {
    match (from.value_mm(measure), to.value_mm(measure)) {
        (Some(old_mm), Some(new_mm)) if old_mm > 0.0 => Some(new_mm / old_mm),
        _ => None,
    }
}

fn first(measures: &[Measure], ratio: impl Fn(Measure) -> Option<f64>) -> f64 {
    measures.iter().find_map(|&measure| ratio(measure)).unwrap_or(1.0)
}

/// What a layout is called on another size of its garment; its own name where it has none, or is of that size.
#[must_use]
pub fn name_on(layout: &Layout, size: SizeName) -> String {
    let name = &layout.raw().name;
    let from = layout.garment().size().filter(|from| *from != size);
    from.map_or_else(|| name.clone(), |from| graded_name(name, from, size))
}

/// "Tee, M" becomes "Tee, L"; a name without its size at the end gets the new one.
fn graded_name(name: &str, from: SizeName, to: SizeName) -> String {
    match name.strip_suffix(from.as_str()) {
        Some(stem) if stem.ends_with([' ', ',']) => format!("{stem}{to}"),
        _ => format!("{name}, {to}"),
    }
}

fn measures(old: &RawMeasures, ratio: impl Fn(Measure) -> Option<f64>) -> RawMeasures {
    let mut graded = RawMeasures::default();
    for measure in Measure::ALL {
        // To the millimetre: a graded tape measure pretends to nothing finer.
        let value_mm = old.value(measure).map(|value_mm| (value_mm * ratio(measure).unwrap_or(1.0)).round());
        graded.set(measure, value_mm);
    }
    graded
}

fn placed(old: Centre, across: f64, down: f64) -> Centre {
    match old {
        Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm } => Centre::BelowShoulder {
            from_centre_line_mm: from_centre_line_mm * across,
            below_shoulder_mm: below_shoulder_mm * down,
        },
        Centre::AboveMiddle { from_centre_line_mm, above_middle_mm } => {
            Centre::AboveMiddle { from_centre_line_mm: from_centre_line_mm * across, above_middle_mm: above_middle_mm * down }
        }
    }
}

fn line(old: &LineFoldSpec, across: f64, down: f64, rings: f64) -> LineFoldSpec {
    let line = match &old.line {
        &DrawnLine::Shape { shape, middle, size } => {
            let broader = if shape.kind() == LineKind::Across { across } else { rings };
            let size = Size::new(size.width * broader, size.height * rings);
            DrawnLine::Shape { shape, middle: placed(middle, across, down), size }
        }
        DrawnLine::Path { kind, path } => DrawnLine::Path { kind: *kind, path: Affine::scale(rings) * path.clone() },
    };
    LineFoldSpec {
        line,
        guide_mm: old.guide_mm * rings,
        further_mm: old.further_mm.iter().map(|line_mm| line_mm * rings).collect(),
        ..old.clone()
    }
}

fn flat(old: &FlatFoldSpec, across: f64, down: f64, rings: f64) -> FlatFoldSpec {
    let start_of = |start: Option<Centre>| start.map(|at| placed(at, across, down));
    let pattern = match old.pattern.clone() {
        FlatPattern::Halves { half_folds } => {
            let fold = |fold: HalfFold| HalfFold { through: placed(fold.through, across, down), ..fold };
            FlatPattern::Halves { half_folds: half_folds.into_iter().map(fold).collect() }
        }
        FlatPattern::Stripes { width_mm, angle_deg, start } => {
            FlatPattern::Stripes { width_mm: width_mm * rings, angle_deg, start: start_of(start) }
        }
        FlatPattern::Squares { width_mm, height_mm, angle_deg, start } => {
            FlatPattern::Squares { width_mm: width_mm * rings, height_mm: height_mm * rings, angle_deg, start: start_of(start) }
        }
        FlatPattern::Triangles { triangle, width_mm, angle_deg, start } => {
            FlatPattern::Triangles { triangle, width_mm: width_mm * rings, angle_deg, start: start_of(start) }
        }
        FlatPattern::Wedges { wedges, centre, first } => {
            FlatPattern::Wedges { wedges, centre: placed(centre, across, down), first }
        }
    };
    FlatFoldSpec { pattern, first_bind_mm: old.first_bind_mm.map(|first_mm| first_mm * rings), ..old.clone() }
}

fn blocks(old: &BlocksSpec, rings: f64) -> BlocksSpec {
    BlocksSpec {
        shape: old.shape.scaled(rings),
        along_mm: old.along_mm * rings,
        across_mm: old.across_mm * rings,
        turn_deg: old.turn_deg,
    }
}

/// Where it is wound grows with the bundle's length, its gap as rings do.
fn wrap(old: WrapSpec, along: f64, rings: f64) -> WrapSpec {
    WrapSpec { from_mm: old.from_mm * along, to_mm: old.to_mm * along, gap_mm: old.gap_mm * rings, ..old }
}

/// A puck's diameter grows with its cloth's breadth as rings do, but for the rule that keeps them; its height then follows.
fn spiral(old: &SpiralSpec, across: f64, down: f64, rings: f64) -> SpiralSpec {
    SpiralSpec { centre: placed(old.centre, across, down), puck_diameter_mm: old.puck_diameter_mm * rings, ..*old }
}

fn burst(old: &BurstSpec, across: f64, down: f64, rings: f64) -> BurstSpec {
    BurstSpec {
        centre: placed(old.centre, across, down),
        guide_radius_mm: old.guide_radius_mm * rings,
        further_arcs_mm: old.further_arcs_mm.iter().map(|arc_mm| arc_mm * rings).collect(),
        ..old.clone()
    }
}

fn spacing(old: &SpacingSpec, rings: f64) -> SpacingSpec {
    let edit = |edit: &BindEdit| match *edit {
        BindEdit::Move { bind, by_mm, neighbours } => BindEdit::Move { bind, by_mm: by_mm * rings, neighbours },
        BindEdit::Lock { bind, at_mm, neighbours } => BindEdit::Lock { bind, at_mm: at_mm * rings, neighbours },
        BindEdit::Add { at_mm } => BindEdit::Add { at_mm: at_mm * rings },
        BindEdit::Remove { bind } => BindEdit::Remove { bind },
    };
    SpacingSpec {
        inward: old.inward.scaled(rings),
        outward: old.outward.scaled(rings),
        edits: old.edits.iter().map(edit).collect(),
        ..old.clone()
    }
}
