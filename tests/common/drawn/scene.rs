//! Photographs of a garment on a table, drawn with known truth: camera, lens, light, how it is laid, wrinkles, a white sheet.

use super::random::{Field, Random};
use image::RgbImage;
use kurbo::{Point, Vec2};
use pleatwright::photo::{MarkedPoint, Marks, NamedPoint, Plan, Sheet, SheetPaper};
use rayon::prelude::*;
use std::f64::consts::{PI, TAU};

type V3 = [f64; 3];

fn dot(a: V3, b: V3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: V3, b: V3) -> V3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn normalised(a: V3) -> V3 {
    let length = dot(a, a).sqrt();
    a.map(|entry| entry / length)
}

/// What a scene is drawn with.
#[derive(Debug, Clone)]
pub(crate) struct SceneOptions {
    pub(crate) lay_mm: f64,
    pub(crate) stretch: f64,
    pub(crate) sleeve_deg: f64,
    pub(crate) wrinkle_mm: f64,
    pub(crate) radial: f64,
    pub(crate) tilt_deg: f64,
    pub(crate) size: [u32; 2],
    pub(crate) light: f64,
    pub(crate) noise: f64,
    pub(crate) exposure: f64,
    pub(crate) click_px: f64,
    /// How far the camera is turned about its own axis.
    pub(crate) turn_deg: f64,
    /// Linear reflectance of the table.
    pub(crate) table: V3,
}

impl Default for SceneOptions {
    fn default() -> Self {
        Self {
            lay_mm: 3.0,
            stretch: 0.01,
            sleeve_deg: 3.0,
            wrinkle_mm: 1.5,
            radial: 0.02,
            tilt_deg: 12.0,
            size: [2000, 1500],
            light: 0.3,
            noise: 1.0,
            exposure: 0.93,
            click_px: 1.5,
            turn_deg: 0.0,
            table: TABLE,
        }
    }
}

impl SceneOptions {
    /// Laid as planned, flat, even light, no noise.
    pub(crate) fn flat() -> Self {
        Self {
            lay_mm: 1e-9,
            stretch: 0.0,
            sleeve_deg: 0.0,
            wrinkle_mm: 0.0,
            light: 0.0,
            noise: 0.0,
            radial: 0.0,
            tilt_deg: 2.0,
            click_px: 0.0,
            ..Self::default()
        }
    }
}

struct Ridge {
    at: Point,
    along: Vec2,
    height_mm: f64,
    width_mm: f64,
    length_mm: f64,
}

/// A scene; coordinates of the table in mm, `y` down as the garment's, heights toward the camera.
pub(crate) struct Scene<'a> {
    shirt: &'a Plan,
    options: SceneOptions,
    stretch: [[f64; 2]; 2],
    lay: [Field; 2],
    sleeves_rad: [f64; 2],
    ridges: Vec<Ridge>,
    waves: Field,
    camera: V3,
    axes: [V3; 3],
    focal_px: f64,
    sheet: (Point, f64),
    lamp: Vec2,
    bowl: V3,
    tint: V3,
    white: V3,
    sun: V3,
    exposure: f64,
    grain: Field,
    seed: u64,
}

/// The middle that the garment is laid about.
const MIDDLE: Point = Point::new(0.0, 370.0);
/// Linear reflectances.
const TABLE: V3 = [0.20, 0.19, 0.18];
const PAPER: V3 = [0.86, 0.87, 0.90];

/// Where the camera stands, how it is held, and its focal length.
struct Aim {
    camera: V3,
    axes: [V3; 3],
    focal_px: f64,
}

impl Aim {
    fn of(r: &mut Random, options: &SceneOptions) -> Self {
        let [width, height] = options.size.map(f64::from);
        let focal_px = 0.75 * width.max(height);
        let tilt = (r.between(0.3, 1.0) * options.tilt_deg).to_radians();
        let azimuth = r.between(0.0, TAU);
        let toward = [tilt.sin() * azimuth.cos(), tilt.sin() * azimuth.sin(), tilt.cos()];
        let distance = focal_px * 1010.0 / (0.86 * width);
        let look = [45.0 + 15.0 * r.normal(), 385.0 + 15.0 * r.normal(), 0.0];
        let camera = [0, 1, 2].map(|axis| look[axis] + distance * toward[axis]);
        // The picture's x along the table's, its y along the table's: what is seen is not mirrored.
        let z = toward.map(|entry| -entry);
        let mut x = normalised(cross([0.0, 1.0, 0.0], z));
        if x[0] < 0.0 {
            x = x.map(|entry| -entry);
        }
        let mut y = cross(z, x);
        if y[1] < 0.0 {
            y = y.map(|entry| -entry);
        }
        let roll = (options.turn_deg + 3.0 * r.normal()).to_radians();
        let (sin, cos) = roll.sin_cos();
        let rolled = [[0, 1, 2].map(|at| cos * x[at] - sin * y[at]), [0, 1, 2].map(|at| sin * x[at] + cos * y[at])];
        Self { camera, axes: [rolled[0], rolled[1], z], focal_px }
    }
}

