//! Where a reveal is unsure: how far its colours may be off by what is believed of its calibration values and of how far its mixtures' components
//! reach, and its two extremes.
//!
//! Each way in which the values may be off by one standard deviation ([`Beliefs`]) is gone both ways, and the whole reveal computed anew. Ways
//! are independent, so what each changes adds in square. In the plane of all ways, the one that changes the picture most is found from the
//! changes in CIE L\*a\*b\*: the leading eigenvector of their products (principal components). One standard deviation along it either way are the
//! two extremes.
//!
//! # Limits
//! What the model leaves out is not in it, nor the hand, nor how strong a dye comes out, nor the shares and colours of a mixture's components. Between the two
//! ends of a way the picture is taken to change in proportion.

use super::beliefs::{Beliefs, Way};
use crate::geometry::Panel;
use crate::layout::{Layout, Tuning};
use crate::reveal::colour::{DyeSet, Lab, LinearRgb, ciede2000};
use crate::reveal::{
    Cancel, Cells, DIFFERS_ABOVE, GridSpec, Picture, PixelFrame, Reveal, RevealError, RevealOptions, Standing, fine_grid,
    reveal_doses, reveal_doses_standing,
};
use crate::telling::Voice;
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// Every so many pixels across and down count toward the way of most change: neighbours change alike.
const STEP: usize = 3;
/// Fewest cells across a pleat.
const FEWEST_ACROSS: usize = 8;
/// From stripe to stripe of the hatching, mm, but at least eight pixels.
const HATCH_MM: f64 = 7.0;
/// Share of a stripe's room that its dark and its light line take each.
const LINE: f64 = 0.2;
/// CIEDE2000 from which the hatching is as strong as it gets, and how strong that is.
const STRONG: f32 = 14.0;
const STRONGEST: f32 = 0.8;

/// How far a reveal may be off, one standard deviation, and its extremes.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsure {
    panels: Vec<(Panel, PixelFrame, Vec<f32>)>,
    mean: f64,
    differing: f64,
    mostly: Option<String>,
    extremes: [Tuning; 2],
    is_learned: bool,
}

impl Unsure {
    /// Computes how far the reveal of a layout may be off by what is believed, on pixels of these options.
    ///
    /// # Errors
    /// [`RevealError`].
    pub fn of(layout: &Layout, beliefs: &Beliefs, options: &RevealOptions, cancel: &Cancel) -> Result<Self, RevealError> {
        // The same cells for all: what is told apart is what values change, and half as many across tell as much of that.
        let fine = fine_grid(layout);
        let cells = GridSpec { across: (fine.across / 2).max(FEWEST_ACROSS), ..fine };
        let options = RevealOptions { cells: Cells::Of(cells), ..*options };
        let base = reveal_doses(layout, &options, &cancel.beneath())?;
        let ways = beliefs.ways();
        let count = ways.len();
        let mut found = Found::of(&base);
        for (done, way) in ways.iter().enumerate() {
            cancel.note((done + 1) as f64 / (count + 1) as f64);
            cancel.check()?;
            let standing = {
                let [bath, dyes] = beliefs.changes_alone(way);
                Standing { dyes: bath, but: None, bath: dyes, cloth: true }
            };
            let end = |tuning: Tuning| -> Result<Seen, RevealError> {
                let layout = layout.tuned(&tuning);
                let reveal = reveal_doses_standing(&layout, &options, Some((&base, standing)), &cancel.beneath())?;
                Ok(Seen::of(&reveal))
            };
            let [up, down] = [way.clone(), -way].map(|way| beliefs.off_by(&way));
            let (up, down) = rayon::join(|| end(up), || end(down));
            found.add(&up?, &down?);
        }
        cancel.note(1.0);
        Ok(found.told(beliefs, &ways))
    }

    /// The values and reaches with which least dye reaches the cloth, and most, one standard deviation along the way that changes the picture most.
    #[must_use]
    pub fn extremes(&self) -> &[Tuning; 2] {
        &self.extremes
    }

