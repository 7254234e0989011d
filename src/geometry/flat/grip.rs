//! A crease in the hand: which one lies near a point of the laid cloth, and which creases keep it under the hand that moves it.

use super::fold::FlatFold;
use super::fold_line::{FoldLine, turned};
use super::lattice::Lattice;
use super::pattern::directions;
use super::spec::{FlatFoldSpec, FlatPattern, HalfFold, MOST_WEDGES, NARROWEST_MM, WedgesFirst};
use super::stack::Pieces;
use crate::geometry::burst::centre_at;
use crate::geometry::{Centre, Fold as _, LARGEST_RADIUS_MM, Lay, Panel};
use kurbo::{Affine, Line, Point, Vec2};
use std::f64::consts::PI;

/// The part of a crease at either end by which it is turned, and the shortest crease that has such ends, mm (own choice).
const END_SHARE: f64 = 1.0 / 6.0;
const SHORTEST_TURNED_MM: f64 = 60.0;
/// A crease nearer than this to where a pattern is laid from lies on it, as a share of the pattern's own size.
const ON_IT: f64 = 1e-6;
/// Angles that attract a turn are multiples of this, degrees, and the straight edges of the garment that are at least so long, mm; how near
/// they attract, degrees (own choice).
const STEP_DEG: f64 = 15.0;
const EDGE_MM: f64 = 80.0;
const ATTRACTED_DEG: f64 = 2.5;
/// Steps in a degree that a turn without attraction is rounded to, and steps in a millimetre for places and sizes.
const PER_DEGREE: f64 = 10.0;
const PER_MM: f64 = 1e3;

/// A crease near a point of the laid cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CreaseNear {
    /// Its number in the order of folding, from 1.
    pub number: u32,
    /// How far from it the point lies, mm.
    pub away_mm: f64,
    /// Whether the point lies near an end of it, by which all creases are turned.
    pub is_end: bool,
    /// The straight stretch of cloth that it runs through there, on the laid cloth.
    pub line: Line,
}

/// What a hand does with a crease.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CreaseMove {
    /// Carries it across itself: what is folded gets wider or narrower.
    Size,
    /// Carries it across itself, and all others with it.
    Slide,
    /// Turns all of them about the middle of the one that is held.
    Turn,
}

/// How a held crease moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CreaseRules {
    /// Sizes and shifts are put on multiples of this, mm; 0 for none.
    pub step_mm: f64,
    /// Whether angles attract.
    pub attracts: bool,
}

/// A crease that is held.
#[derive(Debug, Clone)]
pub struct CreaseGrip {
    spec: FlatFoldSpec,
    lay: Lay,
    pressed: Point,
    hold: Hold,
}

/// What is held, by what the hand changes.
#[derive(Debug, Clone, Copy)]
enum Hold {
    /// A size that a crease's distance from where the pattern is laid from is so many times.
    Size { key: SizeKey, normal: Vec2, times: f64 },
    /// Where the pattern is laid from.
    Slide { from: Point, normal: Vec2 },
    /// Its angle and where it is laid from.
    Turn { from: Point, pivot: Point },
    /// The number of wedges, by the ray of that number about a centre on the garment's fold.
    Wedges { centre: Point, ray: u32 },
    /// The half fold that wedges are counted from.
    WedgesFrom { centre: Point },
    /// One half fold, in the plane as it lies then.
    Half { index: usize, into: Affine, middle: Point, turns: bool },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SizeKey {
    Width,
    Height,
}

impl FlatFold {
    /// The crease that is nearest to a point of the laid cloth (mm), within `within_mm` of it.
    #[must_use]
    pub fn crease_near(&self, laid: Point, within_mm: f64) -> Option<CreaseNear> {
        let (number, crease, away_mm) = self.nearest_crease(laid, within_mm)?;
        let long = super::facet::long_line(crease.at(), crease.direction());
        let along = |at: Point| (at - crease.at()).dot(crease.direction());
        let at = along(laid);
        let beside = |piece: &Line| {
            let [from, to] = [along(piece.p0), along(piece.p1)];
            (at - at.clamp(from.min(to), from.max(to))).abs()
        };
        let pieces = self.lay().pieces_on_cloth(long);
        let line = pieces.into_iter().min_by(|a, b| beside(a).total_cmp(&beside(b)))?;
        let length_mm = (line.p1 - line.p0).hypot();
        let share = (at - along(line.p0)).abs() / length_mm;
        let is_end = length_mm >= SHORTEST_TURNED_MM && !(END_SHARE..=1.0 - END_SHARE).contains(&share);
        Some(CreaseNear { number: self.folds_before(number.0) + number.1 + 1, away_mm, is_end, line })
    }

