//! The rod taken apart layer by layer: each place of the stack as it lies in the rod, and the strip of the cloth that it is.

use super::colour::DyeSet;
use super::grid::{RodGrid, between};
use super::laid::LaidFold;
use super::picture::{Painter, Picture, Pixels};
use super::table::for_lanes;
use super::unfold::ShareTable;
use super::{PictureMap, Reveal};
use crate::geometry::{Bundle as _, BundlePoint, ClothPoint, Panel};
use kurbo::Point;
use rayon::prelude::*;
use std::ops::RangeInclusive;

/// Where the pixels of a layer's picture lie in the rod: along it from the tip at the left, across the pleat with `across` 1 above, in
/// the rod's own width, its middle half-way down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayerFrame {
    /// Pixels along the rod.
    pub width: usize,
    /// Pixels across it.
    pub height: usize,
    /// Edge of a pixel, mm.
    pub pixel_mm: f64,
}

/// A strip of the cloth: what one place of the stack is of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothStrip {
    /// The panel.
    pub panel: Panel,
    /// Points of it in the garment's frame, mm: row by row along the rod, in each from the crease where `across` is 0 to the one where
    /// it is 1. They cover the strip and go on beyond the cloth's edge.
    pub rows: Vec<Vec<Point>>,
    /// Pieces of the two creases that lie on cloth.
    pub creases: Vec<(Point, Point)>,
    /// Share of the rod's cloth that it is, 0 to 1.
    pub share: f64,
}

/// From row to row of a strip, mm.
const ROW_MM: f64 = 3.0;
/// Points of a row.
const ACROSS: u32 = 8;
/// How far a strip goes on beyond the rod's end, mm: further than the hand strays.
const BEYOND_MM: f64 = 8.0;

impl Reveal {
    /// Places of the stack: layers of cloth where all of them are there.
    #[must_use]
    pub fn places(&self) -> u32 {
        self.layout().fold().places()
    }

    /// Extent of the rod across the pleats at a distance along it, mm: pinched by the binds.
    #[must_use]
    pub fn rod_width_mm(&self, along_mm: f64) -> f64 {
        width_mm(&self.rod.grid, along_mm)
    }

    /// The point of the cloth's plane that lies at a place of the rod, as the hand laid it; `None` where the layer has ended. Whether
    /// there is cloth, the picture of the layer shows.
    #[must_use]
    pub fn cloth_at(&self, rod: BundlePoint) -> Option<ClothPoint> {
        self.laid().to_cloth(rod)
    }

