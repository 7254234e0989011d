//! What is drawn of a layout, as lines on the laid garment, layer by layer.

use crate::geometry::{Crease, Gather, Panel, PanelOutline, Spiral, Stretch};
use crate::layout::{Layout, MarkRole};
use kurbo::{BezPath, Circle, PathEl, PathSeg, Point, Rect, Shape as _, Vec2};

/// How far a flattened curve may stray from the true one, mm on the table: a fifth of what the sheets and the projection may differ by.
const FLAT_MM: f64 = 0.01;
/// Arm of the cross where a string is pinned, mm.
const PIN_MM: f64 = 12.0;
/// Pins farther from the garment's box than this are left out, mm: a string is pinned on the table beside the cloth, and not behind it.
const PINS_BEYOND_MM: f64 = 100.0;
/// Radius of the ring where a needle goes through, mm.
const HOLE_MM: f64 = 1.5;

/// What is thrown onto the table at a time: in the order in which it is chalked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ProjectedLayer {
    /// Centre line, pins and the line that is pleated along.
    #[default]
    Guide,
    /// The binds, and the extra lines.
    Binds,
    /// The creases, or the stitches in their place.
    Creases,
}

impl ProjectedLayer {
    /// Every layer, the first first.
    pub const ALL: [Self; 3] = [Self::Guide, Self::Binds, Self::Creases];

    /// What it shows.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Guide => "Centre and guide",
            Self::Binds => "Binds",
            Self::Creases => "Creases",
        }
    }

    /// The one after it; the last stays.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Guide => Self::Binds,
            Self::Binds | Self::Creases => Self::Creases,
        }
    }

    /// The one before it; the first stays.
    #[must_use]
    pub const fn back(self) -> Self {
        match self {
            Self::Guide | Self::Binds => Self::Guide,
            Self::Creases => Self::Binds,
        }
    }
}

/// What a line on the table is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// The edge of the front, or of the one panel there is.
    Edge,
    /// What of the back's edge is not the front's.
    EdgeBehind,
    /// The centre line of the garment.
    Axis,
    /// A cross where a string is pinned, such as the burst centre.
    Pin,
    /// The line that is pleated along: the guide arc, or the parallel where no bind lies on it.
    Guide,
    /// The line that parallels are measured from, where no bind can lie on it.
    Source,
    /// A bind.
    Bind,
    /// An extra line, for orientation.
    Extra,
    /// A crease folded over.
    CreaseOver,
    /// A crease folded under.
    CreaseUnder,
    /// Where the cloth of two sides meets.
    Ridge,
    /// Where blocks fall on the pieces that they touch.
    Block,
    /// Where wound thread falls on the uppermost piece.
    Thread,
    /// Where a needle goes through.
    Stitch,
}

impl Role {
    /// The layer that it belongs to; none of what shows with every layer.
    #[must_use]
    pub const fn layer(self) -> Option<ProjectedLayer> {
        match self {
            Self::Edge | Self::EdgeBehind => None,
            Self::Axis | Self::Pin | Self::Guide | Self::Source => Some(ProjectedLayer::Guide),
            Self::Bind | Self::Extra => Some(ProjectedLayer::Binds),
            Self::CreaseOver | Self::CreaseUnder | Self::Ridge | Self::Block | Self::Thread | Self::Stitch => {
                Some(ProjectedLayer::Creases)
            }
        }
    }
}

/// A line on the table or on the laid garment.
#[derive(Debug, Clone, PartialEq)]
pub struct TableLine {
    /// What it is.
    pub role: Role,
    /// A bind's number, from the tip outward.
    pub number: Option<u32>,
    /// Points between which straight lines stray from the true curve by at most 0.01 mm, mm.
    pub points: Vec<Point>,
}

/// Everything that is drawn of a layout, in the frame of the garment as it is laid.
#[derive(Debug, Clone, PartialEq)]
pub struct TableScene {
    lines: Vec<TableLine>,
    bounds: Rect,
}

impl TableScene {
    /// What the template shows of the layout, as lines: the half of a garment that lies folded, the whole of one that lies open.
    #[must_use]
    pub fn of(layout: &Layout) -> Self {
        let mut lines = edges(layout);
        let bounds = lines.iter().flat_map(|line| &line.points).fold(None, around).unwrap_or_default();
        lines.push(axis(layout));
        lines.extend(pins(layout, bounds.inflate(PINS_BEYOND_MM, PINS_BEYOND_MM)));
        lines.extend(source(layout));
        lines.extend(marks(layout));
        lines.extend(creases(layout));
        Self { lines, bounds }
    }

    /// All lines.
    #[must_use]
    pub fn lines(&self) -> &[TableLine] {
        &self.lines
    }

    /// The lines of a layer; with those that show with every one if the edge is wanted.
    pub fn layer(&self, layer: ProjectedLayer, with_edge: bool) -> impl Iterator<Item = &TableLine> {
        self.lines.iter().filter(move |line| line.role.layer().map_or(with_edge, |own| own == layer))
    }

    /// The box round the garment's edge, mm.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.bounds
    }
}

fn around(bounds: Option<Rect>, point: &Point) -> Option<Rect> {
    Some(bounds.map_or_else(|| Rect::from_points(*point, *point), |bounds| bounds.union_pt(*point)))
}

fn line(role: Role, points: Vec<Point>) -> TableLine {
    TableLine { role, number: None, points }
}