    /// Takes hold of the crease that is nearest to a point of the laid cloth (mm), within `within_mm` of it.
    #[must_use]
    pub fn grip(&self, laid: Point, within_mm: f64, by: CreaseMove) -> Option<CreaseGrip> {
        let near = self.crease_near(laid, within_mm)?;
        let ((series, index), crease, _) = self.nearest_crease(laid, within_mm)?;
        let middle = near.line.p0.midpoint(near.line.p1);
        let hold = match &self.spec().pattern {
            FlatPattern::Halves { .. } => {
                let (pieces, _) = self.folded(laid);
                Hold::Half { index: series, into: self.before(&pieces, series), middle, turns: by == CreaseMove::Turn }
            }
            &FlatPattern::Wedges { centre, first, .. } => {
                let centre = self.lay().plane_as_laid(centre_at(centre, self.lay().panels()));
                match first {
                    WedgesFirst::OnTheFold => Hold::Wedges { centre, ray: index + 1 },
                    WedgesFirst::HalfFold { .. } => Hold::WedgesFrom { centre },
                }
            }
            pattern => {
                let lattice = Lattice::of(pattern, self.lay())?;
                let key = if series == 1 && lattice.height_mm.is_some() { SizeKey::Height } else { SizeKey::Width };
                let size_mm = lattice.height_mm.filter(|_| key == SizeKey::Height).unwrap_or(lattice.width_mm);
                let normal = crease.normal();
                let times = crease.beyond_mm(lattice.anchor) / -size_mm;
                match by {
                    CreaseMove::Turn => Hold::Turn { from: lattice.corner, pivot: middle },
                    CreaseMove::Size if times.abs() > ON_IT => Hold::Size { key, normal, times },
                    CreaseMove::Size | CreaseMove::Slide => Hold::Slide { from: lattice.corner, normal },
                }
            }
        };
        Some(CreaseGrip { spec: self.spec().clone(), lay: self.lay().clone(), pressed: laid, hold })
    }

    /// A corner of its pattern near the middle of the cloth; none of half folds and wedges.
    #[must_use]
    pub fn corner_on_cloth(&self) -> Option<Point> {
        let lattice = Lattice::of(&self.spec().pattern, self.lay())?;
        let bounds = self.lay().outlines(&Panel::BOTH).map(|outline| outline.bounds()).reduce(|a, b| a.union(b))?;
        Some(rounded(lattice.equal_of(lattice.corner, bounds.center(), self.lay().is_folded())))
    }

    /// Folds of the series before one.
    fn folds_before(&self, series: usize) -> u32 {
        self.series()[..series].iter().map(|series| series.pieces() - 1).sum()
    }

    /// From the laid cloth to the plane in which a series is folded.
    fn before(&self, pieces: &Pieces, series: usize) -> Affine {
        (0..series).fold(Affine::IDENTITY, |onto, number| self.series()[number].onto(pieces.of(number)) * onto)
    }