    fn laid(&self) -> LaidFold<'_> {
        LaidFold::new(self.layout().fold(), &self.layout().process().hand)
    }

    /// A frame that holds the whole rod; the pixel is held between 0.1 and 50 mm.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive number of pixels; casts saturate")]
    pub fn layer_frame(&self, pixel_mm: f64) -> LayerFrame {
        let pixel_mm = pixel_mm.clamp(0.1, 50.0);
        let grid = &self.rod.grid;
        let widest_mm = (0..grid.shape().slabs()).map(|slab| grid.section(slab).width_mm).fold(0.0, f64::max);
        let pixels = |length_mm: f64| (length_mm / pixel_mm).ceil().max(1.0) as usize;
        LayerFrame { width: pixels(self.layout().fold().length_mm()), height: pixels(widest_mm), pixel_mm }
    }

    /// The place of the rod in the middle of a pixel of a layer, and how much of the pixel is within the rod's width, 0 to 1.
    #[must_use]
    pub fn in_layer(&self, frame: &LayerFrame, place: u32, column: usize, row: usize) -> (BundlePoint, f64) {
        let along_mm = (column as f64 + 0.5) * frame.pixel_mm;
        let width_mm = self.rod_width_mm(along_mm);
        let up_mm = (0.5 * frame.height as f64 - row as f64 - 0.5) * frame.pixel_mm;
        let within = ((0.5 * width_mm - up_mm.abs()) / frame.pixel_mm + 0.5).clamp(0.0, 1.0);
        (BundlePoint { along_mm, across: (0.5 + up_mm / width_mm).clamp(0.0, 1.0), place: f64::from(place) }, within)
    }

    /// The picture of a place of the stack as it lies in the rod: the map's colours, flat, that the opened cloth shows. Where the place
    /// has no cloth, and outside the rod, it shows nothing.
    #[must_use]
    pub fn layer(&self, place: u32, frame: &LayerFrame, colours: &DyeSet, map: PictureMap) -> Picture {
        let place = place.min(self.places().saturating_sub(1));
        self.seen(place..=place, frame, &Painter::new(self, colours, map))
    }

    /// The picture of the whole rod from above: of every spot the topmost place that has cloth there.
    #[must_use]
    pub fn rod_from_above(&self, frame: &LayerFrame, colours: &DyeSet, map: PictureMap) -> Picture {
        self.seen(0..=self.places().saturating_sub(1), frame, &Painter::new(self, colours, map))
    }

    fn seen(&self, places: RangeInclusive<u32>, frame: &LayerFrame, painter: &Painter<'_>) -> Picture {
        let mut rgba = vec![0_u8; 4 * frame.width * frame.height];
        let bleach = ShareTable::new(self.layout().process());
        rgba.par_chunks_mut((4 * frame.width).max(1)).enumerate().for_each(|(row, out)| {
            for_lanes!(self.table.lanes(), L => self.row_seen::<L>(&places, frame, row, painter, &bleach, out));
        });
        Picture { width: frame.width, height: frame.height, rgba }
    }

    fn row_seen<const L: usize>(
        &self,
        places: &RangeInclusive<u32>,
        frame: &LayerFrame,
        row: usize,
        painter: &Painter<'_>,
        bleach: &ShareTable,
        out: &mut [u8],
    ) {
        let (dyes, fold) = (self.table.bath(), self.layout().fold());
        let (mut doses, mut gone, mut rgb) = (Vec::new(), Vec::new(), vec![[0_u8; 3]; frame.width]);
        for column in 0..frame.width {
            let (mut rod, within) = self.in_layer(frame, *places.end(), column, row);
            let mut cloth = cloth_within(&self.rod.grid, &rod);
            if places.start() < places.end() {
                while rod.layer() > *places.start() && cloth < 0.5 {
                    rod.place -= 1.0;
                    cloth = cloth_within(&self.rod.grid, &rod);
                }
                // Where one layer ends another begins, and nothing shows between.
                cloth = if cloth < 0.5 { 0.0 } else { 1.0 };
            }
            let joined = Some(rod).filter(|_| fold.has_joins()).and_then(|rod| fold.to_cloth(rod));
            let found = joined.map_or_else(|| self.table.at::<L>(&rod), |cloth| self.table.at_cloth::<L>(fold, cloth, &rod));
            doses.extend_from_slice(&found[..dyes]);
            gone.push(bleach.share(found[dyes]));
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share between 0 and 1")]
            let alpha = (within * cloth * 255.0).round() as u8;
            out[4 * column + 3] = alpha;
        }
        let pixels = Pixels { doses: &doses, discharged: &gone, first: (0, row), pixel_mm: frame.pixel_mm };
        painter.colour(&pixels, None, &mut rgb);
        for (pixel, rgb) in out.as_chunks_mut::<4>().0.iter_mut().zip(rgb).filter(|(pixel, _)| pixel[3] > 0) {
            pixel[..3].copy_from_slice(&rgb);
        }
    }

    /// The strip of cloth that a place of the stack is.
    #[must_use]
    pub fn strip(&self, place: u32) -> ClothStrip {
        let (laid, place) = (self.laid(), place.min(self.places().saturating_sub(1)));
        let number = f64::from(place);
        let at = |along_mm: f64, across: f64| laid.to_cloth(BundlePoint { along_mm, across, place: number });
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive number of rows; casts saturate")]
        let rows = ((laid.length_mm() + BEYOND_MM) / ROW_MM).ceil().min(4000.0) as u32;
        // Where the layer has ended, it stays where it was.
        let mut row_before = vec![Point::ORIGIN; ACROSS as usize + 1];
        let mut panel = Panel::Front;
        let mut row = |row: u32| -> Vec<Point> {
            for (step, point) in (0..).zip(&mut row_before) {
                if let Some(cloth) = at(f64::from(row) * ROW_MM, f64::from(step) / f64::from(ACROSS)) {
                    (panel, *point) = (cloth.panel, cloth.position());
                }
            }
            row_before.clone()
        };
        let strip_rows = (0..=rows).map(&mut row).collect();
        let on_crease = |across: f64| {
            let on_cloth = move |row: u32| BundlePoint { along_mm: f64::from(row) * ROW_MM, across, place: number };
            (0..rows).map(move |row| (on_cloth(row), on_cloth(row + 1)))
        };
        let pieces = on_crease(0.0).chain(on_crease(1.0));
        let on_cloth = |rod: BundlePoint| Some(laid.cloth_in(rod)?.position());
        ClothStrip {
            panel,
            rows: strip_rows,
            creases: pieces.filter_map(|(from, to)| Some((on_cloth(from)?, on_cloth(to)?))).collect(),
            share: share_of_cloth(&self.rod.grid, place as usize),
        }
    }
}

