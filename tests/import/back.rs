//! Lines that the program itself prints, taken back.

use kurbo::{ParamCurve as _, ParamCurveNearest as _};
use pleatwright::geometry::{GarmentKind, LineShape, RawMeasures};
use pleatwright::import::{DrawingFormat, FoundLine, SIMPLIFIED_MM, read_lines};
use pleatwright::layout::{Figures, FoldStart, GarmentSpec, Layout, starter_on};
use pleatwright::measure::RuleMarks;
use pleatwright::print::parts::{TemplateOptions, template};
use pleatwright::print::{write_dxf, write_svg};

/// The line of a printed template is found in it, as SVG and as DXF, within the stated tolerance.
#[test]
fn a_template_is_read_back() {
    for shape in [LineShape::Heart, LineShape::Star { points: 5, depth: 0.5 }, LineShape::Wave { crests: 2 }] {
        let start = FoldStart::Line(shape);
        let raw = starter_on(
            start,
            &GarmentSpec::sized(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()),
            RuleMarks::Millimetres1,
        )
        .unwrap();
        let layout = Layout::try_from(raw).unwrap();
        let (_, drawn) = layout.raw().fold.line().unwrap().line.on(layout.panels(), layout.lay().centring()).unwrap();
        let drawing = template(&layout, &Figures::of(&layout), &TemplateOptions::default());
        let svg = read_lines(write_svg(&drawing).unwrap().as_bytes(), DrawingFormat::Svg, None).unwrap();
        let dxf = read_lines(write_dxf(&drawing).unwrap().as_bytes(), DrawingFormat::Dxf, None).unwrap();
        for (format, lines) in [("SVG", svg), ("DXF", dxf)] {
            // An SVG drawing is counted from its corner.
            let corner = if format == "SVG" { drawing.bounds.origin().to_vec2() } else { kurbo::Vec2::ZERO };
            let off_mm = |p| {
                let on = |line: &FoundLine| {
                    line.path.segments().map(|side| side.nearest(p, 1e-3).distance_sq).fold(f64::INFINITY, f64::min)
                };
                lines.iter().map(on).fold(f64::INFINITY, f64::min).sqrt()
            };
            for side in drawn.segments() {
                // It is printed where it lies on cloth.
                for at in [0.1, 0.35, 0.5, 0.85].map(|share| side.eval(share)).into_iter().filter(|at| layout.lay().is_cloth(*at))
                {
                    let off = off_mm(at - corner);
                    assert!(off <= SIMPLIFIED_MM + 0.05, "{} in {format}: {off} mm off", shape.name());
                }
            }
        }
    }
}
