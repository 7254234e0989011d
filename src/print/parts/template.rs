//! The full-size template: the garment as it is laid, with centre line, burst centre, arcs, binds and creases.

use super::creases::{creases, numbers};
use super::labels::{Labelled, SHORTEST_MM, labels_of, numbered, spaced};
use super::layers::part;
use super::settle::{Label, box_of, settled};
use crate::geometry::{Gather, Lay, Panel, PanelOutline, Pin, Stretch};
use crate::layout::{Figures, Layout, Mark, MarkRole};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Arc, Dots, Drawing, Layer, Shape, Text};
use kurbo::{BezPath, Line, ParamCurve as _, ParamCurveArclen as _, PathSeg, Point, Rect, Vec2};
use std::f64::consts::FRAC_PI_2;

/// What the template shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TemplateOptions {
    /// How lengths are written; `None` writes them as the layout's marks do.
    pub lengths: Option<LengthStyle>,
    /// Dots at this distance in place of lines, to prick and chalk through, mm; `None` draws lines.
    pub pounce_mm: Option<f64>,
    /// Whether the creases are drawn.
    pub creases: bool,
}

impl Default for TemplateOptions {
    fn default() -> Self {
        Self { lengths: None, pounce_mm: None, creases: true }
    }
}

impl TemplateOptions {
    /// How the lengths of a layout are written.
    #[must_use]
    pub fn lengths_of(&self, layout: &Layout) -> LengthStyle {
        self.lengths.unwrap_or_else(|| layout.marks().lengths())
    }
}

/// Radius of a dot to prick, mm: a pencil's point.
const POUNCE_RADIUS_MM: f64 = 0.4;
/// Arm of the cross at the burst centre, mm; in a small innermost ring at most this share of it, so that its number has room.
const CROSS_MM: f64 = 8.0;
const CROSS_SHARE: f64 = 0.4;
/// Radius of a needle's hole, mm: a pencil's dot.
const HOLE_MM: f64 = 0.8;
/// Arm of the cross at a line's pins, mm; a string shorter than the other is none.
const PIN_CROSS_MM: f64 = 3.0;
const SHORTEST_STRING_MM: f64 = 0.05;
/// Free border round the drawing, mm.
const BORDER_MM: f64 = 2.0;
/// Height of small words, mm.
const SMALL_MM: f64 = 2.6;
/// How far words along the centre line move from step to step, mm, and how often each way.
const ALONG_LINE_MM: f64 = 6.0;
const ALONG_LINE: u32 = 24;
/// Rings nearer to each other than this are not all labelled, mm: the shortest labels still keep apart.
const LABELS_APART_MM: f64 = 1.3 * SHORTEST_MM;

/// Draws the template in the garment's frame: the half at `x >= 0` when the garment is folded, the whole when it is laid open.
#[must_use]
pub fn template(layout: &Layout, figures: &Figures, options: &TemplateOptions) -> Drawing {
    Unworded::of(layout, figures, options).worded(&|_| true)
}

/// A template before its words are set.
pub(super) struct Unworded<'a> {
    layout: &'a Layout,
    options: &'a TemplateOptions,
    /// All lines but the creases.
    drawing: Drawing,
    labels: Vec<Label>,
}

impl<'a> Unworded<'a> {
    pub(super) fn of(layout: &'a Layout, figures: &Figures, options: &'a TemplateOptions) -> Self {
        let lengths = options.lengths_of(layout);
        let mut drawing = part(layout, "template");
        let mut labels = outlines(&mut drawing, layout.lay());
        labels.push(centre_line(&mut drawing, layout));
        labels.extend(pins(&mut drawing, layout, figures, lengths));
        source(&mut drawing, layout);
        labels.extend(lines(&mut drawing, layout, figures, lengths));
        if layout.flat().is_some() {
            labels.extend(numbers(layout));
        }
        Self { layout, options, drawing, labels }
    }

