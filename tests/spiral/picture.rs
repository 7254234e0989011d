//! A tee's spiral, dyed and opened: arms of all dyes that wind out of the pinch, no white corners, no seam.

use crate::bodies::{spec, tee, tightest};
use kurbo::{Point, Vec2};
use pleatwright::geometry::*;
use pleatwright::layout::{BindEffect, DyeFields, Process, Srgb};
use pleatwright::reveal::colour::{Dye, DyeSet, Ground};
use pleatwright::reveal::solver::SolveOptions;
use pleatwright::reveal::*;
use std::f64::consts::TAU;

const BAND: BindEffect = BindEffect { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 };
const DYES: usize = 3;
const WEDGES: u32 = 6;

/// Where the band at the end of a wedge crosses the rim, and with a half the middle of the wedge after it, mm.
fn band_mm(fold: &SpiralFold, number: f64) -> f64 {
    number * fold.length_mm() / f64::from(WEDGES)
}

/// Powder of three dyes on six wedges, under ice.
fn dyed(fold: &SpiralFold, process: &Process) -> RodDoses {
    let bands: Vec<RodBind> = (0..WEDGES).map(|band| RodBind::band(band_mm(fold, f64::from(band)), 4.0, BAND)).collect();
    let grid_spec = GridSpec { cell_mm: 3.0, ..GridSpec::fine(fold, process.dye_reach().along_mm, DYES) };
    let grid = RodGrid::laid(fold, &process.hand, &Cloth::default(), &bands, 1.0, &grid_spec).unwrap();
    let sections: Vec<Option<usize>> = (0..WEDGES as usize).map(|section| Some(section % DYES)).collect();
    let system = dye_system(&grid, process, &sections, DYES).unwrap();
    let solve = SolveOptions { residual: 3e-4, ..SolveOptions::default() };
    let dyes = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap();
    RodDoses { grid, dyes: Some(dyes), dips: vec![], bath: None }
}

/// The front of the opened tee.
struct Opened {
    fold: SpiralFold,
    map: DoseMap,
}

impl Opened {
    fn new() -> Self {
        let (fold, process) = (tightest(&spec(), tee()), Process::default());
        let rod = dyed(&fold, &process);
        let (bounds, pixel_mm) = (tee().front.whole().bounds(), 0.9);
        let pixels = |mm: f64| (mm / pixel_mm).ceil() as usize;
        let (width, height) = (pixels(bounds.width()), pixels(bounds.height()));
        let frame = PixelFrame { width, height, pixel_mm, left_mm: bounds.x0, top_mm: bounds.y0 };
        let map = opened(&fold, &rod, &process, &DyeFields::plain(DYES), Panel::Front, frame).unwrap();
        Self { fold, map }
    }

    fn doses(&self, pixel: usize) -> &[f32] {
        &self.map.doses[DYES * pixel..][..DYES]
    }

    /// The doses at a point, where its pixel is all cloth.
    fn at(&self, at: Point) -> Option<&[f32]> {
        let frame = &self.map.frame;
        let [column, row] = [at.x - frame.left_mm, at.y - frame.top_mm].map(|mm| (mm / frame.pixel_mm) as usize);
        let pixel = row * frame.width + column;
        (column < frame.width && row < frame.height && self.map.coverage[pixel] >= 1.0).then(|| self.doses(pixel))
    }

    fn strongest(&self, at: Point) -> Option<usize> {
        let doses = self.at(at)?;
        (0..DYES).max_by(|&a, &b| doses[a].total_cmp(&doses[b]))
    }

    /// Points of a line between wedges that don't lie by the pinch.
    fn line(&self, along_mm: f64) -> Vec<Point> {
        let centre = self.fold.spiral().centre_as_laid();
        let points = self.fold.parallel(&[Panel::Front], along_mm).into_iter().map(|piece| piece.point(0.5));
        points.filter(|at| at.distance(centre) > 60.0).collect()
    }

