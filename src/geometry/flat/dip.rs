//! The parts of a flat bundle that go into dye: an edge, a corner or a flat of it, lowered so deep.

use super::clip::{Loops, near_side};
use super::dip_error::DipError;
use super::dip_part::DipPart;
use super::fold::FlatFold;
use super::fold_line::FoldLine;
use super::frame::{convex, polygon_area};
use crate::geometry::{BundlePoint, Panel, PanelPair};
use kurbo::{Point, Rect, Vec2};
use std::ops::Range;

/// What of a flat bundle lies in dye.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DipZone {
    below: Below,
    width_mm: f64,
}

/// What the surface of the dye cuts off.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Below {
    /// All layers beyond a line of the bundle's frame, which is the near side of this one.
    Line(FoldLine),
    /// All of these places.
    Places { from: f64, to: f64 },
}

/// Least depth of a dip, mm: a bundle's edge is no straighter (own choice).
const LEAST_MM: f64 = 1.0;

impl FlatFold {
    /// All that can be dipped: the edges of its outline, its corners, its two flats.
    #[must_use]
    pub fn dip_parts(&self) -> Vec<DipPart> {
        let corners = 1..=u32::try_from(self.outline().len()).unwrap_or(u32::MAX);
        let edges = corners.clone().map(DipPart::Edge);
        edges.chain(corners.map(DipPart::Corner)).chain([DipPart::Top, DipPart::Underside]).collect()
    }

    /// Where a part of its outline is named: a corner there, an edge in its middle; nothing of a flat, or of what the bundle lacks.
    #[must_use]
    pub fn part_place(&self, part: DipPart) -> Option<Point> {
        let corners = self.outline();
        let corner = |number: u32| corners.get(usize::try_from(number).ok()?.checked_sub(1)?).copied();
        match part {
            DipPart::Corner(number) => corner(number),
            DipPart::Edge(number) => Some(corner(number)?.midpoint(corner(number + 1).or_else(|| corner(1))?)),
            DipPart::Top | DipPart::Underside => None,
        }
    }