    /// How far the picture may be off in the mean over its cloth, CIEDE2000.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Share of the cloth that may be off by more than [`DIFFERS_ABOVE`], 0 to 1.
    #[must_use]
    pub fn differing(&self) -> f64 {
        self.differing
    }

    /// What the value, or the reach of a component, is called by which most of it may be off; none where nothing may.
    #[must_use]
    pub fn mostly(&self) -> Option<&str> {
        self.mostly.as_deref()
    }

    /// How far a place of a panel may be off, CIEDE2000: the back as seen from behind, mm; 0 beside the cloth.
    #[must_use]
    pub fn at(&self, panel: Panel, x_mm: f64, y_mm: f64) -> f32 {
        let Some((_, frame, values)) = self.panels.iter().find(|(other, ..)| *other == panel) else { return 0.0 };
        let [x, y] = [(x_mm - frame.left_mm) / frame.pixel_mm - 0.5, (y_mm - frame.top_mm) / frame.pixel_mm - 0.5];
        let (column, across) = between(x, frame.width);
        let (row, down) = between(y, frame.height);
        let value = |column: usize, row: usize| values[row.min(frame.height - 1) * frame.width + column.min(frame.width - 1)];
        let line = |row: usize| value(column, row) + across * (value(column + 1, row) - value(column, row));
        line(row) + down * (line(row + 1) - line(row))
    }

    /// How sure the reveal is, in a sentence or two.
    #[must_use]
    pub fn sentence(&self, voice: Voice) -> String {
        let by = voice.either(" (CIEDE2000)", ", where 1 is hardly seen");
        let whose = if self.is_learned { "what your pieces taught" } else { "what we guess of its calibration" };
        let mostly = self.mostly.as_ref().map_or_else(String::new, |words| format!(", most of all by \"{words}\""));
        format!(
            "By {whose}, the picture may be off by {:.1} in the mean{by}, and {:.0} % of the cloth by more than {DIFFERS_ABOVE:.0}\
             {mostly}. That is one standard deviation; what the model leaves out comes on top.",
            self.mean,
            100.0 * self.differing
        )
    }

    /// Hatching over all that may be off by more than [`DIFFERS_ABOVE`], the stronger the farther, on the pixels of a picture with these panels side
    /// by side; the rest shows nothing. Each stripe is a dark line beside a light one, which shows on any colour.
    #[must_use]
    pub fn hatching(&self, panels: &[(Panel, PixelFrame)]) -> Picture {
        let width: usize = panels.iter().map(|(_, frame)| frame.width).sum();
        let height = panels.first().map_or(0, |(_, frame)| frame.height);
        let mut rgba = vec![0_u8; 4 * width * height];
        rgba.par_chunks_mut((4 * width).max(1)).enumerate().for_each(|(row, line)| {
            let mut pixels = line.as_chunks_mut::<4>().0.iter_mut();
            for &(panel, frame) in panels {
                for (column, pixel) in pixels.by_ref().take(frame.width).enumerate() {
                    let at = frame.middle(column, row);
                    *pixel = stripe(&frame, [column, row], self.at(panel, at.x, at.y));
                }
            }
        });
        Picture { width, height, rgba }
    }

    /// A picture with these panels side by side, hatched where it may be off.
    #[must_use]
    pub fn hatched(&self, picture: &Picture, panels: &[(Panel, PixelFrame)]) -> Picture {
        let hatching = self.hatching(panels);
        let mut hatched = picture.clone();
        let pixels = hatched.rgba.as_chunks_mut::<4>().0.iter_mut().zip(hatching.rgba.as_chunks::<4>().0);
        for (pixel, [red, green, blue, alpha]) in pixels {
            for (own, over) in pixel.iter_mut().zip([red, green, blue]) {
                let (own_part, over_part) = (u32::from(*own) * u32::from(255 - alpha), u32::from(*over) * u32::from(*alpha));
                *own = u8::try_from((own_part + over_part + 127) / 255).unwrap_or(u8::MAX);
            }
        }
        hatched
    }
}