    /// Its lines alone, and the boxes where its words would best stand.
    pub(super) fn lines(&self) -> (Drawing, Vec<Rect>) {
        let mut drawing = self.drawing.clone();
        if self.layout.tied_fold().is_some() {
            // One of several ties takes sheets for its own marks; of the garment what lies beside them is on these.
            drawing.items.retain(|item| !matches!(item.layer, Layer::Outline | Layer::Behind | Layer::Axis));
        }
        let words = settled(&self.labels, &|_| true).iter().map(box_of).collect();
        (finished(drawing, self.layout, self.options), words)
    }

    /// The template with its words set where they stay whole.
    pub(super) fn worded(self, keeps_whole: &dyn Fn(Rect) -> bool) -> Drawing {
        let Self { layout, options, mut drawing, labels } = self;
        // What a tie's sheets show of the garment beside its marks goes without words.
        let is_shown = |text: &Text| layout.tied_fold().is_none() || keeps_whole(box_of(text));
        settled(&labels, keeps_whole).into_iter().filter(is_shown).for_each(|text| drawing.text(text));
        // After all words: creases keep clear of them.
        finished(drawing, layout, options)
    }
}

fn finished(mut drawing: Drawing, layout: &Layout, options: &TemplateOptions) -> Drawing {
    for hole in layout.stitch_holes() {
        drawing.circle(Layer::Guide, hole, HOLE_MM);
    }
    blocks(&mut drawing, layout);
    // Drawn up, pleats need no creases.
    if options.creases && layout.gather() == Gather::FanFold {
        creases(&mut drawing, layout);
    }
    if let Some(spacing_mm) = options.pounce_mm {
        prick(&mut drawing, spacing_mm);
    }
    drawing.fit_bounds(BORDER_MM);
    drawing
}

/// Where blocks fall on the pieces that they touch: those between are drawn on the cloth in the window alone, or the template would be all
/// outlines.
fn blocks(drawing: &mut Drawing, layout: &Layout) {
    if let (Some(fold), Some(block)) = (layout.flat(), layout.blocks()) {
        fold.block_marks(block).touched.into_iter().for_each(|path| drawing.path(Layer::Ridge, path));
    }
    // Of wound thread likewise what lies on the uppermost piece; the lowest has it mirrored.
    if let (Some(fold), Some(wrap)) = (layout.flat(), layout.wrap()) {
        fold.wrap_marks(wrap).upper.into_iter().for_each(|line| drawing.line(Layer::Reference, line.p0, line.p1));
    }
}

fn laid_path<'a>(lay: &Lay, panel: &'a PanelOutline) -> &'a BezPath {
    if lay.is_folded() { panel.profile() } else { panel.whole().path() }
}

/// The front's edge in full, and of the back's what is not the same.
fn outlines(drawing: &mut Drawing, lay: &Lay) -> Vec<Label> {
    let mut labels = Vec::new();
    let front = laid_path(lay, &lay.panels().front);
    drawing.path(Layer::Outline, front.clone());
    // Cloth of one panel has no front to tell from a back.
    if let Some(back) = &lay.panels().back {
        let shared: Vec<PathSeg> = front.segments().collect();
        for segment in laid_path(lay, back).segments().filter(|segment| !shared.contains(segment)) {
            drawing.path(Layer::Behind, std::iter::once(segment).collect::<Segments>().0);
        }
        labels.extend(neck_label(lay, Panel::Front));
        if lay.panels().front.centre_line_mm() != back.centre_line_mm() {
            labels.extend(neck_label(lay, Panel::Back));
        }
    }
    labels
}

/// A path of single segments.
#[derive(Default)]
struct Segments(BezPath);

impl FromIterator<PathSeg> for Segments {
    fn from_iter<I: IntoIterator<Item = PathSeg>>(segments: I) -> Self {
        Self(BezPath::from_path_segments(segments.into_iter()))
    }
}

/// A panel's name above its neck, else below, or farther from the centre line.
fn neck_label(lay: &Lay, panel: Panel) -> Option<Label> {
    let neck_mm = lay.panels().panel(panel)?.centre_line_mm().start;
    let levels = [neck_mm - 1.5, neck_mm + 1.5 + SMALL_MM];
    let place = |x_mm: f64| levels.map(|y_mm| Text::new(panel.name(), (x_mm, y_mm), SMALL_MM));
    Some(Label::new([4.0, 12.0, 20.0].into_iter().flat_map(place).collect()))
}

