//! The opened cloth: every pixel carried by the fold into the rod, and the doses there brought back.

use super::dose::{DoseField, Spot};
use super::grid::RodGrid;
use super::mask::{PixelFrame, coverage};
use super::noise;
use super::solver::MOST_FIELDS;
use super::{Cancel, RevealError, RodDoses, binds};
use crate::geometry::{ClothPoint, Fold, Outline, Panel, RodPoint};
use crate::layout::{Hand, Layout, Process};
use kurbo::Point;
use rayon::prelude::*;

/// The doses on one panel as it shows: the front from the front, the back from behind.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseMap {
    /// Where the pixels lie. For the back, left and right are as seen from behind.
    pub frame: PixelFrame,
    /// Which panel.
    pub panel: Panel,
    /// Number of dyes.
    pub dyes: usize,
    /// Share of each pixel that is cloth, row by row, 0 to 1.
    pub coverage: Vec<f32>,
    /// Doses: for each pixel, row by row, one for each dye. 0 outside the cloth.
    pub doses: Vec<f32>,
    /// Share of the garment's own colour that is discharged, 0 to 1.
    pub discharged: Vec<f32>,
    /// Number of the section that the cloth belongs to, 1 at the centre; 0 outside the cloth.
    pub section: Vec<u16>,
}

/// What is unfolded.
pub(super) struct Unfold<'a> {
    pub(super) fold: &'a (dyn Fold + Sync),
    pub(super) grid: &'a RodGrid,
    pub(super) process: &'a Process,
    pub(super) dyes: Option<&'a DoseField>,
    pub(super) bath: Option<&'a DoseField>,
    pub(super) dye_count: usize,
}

/// Shares of a pleat beyond a crease that are left out: less than 8 bits of colour can show.
const LEAST_SHARE: f32 = 0.003;

/// Doses at a point: of the dyes, and of the bath.
pub(super) type Doses = [f32; MOST_FIELDS + 1];

/// What the rod had at a place of the cloth.
pub(super) struct Read {
    pub(super) rod: RodPoint,
    pub(super) section: u16,
    pub(super) doses: Doses,
}

impl Read {
    /// Dose of the bath.
    pub(super) fn bath(&self) -> f32 {
        self.doses[MOST_FIELDS]
    }
}

impl<'a> Unfold<'a> {
    /// A layout's rod to be opened.
    pub(super) fn of(layout: &'a Layout, rod: &'a RodDoses) -> Self {
        Self {
            fold: layout.fold(),
            grid: &rod.grid,
            process: layout.process(),
            dyes: rod.dyes.as_ref(),
            bath: rod.bath.as_ref(),
            dye_count: layout.raw().colours.rotation.len(),
        }
    }

    /// How far the hand strays at a point of the garment's frame, mm.
    pub(super) fn stray(&self, panel: Panel, at: Point) -> (f64, f64) {
        stray(&self.process.hand, panel, at)
    }

    /// Opens one panel.
    pub(super) fn panel(
        &self,
        panel: Panel,
        outline: &Outline,
        frame: PixelFrame,
        cancel: &Cancel,
    ) -> Result<DoseMap, RevealError> {
        let pixels = frame.width * frame.height;
        let mut map = DoseMap {
            frame,
            panel,
            dyes: self.dye_count,
            coverage: coverage(outline, &frame, panel == Panel::Back),
            doses: vec![0.0; pixels * self.dye_count],
            discharged: vec![0.0; pixels],
            section: vec![0; pixels],
        };
        let bleach = ShareTable::new(self.process);
        let hand = HandMap::new(&self.process.hand, panel, &frame);
        let rows = map.discharged.par_chunks_mut(frame.width).zip(map.section.par_chunks_mut(frame.width));
        let rows = rows.zip(map.coverage.par_chunks(frame.width)).enumerate();
        // Without dyes there is no row of doses to zip with: each row collects its own.
        let doses: Vec<Vec<f32>> = rows
            .map(|(row, ((discharged, section), covered))| {
                cancel.check()?;
                let mut doses = vec![0.0; frame.width * self.dye_count];
                for column in (0..frame.width).filter(|&column| covered[column] > 0.0) {
                    let drawn = frame.middle(column, row);
                    let x_mm = if panel == Panel::Back { -drawn.x } else { drawn.x };
                    let read = self.read(ClothPoint { panel, x_mm, y_mm: drawn.y }, hand.at(column, row));
                    doses[column * self.dye_count..][..self.dye_count].copy_from_slice(&read.doses[..self.dye_count]);
                    discharged[column] = bleach.share(read.bath());
                    section[column] = read.section;
                }
                Ok(doses)
            })
            .collect::<Result<_, RevealError>>()?;
        map.doses = doses.concat();
        Ok(map)
    }

    /// What a place of the cloth had in the rod: of the cloth that the hand laid there, or where that strays off the cloth of the
    /// cloth that belongs there.
    pub(super) fn read(&self, at: ClothPoint, (dx_mm, dy_mm): (f64, f64)) -> Read {
        let rod = self.fold.to_rod(ClothPoint { x_mm: at.x_mm + dx_mm, y_mm: at.y_mm + dy_mm, ..at });
        let section = u16::try_from(binds::section(self.grid.binds(), rod.along_mm) + 1).unwrap_or(u16::MAX);
        let doses = self.doses(&rod).or_else(|| self.doses(&self.fold.to_rod(at))).unwrap_or_default();
        Read { rod, section, doses }
    }