impl<'a> Scene<'a> {
    /// Of a shirt that looks like this, as an exact reveal has it.
    pub(crate) fn new(seed: u64, shirt: &'a Plan, options: SceneOptions) -> Self {
        let mut random = Random::new(seed);
        let r = &mut random;
        let e = [0; 3].map(|_| options.stretch * r.normal());
        let lay = [Field::new(r, 240.0, options.lay_mm), Field::new(r, 240.0, options.lay_mm)];
        let sleeves_rad = [0; 2].map(|_| (options.sleeve_deg * r.normal()).to_radians());
        let ridge = |r: &mut Random| Ridge {
            at: Point::new(r.between(-420.0, 420.0), r.between(0.0, 740.0)),
            along: Vec2::from_angle(r.between(0.0, PI)),
            height_mm: r.normal().abs() * options.wrinkle_mm,
            width_mm: r.between(7.0, 16.0),
            length_mm: r.between(60.0, 160.0),
        };
        let ridges = (0..14).map(|_| ridge(r)).collect();
        let waves = Field::new(r, 90.0, 0.35 * options.wrinkle_mm);
        let Aim { camera, axes, focal_px } = Aim::of(r, &options);
        let sheet = (Point::new(402.0 + 5.0 * r.normal(), 575.0 + 20.0 * r.normal()), (4.0 * r.normal()).to_radians());
        let lamp_at = r.between(0.0, TAU);
        let lamp = options.light * Vec2::from_angle(lamp_at);
        let bowl = [0; 3].map(|_| 0.25 * options.light * r.normal());
        let mut centred = |size: f64| {
            let v = [0; 3].map(|_| r.normal());
            let mean = (v[0] + v[1] + v[2]) / 3.0;
            v.map(|entry| size * (entry - mean))
        };
        let (tint, white) = (normalised(centred(1.0)).map(|entry| 0.28 * options.light * entry), centred(0.05).map(f64::exp));
        let exposure = options.exposure * (-(0.1 * r.normal()).abs()).exp();
        let sun = normalised([0.8 * lamp_at.cos(), 0.8 * lamp_at.sin(), 1.0]);
        let grain = Field::new(r, 30.0, 0.03);
        Self {
            shirt,
            stretch: [[1.0 + e[0], 0.5 * e[2]], [0.5 * e[2], 1.0 + e[1]]],
            lay,
            sleeves_rad,
            ridges,
            waves,
            camera,
            axes,
            focal_px,
            sheet,
            lamp,
            bowl,
            tint,
            white,
            sun,
            exposure,
            grain,
            seed,
            options,
        }
    }

