//! The shirts that are photographed, and the plan that they were made from.

use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use image::RgbImage;
use kurbo::Point;
use pleatwright::geometry::Panel;
use pleatwright::layout::{Layout, LayoutSpec};
use pleatwright::photo::{
    KeptPixels, MarkedPoint, Marks, NamedPoint, PhotoError, PhotoMeasure, Photograph, Plan, RegistrationOptions, measure,
    named_points, register,
};
use pleatwright::reveal::colour::{DyeSet, LinearRgb};
use pleatwright::reveal::{Cancel, PictureMap, RevealOptions, Texture, picture_of, reveal_doses};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout, photograph_of};
use std::sync::LazyLock;

/// The layout that everything is made from.
pub(crate) static LAYOUT: LazyLock<Layout> = LazyLock::new(|| example("harbour-row-tee-m"));
/// Its plan.
pub(crate) static PLAN: LazyLock<Plan> = LazyLock::new(|| Plan::of(&LAYOUT, Panel::Front, &Cancel::new()).unwrap());

/// A layout that comes with the program.
pub(crate) fn example(name: &str) -> Layout {
    let found = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name() == name).unwrap();
    parse_layout(found.text).unwrap()
}

/// A shirt as it was made: by a hand that strays, with a teal that is not quite the swatch's.
pub(crate) struct Shirt {
    /// As it is seen: with the texture of cloth.
    pub(crate) textured: Plan,
    /// The same in flat colours.
    pub(crate) flat: Plan,
}

fn shirt(seed: u64) -> Shirt {
    let mut spec: LayoutSpec = LAYOUT.raw().clone();
    spec.process.hand.seed = seed;
    spec.colours.rotation[0].srgb = "#1a8a8a".parse().unwrap();
    let made = Layout::try_from(spec).unwrap();
    let reveal = reveal_doses(&made, &RevealOptions::default(), &Cancel::new()).unwrap();
    let dyes = DyeSet::of_layout(&made, None);
    let of = |texture| {
        let picture = picture_of(&reveal, &dyes, PictureMap::Cloth, texture);
        Plan::from_picture(made.clone(), Panel::Front, reveal.panels(), &picture)
    };
    Shirt { textured: of(Texture::Faint), flat: of(Texture::Off) }
}

/// Two shirts.
pub(crate) static SHIRTS: LazyLock<[Shirt; 2]> = LazyLock::new(|| [shirt(101), shirt(102)]);

/// A photograph of a shirt as its file, with the marks on it.
pub(crate) struct Taken {
    pub(crate) shirt: usize,
    pub(crate) picture: RgbImage,
    pub(crate) marks: Marks,
}

impl Taken {
    pub(crate) fn new(seed: u64, shirt: usize, points: usize, options: SceneOptions) -> Self {
        let scene = Scene::new(seed, &SHIRTS[shirt].textured, options);
        Self { shirt, picture: scene.render(), marks: scene.marks(&best(points)) }
    }

    pub(crate) fn photograph(&self) -> Photograph {
        photograph_of(&jpeg(&self.picture, None, None)).unwrap()
    }

    pub(crate) fn measured(&self) -> PhotoMeasure {
        held(&self.photograph(), &PLAN, &self.marks, &RegistrationOptions::default()).unwrap()
    }
}

/// A photograph registered and measured.
pub(crate) fn held(
    photograph: &Photograph,
    plan: &Plan,
    marks: &Marks,
    options: &RegistrationOptions,
) -> Result<PhotoMeasure, PhotoError> {
    let cancel = Cancel::new();
    let registration = register(photograph, plan.layout(), marks, options, &cancel)?;
    measure(photograph, plan, marks, registration, &cancel)
}

/// Scenes as makers take them: four points, lay of 3 mm, stretch of 1 %, sleeves turned by 3 degrees, wrinkles, tilt, lens, uneven light.
pub(crate) static TAKEN: LazyLock<Vec<Taken>> =
    LazyLock::new(|| (0..4).map(|at| Taken::new(1000 + at, usize::from(at > 1), 4, SceneOptions::default())).collect());

/// What is measured on them.
pub(crate) static MEASURED: LazyLock<Vec<PhotoMeasure>> = LazyLock::new(|| TAKEN.iter().map(Taken::measured).collect());

/// The points that serve best.
pub(crate) fn best(count: usize) -> Vec<NamedPoint> {
    named_points(&LAYOUT, Panel::Front).into_iter().take(count).collect()
}

/// A shirt measured on a perfect picture of itself: seen straight from above, laid as planned, every point marked exactly.
pub(crate) fn perfect(shirt: &Plan, plan: &Plan) -> PhotoMeasure {
    held_perfectly(shirt, plan).unwrap()
}

/// The same, where another than the plan's may be pictured.
pub(crate) fn held_perfectly(shirt: &Plan, plan: &Plan) -> Result<PhotoMeasure, PhotoError> {
    let frame = shirt.frame();
    let table = LinearRgb([0.2, 0.19, 0.18]).0;
    #[expect(clippy::cast_possible_truncation, reason = "light")]
    let light = |index: usize| {
        let (colour, cloth) = shirt.at(frame.middle(index % frame.width, index / frame.width));
        [0, 1, 2].map(|channel| colour[channel] * cloth + table[channel] as f32 * (1.0 - cloth))
    };
    let light = (0..frame.pixels()).map(light).collect();
    let whole = [frame.width, frame.height].map(|side| u32::try_from(side).unwrap());
    let kept = KeptPixels { width: frame.width, light, step: 1, first: Point::ORIGIN };
    let photograph = Photograph::new(whole, kept).unwrap();
    let px = |at: Point| Point::new((at.x - frame.left_mm) / frame.pixel_mm, (at.y - frame.top_mm) / frame.pixel_mm);
    let points = named_points(plan.layout(), plan.side())
        .into_iter()
        .map(|point| MarkedPoint { name: point.name, at: px(point.at) })
        .collect();
    let marks = Marks { side: plan.side(), points, sheet: None };
    let exact =
        RegistrationOptions { click_px: 0.01, mark_sd_mm: 0.01, windows_mm: Vec::new(), ..RegistrationOptions::default() };
    held(&photograph, plan, &marks, &exact)
}

/// The shirts measured on perfect pictures.
pub(crate) static TRUE: LazyLock<[PhotoMeasure; 2]> = LazyLock::new(|| [0, 1].map(|shirt| perfect(&SHIRTS[shirt].flat, &PLAN)));
