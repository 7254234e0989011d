//! What there is to paint of a layout, in the garment's frame: made anew only when the layout changes.

use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::edit::{LinePoint, Target};
use crate::geometry::{BlockMarks, Crease, Gather, Panel, PanelOutline, PanelSet, Spiral, WrapMarks, centre_at};
use crate::layout::{Layout, Mark, MarkRole};
use kurbo::{BezPath, Line, Point, Rect, Shape as _};
use lyon::math::point;
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};
use serde::{Deserialize, Serialize};

/// How the garment is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub(crate) enum Showing {
    /// As it lies on the table, folded or open.
    #[default]
    AsLaid,
    /// Opened out, seen from the front.
    Front,
    /// Opened out, seen from behind.
    Back,
}

impl Showing {
    /// Whether a garment of these panels can be shown so: a single cloth has no back.
    pub(crate) fn is_there(self, panels: &PanelSet) -> bool {
        self != Self::Back || panels.back.is_some()
    }

    pub(crate) const ALL: [Self; 3] = [Self::AsLaid, Self::Front, Self::Back];

    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::AsLaid => "As laid",
            Self::Front => "Front, opened",
            Self::Back => "Back, opened",
        }
    }
}

/// A ring on the cloth.
#[derive(Debug, Clone)]
pub(crate) struct Ring {
    /// Its number among the binds, from the centre; none for what no bind lies on.
    pub(crate) number: Option<u32>,
    /// Whether it is the guide arc.
    pub(crate) guide: bool,
    /// Its radius, mm.
    pub(crate) radius_mm: f64,
    /// Its stretches on cloth, as points close enough to look round.
    pub(crate) stretches: Vec<Vec<Point>>,
}

/// A flat filled shape: points and triangles.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fill {
    pub(crate) points: Vec<Point>,
    pub(crate) triangles: Vec<u32>,
}

/// Everything to paint.
#[derive(Debug, Clone)]
pub(crate) struct Scene {
    pub(crate) showing: Showing,
    /// Cloth, each panel that shows; the lower one first.
    pub(crate) cloth: Vec<Fill>,
    /// Edges of the cloth, as lines.
    pub(crate) edges: Vec<Vec<Point>>,
    /// Edges of the other panel where they differ.
    pub(crate) hidden_edges: Vec<Vec<Point>>,
    pub(crate) rings: Vec<Ring>,
    pub(crate) creases: Vec<Crease>,
    /// Where the creases of a flat bundle are taken hold of, on the laid cloth.
    pub(crate) crease_handles: Vec<(Target, Point)>,
    /// Where a flat bundle's pattern is laid from, if a point is given.
    pub(crate) start: Option<Point>,
    /// Where the outline of blocks falls on the laid cloth: of the pieces that they touch, then of those between.
    pub(crate) under_blocks: [Vec<Vec<Point>>; 2],
    /// Where wound thread falls on the laid cloth: on the uppermost piece that it crosses, and on the lowest.
    pub(crate) wound: [Vec<Line>; 2],
    /// Where a needle goes through, on the laid cloth, mm.
    pub(crate) stitches: Vec<Point>,
    /// The burst centre, or the middle of the shape that is folded along, as often as it shows.
    pub(crate) centres: Vec<Point>,
    /// Where two sides of a line meet.
    pub(crate) ridge: Vec<Line>,
    /// The strokes of a line that no bind lies on.
    pub(crate) strokes: Vec<Vec<Point>>,
    /// The points of the maker's own line.
    pub(crate) points: Vec<LinePoint>,
    /// Whether rings have tags with their numbers; a puck's lines come together in bands, which have numbers of their own.
    pub(crate) tagged: bool,
    /// Tags beside the fold stand below this height, mm.
    pub(crate) tags_below_mm: f64,
    /// Ends of the centre line.
    pub(crate) centre_line: [Point; 2],
    /// Whether the garment lies folded on the centre line.
    pub(crate) folded: bool,
    pub(crate) bounds: Rect,
}

/// How far a curve may stray from the true one on the scene, mm.
const FLAT_MM: f64 = 0.15;

