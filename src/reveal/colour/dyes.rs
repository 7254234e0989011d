//! Dyes on a ground: the colour of cloth by the dose of each dye and the share of its first colour that is discharged.

use super::observer::{BANDS, RGB_WEIGHTS};
use super::{Lab, Spectrum, SrgbBytes, k_over_s, reflectance};
use crate::layout::{Layout, Srgb};
use crate::vector::{Kernel, Vectors};

/// Pixels worked on together; sixteen values of single precision fill two to four registers.
const LANES: usize = 16;

/// The cloth before any dye: its colour as it is, and what a full discharge leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ground {
    /// The garment's colour.
    pub garment: Srgb,
    /// Its colour where the discharge has done all it can; seldom white. The garment's own where nothing is discharged.
    pub discharged: Srgb,
}

impl Ground {
    /// The white that swatches stand on where nothing else is said.
    pub const WHITE: Srgb = Srgb { red: 255, green: 255, blue: 255 };

    /// What most coloured cotton becomes in a discharge bath, where nobody says: a pale sand. A guess, no source: garments go
    /// anything from white to a deep tan.
    pub const DISCHARGED_GUESS: Srgb = Srgb { red: 226, green: 196, blue: 160 };

    /// The guess for a garment of this colour: no channel is darker than it was, for a discharge adds no colour.
    #[must_use]
    pub fn guessed(garment: Srgb) -> Self {
        let Srgb { red, green, blue } = Self::DISCHARGED_GUESS;
        let discharged = Srgb { red: garment.red.max(red), green: garment.green.max(green), blue: garment.blue.max(blue) };
        Self { garment, discharged }
    }

    /// A layout's garment, white where it gives no colour, and what a full discharge leaves of it: as it says, or a guess.
    #[must_use]
    pub fn of_layout(layout: &Layout) -> Self {
        let garment = &layout.raw().garment;
        let ground = Self::guessed(garment.colour.as_ref().map_or(Self::WHITE, |swatch| swatch.srgb));
        garment.discharged.as_ref().map_or(ground, |swatch| Self { discharged: swatch.srgb, ..ground })
    }

    /// A garment that is not discharged.
    #[must_use]
    pub fn plain(garment: Srgb) -> Self {
        Self { garment, discharged: garment }
    }
}

/// A dye, by how it looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dye {
    /// Its swatch, at a dose of 1.
    pub swatch: Srgb,
    /// The undyed cloth that the swatch was made on.
    pub over: Srgb,
}

impl Dye {
    /// A dye whose swatch stands on white.
    #[must_use]
    pub fn over_white(swatch: Srgb) -> Self {
        Self { swatch, over: Ground::WHITE }
    }
}

/// The dyes of a piece and its ground, ready to give the colour of any point of it.
///
/// In each band of the spectrum K/S is that of the garment times the share of its colour that is left, plus that of the discharged
/// ground times the share discharged, plus that of each dye times its dose (Duncan's rule: colorants add K/S in proportion to their
/// amount; from memory, after Duncan, Proc. Phys. Soc. 52, 390 (1940)). A dose of 1 is the depth at which the swatch was made. A dye's own
/// K/S is that of its swatch less that of the cloth under it, and nowhere below 0.
///
/// The ground follows the same rule: a discharge destroys the garment's dye molecule by molecule, so what is left of it and what it
/// leaves behind are both in proportion to the share discharged.
///
/// # Limits
/// Doses stay in proportion however high: a fibre that takes no more dye is the dose solver's affair. A garment whose colour
/// passes through another hue while it is discharged is not followed on its way. A swatch of pure black or of a pure screen colour
/// is a dye stronger than any, and shows at a hundredth of its dose: give swatches as cloth looks, not as a screen can.
///
/// ```
/// use pleatwright::layout::Srgb;
/// use pleatwright::reveal::colour::{Dye, DyeSet, Ground};
/// let [plum, ecru, teal] = ["#5a1030", "#d8c3ae", "#0f7c8a"].map(|text| text.parse::<Srgb>().unwrap());
/// let dyes = DyeSet::new(Ground { garment: plum, discharged: ecru }, &[Dye::over_white(teal)]);
/// assert_eq!(dyes.srgb(&[0.0], 0.0), plum);
/// assert_eq!(dyes.srgb(&[0.0], 1.0), ecru);
/// let over_ecru = dyes.srgb(&[1.0], 1.0);
/// assert!(over_ecru.green < teal.green && over_ecru.blue < teal.blue);
/// ```
#[derive(Debug, Clone)]
pub struct DyeSet {
    garment: [f64; BANDS],
    discharged: [f64; BANDS],
    dyes: Vec<[f64; BANDS]>,
    picture: Vec<PictureBand>,
    bytes: SrgbBytes,
    vectors: Vectors,
}