/// The centre line with what to do there.
fn centre_line(drawing: &mut Drawing, layout: &Layout) -> Label {
    let line = layout.panels().centre_line_mm(&Panel::BOTH);
    drawing.line(Layer::Axis, (0.0, line.start), (0.0, line.end));
    let words = if layout.lay().is_folded() { "centre line: place on fold" } else { "centre line" };
    // Above what is pinned there, if anything is.
    let foot_mm = layout.burst().map_or(line.end, |burst| burst.centre_as_laid().y);
    let middle_mm = 0.5 * (line.start + foot_mm);
    // Left of the line, or on the cloth right of it; from the middle up and down.
    let sides_mm = [-2.0, 2.0 + 1.3 * SMALL_MM];
    let shifts = (0..ALONG_LINE).flat_map(|step| [f64::from(step), -f64::from(step)]);
    let levels_mm: Vec<f64> = shifts.map(|step| middle_mm + ALONG_LINE_MM * step).collect();
    let words = Text::new(words, Point::ZERO, SMALL_MM).anchored(Anchor::Middle).rotated(-FRAC_PI_2);
    let place = |x_mm: f64| levels_mm.iter().map(move |&y_mm| Point::new(x_mm, y_mm));
    Label::new(sides_mm.into_iter().flat_map(place).map(|position| Text { position, ..words.clone() }).collect())
}

