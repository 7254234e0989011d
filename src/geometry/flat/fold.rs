//! The fold map of a flat bundle: reflections one after the other, exact in both directions.

use super::clip::Loops;
use super::edges::{Joined, creases_of, creep_mm, garment_fold, joined};
use super::error::FlatError;
use super::facet::{Facet, carried, facets, long_line};
use super::fold_line::{FoldLine, turned};
use super::frame::Frame;
use super::marks::Marked;
use super::pattern::Ground;
use super::series::Series;
use super::slicer::Slicer;
use super::spec::{FlatFoldSpec, FlatPattern};
use super::stack::{Pieces, Stack, is_ridge};
use crate::geometry::bundle::keep_nearest;
use crate::geometry::{
    Beyond, Bundle, BundlePoint, CellSize, ClothPoint, Crease, Cut, Extent, Fold, Joins, Lay, OpenFaces, Outline, Panel,
    PanelOutline, PanelPair, PanelSet, Pin, Stretch,
};
use crate::telling::Field;
use kurbo::{Affine, Line, Point, Vec2};
use std::ops::Range;

/// A garment folded flat by series of straight creases.
#[derive(Debug, Clone)]
pub struct FlatFold {
    spec: FlatFoldSpec,
    lay: Lay,
    series: Vec<Series>,
    frame: Frame,
    facets: Vec<Facet>,
    slicers: PanelPair<Slicer>,
    /// Of each of the frame's edges.
    joined: Vec<Joined>,
    /// Which of the frame's edges is the side where across is 0, and which that where it is 1.
    ends: [Option<usize>; 2],
}

/// What is no farther beyond the fold than this lies on it, mm: rounding of a few metres.
const ROUNDING_MM: f64 = 1e-6;
/// Shortest piece of a line that is marked, mm: a chalk's own breadth is more.
const SHORTEST_MM: f64 = 1e-6;

impl FlatFold {
    /// Folds the garment whose panels these are, of cloth whose layers are `layer_mm` thick when they lie free.
    ///
    /// # Errors
    /// [`FlatError`] when a number is unusable, a centre or a crease has no cloth, wedges would cross, pieces are narrower than the cloth
    /// that is folded into them is thick, or more layers come to lie on each other than can be held.
    pub fn new(spec: &FlatFoldSpec, panels: PanelSet, layer_mm: f64) -> Result<Self, FlatError> {
        let lay = Lay::new(spec.centring, panels);
        let folding = Ground { lay: &lay, layer_mm }.folding(spec)?;
        let facets = facets(&lay, &folding.series);
        check_halves(spec, &lay, &folding.cell, &facets)?;
        let cloth_box =
            |isometry| facets.iter().filter_map(|facet| facet.bounds_in(isometry)).reduce(|a, b| a.union(b)).unwrap_or_default();
        let frame = Frame::new(folding.along, &folding.cell, cloth_box);
        check_first_bind(spec, frame.size().width)?;
        let mut slicers = PanelPair::<Slicer>::default();
        for facet in &facets {
            slicers.front.add(&carried(&facet.cloth.front, frame.plane_to_frame()));
            slicers.back.add(&carried(&facet.cloth.back, frame.plane_to_frame()));
        }
        let joined = joined(&folding.series, &lay, &folding.cell);
        let ends = [0, 1].map(|end| frame.edges().iter().position(|edge| frame.end(edge) == Some(end)));
        Ok(Self { spec: spec.clone(), lay, series: folding.series, frame, facets, slicers, joined, ends })
    }

    /// What it was folded by.
    #[must_use]
    pub fn spec(&self) -> &FlatFoldSpec {
        &self.spec
    }

    /// The corners of the bundle's outline as its creases give it: `x` along, `y` across, mm. Where no crease bounds it, it ends with the
    /// cloth's own box.
    #[must_use]
    pub fn outline(&self) -> &[Point] {
        self.frame.outline()
    }