/// The pixel of a hatching.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 255")]
fn stripe(frame: &PixelFrame, [column, row]: [usize; 2], off: f32) -> [u8; 4] {
    let least = DIFFERS_ABOVE as f32;
    if off <= least {
        return [0; 4];
    }
    let spacing = (HATCH_MM / frame.pixel_mm).max(8.0);
    let at = ((column + row) as f64 / spacing).fract();
    let strength = STRONGEST * (0.4 + 0.6 * ((off - least) / (STRONG - least)).min(1.0));
    let alpha = (255.0 * strength) as u8;
    match at {
        at if at < LINE => [20, 20, 20, alpha],
        at if at < 2.0 * LINE => [250, 250, 250, alpha],
        _ => [0; 4],
    }
}

/// The entry at or before a place in a list of so many, and how far it is on the way to the next.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the list")]
fn between(at: f64, count: usize) -> (usize, f32) {
    let at = at.clamp(0.0, count.saturating_sub(1) as f64);
    (at as usize, at.fract() as f32)
}

/// Whether a pixel that cloth covers so far counts as cloth.
fn is_cloth(coverage: f32) -> bool {
    coverage >= 0.5
}

/// What a reveal shows: colours panel by panel, none beside the cloth, and how much dye reaches it.
struct Seen {
    panels: Vec<Vec<Option<Lab>>>,
    /// Mean dose over the cloth of all dyes together; of cloth without dyes, the share of its colour that is gone.
    amount: f64,
}

impl Seen {
    fn of(reveal: &Reveal) -> Self {
        let dyes = DyeSet::of_layout(reveal.layout(), None);
        let fields = reveal.layout().dye_fields();
        let (mut sum, mut count) = (0.0, 0.0_f64);
        let panels = reveal.panels().iter().filter_map(|(panel, _)| reveal.map(*panel)).map(|map| {
            let mut light = vec![[0.0; 3]; map.coverage.len()];
            dyes.fill_linear(&map.doses, &map.discharged, &mut light);
            let cloth = |pixel: usize| is_cloth(map.coverage[pixel]);
            for pixel in (0..map.coverage.len()).filter(|pixel| cloth(*pixel)) {
                let doses = map.doses[map.dyes * pixel..][..map.dyes].iter().zip(fields.all());
                let dose: f64 = doses.map(|(dose, field)| field.share * f64::from(*dose)).sum();
                sum += if map.dyes == 0 { f64::from(map.discharged[pixel]) } else { dose };
                count += 1.0;
            }
            let lab = |(pixel, light): (usize, [f32; 3])| cloth(pixel).then(|| LinearRgb(light.map(f64::from)).to_xyz().to_lab());
            light.into_par_iter().enumerate().map(lab).collect()
        });
        let panels = panels.collect();
        Self { panels, amount: sum / count.max(1.0) }
    }
}

/// What was found so far.
struct Found {
    frames: Vec<(Panel, PixelFrame)>,
    /// Squares of what each pixel may be off by, panel by panel.
    squares: Vec<Vec<f32>>,
    /// Of each way its change in colour, pixel after pixel of those that count; in the amount of dye; and the sum of squares.
    changes: Vec<Vec<f32>>,
    amounts: Vec<f64>,
    sums: Vec<f64>,
    /// Pixels that are cloth.
    cloth: usize,
}

impl Found {
    fn of(base: &Reveal) -> Self {
        let frames = base.panels().to_vec();
        let squares = frames.iter().map(|(_, frame)| vec![0.0; frame.pixels()]).collect();
        let maps = frames.iter().filter_map(|(panel, _)| base.map(*panel));
        let cloth = maps.map(|map| map.coverage.iter().filter(|share| is_cloth(**share)).count()).sum();
        Self { frames, squares, changes: Vec::new(), amounts: Vec::new(), sums: Vec::new(), cloth }
    }

