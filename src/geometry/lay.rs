//! How a garment lies on the table before it is folded up: which layers lie on each other, and where a point of the cloth comes to
//! lie among them. Every fold begins here.

use super::{ClothPoint, Outline, Panel, PanelSet, Panels};
use kurbo::{Line, ParamCurve as _, PathSeg, Point, Rect};

/// How the garment is laid before it is pleated: which layers come to lie on each other.
///
/// Dye enters from the faces of the stack, so the order decides which halves match.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Centring {
    /// Folded on the centre line with one side inside the other: front left, front right, back right, back left. The two
    /// fronts touch and the two backs touch.
    Nested,
    /// Folded in half as it lies: back left, front left, front right, back right.
    PlainHalf,
    /// Not folded: front on back, full circles, the centre anywhere.
    Open,
}

impl Centring {
    /// Whether the garment is folded on its centre line.
    #[must_use]
    pub fn is_folded(self) -> bool {
        self != Self::Open
    }

    /// Where a distance from the centre line comes to lie when the garment is laid: folding sends `x` to its amount. mm.
    #[must_use]
    pub fn x_as_laid_mm(self, x_mm: f64) -> f64 {
        if self.is_folded() { x_mm.abs() } else { x_mm }
    }

    /// How often the laid cloth lies on each panel's outline: twice when folded, its halves being alike.
    #[must_use]
    pub fn halves(self) -> f64 {
        if self.is_folded() { 2.0 } else { 1.0 }
    }

    /// What will match what on the opened garment, as far as the order of the layers decides it (common practice, no source).
    #[must_use]
    pub fn matching(self, panels: Panels) -> &'static str {
        match self {
            Self::Nested | Self::PlainHalf if panels == Panels::One => "Folded in half: the two halves match.",
            Self::Open if panels == Panels::One => "Nothing is mirrored: the cloth comes out as laid.",
            Self::Nested => "Front folded on front, back on back: each panel's halves match.",
            Self::PlainHalf => {
                "The front halves lie inside and match; the back halves lie outside, one on each face of the stack."
            }
            Self::Open => "Nothing is mirrored: front and back come out as laid.",
        }
    }

    /// Plain words for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Nested => "nested",
            Self::PlainHalf => "plain half fold",
            Self::Open => "open",
        }
    }
}

/// A layer of the garment as it is laid: a whole panel when laid open, a half of one when folded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layer {
    panel: Panel,
    half: Option<Half>,
}

/// The wearer's left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Half {
    Left,
    Right,
}

impl Half {
    fn of(x_mm: f64) -> Self {
        if x_mm.is_sign_negative() { Self::Right } else { Self::Left }
    }

    fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// A garment laid on the table.
#[derive(Debug, Clone)]
pub struct Lay {
    centring: Centring,
    panels: PanelSet,
    /// From the bottom up.
    stack: Vec<Layer>,
}

/// The layers from the bottom up; what a garment of one panel does not have is left out.
/// How far beside a line's box an edge is still asked where it crosses the line, mm: rounding.
const NEAR_MM: f64 = 1e-3;

/// The upright box round a curve's control points, which holds the curve.
fn control_box(segment: PathSeg) -> Rect {
    let cubic = segment.to_cubic();
    Rect::from_points(cubic.p0, cubic.p1).union_pt(cubic.p2).union_pt(cubic.p3)
}

fn stack(centring: Centring, panels: &PanelSet) -> Vec<Layer> {
    let order: &[(Panel, Option<Half>)] = match centring {
        Centring::Nested => &[
            (Panel::Front, Some(Half::Left)),
            (Panel::Front, Some(Half::Right)),
            (Panel::Back, Some(Half::Right)),
            (Panel::Back, Some(Half::Left)),
        ],
        Centring::PlainHalf => &[
            (Panel::Back, Some(Half::Left)),
            (Panel::Front, Some(Half::Left)),
            (Panel::Front, Some(Half::Right)),
            (Panel::Back, Some(Half::Right)),
        ],
        Centring::Open => &[(Panel::Back, None), (Panel::Front, None)],
    };
    let present = |&&(panel, _): &&(Panel, Option<Half>)| panels.panel(panel).is_some();
    order.iter().filter(present).map(|&(panel, half)| Layer { panel, half }).collect()
}

impl Lay {
    /// Whether cloth lies at a point of the laid garment's plane.
    #[must_use]
    pub fn is_cloth(&self, laid: Point) -> bool {
        self.outlines(&[Panel::Front, Panel::Back]).any(|outline| outline.contains(laid))
    }

    /// Lays the garment whose panels these are.
    #[must_use]
    pub fn new(centring: Centring, panels: PanelSet) -> Self {
        let stack = stack(centring, &panels);
        Self { centring, panels, stack }
    }

    /// In which order its halves lie.
    #[must_use]
    pub fn centring(&self) -> Centring {
        self.centring
    }

    /// Whether it is folded on its centre line.
    #[must_use]
    pub fn is_folded(&self) -> bool {
        self.centring.is_folded()
    }

