//! A drawing of realistic size and density: a half tee with eighteen arcs, creases, binds, a patterned strip.

use std::f64::consts::{FRAC_PI_2, PI};

use kurbo::{BezPath, Point, Rect, Shape as _, Vec2};
use pleatwright::print::{Anchor, Dots, Drawing, Layer, LayerNames, Pattern, Shape, Text};

/// The burst centre on the centre line, in mm.
pub(crate) const CENTRE: Point = Point::new(0.0, 300.0);
/// Radius of the known circle round the burst centre, in mm.
pub(crate) const KNOWN_RADIUS_MM: f64 = 12.0;

/// What its layers are called.
const NAMES: LayerNames = LayerNames(&[
    (Layer::Axis, "centre-line"),
    (Layer::Guide, "guide-arc"),
    (Layer::Across, "bind"),
    (Layer::Pin, "burst-centre"),
]);

/// Half a tee, 420 x 720 mm.
pub(crate) fn half_tee() -> Drawing {
    let mut drawing = Drawing::new("Harbour Row half tee, plum, medium").named(NAMES);
    drawing.path(Layer::Outline, outline());
    let mut neck = BezPath::new();
    neck.move_to((0.0, 20.0));
    neck.curve_to((45.0, 20.0), (80.0, 15.0), (90.0, 0.0));
    drawing.path(Layer::Behind, neck);
    drawing.line(Layer::Axis, (0.0, 95.0), (0.0, 720.0));
    for k in 1..=18_u32 {
        let radius = 20.0 + 13.5 * f64::from(k);
        let layer = if k == 12 { Layer::Guide } else { Layer::Across };
        drawing.arc(layer, CENTRE, radius, -FRAC_PI_2, PI);
        let at = CENTRE + radius * Vec2::from_angle(0.12);
        drawing.text(Text::new(format!("{k}"), at + Vec2::new(1.0, -1.0), 3.5).bold());
        drawing.text(Text::new(format!("r {radius:.1}"), at + Vec2::new(1.0, 4.0), 2.0));
    }
    for k in 0..=16 {
        let direction = Vec2::from_angle(-FRAC_PI_2 + PI * f64::from(k) / 16.0);
        drawing.line(Layer::Crease, CENTRE + 20.0 * direction, CENTRE + 263.0 * direction);
    }
    drawing.circle(Layer::Pin, CENTRE, KNOWN_RADIUS_MM);
    drawing.line(Layer::Pin, (-6.0, 300.0), (6.0, 300.0));
    drawing.line(Layer::Pin, (0.0, 294.0), (0.0, 306.0));
    drawing.text(Text::new("burst centre", (16.0, 290.0), 3.0));
    drawing.text(Text::new("centre line, on the fold", (-2.0, 620.0), 3.0).rotated(-FRAC_PI_2).anchored(Anchor::Middle));
    drawing.text(Text::new("hem", (140.0, 714.0), 4.0).anchored(Anchor::Middle));
    drawing.fit_bounds(5.0);
    drawing
}

fn outline() -> BezPath {
    let mut path = BezPath::new();
    path.move_to((0.0, 95.0));
    path.curve_to((50.0, 95.0), (85.0, 60.0), (90.0, 0.0));
    path.line_to((240.0, 45.0));
    path.line_to((420.0, 190.0));
    path.line_to((350.0, 270.0));
    path.curve_to((310.0, 240.0), (280.0, 235.0), (280.0, 260.0));
    path.line_to((280.0, 720.0));
    path.line_to((0.0, 720.0));
    path
}

/// A strip of 45 x 700 mm with a patterned section for every colour.
pub(crate) fn rod_strip() -> Drawing {
    let mut drawing = Drawing::new("Harbour Row rod strip").named(NAMES);
    drawing.path(Layer::Cut, Rect::new(0.0, 0.0, 45.0, 700.0).to_path(0.1));
    for k in 0..18_u32 {
        let (y0, y1) = (15.0 + 38.0 * f64::from(k), 15.0 + 38.0 * f64::from(k + 1));
        let section = Rect::new(25.0, y0, 43.0, y1);
        let pattern = Pattern::nth(usize::try_from(k).expect("small"));
        drawing.add(Layer::Fill, Shape::Area { outline: section.to_path(0.1), pattern });
        drawing.line(Layer::Across, (0.0, y0), (45.0, y0));
        drawing.text(Text::new(format!("{}", k + 1), (4.0, y0 + 10.0), 5.0).bold());
        drawing.text(Text::new("3 wraps", (4.0, y0 + 16.0), 2.2));
    }
    let holes = (0..18).map(|k| Point::new(2.0, 15.0 + 38.0 * f64::from(k))).collect();
    drawing.add(Layer::Pounce, Shape::Dots(Dots { centers: holes, radius_mm: 0.6 }));
    drawing.fit_bounds(0.0);
    drawing
}
