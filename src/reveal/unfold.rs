//! The opened cloth: every pixel carried by the fold into the rod, and the doses there brought back.

use super::RodDoses;
use super::grid::RodGrid;
use super::laid::stray;
use super::mask::{PixelFrame, coverage};
use super::relief::{CREASE_MM, relief, relief_beside};
use super::table::{DoseTable, for_lanes};
use crate::geometry::{Bundle, BundlePoint, ClothPoint, Fold, Outline, Panel};
use crate::layout::{DyeFields, Hand, Layout, Process};
use kurbo::Point;
use rayon::prelude::*;
use std::ops::Range;

/// The doses on one panel as it shows, or on a band of it: the front from the front, the back from behind.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseMap {
    /// Where the panel's pixels lie. For the back, left and right are as seen from behind.
    pub frame: PixelFrame,
    /// The rows that are here, all of the frame's or some; what follows begins with the first of them.
    pub rows: Range<usize>,
    /// Which panel.
    pub panel: Panel,
    /// Number of doses that a pixel has: one for each dye, and what mixtures have besides ([`DyeFields`]).
    pub dyes: usize,
    /// Share of each pixel that is cloth, row by row, 0 to 1.
    pub coverage: Vec<f32>,
    /// Doses: for each pixel, row by row, one for each dye. 0 outside the cloth.
    pub doses: Vec<f32>,
    /// Share of the garment's own colour that is discharged, 0 to 1.
    pub discharged: Vec<f32>,
    /// Number of the section that the cloth belongs to, 1 at the centre; 0 outside the cloth.
    pub section: Vec<u16>,
    /// What is left of the pleats' creases: 1 on a ridge, -1 in a valley, 0 away from them and outside the cloth.
    pub relief: Vec<f32>,
}

impl DoseMap {
    /// Where a row of the frame stands among the pixels that are here.
    pub(super) fn row(&self, row: usize) -> Range<usize> {
        let start = (row - self.rows.start) * self.frame.width;
        start..start + self.frame.width
    }
}

/// Opens a bundle whose doses were solved and are kept as these fields: one panel of the garment in a frame. `None` where the garment lacks the
/// panel. [`super::Reveal::map`] does this for a layout's.
#[must_use]
pub fn opened(
    fold: &dyn Fold,
    rod: &RodDoses,
    process: &Process,
    fields: &DyeFields,
    panel: Panel,
    frame: PixelFrame,
) -> Option<DoseMap> {
    let outline = fold.lay().panels().panel(panel)?.whole();
    let table = DoseTable::new(fold, rod, fields, process.dye_reach().along_mm);
    let unfold = Unfold { fold, grid: &rod.grid, process, table: &table, dyes: fields.len() };
    Some(unfold.rows(panel, outline, frame, 0..frame.height))
}

/// What is unfolded.
pub(super) struct Unfold<'a> {
    pub(super) fold: &'a dyn Bundle,
    pub(super) grid: &'a RodGrid,
    pub(super) process: &'a Process,
    pub(super) table: &'a DoseTable,
    pub(super) dyes: usize,
}

impl<'a> Unfold<'a> {
    /// A layout's rod to be opened.
    pub(super) fn of(layout: &'a Layout, rod: &'a RodDoses, table: &'a DoseTable) -> Self {
        let dyes = table.bath();
        Self { fold: layout.fold(), grid: &rod.grid, process: layout.process(), table, dyes }
    }

    /// Opens some rows of one panel.
    pub(super) fn rows(&self, panel: Panel, outline: &Outline, frame: PixelFrame, rows: Range<usize>) -> DoseMap {
        let pixels = frame.width * rows.len();
        let mut map = DoseMap {
            frame,
            rows: rows.clone(),
            panel,
            dyes: self.dyes,
            coverage: coverage(outline, &frame, &rows, panel == Panel::Back),
            doses: vec![0.0; pixels * self.dyes],
            discharged: vec![0.0; pixels],
            section: vec![0; pixels],
            relief: vec![0.0; pixels],
        };
        let sheet =
            Sheet { panel, frame, bleach: ShareTable::new(self.process), hand: HandMap::new(&self.process.hand, panel, &frame) };
        // Without dyes a row has no doses, and chunks can't be empty.
        let mut doses = map.doses.chunks_mut((frame.width * self.dyes).max(1));
        let doses: Vec<&mut [f32]> = rows.clone().map(|_| doses.next().unwrap_or_default()).collect();
        let lines = map.discharged.par_chunks_mut(frame.width).zip(map.section.par_chunks_mut(frame.width));
        let lines = lines.zip(map.relief.par_chunks_mut(frame.width));
        let lines = lines.zip(map.coverage.par_chunks(frame.width)).zip(doses).zip(rows);
        lines.for_each(|(((((discharged, section), relief), covered), doses), number)| {
            let row = Row { number, covered, doses, discharged, section, relief };
            for_lanes!(self.table.lanes(), L => self.row::<L>(&sheet, row));
        });
        map
    }