    /// Which point of the cloth lies at a point of the table.
    fn to_cloth(&self, table: Point) -> Point {
        let v = table - MIDDLE;
        let [[a, b], [c, d]] = self.stretch;
        let back = Vec2::new(d * v.x - b * v.y, a * v.y - c * v.x) / (a * d - b * c);
        let mut p = MIDDLE + back + Vec2::new(self.lay[0].at(table.x, table.y), self.lay[1].at(table.x, table.y));
        for (side, turn) in [(1.0, self.sleeves_rad[0]), (-1.0, self.sleeves_rad[1])] {
            let pivot = Point::new(side * 230.0, 120.0);
            let share = if p.y < 420.0 { 1.0 / (1.0 + (-(side * p.x - 265.0) / 18.0).exp()) } else { 0.0 };
            let (sin, cos) = (turn * share).sin_cos();
            let v = p - pivot;
            p = pivot + Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y);
        }
        p
    }

    fn to_table(&self, cloth: Point) -> Point {
        let mut table = cloth;
        for _ in 0..40 {
            table -= self.to_cloth(table) - cloth;
        }
        table
    }

    fn height(&self, at: Point) -> f64 {
        let ridge = |ridge: &Ridge| {
            let v = at - ridge.at;
            let (u, w) = (v.dot(ridge.along) / ridge.length_mm, v.cross(ridge.along) / ridge.width_mm);
            ridge.height_mm * (-0.5 * (u * u + w * w)).exp()
        };
        self.ridges.iter().map(ridge).sum::<f64>() + self.waves.at(at.x, at.y)
    }

    fn half(&self) -> Vec2 {
        0.5 * Vec2::new(f64::from(self.options.size[0]), f64::from(self.options.size[1]))
    }

    /// Brown's first two terms.
    fn bent(&self, straight: Vec2) -> Vec2 {
        let square = straight.hypot2() / self.half().hypot2();
        (1.0 + self.options.radial * square - 0.3 * self.options.radial * square * square) * straight
    }

    fn project(&self, at: Point, height: f64) -> Point {
        let v = [at.x - self.camera[0], at.y - self.camera[1], height - self.camera[2]];
        let [x, y, z] = self.axes.map(|axis| dot(axis, v));
        (self.half() + self.bent(self.focal_px / z * Vec2::new(x, y))).to_point()
    }

    /// Where a point of the cloth is seen, px.
    pub(crate) fn seen(&self, cloth: Point) -> Point {
        let table = self.to_table(cloth);
        self.project(table, self.height(table))
    }

    /// Where the sheet's corners are seen, px.
    pub(crate) fn sheet_corners(&self) -> [Point; 4] {
        let along = Vec2::from_angle(self.sheet.1);
        let corner = |x: f64, y: f64| self.sheet.0 + x * along + y * along.turn_90();
        let corners = [corner(-105.0, -148.5), corner(105.0, -148.5), corner(105.0, 148.5), corner(-105.0, 148.5)];
        corners.map(|at| self.project(at, 0.0))
    }

    /// Clicks on these points and the sheet.
    pub(crate) fn marks(&self, points: &[NamedPoint]) -> Marks {
        let mut random = Random::new(self.seed ^ 0x77);
        let mut click = |at: Point| at + self.options.click_px * Vec2::new(random.normal(), random.normal());
        let points =
            points.iter().map(|point| MarkedPoint { name: point.name.clone(), at: click(self.seen(point.at)) }).collect();
        let sheet = Some(Sheet { paper: SheetPaper::A4, corners: self.sheet_corners().map(click) });
        Marks { side: self.shirt.side(), points, sheet }
    }

    /// The picture as the camera writes it.
    #[expect(clippy::cast_possible_truncation, reason = "light as the picture has it")]
    pub(crate) fn render(&self) -> RgbImage {
        let [width, height] = self.options.size;
        let step = 4;
        let (across, down) = (width.div_ceil(step) + 2, height.div_ceil(step) + 2);
        let coarse: Vec<[f64; 6]> = (0..across * down)
            .into_par_iter()
            .map(|index| self.hit(Vec2::new(f64::from(index % across * step), f64::from(index / across * step)) - self.half()))
            .collect();
        let mut light: Vec<V3> = (0..width * height)
            .into_par_iter()
            .map(|index| {
                let (x, y) = (f64::from(index % width) + 0.5, f64::from(index / width) + 0.5);
                let (u, v) = (x / f64::from(step), y / f64::from(step));
                let (column, row) = (index % width / step, index / width / step);
                let (right, below) = (u - f64::from(column), v - f64::from(row));
                let at = |x: u32, y: u32| &coarse[((row + y) * across + column + x) as usize];
                let mixed = |entry: usize| {
                    let upper = at(0, 0)[entry] + right * (at(1, 0)[entry] - at(0, 0)[entry]);
                    let lower = at(0, 1)[entry] + right * (at(1, 1)[entry] - at(0, 1)[entry]);
                    upper + below * (lower - upper)
                };
                let from_middle = (Vec2::new(x, y) - self.half()).hypot2() / self.half().hypot2();
                self.light([0, 1, 2, 3, 4, 5].map(mixed), from_middle, u64::from(index))
            })
            .collect();
        let paper = self.sheet_corners();
        let brightest = (1..20).flat_map(|x| (1..20).map(move |y| (f64::from(x) / 20.0, f64::from(y) / 20.0)));
        let brightest = brightest.map(|(x, y)| paper[0].lerp(paper[1], x).lerp(paper[3].lerp(paper[2], x), y));
        #[expect(clippy::cast_sign_loss, reason = "within the picture")]
        // What lies beyond the picture lights nothing in it.
        let lit = brightest.filter_map(|at| light.get(at.y as usize * width as usize + at.x as usize));
        let lit = lit.flatten().copied().fold(0.0, f64::max);
        light.iter_mut().for_each(|light| *light = light.map(|channel| channel * self.exposure / lit));
        let light = blurred(&light, width as usize);
        let mut random = Random::new(self.seed ^ 0x4242);
        let bytes = light.iter().flat_map(|light| {
            light.map(|channel| {
                let noise = self.options.noise * (2.5e-4 * channel.max(0.0) + 1e-6).sqrt() * random.normal();
                encoded(channel + noise)
            })
        });
        RgbImage::from_raw(width, height, bytes.collect()).unwrap()
    }

    /// What a ray meets: table, cloth, and how the cloth is lit.
    fn hit(&self, bent: Vec2) -> [f64; 6] {
        let mut straight = bent;
        for _ in 0..8 {
            straight -= self.bent(straight) - bent;
        }
        let ray = [straight.x / self.focal_px, straight.y / self.focal_px, 1.0];
        let ray = [0, 1, 2].map(|at| ray[0] * self.axes[0][at] + ray[1] * self.axes[1][at] + ray[2] * self.axes[2][at]);
        let at_height = |height: f64| {
            let far = (height - self.camera[2]) / ray[2];
            Point::new(self.camera[0] + far * ray[0], self.camera[1] + far * ray[1])
        };
        let table = at_height(0.0);
        let mut cloth = table;
        for _ in 0..3 {
            cloth = at_height(self.height(cloth));
        }
        let slope = |axis: Vec2| self.height(cloth + axis) - self.height(cloth - axis);
        let (x, y) = (slope(Vec2::new(0.5, 0.0)), slope(Vec2::new(0.0, 0.5)));
        let lit = (self.sun[2] - x * self.sun[0] - y * self.sun[1]) / (1.0 + x * x + y * y).sqrt() / self.sun[2];
        let point = self.to_cloth(cloth);
        [table.x, table.y, point.x, point.y, lit, self.grain.at(table.x, table.y)]
    }

    fn light(&self, [x, y, cloth_x, cloth_y, lit, grain]: [f64; 6], from_middle: f64, pixel: u64) -> V3 {
        let (colour, cloth) = self.shirt.at(Point::new(cloth_x, cloth_y));
        let cloth = f64::from(cloth.clamp(0.0, 1.0));
        let speck = 0.015 * Random::new(pixel ^ (self.seed << 32)).normal();
        let mut ground = self.options.table.map(|channel| channel * (1.0 + grain) * (1.0 + speck));
        let along = Vec2::from_angle(self.sheet.1);
        let v = Point::new(x, y) - self.sheet.0;
        let (a, b) = (v.dot(along), v.dot(along.turn_90()));
        let on_sheet = ((105.0 - a.abs()).min(148.5 - b.abs()) / 0.5 + 0.5).clamp(0.0, 1.0);
        ground = [0, 1, 2].map(|channel| ground[channel] * (1.0 - on_sheet) + PAPER[channel] * on_sheet);
        let place = (Point::new(x, y) - MIDDLE) / 500.0;
        let amount = self.lamp.dot(place)
            + self.bowl[0] * place.x * place.x
            + self.bowl[1] * place.y * place.y
            + self.bowl[2] * place.x * place.y;
        let tint = if self.options.light > 0.0 { amount / self.options.light } else { 0.0 };
        let shade = 1.0 + 0.6 * (lit.max(0.0) - 1.0) * cloth;
        [0, 1, 2].map(|channel| {
            let reflected = ground[channel] * (1.0 - cloth) + f64::from(colour[channel]) * cloth;
            let lamp = (0.7 * amount + self.tint[channel] * tint).exp() * self.white[channel];
            reflected * lamp * shade * (1.0 - 0.15 * from_middle)
        })
    }
}