    /// Where a cut across the bundle enters its outline and leaves it, from `along_mm` straight across; nowhere beyond its ends.
    #[must_use]
    pub fn chord(&self, along_mm: f64) -> Option<Line> {
        let corners = self.outline();
        let sides = corners.iter().zip(corners.iter().cycle().skip(1));
        let met = sides.filter(|(from, to)| (from.x <= along_mm) != (to.x <= along_mm));
        let heights = met.map(|(from, to)| from.y + (along_mm - from.x) / (to.x - from.x) * (to.y - from.y));
        let (least, most) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), y| (least.min(y), most.max(y)));
        (least < most).then(|| Line::new((along_mm, least), (along_mm, most)))
    }

    /// Where along it the bind is that is tied first, mm.
    #[must_use]
    pub fn first_bind_mm(&self) -> f64 {
        self.spec.first_bind_mm.unwrap_or(0.5 * self.frame.size().width)
    }

    /// How far it goes along and across, mm.
    #[must_use]
    pub fn size(&self) -> kurbo::Size {
        self.frame.size()
    }

    /// By how much the outermost layer of its thickest crease falls short of the innermost, mm: cloth that creeps as layers
    /// `layer_mm` thick are folded round each other, `pi` times the thickness of what each crease encloses on either side.
    #[must_use]
    pub fn creep_mm(&self, layer_mm: f64) -> f64 {
        creep_mm(&self.joined, layer_mm)
    }

    /// Girth of the bundle held flat at a distance along it, mm: twice its width and its height, for layers this thick.
    #[must_use]
    pub fn held_girth_mm(&self, along_mm: f64, layer_mm: f64) -> f64 {
        let (width_mm, cloth_mm) = (self.width_mm(along_mm), self.cut(along_mm).map(|cut| cut.cloth_mm).sum());
        let layers = if width_mm > 0.0 { cloth_mm / width_mm } else { 0.0 };
        2.0 * (width_mm + layers * layer_mm)
    }

    /// From the plane of the first pieces to the bundle's frame.
    pub(super) fn plane_to_frame(&self) -> Affine {
        self.frame.plane_to_frame()
    }

    /// Its series of creases, in the order of folding.
    pub(super) fn series(&self) -> &[Series] {
        &self.series
    }

    /// How often something is folded over, through all that lies there.
    #[must_use]
    pub fn folds(&self) -> u32 {
        self.series.iter().map(|series| series.pieces() - 1).sum()
    }

    /// Whether the strip has to be turned over before it is folded along itself: then each of its folds lays cloth on top.
    #[must_use]
    pub fn turns_strip_over(&self) -> bool {
        matches!(&self.series[..], [strip, _] if self.spec.pack.turns_over(strip.pieces()))
    }

    /// How many pieces between creases hold cloth.
    #[must_use]
    pub fn pieces(&self) -> u32 {
        u32::try_from(self.facets.len()).unwrap_or(u32::MAX)
    }

    /// What of each panel lies on each facet, in the bundle's frame.
    pub(super) fn facets_in_frame(&self) -> impl Iterator<Item = PanelPair<Loops>> {
        let into = self.frame.plane_to_frame();
        self.facets.iter().map(move |facet| facet.cloth.map(|loops| carried(loops, into)))
    }

    /// The pieces of each facet, and what of each panel lies on it.
    pub(super) fn facets_of_pieces(&self) -> impl Iterator<Item = (Pieces, &PanelPair<Loops>)> {
        self.facets.iter().map(|facet| (Pieces::from_iter(&facet.pieces), &facet.cloth))
    }

    /// The layers of the garment as it is laid, from 0 at the bottom, and the panel of each.
    pub(super) fn layer_panels(&self) -> impl Iterator<Item = (u32, Panel)> {
        (0..self.lay.layers()).map(|layer| (layer, self.lay.cloth_at(layer, Point::ORIGIN).panel))
    }

    /// The creases that bound the bundle, in its frame.
    pub(super) fn frame_edges(&self) -> &[FoldLine] {
        self.frame.edges()
    }

    /// The facets, each with its place in the stack, from 0 at the bottom, and what carries the bundle's frame onto the laid cloth there.
    pub(super) fn placed_facets(&self) -> impl Iterator<Item = (u32, &Facet, Affine)> {
        let stack = Stack { layers: 1, ..self.stack() };
        let frame_to_plane = self.frame.frame_to_plane();
        let placed = move |facet: &Facet| stack.place(&Pieces::from_iter(&facet.pieces), 0);
        self.facets.iter().map(move |facet| (placed(facet), facet, facet.back * frame_to_plane))
    }

    /// How often the laid cloth lies on each panel's outline.
    pub(super) fn halves(&self) -> f64 {
        self.lay.centring().halves()
    }

    /// The same as a number of layers.
    pub(super) fn layers_of_halves(&self) -> u32 {
        if self.lay.is_folded() { 2 } else { 1 }
    }

    pub(super) fn stack(&self) -> Stack<'_> {
        Stack { series: &self.series, layers: self.lay.layers() }
    }

    fn across(&self, across_mm: f64) -> f64 {
        (across_mm / self.frame.size().height).clamp(0.0, 1.0)
    }

    /// The pieces that a point of the laid plane lies on, and where it comes to lie in the bundle's frame.
    pub(super) fn folded(&self, laid: Point) -> (Pieces, Point) {
        let mut pieces = Pieces::default();
        let plane = self.series.iter().enumerate().fold(laid, |at, (number, series)| {
            let piece = series.piece(at);
            pieces.set(number, piece);
            series.onto(piece) * at
        });
        (pieces, self.frame.plane_to_frame() * plane)
    }

    /// Carries the plane of some pieces of the first series back onto the laid cloth.
    pub(super) fn back(&self, pieces: &Pieces, series: usize) -> Affine {
        (0..series).fold(Affine::IDENTITY, |back, number| back * self.series[number].back(pieces.of(number)))
    }

    /// From the plane of the pieces of a series on to the bundle's frame.
    fn on(&self, pieces: &Pieces, from: usize) -> Affine {
        let onto =
            (from..self.series.len()).fold(Affine::IDENTITY, |onto, number| self.series[number].onto(pieces.of(number)) * onto);
        self.frame.plane_to_frame() * onto
    }

    /// The creases near a point of the laid cloth that are no side of its layer, as they run on the laid cloth, with the distance to each.
    fn near(&self, laid: Point, within_mm: f64, mut found: impl FnMut(FoldLine, f64)) {
        let (pieces, _) = self.folded(laid);
        let mut at = laid;
        for (number, series) in self.series.iter().enumerate() {
            let piece = pieces.of(number);
            for crease in series.beside(piece).into_iter().flatten() {
                let away_mm = crease.beyond_mm(at).abs();
                if away_mm < within_mm && self.frame.end(&crease.carried(self.on(&pieces, number))).is_none() {
                    found(crease.carried(self.back(&pieces, number)), away_mm);
                }
            }
            at = series.onto(piece) * at;
        }
        if self.lay.is_folded() && laid.x < within_mm && self.frame.end(&garment_fold().carried(self.on(&pieces, 0))).is_none() {
            found(garment_fold(), laid.x.abs());
        }
    }
}