/// The front's edge in full, and of the back's what is not the same.
fn edges(layout: &Layout) -> Vec<TableLine> {
    let path = |panel: &PanelOutline| {
        if layout.lay().is_folded() { panel.profile().clone() } else { panel.whole().path().clone() }
    };
    let panels = layout.panels();
    let front = path(&panels.front);
    let shared: Vec<PathSeg> = front.segments().collect();
    let back = panels.back.as_ref().map(path).unwrap_or_default();
    let behind =
        back.segments().filter(|segment| !shared.contains(segment)).map(|one| BezPath::from_path_segments([one].into_iter()));
    let of = |role: Role, path: &BezPath| flattened(path).into_iter().map(move |points| line(role, points)).collect::<Vec<_>>();
    of(Role::Edge, &front).into_iter().chain(behind.flat_map(|path| of(Role::EdgeBehind, &path))).collect()
}

fn flattened(path: &BezPath) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(path, FLAT_MM, |element| match element {
        PathEl::MoveTo(point) => lines.push(vec![point]),
        PathEl::LineTo(point) => lines.last_mut().into_iter().for_each(|line| line.push(point)),
        PathEl::ClosePath => lines.last_mut().into_iter().for_each(|line| line.extend(line.first().copied())),
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    lines
}

fn axis(layout: &Layout) -> TableLine {
    let along = layout.panels().centre_line_mm(&Panel::BOTH);
    line(Role::Axis, vec![Point::new(0.0, along.start), Point::new(0.0, along.end)])
}

/// A cross at every pin beside the cloth or on it.
fn pins(layout: &Layout, within: Rect) -> Vec<TableLine> {
    // Where wedges meet nothing is pinned, but it is marked like a pin.
    let wedges = layout.flat().and_then(|_| layout.middle_as_laid());
    let near = layout.fold().pins().into_iter().map(|pin| pin.at).chain(wedges).filter(|at| within.contains(*at));
    let cross = |at: Point| [Vec2::new(PIN_MM, 0.0), Vec2::new(0.0, PIN_MM)].map(|arm| line(Role::Pin, vec![at - arm, at + arm]));
    near.flat_map(cross).collect()
}

/// What no bind lies on: the strokes of a line that nothing lies within, a pinch with its tick.
fn source(layout: &Layout) -> Vec<TableLine> {
    let tick = layout.spiral().map(Spiral::tick);
    if tick.is_none() && !layout.line().is_some_and(|line| line.kind().has_no_inside()) {
        return Vec::new();
    }
    let tick = tick.map(|tick| line(Role::Source, vec![tick.p0, tick.p1]));
    layout.fold().source().iter().map(|stretch| of_stretch(Role::Source, stretch)).chain(tick).collect()
}

fn of_stretch(role: Role, stretch: &Stretch) -> TableLine {
    line(role, stretch.flattened(FLAT_MM))
}

/// Guide, binds and extra lines.
fn marks(layout: &Layout) -> Vec<TableLine> {
    // Bands lie over a puck: no line of them is chalked on the cloth.
    if layout.spiral().is_some() {
        return Vec::new();
    }
    let of = |mark: crate::layout::Mark| {
        let (role, number) = match mark.role {
            MarkRole::Guide => (Role::Guide, Some(mark.number)),
            MarkRole::Pleats => (Role::Guide, None),
            MarkRole::Bind => (Role::Bind, Some(mark.number)),
            MarkRole::Reference => (Role::Extra, None),
        };
        let lines = mark.stretches.iter().map(move |stretch| TableLine { number, ..of_stretch(role, stretch) });
        lines.collect::<Vec<_>>()
    };
    layout.marks_on(&Panel::BOTH).into_iter().flat_map(of).collect()
}

/// The creases from the innermost bind outward; of pleats that are drawn up, the stitches.
fn creases(layout: &Layout) -> Vec<TableLine> {
    if layout.gather() != Gather::FanFold {
        let ring = |at: Point| {
            let path = Circle::new(at, HOLE_MM).to_path(FLAT_MM);
            flattened(&path).into_iter().map(|points| line(Role::Stitch, points)).collect::<Vec<_>>()
        };
        return layout.stitch_holes().into_iter().flat_map(ring).collect();
    }
    let marked = layout.marked_creases();
    let longest = longest_pieces(layout, &marked);
    let crease = |(index, crease): (usize, &Crease)| {
        let role = if crease.is_over { Role::CreaseOver } else { Role::CreaseUnder };
        let number = longest.contains(&index).then_some(crease.number);
        TableLine { number, ..line(role, vec![crease.line.p0, crease.line.p1]) }
    };
    let ridge = layout.fold().ridge().into_iter().map(|at| line(Role::Ridge, vec![at.p0, at.p1]));
    let held = layout.flat().zip(layout.blocks()).map(|(flat, block)| flat.block_marks(block).touched).unwrap_or_default();
    let blocks = held.iter().flat_map(flattened).map(|points| line(Role::Block, points));
    let wound = layout.flat().zip(layout.wrap()).map(|(flat, wrap)| flat.wrap_marks(wrap).upper).unwrap_or_default();
    let wound = wound.into_iter().map(|at| line(Role::Thread, vec![at.p0, at.p1]));
    marked.iter().enumerate().map(crease).chain(ridge).chain(blocks).chain(wound).collect()
}

/// Where each crease's number stands, for what is folded by the numbers: on its longest piece.
fn longest_pieces(layout: &Layout, creases: &[Crease]) -> Vec<usize> {
    if layout.flat().is_none() {
        return Vec::new();
    }
    let length_mm = |index: &usize| (creases[*index].line.p1 - creases[*index].line.p0).hypot();
    let last = creases.iter().map(|crease| crease.number).max().unwrap_or(0);
    let of = |number: u32| (0..creases.len()).filter(move |&index| creases[index].number == number);
    (1..=last).filter_map(|number| of(number).max_by(|a, b| length_mm(a).total_cmp(&length_mm(b)))).collect()
}