    /// The series and the place in it of the nearest crease, where it runs on the laid cloth, and how far away, mm.
    fn nearest_crease(&self, laid: Point, within_mm: f64) -> Option<((usize, u32), FoldLine, f64)> {
        let (pieces, _) = self.folded(laid);
        let mut nearest: Option<((usize, u32), FoldLine, f64)> = None;
        let mut at = laid;
        for (number, series) in self.series().iter().enumerate() {
            let piece = pieces.of(number);
            for (crease, index) in series.beside(piece).into_iter().zip([piece.checked_sub(1), Some(piece)]) {
                let (Some(crease), Some(index)) = (crease, index) else { continue };
                let away_mm = crease.beyond_mm(at).abs();
                if away_mm <= nearest.map_or(within_mm, |(_, _, nearest_mm)| nearest_mm) {
                    nearest = Some(((number, index), crease.carried(self.back(&pieces, number)), away_mm));
                }
            }
            at = series.onto(piece) * at;
        }
        nearest
    }
}

impl CreaseGrip {
    /// What the bundle is folded by when the hand has carried the crease to a point of the laid cloth, mm.
    #[must_use]
    pub fn moved(&self, to: Point, rules: CreaseRules) -> FlatFoldSpec {
        let by = to - self.pressed;
        let mut spec = self.spec.clone();
        match self.hold {
            Hold::Size { key, normal, times } => {
                if let Some(size_mm) = sized(&mut spec.pattern, key) {
                    let wanted_mm = on_step(*size_mm + by.dot(normal) / times, rules.step_mm);
                    *size_mm = wanted_mm.clamp(NARROWEST_MM, LARGEST_RADIUS_MM);
                }
            }
            Hold::Slide { from, normal } => {
                let shift_mm = on_step(by.dot(normal), rules.step_mm);
                if shift_mm != 0.0 {
                    self.begin(&mut spec.pattern, from + shift_mm * normal, self.pressed + by);
                }
            }
            Hold::Turn { from, pivot } => {
                let turn_deg = self.turn_deg(pivot, to, rules);
                if let Some(angle_deg) = angle(&mut spec.pattern).filter(|_| turn_deg != 0.0) {
                    *angle_deg = whole_turn(*angle_deg + turn_deg);
                    spec.first_bind_mm = None;
                    self.begin(&mut spec.pattern, Affine::rotate_about(turn_deg.to_radians(), pivot) * from, pivot);
                }
            }
            Hold::Wedges { centre, ray } => {
                if let FlatPattern::Wedges { wedges, .. } = &mut spec.pattern {
                    *wedges = wedges_of(to - centre, ray).unwrap_or(*wedges);
                }
            }
            Hold::WedgesFrom { centre } => {
                let turn_deg = self.turn_deg(centre, to, rules);
                if let FlatPattern::Wedges { first: WedgesFirst::HalfFold { angle_deg }, .. } = &mut spec.pattern {
                    *angle_deg = whole_turn(*angle_deg + turn_deg);
                }
            }
            Hold::Half { index, into, middle, turns } => {
                let turn_deg = if turns { self.turned_within(into, middle, to, rules) } else { 0.0 };
                if let FlatPattern::Halves { half_folds } = &mut spec.pattern
                    && let Some(fold) = half_folds.get_mut(index)
                {
                    self.half(fold, into * middle, if turns { Vec2::ZERO } else { turned(into, by) }, turn_deg, rules);
                }
            }
        }
        spec
    }

    /// Puts a half fold through a point of its plane, carried across itself or turned.
    fn half(&self, fold: &mut HalfFold, middle: Point, by: Vec2, turn_deg: f64, rules: CreaseRules) {
        let [_, normal] = directions(fold.angle_deg.to_radians());
        let shift_mm = on_step(by.dot(normal), rules.step_mm);
        if shift_mm != 0.0 || turn_deg != 0.0 {
            fold.through = fold.through.put(rounded(middle + shift_mm * normal), self.lay.panels());
            fold.angle_deg = whole_turn(fold.angle_deg + turn_deg);
        }
    }

    /// Lays a pattern from a corner: the one of its equals that is nearest to a point and on cloth's side of the fold.
    fn begin(&self, pattern: &mut FlatPattern, corner: Point, near: Point) {
        let Some(lattice) = Lattice::of(pattern, &self.lay) else { return };
        let at = rounded(lattice.equal_of(corner, near, self.lay.is_folded()));
        let (FlatPattern::Stripes { start, .. } | FlatPattern::Squares { start, .. } | FlatPattern::Triangles { start, .. }) =
            pattern
        else {
            return;
        };
        let like = start.unwrap_or(Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.0 });
        *start = Some(like.put(at, self.lay.panels()));
    }

    /// By how much the hand has turned what it holds about a point of the laid cloth, degrees.
    fn turn_deg(&self, about: Point, to: Point, rules: CreaseRules) -> f64 {
        self.turned_within(Affine::IDENTITY, about, to, rules)
    }