    fn row<const L: usize>(&self, sheet: &Sheet, row: Row<'_>) {
        let side = if sheet.panel == Panel::Back { -1.0 } else { 1.0 };
        let hand = sheet.hand.row(row.number);
        for column in (0..sheet.frame.width).filter(|&column| row.covered[column] > 0.0) {
            let drawn = sheet.frame.middle(column, row.number);
            let (dx_mm, dy_mm) = sheet.hand.at(&hand, column);
            let at = ClothPoint { panel: sheet.panel, x_mm: side * drawn.x + dx_mm, y_mm: drawn.y + dy_mm };
            let Some((there, doses)) = self.read::<L>(at) else { continue };
            row.doses[column * self.dyes..][..self.dyes].copy_from_slice(&doses[..self.dyes]);
            row.discharged[column] = sheet.bleach.share(doses[self.table.bath()]);
            row.section[column] = section_number(self.grid, there.along_mm);
            row.relief[column] = match self.fold.creased(at, CREASE_MM) {
                Some(away_mm) => relief_beside(away_mm),
                None => relief(there.across, self.table.pleat_mm(&there)),
            };
        }
    }

    /// The doses of the cloth that the hand took for this point, and where it came to lie in the bundle; `None` where it is not part of
    /// it. `L` is [`DoseTable::lanes`].
    #[inline]
    pub(super) fn read<const L: usize>(&self, taken: ClothPoint) -> Option<(BundlePoint, [f32; L])> {
        let there = self.fold.to_bundle(taken)?;
        Some((there, self.table.at_cloth(self.fold, taken, &there)))
    }

    /// The point that the hand took for this one.
    pub(super) fn taken(&self, panel: Panel, at: Point) -> ClothPoint {
        let at = at + stray(&self.process.hand, panel, at);
        ClothPoint { panel, x_mm: at.x, y_mm: at.y }
    }
}

/// One panel being drawn.
struct Sheet {
    panel: Panel,
    frame: PixelFrame,
    bleach: ShareTable,
    hand: HandMap,
}

/// One row of its pixels.
struct Row<'a> {
    number: usize,
    covered: &'a [f32],
    doses: &'a mut [f32],
    discharged: &'a mut [f32],
    section: &'a mut [u16],
    relief: &'a mut [f32],
}

/// Number of the section at a distance along the rod, 1 at the centre.
pub(super) fn section_number(grid: &RodGrid, along_mm: f64) -> u16 {
    u16::try_from(grid.section_at(along_mm) + 1).unwrap_or(u16::MAX)
}

/// The share of colour that a dose takes, tabled: straight between entries, off by less than 1e-4.
pub(super) struct ShareTable {
    shares: Vec<f32>,
}

/// Entries for each unit of dose.
const ENTRIES: f32 = 512.0;

impl ShareTable {
    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    pub(super) fn new(process: &Process) -> Self {
        let share = |entry: u16| process.discharged_share(f64::from(entry) / f64::from(ENTRIES)) as f32;
        Self { shares: (0..=640).map(share).collect() }
    }

    pub(super) fn share(&self, dose: f32) -> f32 {
        let at = (dose * ENTRIES).clamp(0.0, (self.shares.len() - 2) as f32);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the table")]
        let low = at as usize;
        self.shares[low] + (at - low as f32) * (self.shares[low + 1] - self.shares[low])
    }
}

/// How far the hand strays over a picture: noise at the nodes of a lattice, straight between them.
pub(super) struct HandMap {
    step_px: usize,
    stride: usize,
    nodes: Vec<(f64, f64)>,
}

impl HandMap {
    pub(super) fn new(hand: &Hand, panel: Panel, frame: &PixelFrame) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
        let step_px = (hand.wander_length_mm / 5.0 / frame.pixel_mm).clamp(1.0, 64.0) as usize;
        let stride = frame.width / step_px + 2;
        let side = if panel == Panel::Back { -1.0 } else { 1.0 };
        let node = |index: usize| {
            let drawn = frame.middle(index % stride * step_px, index / stride * step_px);
            stray(hand, panel, Point::new(side * drawn.x, drawn.y)).into()
        };
        let nodes = (0..stride * (frame.height / step_px + 2)).into_par_iter().map(node).collect();
        Self { step_px, stride, nodes }
    }

    /// The nodes between which a row lies, brought to its height.
    pub(super) fn row(&self, row: usize) -> Vec<(f64, f64)> {
        let (j, t) = (row / self.step_px, (row % self.step_px) as f64 / self.step_px as f64);
        let nodes = |j: usize| &self.nodes[j * self.stride..(j + 1) * self.stride];
        let between = |(a, b): (&(f64, f64), &(f64, f64))| (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
        nodes(j).iter().zip(nodes(j + 1)).map(between).collect()
    }

    pub(super) fn at(&self, row: &[(f64, f64)], column: usize) -> (f64, f64) {
        let (i, s) = (column / self.step_px, (column % self.step_px) as f64 / self.step_px as f64);
        let (a, b) = (row[i], row[i + 1]);
        (a.0 + s * (b.0 - a.0), a.1 + s * (b.1 - a.1))
    }
}