/// Refuses a first bind that lies beyond the bundle's ends.
fn check_first_bind(spec: &FlatFoldSpec, length_mm: f64) -> Result<(), FlatError> {
    match spec.first_bind_mm {
        Some(value_mm) if !(value_mm > 0.0 && value_mm < length_mm) => {
            let field = Field::from("first_bind_mm");
            Err(FlatError::Length { field, value_mm, least_mm: 0.0, most_mm: length_mm })
        }
        _ => Ok(()),
    }
}

/// Refuses half folds that no cloth lies on either side of.
fn check_halves(spec: &FlatFoldSpec, lay: &Lay, creases: &[FoldLine], facets: &[Facet]) -> Result<(), FlatError> {
    let FlatPattern::Halves { half_folds } = &spec.pattern else { return Ok(()) };
    for (number, crease) in creases.iter().enumerate().take(half_folds.len()) {
        let has = |piece: u32| facets.iter().any(|facet| facet.pieces.get(number) == Some(&piece));
        if !(has(0) && has(1)) {
            let (field, at, top) = (Field::from("half_folds.through"), crease.at(), lay.panels().top);
            return Err(FlatError::OffCloth { field, at, top });
        }
    }
    Ok(())
}

impl Bundle for FlatFold {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let (pieces, at) = self.folded(self.lay.as_laid(point));
        let place = self.stack().place(&pieces, self.lay.layer_of(point));
        Some(BundlePoint { along_mm: at.x, across: self.across(at.y), place: f64::from(place) })
    }

    /// A place ends where its piece does.
    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let (pieces, layer) = self.stack().decoded(point.layer());
        let plane = self.frame.frame_to_plane() * Point::new(point.along_mm, point.across * self.frame.size().height);
        let laid = self.series.iter().enumerate().rev().try_fold(plane, |at, (number, series)| {
            let back = series.back(pieces.of(number)) * at;
            series.is_on(pieces.of(number), back).then_some(back)
        })?;
        let is_beyond_the_fold = self.lay.is_folded() && laid.x < -ROUNDING_MM;
        (!is_beyond_the_fold).then(|| self.lay.cloth_at(layer, laid))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.lay.has_cloth(point)
    }

    fn outline(&self, panel: Panel) -> Option<&Outline> {
        self.lay.panels().panel(panel).map(PanelOutline::whole)
    }

    fn extent(&self) -> Extent {
        let pleats = self.series.iter().map(Series::pieces).product();
        Extent { length_mm: self.frame.size().width, pleats, layers: self.lay.layers(), is_closed: false }
    }

    fn cell(&self, along_mm: Range<f64>, _place: u32, across: Range<f64>) -> CellSize {
        let width_mm = self.frame.size().height * (across.end - across.start);
        CellSize { length_mm: along_mm.end - along_mm.start, width_mm }
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        self.ends.map(|edge| self.joined.get(edge?)?.mates.get(place as usize).copied().flatten())
    }

    fn wrapped(&self, place: u32, outward: Vec2) -> u32 {
        let facing = |edge: &FoldLine| edge.normal().dot(outward);
        let edges = self.frame.edges().iter().zip(&self.joined);
        let facing = edges.max_by(|(a, _), (b, _)| facing(a).total_cmp(&facing(b)));
        facing.and_then(|(_, joined)| joined.wrapped.get(place as usize).copied()).unwrap_or(0)
    }

    fn footprint(&self, along_mm: Range<f64>, across: Range<f64>) -> f64 {
        let width_mm = self.frame.size().height;
        self.frame.footprint(along_mm, across.start * width_mm..across.end * width_mm)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let halves = self.lay.centring().halves();
        self.slicers.map(|slicer| {
            let Cut { cloth_mm, area_mm2 } = slicer.measure(along_mm);
            Cut { cloth_mm: halves * cloth_mm, area_mm2: halves * area_mm2 }
        })
    }

    fn creased(&self, point: ClothPoint, within_mm: f64) -> Option<[f64; 2]> {
        let (mut at, stack) = (self.lay.as_laid(point), Stack { layers: 1, ..self.stack() });
        let (pieces, _) = self.folded(at);
        let (own, mut away_mm) = (stack.place(&pieces, 0), [f64::INFINITY; 2]);
        for (number, series) in self.series.iter().enumerate() {
            let piece = pieces.of(number);
            for (crease, beside) in series.beside(piece).into_iter().zip([piece.checked_sub(1), Some(piece + 1)]) {
                let (Some(crease), Some(beside)) = (crease, beside) else { continue };
                let here_mm = crease.beyond_mm(at).abs();
                if here_mm < within_mm {
                    let is_over = is_ridge(own, stack.place(&pieces.with(number, beside), 0), pieces.is_turned());
                    let nearest_mm = &mut away_mm[usize::from(!is_over)];
                    *nearest_mm = nearest_mm.min(here_mm);
                }
            }
            at = series.onto(piece) * at;
        }
        Some(away_mm)
    }

    /// From side to side of its outline.
    fn width_mm(&self, along_mm: f64) -> f64 {
        self.frame.chord_mm(along_mm)
    }

    /// The cloth over each crease that is no side of the layer, and over the garment's fold where that is none.
    fn joins(&self, point: ClothPoint, within_mm: f64) -> Joins {
        let (laid, layer) = (self.lay.as_laid(point), self.lay.layer_of(point));
        let mut nearest = Joins::default();
        self.near(laid, within_mm, |crease, away_mm| {
            let over = if crease == garment_fold() {
                ClothPoint { x_mm: -point.x_mm, ..point }
            } else {
                self.lay.cloth_at(layer, crease.mirror() * laid)
            };
            keep_nearest(&mut nearest, Beyond { point: over, away_mm });
        });
        nearest
    }

    fn has_joins(&self) -> bool {
        let stack = self.stack();
        let is_within = |place| {
            creases_of(&stack, &self.lay, place).iter().any(|crease| {
                crease.mate.is_some() && self.frame.end(&crease.line.carried(self.frame.plane_to_frame())).is_none()
            })
        };
        (0..stack.places()).any(is_within)
    }

    fn open(&self) -> OpenFaces {
        OpenFaces::SLAB
    }

    fn yields(&self) -> f64 {
        0.0
    }
}

impl Fold for FlatFold {
    fn lay(&self) -> &Lay {
        &self.lay
    }

    /// A straight piece on each facet.
    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch> {
        let at = self.frame.frame_to_plane() * Point::new(along_mm, 0.0);
        let across = turned(self.frame.frame_to_plane(), Vec2::new(0.0, 1.0));
        let on_facet = |facet: &Facet| {
            let part = facet.part(long_line(facet.back * at, turned(facet.back, across)), None);
            part.map(|line| self.lay.pieces_on(panels, line)).unwrap_or_default()
        };
        let pieces = self.facets.iter().flat_map(on_facet);
        pieces.filter(|line| (line.p1 - line.p0).hypot() > SHORTEST_MM).map(Stretch::Straight).collect()
    }

    fn along_as_laid_mm(&self, laid: Point) -> f64 {
        self.folded(laid).1.x
    }

    fn creases(&self, from_mm: f64) -> Vec<Crease> {
        Marked { lay: &self.lay, stack: self.stack(), frame: &self.frame, facets: &self.facets }.creases(from_mm)
    }

    /// No string swings about anything.
    fn pins(&self) -> Vec<Pin> {
        Vec::new()
    }
}