    /// Adds what a way changes from its one end to the other.
    fn add(&mut self, up: &Seen, down: &Seen) {
        let (mut changes, mut sum) = (Vec::new(), 0.0);
        for (panel, (up, down)) in up.panels.iter().zip(&down.panels).enumerate() {
            let width = self.frames[panel].1.width;
            #[expect(clippy::cast_possible_truncation, reason = "a difference, kept in f32")]
            let half = |up: &Lab, down: &Lab| (0.5 * ciede2000(*up, *down)) as f32;
            let off: Vec<f32> =
                up.par_iter().zip(down).map(|pair| if let (Some(a), Some(b)) = pair { half(a, b) } else { 0.0 }).collect();
            for (square, off) in self.squares[panel].iter_mut().zip(&off) {
                *square += off * off;
                sum += f64::from(off * off);
            }
            let counts = |pixel: &usize| (pixel % width).is_multiple_of(STEP) && (pixel / width).is_multiple_of(STEP);
            for pixel in (0..up.len()).filter(counts) {
                let (Some(up), Some(down)) = (up[pixel], down[pixel]) else { continue };
                #[expect(clippy::cast_possible_truncation, reason = "a difference, kept in f32")]
                changes.extend([up.l - down.l, up.a - down.a, up.b - down.b].map(|change| (0.5 * change) as f32));
            }
        }
        self.changes.push(changes);
        self.sums.push(sum);
        self.amounts.push(up.amount - down.amount);
    }

    /// The combination of ways, of length 1, that changes the picture most, toward more dye.
    fn most_change(&self) -> DVector<f64> {
        let count = self.changes.len();
        let dot = |a: &[f32], b: &[f32]| a.iter().zip(b).map(|(a, b)| f64::from(a * b)).sum::<f64>();
        let products = DMatrix::from_fn(count, count, |row, column| dot(&self.changes[row], &self.changes[column]));
        let parts = products.symmetric_eigen();
        let largest = (0..count).max_by(|a, b| parts.eigenvalues[*a].total_cmp(&parts.eigenvalues[*b]));
        let direction = largest.map_or_else(|| DVector::zeros(count), |largest| parts.eigenvectors.column(largest).into_owned());
        let toward: f64 = direction.iter().zip(&self.amounts).map(|(part, amount)| part * amount).sum();
        if toward < 0.0 { -direction } else { direction }
    }

    fn told(self, beliefs: &Beliefs, ways: &[Way]) -> Unsure {
        let direction = self.most_change();
        let step = ways.iter().zip(direction.iter()).fold(DVector::zeros(beliefs.len()), |sum, (way, part)| sum + way * *part);
        let extremes = [-&step, step].map(|step| beliefs.off_by(&step));
        let of_value = |at: usize| {
            // What a way changes is the values' by their shares of it, each in its own standard deviations.
            let own = |way: &Way, at: usize| (way[at] / beliefs.sd_at(at)).powi(2);
            let share =
                |way: &Way| own(way, at) / (0..way.len()).map(|other| own(way, other)).sum::<f64>().max(f64::MIN_POSITIVE);
            ways.iter().zip(&self.sums).map(|(way, sum)| share(way) * sum).sum::<f64>()
        };
        let all: Vec<f64> = (0..beliefs.len()).map(of_value).collect();
        let mostly = (0..all.len()).max_by(|a, b| all[*a].total_cmp(&all[*b])).filter(|at| all[*at] > 0.0);
        let panels: Vec<(Panel, PixelFrame, Vec<f32>)> = self
            .frames
            .into_iter()
            .zip(self.squares)
            .map(|((panel, frame), squares)| (panel, frame, squares.into_iter().map(f32::sqrt).collect()))
            .collect();
        let off = || panels.iter().flat_map(|(_, _, off)| off).map(|off| f64::from(*off));
        let cloth = self.cloth.max(1) as f64;
        Unsure {
            mean: off().sum::<f64>() / cloth,
            differing: off().filter(|off| *off > DIFFERS_ABOVE).count() as f64 / cloth,
            mostly: mostly.map(|at| beliefs.words(at)),
            extremes,
            is_learned: beliefs.is_learned(),
            panels,
        }
    }
}