fn width_mm(grid: &RodGrid, along_mm: f64) -> f64 {
    let (slab, t) = between(along_mm / grid.cell_mm() - 0.5, grid.shape().slabs());
    let (from, to) = (grid.section(slab).width_mm, grid.section((slab + 1).min(grid.shape().slabs() - 1)).width_mm);
    (from + t * (to - from)).max(f64::MIN_POSITIVE)
}

/// How sharply a layer's cloth ends in its picture: over a third of a cell.
const SHARPNESS: f64 = 3.0;

/// Whether there is cloth at a place of the rod, 0 to 1: the shares of the cells about it, drawn toward yes or no.
fn cloth_within(grid: &RodGrid, rod: &BundlePoint) -> f64 {
    let shape = grid.shape();
    let (slab, t) = between(rod.along_mm / grid.cell_mm() - 0.5, grid.shape().slabs());
    let (across, s) = between(rod.across * shape.across() as f64 - 0.5, shape.across());
    let share = |slab: usize, across: usize| {
        grid.cloth_share(slab.min(grid.shape().slabs() - 1), rod.layer() as usize, across.min(shape.across() - 1))
    };
    let row = |slab: usize| share(slab, across) + s * (share(slab, across + 1) - share(slab, across));
    let share = row(slab) + t * (row(slab + 1) - row(slab));
    (SHARPNESS * (share - 0.5) + 0.5).clamp(0.0, 1.0)
}