impl Scene {
    pub(crate) fn new(layout: &Layout, showing: Showing) -> Self {
        let fold = layout.fold();
        let folded = layout.lay().is_folded() && showing == Showing::AsLaid;
        let panels = panels(layout, showing);
        let shown: Vec<&PanelOutline> = panels.iter().filter_map(|&panel| layout.panels().panel(panel)).collect();
        let outline = |panel: &PanelOutline| if folded { panel.half().path().clone() } else { panel.whole().path().clone() };
        let paths: Vec<BezPath> = shown.iter().map(|panel| outline(panel)).collect();
        let bounds = paths.iter().map(BezPath::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default();
        let line = layout.panels().centre_line_mm(&panels);
        let middle = layout.middle_as_laid();
        Self {
            showing,
            // The back lies under the front.
            cloth: paths.iter().rev().map(fill).collect(),
            edges: paths.first().map(|path| flat(path, FLAT_MM)).unwrap_or_default(),
            hidden_edges: paths.iter().skip(1).flat_map(|path| flat(path, FLAT_MM)).collect(),
            rings: rings(layout, &panels, !folded),
            creases: creases(layout, showing),
            crease_handles: if showing == Showing::AsLaid { Target::creases(layout) } else { Vec::new() },
            start: start(layout).filter(|_| showing == Showing::AsLaid),
            wound: if showing == Showing::AsLaid { wound(layout) } else { Default::default() },
            under_blocks: if showing == Showing::AsLaid { under_blocks(layout) } else { Default::default() },
            stitches: if showing == Showing::AsLaid { layout.stitch_holes() } else { Vec::new() },
            centres: if showing == Showing::AsLaid {
                middle.into_iter().collect()
            } else {
                middle.into_iter().flat_map(|at| layout.lay().opened(at)).collect()
            },
            ridge: if showing == Showing::AsLaid { fold.ridge() } else { Vec::new() },
            strokes: strokes(layout, !folded),
            points: layout
                .line_points()
                .filter(|_| showing == Showing::AsLaid)
                .map_or_else(Vec::new, |points| points.iter().copied().collect()),
            tagged: layout.spiral().is_none(),
            tags_below_mm: layout.burst().map_or(f64::NEG_INFINITY, |burst| burst.centre_as_laid().y),
            centre_line: [Point::new(0.0, line.start), Point::new(0.0, line.end)],
            folded,
            bounds,
        }
    }
}

fn creases(layout: &Layout, showing: Showing) -> Vec<Crease> {
    if showing != Showing::AsLaid || layout.gather() == Gather::Stitch {
        return Vec::new();
    }
    layout.marked_creases()
}

fn start(layout: &Layout) -> Option<Point> {
    let start = layout.raw().fold.flat()?.pattern.start()?;
    Some(layout.lay().plane_as_laid(centre_at(start, layout.panels())))
}

fn under_blocks(layout: &Layout) -> [Vec<Vec<Point>>; 2] {
    let (Some(fold), Some(block)) = (layout.flat(), layout.blocks()) else { return Default::default() };
    let lines = |paths: Vec<BezPath>| paths.iter().flat_map(|path| flat(path, FLAT_MM)).collect();
    let BlockMarks { touched, between } = fold.block_marks(block);
    [lines(touched), lines(between)]
}

fn wound(layout: &Layout) -> [Vec<Line>; 2] {
    let (Some(fold), Some(wrap)) = (layout.flat(), layout.wrap()) else { return Default::default() };
    let WrapMarks { upper, lower } = fold.wrap_marks(wrap);
    [upper, lower]
}

fn panels(layout: &Layout, showing: Showing) -> Vec<Panel> {
    match showing {
        Showing::AsLaid => vec![Panel::Front, Panel::Back],
        Showing::Front => vec![Panel::Front],
        Showing::Back if layout.panels().back.is_none() => vec![Panel::Front],
        Showing::Back => vec![Panel::Back],
    }
}

fn rings(layout: &Layout, panels: &[Panel], opened: bool) -> Vec<Ring> {
    // A folded garment opened out shows each line twice, mirrored at the centre line.
    let mirrored = opened && layout.lay().is_folded();
    let ring = |mark: Mark| {
        let mut stretches = joined(mark.stretches.iter().map(|stretch| stretch.flattened(FLAT_MM)));
        if mirrored {
            stretches.extend(stretches.iter().map(|points| mirrored_points(points)).collect::<Vec<_>>());
        }
        let number = matches!(mark.role, MarkRole::Guide | MarkRole::Bind).then_some(mark.number);
        Ring { number, guide: mark.role == MarkRole::Guide, radius_mm: mark.along_mm, stretches }
    };
    layout.marks_on(panels).into_iter().map(ring).collect()
}

/// Lines of which each that begins where the one before it ends goes on with it: a parallel of many pieces is painted as one.
fn joined(lines: impl Iterator<Item = Vec<Point>>) -> Vec<Vec<Point>> {
    let mut joined: Vec<Vec<Point>> = Vec::new();
    for line in lines {
        match joined.last_mut() {
            Some(before) if before.last().zip(line.first()).is_some_and(|(end, begin)| end.distance(*begin) < TOUCHES_MM) => {
                before.extend(line.into_iter().skip(1));
            }
            _ => joined.push(line),
        }
    }
    joined
}

/// As near are ends that touch, mm: rounding over a garment.
const TOUCHES_MM: f64 = 1e-6;

/// What is chalked that no bind lies on: the strokes of a line that nothing lies within, or a pinch with its tick. Opened out both of
/// them.
fn strokes(layout: &Layout, opened: bool) -> Vec<Vec<Point>> {
    let tick = layout.spiral().map(Spiral::tick);
    if tick.is_none() && !layout.line().is_some_and(|line| line.kind().has_no_inside()) {
        return Vec::new();
    }
    let mut strokes: Vec<Vec<Point>> = layout.fold().source().iter().map(|stretch| stretch.flattened(FLAT_MM)).collect();
    strokes.extend(tick.map(|tick| vec![tick.p0, tick.p1]));
    if opened && layout.lay().is_folded() {
        strokes.extend(strokes.clone().iter().map(|points| mirrored_points(points)).collect::<Vec<_>>());
    }
    strokes
}

fn mirrored_points(points: &[Point]) -> Vec<Point> {
    points.iter().map(|p| Point::new(-p.x, p.y)).collect()
}

fn fill(path: &BezPath) -> Fill {
    let mut builder = Path::builder();
    for line in flat(path, FLAT_MM) {
        for (index, p) in line.iter().enumerate() {
            let p = point(screen(p.x), screen(p.y));
            if index == 0 {
                builder.begin(p);
            } else {
                builder.line_to(p);
            }
        }
        builder.end(true);
    }
    let mut buffers: VertexBuffers<Point, u32> = VertexBuffers::new();
    let vertex = |vertex: FillVertex<'_>| Point::new(f64::from(vertex.position().x), f64::from(vertex.position().y));
    let done = FillTessellator::new().tessellate_path(
        &builder.build(),
        &FillOptions::non_zero(),
        &mut BuffersBuilder::new(&mut buffers, vertex),
    );
    // A garment's outline is simple and finite; should the tessellator give up all the same, the edge alone is drawn.
    done.map(|()| Fill { points: buffers.vertices, triangles: buffers.indices }).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn area_mm2(fill: &Fill) -> f64 {
        let corner = |index: u32| fill.points[index as usize];
        let triangles = fill.triangles.chunks_exact(3).map(|t| [corner(t[0]), corner(t[1]), corner(t[2])]);
        triangles.map(|[a, b, c]| 0.5 * (b - a).cross(c - a).abs()).sum()
    }

    #[test]
    fn lines_that_touch_go_on_as_one() {
        let [a, b, c, d] = [0.0, 1.0, 2.0, 3.0].map(|x| Point::new(x, x * x));
        assert_eq!(joined([vec![a, b], vec![b, c], vec![d, a]].into_iter()), [vec![a, b, c], vec![d, a]]);
        assert!(joined(std::iter::empty()).is_empty());
        // A heart's parallels are of many pieces each.
        let heart = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().ends_with("heart-tee-m")).unwrap();
        let heart = parse_layout(heart.text).unwrap();
        let pieces: usize = heart.marks_on(&[Panel::Front, Panel::Back]).iter().map(|mark| mark.stretches.len()).sum();
        let lines: usize = Scene::new(&heart, Showing::AsLaid).rings.iter().map(|ring| ring.stretches.len()).sum();
        assert!(2 * lines < pieces, "{lines} lines of {pieces} pieces");
    }

    #[test]
    fn cloth_is_filled_whole_and_holes_left_free() {
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            let scene = Scene::new(&layout, Showing::Front);
            let area = layout.panels().front.whole().area_mm2();
            let filled = area_mm2(&scene.cloth[0]);
            assert!((filled / area - 1.0).abs() < 1e-3, "{}: {filled} of {area}", example.name);
        }
    }

    #[test]
    fn an_opened_garment_shows_both_halves_of_every_ring() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let scene = Scene::new(&layout, Showing::Front);
        let guide = scene.rings.iter().find(|ring| ring.guide).unwrap();
        let points = || guide.stretches.iter().flatten();
        assert!(points().any(|p| p.x < -200.0) && points().any(|p| p.x > 200.0));
        let bandana = parse_layout(EXAMPLE_LAYOUTS[7].text).unwrap();
        let scene = Scene::new(&bandana, Showing::Front);
        assert_eq!(scene.centres.len(), 2);
    }
}
