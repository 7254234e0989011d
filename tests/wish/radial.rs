//! A reveal's picture by the distance from the burst's centre, read off its pixels: shares no code with the rows of the search.

use pleatwright::geometry::{
    BurstSpec, Centre, Centring, GarmentKind, Measure, Pleats, Progression, RawMeasures, SpacingSpec, Thread,
};
use pleatwright::layout::{
    Colours, Discharge, FoldSpec, GarmentSpec, Hand, Layout, LayoutSpec, Limits, Process, RotationStart, Srgb, Swatch,
};
use pleatwright::measure::RuleMarks;
use pleatwright::reveal::colour::{DyeSet, Lab, LinearRgb};
use pleatwright::reveal::{Cancel, Cells, GridSpec, RevealOptions, Texture, picture_of, reveal_doses};
use pleatwright::wish::WishOptions;

pub(crate) fn swatch(name: &str, srgb: &str) -> Swatch {
    Swatch::plain(name, srgb.parse().unwrap())
}

/// Four dyes that are told apart.
pub(crate) fn dyes() -> Vec<Swatch> {
    [("teal", "#0f7c8a"), ("amber", "#d99a1e"), ("plum", "#7b2f63"), ("navy", "#1d2f66")]
        .map(|(name, srgb)| swatch(name, srgb))
        .to_vec()
}

/// Half the side of the square, mm.
pub(crate) const HALF_MM: f64 = 110.0;

/// A small square of cloth, open, its centre in the middle, pleated along an arc of 60 mm: white, or plum to be discharged.
pub(crate) fn square(gaps: [&[f64]; 2], is_discharged: bool) -> LayoutSpec {
    let mut measures = RawMeasures::default();
    for measure in [Measure::ClothWidth, Measure::ClothHeight] {
        measures.set(measure, Some(2.0 * HALF_MM));
    }
    let garment = GarmentSpec { measures, ..GarmentSpec::of(GarmentKind::FlatCloth) };
    let garment = if is_discharged {
        GarmentSpec { colour: Some(swatch("plum", "#5a1030")), discharged: Some(swatch("sand", "#e2c4a0")), ..garment }
    } else {
        GarmentSpec { colour: Some(swatch("white", "#f5f3ea")), ..garment }
    };
    LayoutSpec {
        name: "Square".to_owned(),
        note: String::new(),
        garment,
        fold: FoldSpec::Burst(BurstSpec {
            centring: Centring::Open,
            centre: Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: HALF_MM },
            guide_radius_mm: 60.0,
            further_arcs_mm: Vec::new(),
            pleats: Pleats::Count { count: 10 },
        }),
        binds: SpacingSpec {
            inward: Progression::List { gaps_mm: gaps[0].to_vec() },
            outward: Progression::List { gaps_mm: gaps[1].to_vec() },
            marks: RuleMarks::Millimetres1,
            smallest_gap_mm: None,
            edits: Vec::new(),
        },
        blocks: None,
        wrap: None,
        ties: None,
        dips: Vec::new(),
        thread: Thread::default(),
        colours: Colours { rotation: dyes(), start: RotationStart::Centre, ..Colours::default() },
        process: Process { discharge: is_discharged.then(Discharge::default), ..Process::default() },
        limits: Limits::default(),
    }
}

/// Cells of 2 mm, and of 1 mm where binds are, eight across a pleat.
pub(crate) fn options() -> WishOptions {
    let cells = Cells::Of(GridSpec { cell_mm: 2.0, across: 8 });
    let usual = WishOptions::default();
    WishOptions { reveal: RevealOptions { cells, ..usual.reveal }, samples: 60, ..usual }
}

/// The mean colour of the picture at each whole millimetre from the centre, the hand exact; none where the square has ended.
pub(crate) fn by_radius(layout: &Layout) -> Vec<Option<Lab>> {
    let mut spec = layout.raw().clone();
    spec.process.hand = Hand::EXACT;
    let layout = Layout::try_from(spec).unwrap();
    let cells = Cells::Of(GridSpec { cell_mm: 1.0, across: 8 });
    let reveal = reveal_doses(&layout, &RevealOptions { cells, ..RevealOptions::default() }, &Cancel::new()).unwrap();
    let picture = picture_of(&reveal, &DyeSet::of_layout(&layout, None), pleatwright::reveal::PictureMap::Cloth, Texture::Off);
    let (_, frame) = reveal.panels()[0];
    let mut sums = vec![([0.0; 3], 0.0); 156];
    for (at, pixel) in picture.rgba.chunks_exact(4).enumerate().filter(|(_, pixel)| pixel[3] == 255) {
        let middle = frame.middle(at % picture.width, at / picture.width);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a distance of some mm")]
        let row = middle.x.hypot(middle.y - HALF_MM) as usize;
        if let Some((sum, count)) = sums.get_mut(row) {
            let LinearRgb(light) = Srgb { red: pixel[0], green: pixel[1], blue: pixel[2] }.into();
            sum.iter_mut().zip(light).for_each(|(sum, light)| *sum += light);
            *count += 1.0;
        }
    }
    sums.into_iter().map(|(sum, count)| (count > 0.0).then(|| LinearRgb(sum.map(|sum| sum / count)).to_xyz().to_lab())).collect()
}