    /// The same in a plane that the laid cloth is carried into.
    fn turned_within(&self, into: Affine, about: Point, to: Point, rules: CreaseRules) -> f64 {
        let [before, after] = [self.pressed, to].map(|at| turned(into, at - about));
        let turn_deg = before.cross(after).atan2(before.dot(after)).to_degrees();
        let now_deg = self.angle_deg();
        let wanted_deg = now_deg + turn_deg;
        if !rules.attracts {
            return (wanted_deg * PER_DEGREE).round() / PER_DEGREE - now_deg;
        }
        let away = |deg: &f64| within_half(wanted_deg - deg, self.alike_deg()).abs();
        let multiple_deg = (wanted_deg / STEP_DEG).round() * STEP_DEG;
        let edges = edges_deg(&self.lay).into_iter().filter(|_| into == Affine::IDENTITY);
        let attracting = edges.chain([multiple_deg]).min_by(|a, b| away(a).total_cmp(&away(b)));
        match attracting.filter(|deg| away(deg) <= ATTRACTED_DEG) {
            Some(deg) => turn_deg - within_half(wanted_deg - deg, self.alike_deg()),
            None => wanted_deg.round() - now_deg,
        }
    }

    /// The angle that the hand turns, degrees.
    fn angle_deg(&self) -> f64 {
        match (&self.spec.pattern, self.hold) {
            (FlatPattern::Halves { half_folds }, Hold::Half { index, .. }) => {
                half_folds.get(index).map_or(0.0, |fold| fold.angle_deg)
            }
            (FlatPattern::Wedges { first: WedgesFirst::HalfFold { angle_deg }, .. }, _) => *angle_deg,
            (pattern, _) => angle(&mut pattern.clone()).copied().unwrap_or(0.0),
        }
    }

    /// A turn by which some crease lies where another one did, degrees: an edge of the garment attracts any of them.
    fn alike_deg(&self) -> f64 {
        match &self.spec.pattern {
            FlatPattern::Squares { .. } => 90.0,
            FlatPattern::Triangles { triangle: super::spec::Triangle::Right, .. } => 45.0,
            FlatPattern::Triangles { .. } => 60.0,
            _ => 180.0,
        }
    }
}

/// The size of a pattern that a hand changes; half folds and wedges have none.
fn sized(pattern: &mut FlatPattern, key: SizeKey) -> Option<&mut f64> {
    match (pattern, key) {
        (FlatPattern::Squares { height_mm, .. }, SizeKey::Height) => Some(height_mm),
        (
            FlatPattern::Stripes { width_mm, .. }
            | FlatPattern::Squares { width_mm, .. }
            | FlatPattern::Triangles { width_mm, .. },
            _,
        ) => Some(width_mm),
        (FlatPattern::Halves { .. } | FlatPattern::Wedges { .. }, _) => None,
    }
}

/// The angle of a strip's pattern, degrees.
fn angle(pattern: &mut FlatPattern) -> Option<&mut f64> {
    match pattern {
        FlatPattern::Stripes { angle_deg, .. }
        | FlatPattern::Squares { angle_deg, .. }
        | FlatPattern::Triangles { angle_deg, .. } => Some(angle_deg),
        FlatPattern::Halves { .. } | FlatPattern::Wedges { .. } => None,
    }
}

/// The even number of wedges whose ray of a number, counted from straight up, comes nearest to a direction.
fn wedges_of(toward: Vec2, ray: u32) -> Option<u32> {
    let angle_rad = toward.x.atan2(-toward.y);
    if angle_rad <= 0.0 {
        return None;
    }
    let pairs = PI * f64::from(ray) / angle_rad;
    let fewest = f64::from(ray) + 1.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between two small ones")]
    let pairs = pairs.round().clamp(fewest.min(f64::from(MOST_WEDGES / 2)), f64::from(MOST_WEDGES / 2)) as u32;
    Some(2 * pairs)
}

/// The directions of the laid cloth's long straight edges, degrees clockwise from straight up.
fn edges_deg(lay: &Lay) -> Vec<f64> {
    let segments = lay.outlines(&Panel::BOTH).flat_map(|outline| outline.segments());
    let straight =
        segments.filter_map(|segment| if let kurbo::PathSeg::Line(line) = segment { Some(line.p1 - line.p0) } else { None });
    straight.filter(|run| run.hypot() >= EDGE_MM).map(|run| run.x.atan2(-run.y).to_degrees()).collect()
}

/// What is left of an angle after whole multiples of another, between its halves, degrees.
fn within_half(deg: f64, whole_deg: f64) -> f64 {
    deg - (deg / whole_deg).round() * whole_deg
}

/// An angle within half a turn either way, degrees, without the last digits' errors of a sum.
fn whole_turn(deg: f64) -> f64 {
    let deg = (deg * 1e6).round() / 1e6;
    if deg.abs() <= 180.0 { deg } else { within_half(deg, 360.0) }
}