    /// Lowers a part of it into dye, `depth_mm` deep: an edge level, a corner with its two edges equally steep, a flat lying. Of layers
    /// `layer_mm` thick as many lie in dye as are so thick together.
    ///
    /// # Errors
    /// [`DipError`]: a part that the bundle lacks, or a depth of less than a millimetre or more than the bundle.
    pub fn dip(&self, part: DipPart, depth_mm: f64, layer_mm: f64) -> Result<DipZone, DipError> {
        let (width_mm, places) = (self.size().height, f64::from(self.stack().places()));
        let (most_mm, down) = match part {
            DipPart::Top | DipPart::Underside => (places * layer_mm, None),
            DipPart::Edge(number) | DipPart::Corner(number) => {
                let most = u32::try_from(self.outline().len()).unwrap_or(u32::MAX);
                let down = self.down(part).ok_or(DipError::NoSuchPart { part, number, most })?;
                let depths = self.outline().iter().map(|corner| corner.to_vec2().dot(down));
                let (least, lowest) =
                    depths.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), depth| (a.min(depth), b.max(depth)));
                (lowest - least, Some((down, lowest)))
            }
        };
        if !(LEAST_MM..=most_mm).contains(&depth_mm) {
            return Err(DipError::Depth { value_mm: depth_mm, least_mm: LEAST_MM, most_mm });
        }
        let below = match (part, down) {
            (_, Some((down, lowest))) => Below::Line(FoldLine::new(((lowest - depth_mm) * down).to_point(), -down)),
            (DipPart::Top, None) => Below::Places { from: places - depth_mm / layer_mm, to: places },
            (_, None) => Below::Places { from: 0.0, to: depth_mm / layer_mm },
        };
        Ok(DipZone { below, width_mm })
    }

    /// The direction in the bundle's frame that points down when a part of its outline is lowered, of length 1.
    fn down(&self, part: DipPart) -> Option<Vec2> {
        let corners = self.outline();
        let outward = |edge: usize| {
            let along = corners[(edge + 1) % corners.len()] - corners[edge % corners.len()];
            Vec2::new(along.y, -along.x).normalize()
        };
        // The outline runs with its cloth to the right in a frame whose `y` points down.
        let index = |number: u32| Some(number.checked_sub(1)? as usize).filter(|&index| index < corners.len());
        match part {
            DipPart::Edge(number) => index(number).map(outward),
            DipPart::Corner(number) => index(number).map(|corner| {
                let [before, after] = [corner + corners.len() - 1, corner].map(outward);
                (before + after).normalize()
            }),
            DipPart::Top | DipPart::Underside => None,
        }
    }

    /// The cloth of all layers that lies in dye, mm2, by panel: each facet's part beyond the line, exactly, or all of it by its place.
    #[must_use]
    pub fn dipped_mm2(&self, zone: &DipZone) -> PanelPair<f64> {
        let halves = self.halves();
        match zone.below {
            Below::Line(line) => {
                let mut held = PanelPair::<f64>::default();
                for facet in self.facets_in_frame() {
                    held.front += halves * area_mm2(&near_side(&facet.front, &line));
                    held.back += halves * area_mm2(&near_side(&facet.back, &line));
                }
                held
            }
            Below::Places { .. } => {
                let mut held = PanelPair::<f64>::default();
                for (pieces, cloth) in self.facets_of_pieces() {
                    for (layer, panel) in self.layer_panels() {
                        let share = zone.share_of_place(self.stack().place(&pieces, layer));
                        let own_mm2 = share * area_mm2(cloth.of(panel));
                        match panel {
                            Panel::Front => held.front += own_mm2,
                            Panel::Back => held.back += own_mm2,
                        }
                    }
                }
                held
            }
        }
    }

    /// The cloth of all layers that lies in none of these, mm2: what of each facet is on the dry side of all their lines, in the places that
    /// none of them takes. What lies in two of them counts once.
    #[must_use]
    pub fn undipped_mm2(&self, zones: &[DipZone]) -> f64 {
        let lines: Vec<FoldLine> = zones.iter().filter_map(DipZone::line).collect();
        let dry = |loops: &Loops| area_mm2(&lines.iter().fold(loops.clone(), |left, line| near_side(&left, &line.reversed())));
        let mut dry_mm2 = 0.0;
        for ((pieces, _), facet) in self.facets_of_pieces().zip(self.facets_in_frame()) {
            let panels_mm2 = facet.map(dry);
            for (layer, panel) in self.layer_panels() {
                let place = self.stack().place(&pieces, layer);
                dry_mm2 += dry_share(zones, place) * panels_mm2.of(panel);
            }
        }
        dry_mm2
    }

    /// The corners of what of its outline lies in dye, seen from above: all of it where a flat does.
    #[must_use]
    pub fn in_dye(&self, zone: &DipZone) -> Vec<Point> {
        match zone.below {
            Below::Line(line) => {
                let lines: Vec<FoldLine> = self.frame_edges().iter().copied().chain([line]).collect();
                convex(Rect::from_origin_size(Point::ORIGIN, self.size()), &lines)
            }
            Below::Places { .. } => self.outline().to_vec(),
        }
    }
}

impl DipZone {
    /// The share of a cell of a place that lies in dye: between two distances along the bundle (mm) and two shares across.
    #[must_use]
    pub fn share(&self, along_mm: Range<f64>, across: Range<f64>, place: u32) -> f64 {
        match self.below {
            Below::Line(line) => {
                let cell = Rect::new(along_mm.start, across.start * self.width_mm, along_mm.end, across.end * self.width_mm);
                let corners = [(cell.x0, cell.y0), (cell.x1, cell.y0), (cell.x1, cell.y1), (cell.x0, cell.y1)];
                let beyond_mm = corners.map(|corner| line.beyond_mm(corner.into()));
                if beyond_mm.iter().all(|&beyond_mm| beyond_mm <= 0.0) {
                    return 1.0;
                }
                if beyond_mm.iter().all(|&beyond_mm| beyond_mm >= 0.0) {
                    return 0.0;
                }
                (polygon_area(&convex(cell, &[line])) / cell.area()).clamp(0.0, 1.0)
            }
            Below::Places { .. } => self.share_of_place(place),
        }
    }

    /// Whether a place of the bundle lies in dye; of a flat, whether more of its layer does than not.
    #[must_use]
    pub fn holds(&self, at: BundlePoint) -> bool {
        match self.below {
            Below::Line(line) => line.beyond_mm(Point::new(at.along_mm, at.across * self.width_mm)) <= 0.0,
            Below::Places { .. } => self.share_of_place(at.layer()) > 0.5,
        }
    }

