//! The full-size template: the garment as it is laid, with centre line, burst centre, arcs, binds and creases.

use super::creases::creases;
use super::labels::{Ring, SHORTEST_MM, add_label, numbered, spaced};
use crate::geometry::{BurstFold, Panel, PanelOutline};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Arc, Dots, Drawing, Layer, Shape, Text};
use kurbo::{BezPath, Line, ParamCurve as _, ParamCurveArclen as _, PathSeg, Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// What the template shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TemplateOptions {
    /// How lengths are written.
    pub lengths: LengthStyle,
    /// Dots at this distance in place of lines, to prick and chalk through, mm; `None` draws lines.
    pub pounce_mm: Option<f64>,
    /// Whether the creases are drawn.
    pub creases: bool,
}

impl Default for TemplateOptions {
    fn default() -> Self {
        Self { lengths: LengthStyle::default(), pounce_mm: None, creases: true }
    }
}

/// Radius of a dot to prick, mm: a pencil's point.
const POUNCE_RADIUS_MM: f64 = 0.4;
/// Arm of the cross at the burst centre, mm; in a small innermost ring at most this share of it, so that its number has room.
const CROSS_MM: f64 = 8.0;
const CROSS_SHARE: f64 = 0.4;
/// Free border round the drawing, mm.
const BORDER_MM: f64 = 2.0;
/// Height of small words, mm.
const SMALL_MM: f64 = 2.6;
/// Rings nearer to each other than this are not all labelled, mm: the shortest labels still keep apart.
const LABELS_APART_MM: f64 = 1.3 * SHORTEST_MM;

/// Draws the template in the garment's frame: the half at `x >= 0` when the garment is folded, the whole when it is laid open.
#[must_use]
pub fn template(layout: &Layout, figures: &Figures, options: &TemplateOptions) -> Drawing {
    let mut drawing = Drawing::new(format!("{}: template", layout.name()));
    outlines(&mut drawing, layout.fold());
    centre(&mut drawing, layout.fold(), figures);
    rings(&mut drawing, layout, figures, options.lengths);
    // After all words: creases keep clear of them.
    if options.creases {
        creases(&mut drawing, layout.fold(), figures);
    }
    if let Some(spacing_mm) = options.pounce_mm {
        prick(&mut drawing, spacing_mm);
    }
    drawing.fit_bounds(BORDER_MM);
    drawing
}

fn laid_path<'a>(fold: &BurstFold, panel: &'a PanelOutline) -> &'a BezPath {
    if fold.burst().centring().is_folded() { panel.profile() } else { panel.whole().path() }
}

/// The front's edge in full, and of the back's what is not the same.
fn outlines(drawing: &mut Drawing, fold: &BurstFold) {
    let front = laid_path(fold, &fold.panels().front);
    drawing.path(Layer::Outline, front.clone());
    // Cloth of one panel has no front to tell from a back.
    if let Some(back) = &fold.panels().back {
        let shared: Vec<PathSeg> = front.segments().collect();
        for segment in laid_path(fold, back).segments().filter(|segment| !shared.contains(segment)) {
            drawing.path(Layer::OtherPanel, std::iter::once(segment).collect::<Segments>().0);
        }
        neck_label(drawing, fold, Panel::Front);
        if fold.panels().front.centre_line_mm() != back.centre_line_mm() {
            neck_label(drawing, fold, Panel::Back);
        }
    }
}

/// A path of single segments.
#[derive(Default)]
struct Segments(BezPath);

impl FromIterator<PathSeg> for Segments {
    fn from_iter<I: IntoIterator<Item = PathSeg>>(segments: I) -> Self {
        Self(BezPath::from_path_segments(segments.into_iter()))
    }
}

fn neck_label(drawing: &mut Drawing, fold: &BurstFold, panel: Panel) {
    if let Some(outline) = fold.panels().panel(panel) {
        let at = Point::new(4.0, outline.centre_line_mm().start - 1.5);
        drawing.text(Text::new(panel.name(), at, SMALL_MM));
    }
}