/// One band as the picture needs it: single precision, everything of the band together.
#[derive(Debug, Clone)]
struct PictureBand {
    garment: f32,
    discharged: f32,
    dyes: Vec<f32>,
    rgb: [f32; 3],
}

impl DyeSet {
    /// Works out the spectra once.
    #[must_use]
    pub fn new(ground: Ground, dyes: &[Dye]) -> Self {
        let garment = k_over_s_of(ground.garment);
        let discharged = k_over_s_of(ground.discharged);
        let dyes: Vec<[f64; BANDS]> = dyes.iter().map(own_k_over_s).collect();
        let picture = (0..BANDS).map(|band| picture_band(band, &garment, &discharged, &dyes)).collect();
        Self { garment, discharged, dyes, picture, bytes: SrgbBytes::new(), vectors: Vectors::new() }
    }

    /// The rotation's colours, each a swatch over white at a dose of 1, on the layout's ground; `over` stands in for what a full
    /// discharge leaves of the garment's colour.
    #[must_use]
    pub fn of_layout(layout: &Layout, over: Option<Srgb>) -> Self {
        let raw = layout.raw();
        let ground = Ground::of_layout(layout);
        let ground = Ground { discharged: over.unwrap_or(ground.discharged), ..ground };
        let dyes: Vec<Dye> = raw.colours.rotation.iter().map(|swatch| Dye::over_white(swatch.srgb)).collect();
        Self::new(ground, &dyes)
    }

    /// Number of dyes.
    #[must_use]
    pub fn len(&self) -> usize {
        self.dyes.len()
    }

    /// Whether there are no dyes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.dyes.is_empty()
    }

    /// The spectrum of cloth with these doses, one for each dye; missing ones are 0, negative ones and NaN too.
    ///
    /// `discharged`: the share of the garment's colour that is gone, held between 0 and 1.
    #[must_use]
    pub fn spectrum(&self, doses: &[f64], discharged: f64) -> Spectrum {
        // The second bound turns a NaN into 0.
        let gone = discharged.clamp(0.0, 1.0).max(0.0);
        let mut bands = [0.0; BANDS];
        for (band, share) in bands.iter_mut().enumerate() {
            let ground = (1.0 - gone) * self.garment[band] + gone * self.discharged[band];
            let dyed: f64 = self.dyes.iter().zip(doses).map(|(dye, dose)| dye[band] * dose.max(0.0)).sum();
            *share = reflectance(ground + dyed);
        }
        Spectrum::from_bands(bands)
    }

    /// The colour of such cloth as a screen shows it.
    #[must_use]
    pub fn srgb(&self, doses: &[f64], discharged: f64) -> Srgb {
        self.spectrum(doses, discharged).to_linear_rgb().to_srgb()
    }

    /// The colour of such cloth as the eye sees it, colours beyond the screen's included.
    #[must_use]
    pub fn lab(&self, doses: &[f64], discharged: f64) -> Lab {
        self.spectrum(doses, discharged).to_xyz().to_lab()
    }

    /// Colours of many pixels, in linear sRGB that may leave 0 to 1: the same mixture as [`DyeSet::spectrum`], all bands, in single
    /// precision.
    ///
    /// `doses` holds the doses of the first pixel, one for each dye, then those of the second; `discharged` one value a pixel. Values
    /// missing at the end of either count as 0. Every pixel depends on its own values alone, so slices may be shared out
    /// among threads at will.
    pub fn fill_linear(&self, doses: &[f32], discharged: &[f32], out: &mut [[f32; 3]]) {
        self.fill(doses, discharged, out, |_, rgb| rgb);
    }

    /// Colours of many pixels, in bytes of sRGB; otherwise as [`DyeSet::fill_linear`].
    pub fn fill_srgb(&self, doses: &[f32], discharged: &[f32], out: &mut [[u8; 3]]) {
        self.fill(doses, discharged, out, |_, rgb| rgb.map(|light| self.bytes.byte(light)));
    }

    /// As [`DyeSet::fill_srgb`], the light of each pixel first multiplied by its factor; missing factors are 1.
    pub fn fill_srgb_lit(&self, doses: &[f32], discharged: &[f32], light: &[f32], out: &mut [[u8; 3]]) {
        let lit = |pixel: usize, rgb: [f32; 3]| {
            let factor = light.get(pixel).copied().unwrap_or(1.0);
            rgb.map(|light| self.bytes.byte(factor * light))
        };
        self.fill(doses, discharged, out, lit);
    }

    fn fill<T>(&self, doses: &[f32], discharged: &[f32], out: &mut [[T; 3]], finish: impl Fn(usize, [f32; 3]) -> [T; 3]) {
        let dyes = self.dyes.len();
        let mut dose_lanes = vec![[0.0; LANES]; dyes];
        for (index, block) in out.chunks_mut(LANES).enumerate() {
            let first = index * LANES;
            let mut gone = [0.0; LANES];
            for (lane, gone) in gone.iter_mut().enumerate() {
                *gone = discharged.get(first + lane).map_or(0.0, |&share| share.clamp(0.0, 1.0).max(0.0));
                for (dye, doses_of) in dose_lanes.iter_mut().enumerate() {
                    doses_of[lane] = doses.get((first + lane) * dyes + dye).map_or(0.0, |&dose| dose.max(0.0));
                }
            }
            let rgb = self.vectors.run(Block { bands: &self.picture, doses: &dose_lanes, gone });
            for (lane, pixel) in block.iter_mut().enumerate() {
                *pixel = finish(first + lane, [rgb[0][lane], rgb[1][lane], rgb[2][lane]]);
            }
        }
    }
}

