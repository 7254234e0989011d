//! A tee's spiral, dyed and opened: arms of all dyes that wind out of the pinch, no white corners, no seam.

use crate::bodies::{spec, tee, tightest};
use kurbo::Point;
use pleatwright::geometry::*;
use pleatwright::layout::{BindEffect, Process, Srgb};
use pleatwright::reveal::colour::{Dye, DyeSet, Ground};
use pleatwright::reveal::solver::SolveOptions;
use pleatwright::reveal::*;
use std::f64::consts::TAU;

const BAND: BindEffect = BindEffect { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 };
const DYES: usize = 3;

/// Powder of three dyes on six wedges, under ice.
fn dyed(fold: &SpiralFold, process: &Process) -> RodDoses {
    let bands: Vec<RodBind> = (0..6).map(|band| RodBind::band(f64::from(band) * fold.length_mm() / 6.0, 4.0, BAND)).collect();
    let reach_mm = process.dye_reach().along_mm;
    let grid_spec = GridSpec { cell_mm: 3.0, ..GridSpec::fine(fold, reach_mm, DYES) };
    let grid = RodGrid::laid(fold, &process.hand, &Cloth::default(), &bands, 1.0, &grid_spec).unwrap();
    let sections: Vec<Option<usize>> = (0..6).map(|section| Some(section % DYES)).collect();
    let system = dye_system(&grid, process, &sections, DYES).unwrap();
    let solve = SolveOptions { residual: 3e-4, ..SolveOptions::default() };
    let dyes = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap();
    assert!(dyes.solved().steps <= 30, "{:?}", dyes.solved());
    RodDoses { grid, dyes: Some(dyes), bath: None }
}

/// Where each pixel's doses lie.
fn doses(map: &DoseMap, pixel: usize) -> &[f32] {
    &map.doses[map.dyes * pixel..][..map.dyes]
}

#[test]
fn a_tees_spiral_has_arms() {
    let fold = tightest(&spec(), tee());
    let process = Process::default();
    let rod = dyed(&fold, &process);
    let bounds = tee().front.whole().bounds();
    let pixel_mm = 0.9;
    let pixels = |mm: f64| (mm / pixel_mm).ceil() as usize;
    let frame = PixelFrame {
        width: pixels(bounds.width()),
        height: pixels(bounds.height()),
        pixel_mm,
        left_mm: bounds.x0,
        top_mm: bounds.y0,
    };
    let map = opened(&fold, &rod, &process, DYES, Panel::Front, frame).unwrap();
    paint(&map);

    // No white corners: all but a hundredth of the cloth has taken up dye, also what lay deep in the puck.
    let on_cloth: Vec<usize> = (0..frame.pixels()).filter(|&pixel| map.coverage[pixel] >= 1.0).collect();
    let bare = on_cloth.iter().filter(|&&pixel| doses(&map, pixel).iter().sum::<f32>() < 0.03).count();
    assert!(bare * 100 < on_cloth.len(), "{bare} of {} pixels are bare", on_cloth.len());

    // Round the pinch all dyes come twice, in their order, at whatever distance.
    let centre = fold.spiral().centre_as_laid();
    let strongest = |at: Point| {
        let pixel = ((at.y - frame.top_mm) / pixel_mm) as usize * frame.width + ((at.x - frame.left_mm) / pixel_mm) as usize;
        (map.coverage[pixel] >= 1.0)
            .then(|| (0..DYES).max_by(|&a, &b| doses(&map, pixel)[a].total_cmp(&doses(&map, pixel)[b])).unwrap())
    };
    for r_mm in [90.0, 130.0, 170.0, 210.0] {
        let round: Vec<usize> = (0..720_u32)
            .filter_map(|step| strongest(centre + r_mm * kurbo::Vec2::from_angle(f64::from(step) / 720.0 * TAU)))
            .collect();
        let held = |dye: usize| round.iter().filter(|&&own| own == dye).count() as f64 / round.len() as f64;
        assert!((0..DYES).all(|dye| held(dye) > 0.15), "{r_mm} mm: {:?}", [0, 1, 2].map(held));
        // Pleats and the hand fray the borders; most neighbours along the circle have the same dye.
        let changes = round.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert!((5..80).contains(&changes), "{changes} changes at {r_mm} mm");
    }

    // Along the arm's own middle the same dye rules from the pinch to the hem: a wedge's middle line is one dye's.
    for section in 0..6_u32 {
        let along_mm = (f64::from(section) + 0.5) * fold.length_mm() / 6.0;
        let line: Vec<usize> = fold
            .parallel(&[Panel::Front], along_mm)
            .iter()
            .map(|piece| piece.point(0.5))
            .filter(|at| at.distance(centre) > 60.0)
            .filter_map(strongest)
            .collect();
        // The first section ends at the first band, so the wedge after it is the second.
        let dye = ((section as usize + 1) % 6) % DYES;
        let own = line.iter().filter(|&&found| found == dye).count() as f64 / line.len() as f64;
        assert!(own > 0.9, "wedge {section}: dye {dye} rules on {own} of its middle line");
    }

    // No seam: across the ring's zero doses change no more than beside it.
    let jump = |along_mm: f64| {
        let steps: Vec<f64> = fold
            .parallel(&[Panel::Front], along_mm)
            .iter()
            .filter_map(|piece| {
                let (at, r) = (piece.point(0.5), piece.point(0.5).distance(centre));
                let across = kurbo::Vec2::new(-(at - centre).y, (at - centre).x).normalize();
                let read = |at: Point| {
                    let column = ((at.x - frame.left_mm) / pixel_mm) as usize;
                    let row = ((at.y - frame.top_mm) / pixel_mm) as usize;
                    let pixel = row * frame.width + column;
                    (column < frame.width && row < frame.height && map.coverage[pixel] >= 1.0)
                        .then(|| doses(&map, pixel).to_vec())
                };
                let (before, after) = (read(at - 1.0 * across)?, read(at + 1.0 * across)?);
                (r > 60.0).then(|| before.iter().zip(&after).map(|(a, b)| f64::from((a - b).abs())).sum())
            })
            .collect();
        steps.iter().sum::<f64>() / steps.len() as f64
    };
    let (zero, others) = (jump(0.0), [1.0, 2.0, 3.0, 4.0, 5.0].map(|band| jump(band * fold.length_mm() / 6.0)));
    let most = others.into_iter().fold(0.0, f64::max);
    assert!(zero < 1.5 * most, "{zero} at the zero, {others:?} at the other bands");
}

/// Keeps the picture among the build's own temporary files, to be looked at.
fn paint(map: &DoseMap) {
    let dye = |hex: u32| Dye::over_white(Srgb { red: (hex >> 16) as u8, green: (hex >> 8 & 255) as u8, blue: (hex & 255) as u8 });
    let colours = DyeSet::new(Ground::plain(Ground::WHITE), &[dye(0x00c2_385a), dye(0x00e0_b12e), dye(0x002b_5fa8)]);
    let mut rgb = vec![[0_u8; 3]; map.frame.pixels()];
    colours.fill_srgb(&map.doses, &map.discharged, &mut rgb);
    let picture = image::RgbImage::from_fn(map.frame.width as u32, map.frame.height as u32, |column, row| {
        let pixel = row as usize * map.frame.width + column as usize;
        let (cloth, share) = (rgb[pixel], map.coverage[pixel].clamp(0.0, 1.0));
        image::Rgb(cloth.map(|value| (share * f32::from(value) + (1.0 - share) * 255.0).round() as u8))
    });
    picture.save(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("spiral.png")).unwrap();
}