fn rounded(at: Point) -> Point {
    Point::new((at.x * PER_MM).round() / PER_MM, (at.y * PER_MM).round() / PER_MM)
}

fn on_step(value_mm: f64, step_mm: f64) -> f64 {
    if step_mm > 0.0 { (value_mm / step_mm).round() * step_mm } else { (value_mm * PER_MM).round() / PER_MM }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Centring, Pack, PanelSet, Triangle};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    const FREE: CreaseRules = CreaseRules { step_mm: 0.0, attracts: false };

    fn tee() -> PanelSet {
        parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().panels().clone()
    }

    fn fold(pattern: FlatPattern, centring: Centring) -> FlatFold {
        let spec = FlatFoldSpec { centring, pattern, pack: Pack::Zigzag, along_turn_deg: 0.0, first_bind_mm: None };
        FlatFold::new(&spec, tee(), 0.3).unwrap()
    }

    fn again(spec: &FlatFoldSpec) -> FlatFold {
        FlatFold::new(spec, tee(), 0.3).unwrap()
    }

    fn strips(start: Option<Centre>) -> Vec<FlatPattern> {
        let triangles = |triangle, width_mm| FlatPattern::Triangles { triangle, width_mm, angle_deg: 7.0, start };
        vec![
            FlatPattern::Stripes { width_mm: 90.0, angle_deg: 65.0, start },
            FlatPattern::Squares { width_mm: 110.0, height_mm: 80.0, angle_deg: 20.0, start },
            triangles(Triangle::Equilateral, 120.0),
            triangles(Triangle::Right, 115.0),
        ]
    }

    /// Points on creases of the laid cloth, not at their ends.
    fn presses(fold: &FlatFold) -> Vec<Point> {
        let creases = fold.creases(0.0).into_iter().filter(|crease| (crease.line.p1 - crease.line.p0).hypot() > 40.0);
        creases.step_by(2).map(|crease| crease.line.p0.lerp(crease.line.p1, 0.43)).collect()
    }

    const GIVEN: Centre = Centre::BelowShoulder { from_centre_line_mm: 97.0, below_shoulder_mm: 301.0 };

    /// Whatever pattern, wherever it is laid from, whatever is done: a crease lies under the hand afterwards, and nothing else has changed.
    #[test]
    fn what_a_hand_holds_stays_under_it() {
        let mut held = 0;
        for pattern in strips(None).into_iter().chain(strips(Some(GIVEN))) {
            for centring in [Centring::Nested, Centring::Open] {
                let fold = fold(pattern.clone(), centring);
                for pressed in presses(&fold) {
                    for by in [CreaseMove::Size, CreaseMove::Slide, CreaseMove::Turn] {
                        let grip = fold.grip(pressed, 1.0, by).unwrap();
                        let to = pressed + Vec2::new(3.0, 4.0);
                        let moved = grip.moved(to, FREE);
                        let near = again(&moved).crease_near(to, 3.0).unwrap_or_else(|| panic!("{pattern:?} {by:?} {pressed:?}"));
                        // A tenth of a degree on an arm of 250 mm; a thousandth of a millimetre on the twentieth crease.
                        let most_mm = if by == CreaseMove::Turn { 0.45 } else { 0.03 };
                        assert!(near.away_mm < most_mm, "{pattern:?} {by:?} {pressed:?}: {}", near.away_mm);
                        held += 1;
                    }
                }
            }
        }
        assert!(held > 250, "{held}");
    }

    /// A pattern that slides keeps its sizes, one that is resized its angle, and one that turns both sizes.
    #[test]
    fn a_hand_changes_one_thing() {
        let fold = fold(FlatPattern::Stripes { width_mm: 90.0, angle_deg: 90.0, start: None }, Centring::Nested);
        // The third crease from the cloth's edge.
        let pressed =
            presses(&fold).into_iter().find(|at| fold.crease_near(*at, 1.0).is_some_and(|near| near.number == 3)).unwrap();
        let to = pressed + Vec2::new(0.0, 30.0);
        let moved = |by, rules| fold.grip(pressed, 1.0, by).unwrap().moved(to, rules).pattern;
        let stripes = |width_mm, angle_deg, start| FlatPattern::Stripes { width_mm, angle_deg, start };
        assert_eq!(moved(CreaseMove::Size, FREE), stripes(100.0, 90.0, None));
        assert_eq!(moved(CreaseMove::Size, CreaseRules { step_mm: 8.0, attracts: true }), stripes(104.0, 90.0, None));
        let FlatPattern::Stripes { width_mm, angle_deg, start } = moved(CreaseMove::Slide, FREE) else { panic!("stripes") };
        assert!(width_mm == 90.0 && angle_deg == 90.0 && start.is_some());
    }

    /// A turn is drawn to multiples of 15 degrees, else to whole ones; freely to tenths.
    #[test]
    fn turns_are_attracted() {
        let fold = fold(FlatPattern::Stripes { width_mm: 90.0, angle_deg: 90.0, start: None }, Centring::Open);
        let line = fold.crease_near(Point::new(0.0, 0.0) + Vec2::new(0.0, presses(&fold)[0].y), 1.0).unwrap().line;
        let (middle, end) = (line.p0.midpoint(line.p1), line.p1);
        let grip = fold.grip(end, 1.0, CreaseMove::Turn).unwrap();
        let turned = |deg: f64, attracts| {
            let to = Affine::rotate_about(deg.to_radians(), middle) * end;
            let FlatPattern::Stripes { angle_deg, .. } = grip.moved(to, CreaseRules { step_mm: 1.0, attracts }).pattern else {
                panic!("stripes")
            };
            angle_deg
        };
        assert_eq!(turned(13.9, true), 105.0);
        assert_eq!(turned(13.94, false), 103.9);
        assert_eq!(turned(-29.0, true), 60.0);
        assert_eq!(turned(0.6, true), 90.0);
    }

    /// Wedges laid from the fold get another number; those of a half fold of their own turn.
    #[test]
    fn wedges_are_counted_or_turned() {
        let centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 350.0 };
        let wedges = |wedges, first| FlatPattern::Wedges { wedges, centre, first };
        let at = |deg: f64, mm: f64| Point::new(0.0, 350.0) + mm * directions(deg.to_radians())[0];
        let on_fold = fold(wedges(8, WedgesFirst::OnTheFold), Centring::Nested);
        let grip = on_fold.grip(at(90.0, 120.0), 1.0, CreaseMove::Size).unwrap();
        assert_eq!(grip.moved(at(59.0, 120.0), FREE).pattern, wedges(12, WedgesFirst::OnTheFold), "the second ray of 60 degrees");
        assert_eq!(grip.moved(at(1.0, 120.0), FREE).pattern, wedges(72, WedgesFirst::OnTheFold));
        assert_eq!(grip.moved(at(179.0, 120.0), FREE).pattern, wedges(6, WedgesFirst::OnTheFold));
        let own = fold(wedges(8, WedgesFirst::HalfFold { angle_deg: 0.0 }), Centring::Open);
        let grip = own.grip(at(45.0, 120.0), 1.0, CreaseMove::Turn).unwrap();
        let turned = grip.moved(at(62.0, 120.0), CreaseRules { step_mm: 1.0, attracts: true });
        assert_eq!(turned.pattern, wedges(8, WedgesFirst::HalfFold { angle_deg: 15.0 }));
    }

    /// A second half fold is held on either side of the first, where it shows twice.
    #[test]
    fn half_folds_are_carried_and_turned() {
        let through = |x: f64, y: f64| Centre::BelowShoulder { from_centre_line_mm: x, below_shoulder_mm: y };
        let half = |through, angle_deg| HalfFold { through, angle_deg };
        let folds = vec![half(through(0.0, 350.0), 90.0), half(through(100.0, 200.0), 0.0)];
        let fold = fold(FlatPattern::Halves { half_folds: folds.clone() }, Centring::Open);
        for y in [250.0, 450.0] {
            let pressed = Point::new(100.0, y);
            let moved = fold.grip(pressed, 1.0, CreaseMove::Size).unwrap().moved(pressed + Vec2::new(12.0, 3.0), FREE);
            let FlatPattern::Halves { half_folds } = &moved.pattern else { panic!("halves") };
            assert_eq!(half_folds[0], folds[0]);
            assert!(again(&moved).crease_near(pressed + Vec2::new(12.0, 0.0), 1.0).unwrap().away_mm < 1e-6, "{half_folds:?}");
        }
    }
}