fn share_of_cloth(grid: &RodGrid, place: usize) -> f64 {
    let shape = grid.shape();
    let of = |places: std::ops::Range<usize>| -> f64 {
        let slab = |slab: usize| -> f64 {
            let cells = places.clone().flat_map(|place| (0..shape.across()).map(move |across| (place, across)));
            cells.map(|(place, across)| grid.cloth_mm2(slab, place, across)).sum()
        };
        (0..grid.shape().slabs()).map(slab).sum()
    };
    of(place..place + 1) / of(0..shape.places()).max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Srgb;
    use crate::reveal::{Cancel, Cells, GridSpec, RevealOptions, Texture, picture, picture_of, reveal_doses};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn revealed(name: &str) -> (Reveal, DyeSet) {
        let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap();
        let layout = parse_layout(example.text).unwrap();
        let cells = Cells::Of(GridSpec { cell_mm: 4.0, across: 8 });
        let reveal = reveal_doses(&layout, &RevealOptions { cells, ..RevealOptions::default() }, &Cancel::new()).unwrap();
        (reveal, DyeSet::of_layout(&layout, None))
    }

    const BURSTS: [&str; 4] =
        ["harbour-row-tee-m.ron", "harbour-row-tote.ron", "harbour-row-bandana.ron", "harbour-row-hooded-top-l.ron"];

    fn apart(a: [u8; 3], b: [u8; 3]) -> u8 {
        a.iter().zip(b).map(|(a, b)| a.abs_diff(b)).max().unwrap()
    }

    /// A layer's pixel has the colour of the cloth that the fold says lies there: what a probe reads at that point, and what the opened
    /// picture shows; so for bursts on the fold and beside it, on garments of one panel and of two.
    #[test]
    fn a_layer_has_the_colours_of_the_opened_cloth() {
        // And of a dye that parts.
        for name in BURSTS.into_iter().chain(["harbour-row-slate-tee-m.ron"]) {
            let (reveal, colours) = revealed(name);
            let frame = reveal.layer_frame(2.0);
            let (opened, panels) = (picture(&reveal, &colours), reveal.panels().len());
            let (mut read, mut shown, mut seen) = (0, 0, 0);
            for place in (0..reveal.places()).step_by(3) {
                let layer = reveal.layer(place, &frame, &colours, PictureMap::Cloth);
                for pixel in (0..frame.width * frame.height).step_by(37).filter(|pixel| layer.rgba[4 * pixel + 3] == 255) {
                    let own = [0, 1, 2].map(|channel| layer.rgba[4 * pixel + channel]);
                    let Some(cloth) = reveal.cloth_at(reveal.in_layer(&frame, place, pixel % frame.width, pixel / frame.width).0)
                    else {
                        continue;
                    };
                    let Some(probe) = reveal.probe(cloth.panel, cloth.position()) else { continue };
                    seen += 1;
                    let Srgb { red, green, blue } = colours.srgb(&probe.doses, 1.0 - probe.ground_left);
                    read += u32::from(apart(own, [red, green, blue]) <= 2);
                    shown += u32::from(apart(own, in_picture(&reveal, &opened.rgba, panels, cloth)) <= 16);
                }
            }
            assert!(seen > 300, "{name}: {seen}");
            // What is left is at a crease, where the way back through the hand ends in the next pleat, and at a ring's edge, where a pixel
            // of the picture is too coarse.
            assert!(read * 100 >= seen * 98, "{name}: {read} of {seen} read");
            assert!(shown * 100 >= seen * 95, "{name}: {shown} of {seen} shown");
        }
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a point of the cloth")]
    fn in_picture(reveal: &Reveal, rgba: &[u8], panels: usize, cloth: ClothPoint) -> [u8; 3] {
        let (side, offset) = if cloth.panel == Panel::Back { (-1.0, 1) } else { (1.0, 0) };
        let (_, frame) = reveal.panels()[0];
        let column = ((side * cloth.x_mm - frame.left_mm) / frame.pixel_mm) as usize + offset * frame.width;
        let row = ((cloth.y_mm - frame.top_mm) / frame.pixel_mm) as usize;
        let at = 4 * (row * panels * frame.width + column);
        [rgba[at], rgba[at + 1], rgba[at + 2]]
    }

    /// The strips of all places are all of the cloth, none twice; a strip's points lie in its place.
    #[test]
    fn strips_share_out_the_cloth() {
        for name in BURSTS {
            let (reveal, _) = revealed(name);
            let strips: Vec<ClothStrip> = (0..reveal.places()).map(|place| reveal.strip(place)).collect();
            let all: f64 = strips.iter().map(|strip| strip.share).sum();
            assert!((all - 1.0).abs() < 1e-9, "{name}: {all}");
            let (mut own, mut asked) = (0, 0);
            for (place, strip) in (0..).zip(&strips) {
                for points in strip.rows.iter().step_by(9).skip(1) {
                    // The middle of the pleat, and its quarters.
                    for point in [points[2], points[4], points[6]] {
                        let cloth = ClothPoint { panel: strip.panel, x_mm: point.x, y_mm: point.y };
                        asked += 1;
                        own += u32::from(
                            reveal.laid().to_bundle(cloth).is_some_and(|there| there.layer() == place) || point.x.abs() < 5.0,
                        );
                    }
                }
            }
            assert!(own * 100 >= asked * 97, "{name}: {own} of {asked}");
        }
    }

    /// By the other maps too a layer has the colours of the opened cloth; hatching lies otherwise.
    #[test]
    fn a_layer_has_the_colours_of_every_map() {
        let (reveal, colours) = revealed("harbour-row-tee-m.ron");
        let frame = reveal.layer_frame(2.0);
        for map in [PictureMap::DoseReached, PictureMap::GroundLeft] {
            let opened = picture_of(&reveal, &colours, map, Texture::Off);
            let (mut alike, mut seen) = (0, 0);
            for place in (1..reveal.places()).step_by(9) {
                let layer = reveal.layer(place, &frame, &colours, map);
                for pixel in (0..frame.width * frame.height).step_by(41).filter(|pixel| layer.rgba[4 * pixel + 3] == 255) {
                    let own = [0, 1, 2].map(|channel| layer.rgba[4 * pixel + channel]);
                    let is_hatched = |rgb: [u8; 3]| PictureMap::HATCH.contains(&rgb);
                    let Some(cloth) = reveal.cloth_at(reveal.in_layer(&frame, place, pixel % frame.width, pixel / frame.width).0)
                    else {
                        continue;
                    };
                    let there = in_picture(&reveal, &opened.rgba, 2, cloth);
                    seen += 1;
                    alike += u32::from(if is_hatched(own) { is_hatched(there) } else { apart(own, there) <= 16 });
                }
            }
            assert!(seen > 300 && alike * 100 >= seen * 93, "{map:?}: {alike} of {seen}");
        }
    }

    /// From above the rod shows its top layer where that has cloth, and where any layer has, something.
    #[test]
    fn from_above_the_topmost_cloth_is_seen() {
        let (reveal, colours) = revealed("harbour-row-tee-m.ron");
        let frame = reveal.layer_frame(2.0);
        let pixels = |picture: &Picture| picture.rgba.as_chunks::<4>().0.to_vec();
        let seen = pixels(&reveal.rod_from_above(&frame, &colours, PictureMap::Cloth));
        let layers: Vec<Vec<[u8; 4]>> =
            (0..reveal.places()).map(|place| pixels(&reveal.layer(place, &frame, &colours, PictureMap::Cloth))).collect();
        let mut deeper = 0;
        for (pixel, seen) in seen.iter().enumerate().filter(|(_, seen)| seen[3] == 255) {
            let topmost = layers.iter().rposition(|layer| layer[pixel][3] >= 128).unwrap();
            deeper += u32::from(topmost + 1 < layers.len());
            assert_eq!(seen[..3], layers[topmost][pixel][..3], "pixel {pixel}, layer {topmost}");
        }
        assert!(deeper > 100, "beyond the top layer's end others are seen: {deeper}");
        let bare = seen.iter().enumerate().filter(|(_, seen)| seen[3] == 0);
        assert!(bare.clone().all(|(pixel, _)| layers.iter().all(|layer| layer[pixel][3] < 128)));
    }

    /// The rod is pinched where a bind sits, and a layer's picture with it.
    #[test]
    fn binds_pinch_the_rod() {
        let (reveal, colours) = revealed("harbour-row-tee-m.ron");
        let frame = reveal.layer_frame(1.0);
        let binds = &reveal.layout().binds().binds;
        let [.., inner, outer] = &binds[..] else { panic!("the tee has binds") };
        let middle_mm = 0.5 * (inner.radius_mm + outer.radius_mm);
        assert!(reveal.rod_width_mm(outer.radius_mm) < 0.8 * reveal.rod_width_mm(middle_mm));
        let layer = reveal.layer(reveal.places() - 1, &frame, &colours, PictureMap::Cloth);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of the picture")]
        let painted = |along_mm: f64| {
            (0..frame.height).filter(|row| layer.rgba[4 * (row * frame.width + along_mm as usize) + 3] > 127).count() as f64
        };
        let bind = &binds[binds.len() / 2];
        assert!((painted(bind.radius_mm) - reveal.rod_width_mm(bind.radius_mm)).abs() < 3.0);
    }
}