/// The centre line with what to do there, and the burst centre.
fn centre(drawing: &mut Drawing, fold: &BurstFold, figures: &Figures) {
    let line = fold.panels().iter().map(|(_, panel)| panel.centre_line_mm());
    let line = line.reduce(|a, b| a.start.min(b.start)..a.end.max(b.end)).unwrap_or_default();
    drawing.line(Layer::CentreLine, (0.0, line.start), (0.0, line.end));
    let folded = fold.burst().centring().is_folded();
    let words = if folded { "centre line: the fold lies here" } else { "centre line" };
    let centre = fold.burst().centre_as_laid();
    let middle_mm = 0.5 * (line.start + centre.y);
    drawing.text(Text::new(words, (-2.0, middle_mm), SMALL_MM).anchored(Anchor::Middle).rotated(-FRAC_PI_2));
    let arm_mm = figures.binds.first().map_or(CROSS_MM, |bind| (CROSS_SHARE * bind.radius_mm).clamp(2.5, CROSS_MM));
    drawing.line(Layer::BurstCentre, centre - Vec2::new(arm_mm, 0.0), centre + Vec2::new(arm_mm, 0.0));
    drawing.line(Layer::BurstCentre, centre - Vec2::new(0.0, arm_mm), centre + Vec2::new(0.0, arm_mm));
    drawing.circle(Layer::BurstCentre, centre, 1.5);
    let words = Text::new("burst centre", centre - Vec2::new(CROSS_MM + 2.0, -1.0), SMALL_MM);
    drawing.text(words.anchored(Anchor::End).bold());
}

/// Guide arc, binds and further arcs, each with its label.
fn rings(drawing: &mut Drawing, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    let radii_mm: Vec<f64> = figures.binds.iter().map(|bind| bind.radius_mm).collect();
    let guide = figures.binds.iter().position(|bind| bind.on_guide_arc);
    let labelled = spaced(&radii_mm, guide, LABELS_APART_MM);
    for (bind, labelled) in figures.binds.iter().zip(labelled) {
        let layer = if bind.on_guide_arc { Layer::GuideArc } else { Layer::Bind };
        let guide = if bind.on_guide_arc { " · guide arc" } else { "" };
        let short = numbered(bind.number);
        let words = format!("{short} · {}{guide}", lengths.format(bind.radius_mm));
        let ring = Ring { radius_mm: bind.radius_mm, room_mm: bind.gap_inside_mm, words, short, layer };
        add_ring(drawing, layout.fold(), &ring, labelled);
    }
    for &radius_mm in &figures.burst.further_arcs_mm {
        let words = format!("arc · {}", lengths.format(radius_mm));
        let ring = Ring { radius_mm, room_mm: f64::INFINITY, words, short: "arc".to_owned(), layer: Layer::Arc };
        add_ring(drawing, layout.fold(), &ring, true);
    }
}

fn add_ring(drawing: &mut Drawing, fold: &BurstFold, ring: &Ring, labelled: bool) {
    let stretches = fold.arcs_on_cloth_rad(&Panel::BOTH, ring.radius_mm);
    for &(from, to) in &stretches {
        drawing.arc(ring.layer, fold.burst().centre_as_laid(), ring.radius_mm, from, to - from);
    }
    if labelled {
        add_label(drawing, fold, ring, &stretches);
    }
}

/// Turns the lines that are marked on cloth into rows of dots.
fn prick(drawing: &mut Drawing, spacing_mm: f64) {
    for item in &mut drawing.items {
        if !matches!(item.layer, Layer::GuideArc | Layer::Bind | Layer::Arc | Layer::CentreLine) {
            continue;
        }
        let centers = match &item.shape {
            Shape::Line(line) => dots_on_line(*line, spacing_mm),
            Shape::Arc(arc) => dots_on_arc(arc, spacing_mm),
            _ => continue,
        };
        item.layer = Layer::Pounce;
        item.shape = Shape::Dots(Dots { centers, radius_mm: POUNCE_RADIUS_MM });
    }
}

/// A whole number of equal steps near `spacing_mm`, both ends dotted.
fn steps(length_mm: f64, spacing_mm: f64) -> impl Iterator<Item = f64> {
    let count = (length_mm / spacing_mm).round().clamp(1.0, MOST_DOTS);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between 1 and MOST_DOTS")]
    let count = count as u32;
    (0..=count).map(move |step| f64::from(step) / f64::from(count))
}

/// Most dots on one line.
const MOST_DOTS: f64 = 20_000.0;

fn dots_on_line(line: Line, spacing_mm: f64) -> Vec<Point> {
    steps(line.arclen(1e-6), spacing_mm).map(|t| line.eval(t)).collect()
}

fn dots_on_arc(arc: &Arc, spacing_mm: f64) -> Vec<Point> {
    steps(arc.radius_mm * arc.sweep_rad.abs(), spacing_mm).map(|t| arc.point_at(t)).collect()
}