/// The curve of sRGB, as IEC 61966-2-1 has it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to a byte")]
pub(crate) fn encoded(light: f64) -> u8 {
    let light = light.clamp(0.0, 1.0);
    let channel = if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    (255.0 * channel).round() as u8
}

/// As a lens blurs it: a normal curve of 0.7 px.
fn blurred(light: &[V3], width: usize) -> Vec<V3> {
    let kernel: Vec<f64> = (-2..=2).map(|at| (-0.5 * (f64::from(at) / 0.7_f64).powi(2)).exp()).collect();
    let sum: f64 = kernel.iter().sum();
    let height = light.len() / width;
    let pass = |from: &[V3], along: bool| -> Vec<V3> {
        let at = |index: usize, by: usize| {
            let (x, y) = (index % width, index / width);
            let (x, y) = if along {
                ((x + by).saturating_sub(2).min(width - 1), y)
            } else {
                (x, (y + by).saturating_sub(2).min(height - 1))
            };
            from[y * width + x]
        };
        let mixed = |index: usize| {
            (0..5).fold([0.0; 3], |mixed, by| {
                let light = at(index, by);
                [0, 1, 2].map(|channel| mixed[channel] + kernel[by] / sum * light[channel])
            })
        };
        (0..from.len()).into_par_iter().map(mixed).collect()
    };
    pass(&pass(light, true), false)
}

/// A picture as a JPEG, with what its file may say besides.
pub(crate) fn jpeg(picture: &RgbImage, exif: Option<Vec<u8>>, profile: Option<Vec<u8>>) -> Vec<u8> {
    use image::ImageEncoder as _;
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 92);
    if let Some(exif) = exif {
        encoder.set_exif_metadata(exif).unwrap();
    }
    if let Some(profile) = profile {
        encoder.set_icc_profile(profile).unwrap();
    }
    encoder.write_image(picture, picture.width(), picture.height(), image::ExtendedColorType::Rgb8).unwrap();
    bytes
}