    /// By how much doses change over two millimetres across a line between wedges, in the mean.
    fn change_across(&self, along_mm: f64) -> f64 {
        let centre = self.fold.spiral().centre_as_laid();
        let change = |at: Point| {
            let across = Vec2::new(-(at - centre).y, (at - centre).x).normalize();
            let (before, after) = (self.at(at - across)?, self.at(at + across)?);
            Some(before.iter().zip(after).map(|(a, b)| f64::from((a - b).abs())).sum::<f64>())
        };
        let changes: Vec<f64> = self.line(along_mm).into_iter().filter_map(change).collect();
        changes.iter().sum::<f64>() / changes.len() as f64
    }

    /// Keeps the picture among the build's own temporary files, to be looked at.
    fn paint(&self) {
        let dye = |red: u8, green: u8, blue: u8| Dye::over_white(Srgb { red, green, blue });
        let dyes = [dye(194, 56, 90), dye(224, 177, 46), dye(43, 95, 168)];
        let (map, colours) = (&self.map, DyeSet::new(Ground::plain(Ground::WHITE), &dyes));
        let mut rgb = vec![[0_u8; 3]; map.frame.pixels()];
        colours.fill_srgb(&map.doses, &map.discharged, &mut rgb);
        let picture = image::RgbImage::from_fn(map.frame.width as u32, map.frame.height as u32, |column, row| {
            let pixel = row as usize * map.frame.width + column as usize;
            let share = map.coverage[pixel].clamp(0.0, 1.0);
            image::Rgb(rgb[pixel].map(|value| (share * f32::from(value) + (1.0 - share) * 255.0).round() as u8))
        });
        picture.save(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("spiral.png")).unwrap();
    }
}

#[test]
fn a_tees_spiral_has_arms() {
    let opened = Opened::new();
    opened.paint();
    let (fold, map) = (&opened.fold, &opened.map);

    // No white corners: all but a hundredth of the cloth has taken up dye, also what lay deep in the puck.
    let on_cloth: Vec<usize> = (0..map.frame.pixels()).filter(|&pixel| map.coverage[pixel] >= 1.0).collect();
    let bare = on_cloth.iter().filter(|&&pixel| opened.doses(pixel).iter().sum::<f32>() < 0.03).count();
    assert!(bare * 100 < on_cloth.len(), "{bare} of {} pixels are bare", on_cloth.len());

    // Round the pinch all dyes come, in a few arms, at whatever distance.
    let centre = fold.spiral().centre_as_laid();
    for r_mm in [90.0, 130.0, 170.0, 210.0] {
        let direction = |step: u32| Vec2::from_angle(f64::from(step) / 720.0 * TAU);
        let round: Vec<usize> = (0..720).filter_map(|step| opened.strongest(centre + r_mm * direction(step))).collect();
        let held = [0, 1, 2].map(|dye| round.iter().filter(|&&own| own == dye).count() as f64 / round.len() as f64);
        assert!(held.iter().all(|&held| held > 0.15), "{r_mm} mm: {held:?}");
        // Six borders, which pleats and the hand fray.
        let changes = round.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert!((5..80).contains(&changes), "{changes} changes at {r_mm} mm");
    }

    // Along the middle of a wedge its own dye rules from the pinch to the hem; the first section ends at the first band, at the zero.
    for wedge in 0..WEDGES {
        let line = opened.line(band_mm(fold, f64::from(wedge) + 0.5));
        let found: Vec<usize> = line.into_iter().filter_map(|at| opened.strongest(at)).collect();
        let dye = ((wedge + 1) % WEDGES) as usize % DYES;
        let own = found.iter().filter(|&&found| found == dye).count() as f64 / found.len() as f64;
        assert!(own > 0.9, "wedge {wedge}: dye {dye} rules on {own} of its middle line");
    }

    // No seam: across the ring's zero doses change no more than across other bands.
    let changes: Vec<f64> = (0..WEDGES).map(|band| opened.change_across(band_mm(fold, f64::from(band)))).collect();
    let most = changes[1..].iter().copied().fold(0.0, f64::max);
    assert!(changes[0] < 1.3 * most, "{changes:?}");
}
