//! Dyes on a ground: the colour of cloth by the dose of each dye and the share of its first colour that is discharged.

use super::mixture::{k_over_s_of, own_k_over_s, parted};
use super::observer::{BANDS, RGB_WEIGHTS};
use super::{Lab, Spectrum, SrgbBytes, reflectance};
use crate::layout::{DyeField, DyeFields, Layout, Srgb, Swatch};
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
    /// Of each field, K/S at a dose of 1, and the dye that it is of.
    fields: Vec<[f64; BANDS]>,
    owners: Vec<usize>,
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
        Self::of_fields(ground, dyes.iter().map(|dye| own_k_over_s(dye.swatch, dye.over)).collect(), (0..dyes.len()).collect())
    }

    fn of_fields(ground: Ground, fields: Vec<[f64; BANDS]>, owners: Vec<usize>) -> Self {
        let garment = k_over_s_of(ground.garment);
        let discharged = k_over_s_of(ground.discharged);
        let picture = (0..BANDS).map(|band| picture_band(band, &garment, &discharged, &fields)).collect();
        Self { garment, discharged, fields, owners, picture, bytes: SrgbBytes::new(), vectors: Vectors::new() }
    }

    /// Swatches over white at a dose of 1, in the order of their fields ([`DyeFields::of`]): a mixture has one for each reach of its components,
    /// which at equal doses look as its swatch.
    #[must_use]
    pub fn of_swatches(ground: Ground, swatches: &[Swatch]) -> Self {
        Self::of_swatches_by(ground, swatches, &DyeFields::of(swatches))
    }

    /// The same where the doses of these swatches are kept as these fields.
    #[must_use]
    pub fn of_swatches_by(ground: Ground, swatches: &[Swatch], fields: &DyeFields) -> Self {
        let of_dye = |swatch: &Swatch| {
            let own = own_k_over_s(swatch.srgb, Ground::WHITE);
            (own, parted(&own, &swatch.components))
        };
        let dyes: Vec<_> = swatches.iter().map(of_dye).collect();
        let of_field = |field: &DyeField| {
            let (own, parts) = &dyes[field.dye];
            // All of it together is the swatch's own, to the last digit.
            if field.components.len() == parts.len() {
                return *own;
            }
            std::array::from_fn(|band| field.components.iter().map(|component| parts[*component][band]).sum())
        };
        Self::of_fields(ground, fields.all().iter().map(of_field).collect(), fields.all().iter().map(|field| field.dye).collect())
    }

    /// A single swatch over white whose doses are given for each of these factors on the reach; those that it has nothing of add nothing.
    #[must_use]
    pub fn spread(ground: Ground, swatch: &Swatch, reach_factors: &[f64]) -> Self {
        let swatches = std::slice::from_ref(swatch);
        let (fields, own) = (DyeFields::of(swatches), Self::of_swatches(ground, swatches).fields);
        let of_factor = |factor: &f64| {
            let mut found = fields.all().iter().zip(&own).filter(|(field, _)| field.reach_factor.total_cmp(factor).is_eq());
            found.next().map_or([0.0; BANDS], |(_, k_over_s)| *k_over_s)
        };
        Self::of_fields(ground, reach_factors.iter().map(of_factor).collect(), vec![0; reach_factors.len()])
    }

    /// The rotation's colours, each a swatch over white at a dose of 1 ([`DyeSet::of_swatches`]), on the layout's ground; `over` stands in for what a full
    /// discharge leaves of the garment's colour.
    #[must_use]
    pub fn of_layout(layout: &Layout, over: Option<Srgb>) -> Self {
        let ground = Ground::of_layout(layout);
        let ground = Ground { discharged: over.unwrap_or(ground.discharged), ..ground };
        let swatches: Vec<Swatch> = layout.swatches().into_iter().cloned().collect();
        Self::of_swatches(ground, &swatches)
    }

    /// The same with some of its fields alone, by their numbers, and the dyes that they are of.
    #[must_use]
    pub fn only(&self, numbers: &[usize], owners: Vec<usize>) -> Self {
        let of_fields = |fields: &[[f64; BANDS]]| numbers.iter().filter_map(|&number| fields.get(number).copied()).collect();
        let band = |band: &PictureBand| {
            let dyes = numbers.iter().filter_map(|&number| band.dyes.get(number).copied()).collect();
            PictureBand { dyes, ..band.clone() }
        };
        Self { fields: of_fields(&self.fields), owners, picture: self.picture.iter().map(band).collect(), ..self.clone() }
    }

    /// Number of doses that each place has: one for each dye, and for a mixture one for each reach of its components.
    #[must_use]
    pub fn len(&self) -> usize {
        self.fields.len()
    }

    /// The dye that each of them is of, as an index into the rotation.
    #[must_use]
    pub fn owners(&self) -> &[usize] {
        &self.owners
    }

    /// Doses of a place with so much of some dyes, a mixture's components alike; none stands for no dye.
    #[must_use]
    pub fn doses(&self, given: &[(Option<usize>, f64)]) -> Vec<f64> {
        let of_field = |owner: &usize| given.iter().filter(|(dye, _)| *dye == Some(*owner)).map(|(_, dose)| dose).sum();
        self.owners.iter().map(of_field).collect()
    }

    /// Whether there are no dyes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.fields.is_empty()
    }

    /// The spectrum of cloth with these doses, [`DyeSet::len`] of them; missing ones are 0, negative ones and NaN too.
    ///
    /// `discharged`: the share of the garment's colour that is gone, held between 0 and 1.
    #[must_use]
    pub fn spectrum(&self, doses: &[f64], discharged: f64) -> Spectrum {
        // The second bound turns a NaN into 0.
        let gone = discharged.clamp(0.0, 1.0).max(0.0);
        let mut bands = [0.0; BANDS];
        for (band, share) in bands.iter_mut().enumerate() {
            let ground = (1.0 - gone) * self.garment[band] + gone * self.discharged[band];
            let dyed: f64 = self.fields.iter().zip(doses).map(|(dye, dose)| dye[band] * dose.max(0.0)).sum();
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
    /// `doses` holds the doses of the first pixel, [`DyeSet::len`] of them, then those of the second; `discharged` one value a pixel. Values
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
        let dyes = self.fields.len();
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

#[expect(clippy::cast_possible_truncation, reason = "the picture is worked out in single precision")]
fn picture_band(band: usize, garment: &[f64; BANDS], discharged: &[f64; BANDS], fields: &[[f64; BANDS]]) -> PictureBand {
    PictureBand {
        garment: garment[band] as f32,
        discharged: discharged[band] as f32,
        dyes: fields.iter().map(|field| field[band] as f32).collect(),
        rgb: RGB_WEIGHTS.map(|weights| weights[band] as f32),
    }
}