/// A few pixels, to be compiled for the vector registers of the processor it runs on. Nothing in it fuses multiply and add, so
/// that every processor gives the same bytes.
struct Block<'a> {
    bands: &'a [PictureBand],
    doses: &'a [[f32; LANES]],
    gone: [f32; LANES],
}

impl Kernel for Block<'_> {
    type Output = [[f32; LANES]; 3];

    /// The inner loop: lanes are pixels, so that every line of it is one instruction on all of them.
    #[inline(always)]
    fn call(self) -> Self::Output {
        let mut rgb = [[0.0; LANES]; 3];
        for band in self.bands {
            let mut k_over_s = [0.0; LANES];
            for (k, gone) in k_over_s.iter_mut().zip(self.gone) {
                *k = band.garment + gone * (band.discharged - band.garment);
            }
            for (dye, doses) in band.dyes.iter().zip(self.doses) {
                for lane in 0..LANES {
                    k_over_s[lane] += dye * doses[lane];
                }
            }
            let mut share = [0.0; LANES];
            for (share, k) in share.iter_mut().zip(k_over_s) {
                *share = 1.0 / (1.0 + k + (k * (k + 2.0)).sqrt());
            }
            for (sums, weight) in rgb.iter_mut().zip(band.rgb) {
                for lane in 0..LANES {
                    sums[lane] += weight * share[lane];
                }
            }
        }
        rgb
    }
}

fn k_over_s_of(colour: Srgb) -> [f64; BANDS] {
    Spectrum::of(colour).bands().map(k_over_s)
}

fn own_k_over_s(dye: &Dye) -> [f64; BANDS] {
    let (swatch, over) = (k_over_s_of(dye.swatch), k_over_s_of(dye.over));
    std::array::from_fn(|band| (swatch[band] - over[band]).max(0.0))
}

#[expect(clippy::cast_possible_truncation, reason = "the picture is worked out in single precision")]
fn picture_band(band: usize, garment: &[f64; BANDS], discharged: &[f64; BANDS], dyes: &[[f64; BANDS]]) -> PictureBand {
    PictureBand {
        garment: garment[band] as f32,
        discharged: discharged[band] as f32,
        dyes: dyes.iter().map(|dye| dye[band] as f32).collect(),
        rgb: RGB_WEIGHTS.map(|weights| weights[band] as f32),
    }
}