    /// The line whose near side lies in dye, where that is what lies there.
    fn line(&self) -> Option<FoldLine> {
        match self.below {
            Below::Line(line) => Some(line),
            Below::Places { .. } => None,
        }
    }

    fn share_of_place(&self, place: u32) -> f64 {
        let Below::Places { from, to } = self.below else { return 0.0 };
        let below = f64::from(place);
        ((below + 1.0).min(to) - below.max(from)).clamp(0.0, 1.0)
    }
}

/// The share of a place's thickness that none of these takes.
fn dry_share(zones: &[DipZone], place: u32) -> f64 {
    let [below, above] = [f64::from(place), f64::from(place) + 1.0];
    let taken = zones.iter().filter_map(|zone| match zone.below {
        Below::Places { from, to } => Some([from.clamp(below, above), to.clamp(below, above)]),
        Below::Line(_) => None,
    });
    let mut taken: Vec<[f64; 2]> = taken.collect();
    taken.sort_by(|one, other| one[0].total_cmp(&other[0]));
    let (dry, dry_from) = taken.iter().fold((0.0, below), |(dry, at), [from, to]| (dry + (from - at).max(0.0), at.max(*to)));
    dry + (above - dry_from)
}

fn area_mm2(loops: &Loops) -> f64 {
    loops.iter().flatten().map(kurbo::ParamCurveArea::signed_area).sum::<f64>().abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Centre, Centring, FlatFoldSpec, FlatPattern, Pack, PanelOutline, PanelSet, Top, Triangle};

    /// A cloth of one layer, 400 by 400 mm.
    fn folded(pattern: FlatPattern) -> FlatFold {
        let mut profile = kurbo::BezPath::new();
        profile.move_to((0.0, 0.0));
        [(200.0, 0.0), (200.0, 400.0), (0.0, 400.0)].into_iter().for_each(|corner| profile.line_to(corner));
        let panels = PanelSet { front: PanelOutline::from_half_profile(&profile).unwrap(), back: None, top: Top::UpperEdge };
        let (pack, along_turn_deg, first_bind_mm) = (Pack::Zigzag, 0.0, None);
        FlatFold::new(&FlatFoldSpec { centring: Centring::Open, pattern, pack, along_turn_deg, first_bind_mm }, panels, 0.6)
            .unwrap()
    }

    fn squares() -> FlatFold {
        let start = Some(Centre::BelowShoulder { from_centre_line_mm: -200.0, below_shoulder_mm: 0.0 });
        folded(FlatPattern::Squares { width_mm: 100.0, height_mm: 100.0, angle_deg: 0.0, start })
    }

    /// Sixteen layers of a square of 100 mm: an edge lowered by 20 mm is a strip of 100 by 20 in each, a corner lowered by `d` along its
    /// bisector a right triangle of the area `d^2` (legs `d sqrt 2`), a flat whole layers.
    #[test]
    fn what_is_lowered_is_so_much_cloth() {
        let fold = squares();
        let whole_mm2 = |part, depth_mm| {
            let zone = fold.dip(part, depth_mm, 0.5).unwrap();
            let pair = fold.dipped_mm2(&zone);
            assert_eq!(pair.back, 0.0);
            pair.front
        };
        for number in 1..=4 {
            let (edge, corner) = (whole_mm2(DipPart::Edge(number), 20.0), whole_mm2(DipPart::Corner(number), 30.0));
            assert!((edge - 16.0 * 100.0 * 20.0).abs() < 1e-6, "{edge}");
            assert!((corner - 16.0 * 900.0).abs() < 1e-6, "{corner}");
        }
        for part in [DipPart::Top, DipPart::Underside] {
            assert!((whole_mm2(part, 1.25) - 2.5 * 10_000.0).abs() < 1e-6);
        }
        assert_eq!(fold.dip_parts().len(), 10);
    }

    /// Cells add up to the part of the outline that lies in dye, which is that of the layers'.
    /// Of a rectangle of `w` by `h` two edges beside each other leave `(w - a) (h - b)`, in the layers that a flat leaves.
    #[test]
    fn what_lies_in_two_dips_counts_once() {
        let fold = squares();
        let (size, layers) = (fold.size(), f64::from(fold.stack().places()));
        let dip = |part, depth_mm| fold.dip(part, depth_mm, 0.5).unwrap();
        let edges = [dip(DipPart::Edge(1), 20.0), dip(DipPart::Edge(2), 30.0)];
        let across_mm = [size.width, size.height];
        let left = |a: f64, b: f64| (across_mm[0] - a) * (across_mm[1] - b);
        let found = fold.undipped_mm2(&edges) / layers;
        let wanted = [left(20.0, 30.0), left(30.0, 20.0)];
        assert!(wanted.iter().any(|wanted| (found / wanted - 1.0).abs() < 1e-9), "{found} of {wanted:?}");
        let whole = fold.undipped_mm2(&[]);
        assert!((whole / (layers * left(0.0, 0.0)) - 1.0).abs() < 1e-9);
        // Three layers, and two of them again, from above: what both take counts once.
        let flats = [dip(DipPart::Top, 1.5), dip(DipPart::Top, 1.0)];
        assert!((fold.undipped_mm2(&flats) / whole - (layers - 3.0) / layers).abs() < 1e-9);
        let one = fold.dipped_mm2(&edges[0]).sum() + fold.undipped_mm2(&edges[..1]);
        assert!((one / whole - 1.0).abs() < 1e-9, "a dip and the rest are all");
    }

    #[test]
    fn cells_hold_what_lies_in_dye() {
        let start = Some(Centre::BelowShoulder { from_centre_line_mm: -200.0, below_shoulder_mm: 0.0 });
        let triangle = Triangle::Equilateral;
        let fold = folded(FlatPattern::Triangles { triangle, width_mm: 100.0, angle_deg: 0.0, start });
        let corners = u32::try_from(fold.outline().len()).unwrap();
        assert_eq!(corners, 3);
        for part in (1..=corners).flat_map(|number| [DipPart::Edge(number), DipPart::Corner(number)]) {
            let zone = fold.dip(part, 25.0, 0.5).unwrap();
            let in_dye = fold.in_dye(&zone);
            let (size, count) = (fold.size(), 200_u32);
            let mut held_mm2 = 0.0;
            for along in 0..count {
                for across in 0..count {
                    let [from, to] = [along, along + 1].map(|k| f64::from(k) / f64::from(count));
                    let [near, far] = [across, across + 1].map(|k| f64::from(k) / f64::from(count));
                    let within = crate::geometry::Bundle::footprint(&fold, from * size.width..to * size.width, near..far);
                    let cell_mm2 = (to - from) * size.width * (far - near) * size.height;
                    held_mm2 += within * zone.share(from * size.width..to * size.width, near..far, 0) * cell_mm2;
                }
            }
            let outline_mm2 = polygon_area(&in_dye).abs();
            assert!((held_mm2 / outline_mm2 - 1.0).abs() < 0.01, "{part}: {held_mm2} of {outline_mm2}");
            // By the formulas of an equilateral triangle of 100 mm height: its side is 115.470 mm.
            let side_mm = 200.0 / 3.0_f64.sqrt();
            let expected_mm2 = match part {
                DipPart::Edge(_) => side_mm * 25.0 - 25.0 * 25.0 / 3.0_f64.sqrt(),
                _ => 25.0 * 25.0 / 3.0_f64.sqrt(),
            };
            assert!((outline_mm2 / expected_mm2 - 1.0).abs() < 1e-9, "{part}: {outline_mm2} for {expected_mm2}");
        }
    }

    /// What can't be dipped is refused.
    #[test]
    fn a_part_that_is_not_there_is_refused() {
        let fold = squares();
        let refused = |part, depth_mm| fold.dip(part, depth_mm, 0.5).unwrap_err();
        assert_eq!(refused(DipPart::Corner(5), 20.0), DipError::NoSuchPart { part: DipPart::Corner(5), number: 5, most: 4 });
        assert_eq!(refused(DipPart::Edge(0), 20.0), DipError::NoSuchPart { part: DipPart::Edge(0), number: 0, most: 4 });
        assert!(matches!(refused(DipPart::Edge(1), 101.0), DipError::Depth { most_mm, .. } if (most_mm - 100.0).abs() < 1e-9));
        assert!(matches!(refused(DipPart::Top, f64::NAN), DipError::Depth { .. }));
    }
}