    /// Doses at a place in the rod, mixed near a crease with those of the pleat that the cloth goes on into: dye goes along it. `None` where no cell near has cloth.
    fn doses(&self, rod: &RodPoint) -> Option<Doses> {
        let mut doses = [0.0; MOST_FIELDS + 1];
        let (place, mates) = (rod.place as usize, self.grid.mates());
        let (start, end) = (self.crease_share(rod, rod.across), self.crease_share(rod, 1.0 - rod.across));
        let layers = [(Some(place), 1.0 - start - end), (mates.at_start(place), start), (mates.at_end(place), end)];
        let mut found = 0.0;
        for (place, share) in layers {
            let spot =
                place.filter(|_| share > LEAST_SHARE).and_then(|place| Spot::find(self.grid, rod.along_mm, rod.across, place));
            if let Some(spot) = spot {
                self.add(&spot, share, &mut doses);
                found += share;
            }
        }
        (found > 0.0).then(|| doses.map(|dose| dose / found))
    }

    /// What the pleat beyond a crease has in the dose at a distance from it (as a share of the pleat): half at the crease itself,
    /// falling over the reach along the cloth to nothing at the other crease. Two strips of cloth joined at their ends and held at
    /// different doses by what lies on them meet in this way: half the difference, falling exponentially, on either side.
    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    fn crease_share(&self, rod: &RodPoint, away: f64) -> f32 {
        let pleat = self.fold.pleat_width_mm(rod.along_mm) / self.process.dye_reach().along_mm;
        let at_far_crease = (-pleat).exp();
        let left = 1.0 - at_far_crease;
        if left > 0.0 { (0.5 * ((-away * pleat).exp() - at_far_crease) / left) as f32 } else { 0.5 * (1.0 - away) as f32 }
    }

    fn add(&self, spot: &Spot, share: f32, doses: &mut Doses) {
        if let Some(dyes) = self.dyes {
            dyes.add_at(spot, share, &mut doses[..self.dye_count]);
        }
        if let Some(bath) = self.bath {
            bath.add_at(spot, share, &mut doses[MOST_FIELDS..]);
        }
    }
}

/// The share of colour that a dose takes, tabled: straight between entries, off by less than 1e-4.
struct ShareTable {
    shares: Vec<f32>,
}

/// Entries for each unit of dose.
const ENTRIES: f32 = 512.0;

impl ShareTable {
    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    fn new(process: &Process) -> Self {
        let share = |entry: u16| process.discharged_share(f64::from(entry) / f64::from(ENTRIES)) as f32;
        Self { shares: (0..=640).map(share).collect() }
    }

    fn share(&self, dose: f32) -> f32 {
        let at = (dose * ENTRIES).clamp(0.0, (self.shares.len() - 2) as f32);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the table")]
        let low = at as usize;
        self.shares[low] + (at - low as f32) * (self.shares[low + 1] - self.shares[low])
    }
}

/// How far a hand strays at a point of the garment's frame, mm across and down.
fn stray(hand: &Hand, panel: Panel, at: Point) -> (f64, f64) {
    if hand.wander_mm == 0.0 {
        return (0.0, 0.0);
    }
    let (x, y) = (at.x / hand.wander_length_mm, at.y / hand.wander_length_mm);
    let seed = hand.seed.wrapping_mul(4) + 2 * u64::from(panel == Panel::Back);
    (hand.wander_mm * noise::in_plane(seed, x, y), hand.wander_mm * noise::in_plane(seed + 1, x, y))
}

/// How far the hand strays over a picture: noise at the nodes of a lattice, straight between them.
struct HandMap {
    step_px: usize,
    stride: usize,
    nodes: Vec<(f64, f64)>,
}

impl HandMap {
    fn new(hand: &Hand, panel: Panel, frame: &PixelFrame) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let step_px = (hand.wander_length_mm / 5.0 / frame.pixel_mm).clamp(1.0, 64.0) as usize;
        let stride = frame.width / step_px + 2;
        let side = if panel == Panel::Back { -1.0 } else { 1.0 };
        let node = |index: usize| {
            let drawn = frame.middle(index % stride * step_px, index / stride * step_px);
            stray(hand, panel, Point::new(side * drawn.x, drawn.y))
        };
        let nodes = (0..stride * (frame.height / step_px + 2)).into_par_iter().map(node).collect();
        Self { step_px, stride, nodes }
    }

    fn at(&self, column: usize, row: usize) -> (f64, f64) {
        let (i, j) = (column / self.step_px, row / self.step_px);
        let s = (column % self.step_px) as f64 / self.step_px as f64;
        let t = (row % self.step_px) as f64 / self.step_px as f64;
        let node = |i: usize, j: usize| self.nodes[j * self.stride + i];
        let (a, b, c, d) = (node(i, j), node(i + 1, j), node(i, j + 1), node(i + 1, j + 1));
        let mix = |a: f64, b: f64, c: f64, d: f64| (1.0 - t) * ((1.0 - s) * a + s * b) + t * ((1.0 - s) * c + s * d);
        (mix(a.0, b.0, c.0, d.0), mix(a.1, b.1, c.1, d.1))
    }
}