/// A cross where each string is pinned, with what it draws.
fn pins(drawing: &mut Drawing, layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Label> {
    if layout.flat().is_some() {
        let wedges = layout.middle_as_laid();
        let words = Text::new("wedge centre", Point::ZERO, SMALL_MM).bold();
        return wedges.map(|at| cross(drawing, at, CROSS_MM, words)).into_iter().collect();
    }
    if let Some(spiral) = layout.spiral() {
        layout.fold().source().iter().for_each(|stretch| add_stretch(drawing, Layer::Guide, stretch));
        let tick = spiral.tick();
        drawing.line(Layer::Reference, tick.p0, tick.p1);
        let arm_mm = CROSS_SHARE * spiral.spec().pinch_radius_mm;
        let words = Text::new("pinch", Point::ZERO, SMALL_MM).bold();
        return vec![cross(drawing, spiral.centre_as_laid(), arm_mm.clamp(1.0, CROSS_MM), words)];
    }
    if layout.burst().is_some() {
        let arm_mm = figures.binds.first().map_or(CROSS_MM, |bind| (CROSS_SHARE * bind.radius_mm).clamp(2.5, CROSS_MM));
        let cross = |pin: Pin| cross(drawing, pin.at, arm_mm, Text::new("burst centre", Point::ZERO, SMALL_MM).bold());
        return layout.fold().pins().into_iter().map(cross).collect();
    }
    let on_paper = |pin: &Pin| layout.lay().is_cloth(pin.at);
    let words = |pin: &Pin| {
        let from_line_mm = if pin.is_shortening { pin.origin_mm - layout.zero_mm() } else { layout.zero_mm() - pin.origin_mm };
        if from_line_mm.abs() < SHORTEST_STRING_MM {
            "pin: corner".to_owned()
        } else {
            format!("pin: {} to the line", lengths.format(from_line_mm.abs()))
        }
    };
    let pins = layout.fold().pins().into_iter().filter(on_paper);
    pins.map(|pin| cross(drawing, pin.at, PIN_CROSS_MM, Text::new(words(&pin), Point::ZERO, SHORTEST_MM))).collect()
}

/// Strokes, which no bind lies on.
fn source(drawing: &mut Drawing, layout: &Layout) {
    if layout.line().is_some_and(|line| line.kind().has_no_inside()) {
        layout.fold().source().iter().for_each(|stretch| add_stretch(drawing, Layer::Guide, stretch));
    }
}

/// A cross with words beside it.
fn cross(drawing: &mut Drawing, pin: Point, arm_mm: f64, words: Text) -> Label {
    drawing.line(Layer::Pin, pin - Vec2::new(arm_mm, 0.0), pin + Vec2::new(arm_mm, 0.0));
    drawing.line(Layer::Pin, pin - Vec2::new(0.0, arm_mm), pin + Vec2::new(0.0, arm_mm));
    drawing.circle(Layer::Pin, pin, 1.5_f64.min(0.5 * arm_mm));
    let beside_mm = arm_mm.max(PIN_CROSS_MM) + 2.0;
    let places = [(-beside_mm, 1.0, Anchor::End), (beside_mm, 1.0, Anchor::Start), (2.0, -beside_mm, Anchor::Start)];
    let at = |(x, y, anchor)| Text { position: pin + Vec2::new(x, y), ..words.clone() }.anchored(anchor);
    Label::new(places.map(at).to_vec())
}

/// Guide, binds and reference lines, each with its label.
fn lines(drawing: &mut Drawing, layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Label> {
    // Bands lie over a puck, and no line of them is chalked on the cloth.
    if layout.spiral().is_some() {
        return Vec::new();
    }
    let radii_mm: Vec<f64> = figures.binds.iter().map(|bind| bind.radius_mm).collect();
    let guide = figures.binds.iter().position(|bind| bind.on_guide_arc);
    let labelled = spaced(&radii_mm, guide, LABELS_APART_MM).into_iter().chain(std::iter::repeat(true));
    let marks = layout.marks_on(&Panel::BOTH);
    marks.iter().zip(labelled).flat_map(|(mark, labelled)| add_line(drawing, layout, figures, mark, lengths, labelled)).collect()
}

/// Draws a line; its labels, if it has any.
fn add_line(
    drawing: &mut Drawing,
    layout: &Layout,
    figures: &Figures,
    mark: &Mark,
    lengths: LengthStyle,
    labelled: bool,
) -> Vec<Label> {
    let layer = match mark.role {
        MarkRole::Guide => Layer::Guide,
        MarkRole::Bind => Layer::Across,
        MarkRole::Reference | MarkRole::Pleats => Layer::Reference,
    };
    mark.stretches.iter().for_each(|stretch| add_stretch(drawing, layer, stretch));
    if !labelled {
        return Vec::new();
    }
    let (fold, is_burst) = (&figures.fold, layout.burst().is_some());
    let short = match mark.role {
        MarkRole::Reference if is_burst => "arc".to_owned(),
        MarkRole::Reference => "extra".to_owned(),
        MarkRole::Pleats => "fold guide".to_owned(),
        MarkRole::Guide | MarkRole::Bind => numbered(mark.number),
    };
    let guide = if mark.role == MarkRole::Guide && is_burst { " · guide arc" } else { "" };
    let words = format!("{short} · {}{guide}", fold.words.short_place(mark.along_mm - fold.zero_mm, lengths));
    let is_bind = matches!(mark.role, MarkRole::Guide | MarkRole::Bind);
    let inside = figures.binds.get(mark.number as usize - 1).filter(|_| is_bind);
    let room_mm = inside.map_or(f64::INFINITY, |bind| bind.gap_inside_mm);
    labels_of(layout.fold(), &Labelled { stretches: &mark.stretches, along_mm: mark.along_mm, room_mm, words, short, layer })
}

fn add_stretch(drawing: &mut Drawing, layer: Layer, stretch: &Stretch) {
    match stretch {
        Stretch::Arc(arc) => drawing.arc(layer, arc.centre, arc.radius_mm, arc.from_rad, arc.to_rad - arc.from_rad),
        Stretch::Straight(line) => drawing.line(layer, line.p0, line.p1),
    }
}

/// Turns the lines that are marked on cloth into rows of dots.
fn prick(drawing: &mut Drawing, spacing_mm: f64) {
    for item in &mut drawing.items {
        if !matches!(item.layer, Layer::Guide | Layer::Across | Layer::Reference | Layer::Axis) {
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