    /// The garment's panels.
    #[must_use]
    pub fn panels(&self) -> &PanelSet {
        &self.panels
    }

    /// How many layers of cloth lie on each other.
    #[must_use]
    pub fn layers(&self) -> u32 {
        // At most four.
        u32::try_from(self.stack.len()).unwrap_or(u32::MAX)
    }

    /// A panel's outline as it is laid: half of it when folded, at `x >= 0`. None of a panel that the garment lacks.
    #[must_use]
    pub fn outline(&self, panel: Panel) -> Option<&Outline> {
        let outline = self.panels.panel(panel)?;
        Some(if self.is_folded() { outline.half() } else { outline.whole() })
    }

    /// The laid outlines of some panels.
    pub fn outlines(&self, panels: &[Panel]) -> impl Iterator<Item = &Outline> + Clone {
        panels.iter().filter_map(|&panel| self.outline(panel))
    }

    /// Where a point of the cloth comes to lie on the table, mm.
    #[must_use]
    pub fn as_laid(&self, point: ClothPoint) -> Point {
        self.plane_as_laid(point.position())
    }

    /// The same for a point of the opened garment's plane, on cloth or beside it, mm.
    #[must_use]
    pub fn plane_as_laid(&self, point: Point) -> Point {
        Point::new(self.centring.x_as_laid_mm(point.x), point.y)
    }

    /// Where a point of the laid garment's plane comes to lie on the opened garment, mm: twice where it is folded, unless it lies on the
    /// fold.
    #[must_use]
    pub fn opened(&self, laid: Point) -> Vec<Point> {
        let mirrored = Point::new(-laid.x, laid.y);
        if self.is_folded() && laid.x != 0.0 { vec![laid, mirrored] } else { vec![laid] }
    }

    /// The layer that a point of the cloth belongs to, from 0 at the bottom; a panel that the garment lacks counts as the layer on top.
    #[must_use]
    pub fn layer_of(&self, point: ClothPoint) -> u32 {
        let half = self.is_folded().then(|| Half::of(point.x_mm));
        self.index(Layer { panel: point.panel, half })
    }

    /// The point of the cloth that lies there in a layer, from 0 at the bottom.
    #[must_use]
    pub fn cloth_at(&self, layer: u32, laid: Point) -> ClothPoint {
        let Layer { panel, half } = self.stack[layer as usize % self.stack.len()];
        let x_mm = match half {
            None => laid.x,
            // A point of the folded garment lies at x >= 0 but for rounding at the fold.
            Some(Half::Left) => laid.x.max(0.0),
            Some(Half::Right) => -laid.x.max(0.0),
        };
        ClothPoint { panel, x_mm, y_mm: laid.y }
    }

    /// The layer that one goes on into over the garment's own fold; none of a garment laid open.
    #[must_use]
    pub fn over_the_fold(&self, layer: u32) -> Option<u32> {
        let Layer { panel, half } = *self.stack.get(layer as usize)?;
        Some(self.index(Layer { panel, half: Some(half?.other()) }))
    }

    /// Whether the garment has cloth at that point.
    #[must_use]
    pub fn has_cloth(&self, point: ClothPoint) -> bool {
        self.panels.panel(point.panel).is_some_and(|panel| panel.contains(point.position()))
    }

    /// The pieces of a straight line that lie on the cloth of any panel, as it is laid.
    #[must_use]
    pub fn pieces_on_cloth(&self, line: Line) -> Vec<Line> {
        self.pieces_on(&Panel::BOTH, line)
    }

    /// The pieces of a straight line that lie on the cloth of any of some panels, as it is laid.
    #[must_use]
    pub fn pieces_on(&self, panels: &[Panel], line: Line) -> Vec<Line> {
        let outlines = || self.outlines(panels);
        let about = Rect::from_points(line.p0, line.p1).inflate(NEAR_MM, NEAR_MM);
        let near = outlines().flat_map(Outline::segments).filter(|segment| control_box(*segment).overlaps(about));
        let crossings = near.flat_map(|segment| segment.intersect_line(line));
        let mut cuts: Vec<f64> = crossings.map(|crossing| crossing.line_t).chain([0.0, 1.0]).collect();
        cuts.sort_by(f64::total_cmp);
        let on_any = |at: f64| outlines().any(|outline| outline.contains(line.eval(at)));
        let mut pieces: Vec<(f64, f64)> = Vec::new();
        for cut in cuts.windows(2).filter(|cut| on_any(0.5 * (cut[0] + cut[1]))) {
            match pieces.last_mut() {
                Some(last) if last.1 >= cut[0] => last.1 = cut[1],
                _ => pieces.push((cut[0], cut[1])),
            }
        }
        pieces.into_iter().map(|(from, to)| line.subsegment(from..to)).collect()
    }

    fn index(&self, layer: Layer) -> u32 {
        let index = self.stack.iter().position(|&other| other == layer).unwrap_or(self.stack.len() - 1);
        u32::try_from(index).unwrap_or(u32::MAX)
    }
}
