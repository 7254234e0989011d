//! Lines in layouts: first layouts for every garment and shape, their files, their binds on the rule's marks, their templates.

use crate::assert_close;
use kurbo::{BezPath, ParamCurve as _, ParamCurveNearest as _, PathSeg, Point};
use pleatwright::edit::{Document, EditCommand, Target};
use pleatwright::geometry::*;
use pleatwright::layout::{Figures, FoldStart, GarmentSpec, HandPart, Handwork, Layout, starter_on};
use pleatwright::measure::{LengthStyle, RuleMarks};
use pleatwright::print::parts::{PartKind, TemplateOptions, drawings};
use pleatwright::print::{Drawing, Layer, Shape};
use pleatwright::store::{layout_text, parse_layout};

fn first(shape: LineShape, kind: GarmentKind, size: Option<&str>, marks: RuleMarks) -> Layout {
    let mut measures = RawMeasures::default();
    if size.is_none() {
        kind.required_measures().for_each(|measure| measures.set(measure, Some(550.0)));
    }
    let raw = starter_on(FoldStart::Line(shape), &GarmentSpec::sized(kind, size, &measures), marks);
    let raw = raw.unwrap_or_else(|error| panic!("{kind} {}: {error}", shape.name()));
    Layout::try_from(raw).unwrap_or_else(|error| panic!("{kind} {}: {error}", shape.name()))
}

fn tee(shape: LineShape) -> Layout {
    first(shape, GarmentKind::CrewTee, Some("M"), RuleMarks::Millimetres1)
}

/// Every shape can be begun with on every garment; its sections weigh what the garment weighs, and its file says all of it.
#[test]
fn every_garment_has_a_first_layout_along_every_shape() {
    for kind in GarmentKind::ALL {
        let sizes = kind.sizes();
        let size = sizes.get(sizes.len() / 2).map(|size| size.name.to_string());
        for shape in LineShape::ALL {
            let layout = first(shape, kind, size.as_deref(), RuleMarks::Millimetres1);
            let figures = Figures::of(&layout);
            assert!(figures.binds.len() >= 3, "{kind} {}: {} binds", shape.name(), figures.binds.len());
            let all_g: f64 = figures.sections.iter().map(|section| section.mass_g).sum();
            assert_close!(all_g, figures.garment.cloth.mass_g, 1e-9 * all_g, "{kind} {}", shape.name());
            let text = layout_text(layout.raw());
            let again = parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}\n{text}"));
            assert_eq!(again.raw(), layout.raw(), "{kind} {}", shape.name());
        }
    }
}

/// Marks count from the line: every bind lies so many of them inside or outside it, and the line itself stays where it was drawn.
#[test]
fn binds_lie_on_marks_counted_from_the_line() {
    for (marks, step_mm) in
        [(RuleMarks::Millimetres1, 1.0), (RuleMarks::Millimetres5, 5.0), (RuleMarks::InchSixteenth, 25.4 / 16.0)]
    {
        for shape in [LineShape::Heart, LineShape::Wave { crests: 2 }, LineShape::Letter { letter: 'U' }] {
            let layout = first(shape, GarmentKind::CrewTee, Some("M"), marks);
            let figures = Figures::of(&layout);
            for bind in &figures.binds {
                let steps = bind.from_line_mm.unwrap() / step_mm;
                assert_close!(steps, steps.round(), 1e-6);
                assert_close!(bind.radius_mm - layout.line().unwrap().line_mm(), bind.from_line_mm.unwrap(), 1e-9);
            }
            let on_line = figures.binds.iter().filter(|bind| bind.from_line_mm.unwrap().abs() < 1e-9).count();
            assert_eq!(on_line, usize::from(!layout.line().unwrap().kind().has_no_inside()));
        }
    }
}

/// Binds put by hand are kept by their distance from the line: another size of the line leaves them there, though the cloth within it
/// grows deeper.
#[test]
fn a_bind_put_by_hand_keeps_its_distance_from_the_line() {
    let mut document = Document::new(tee(LineShape::Heart));
    let zero_mm = document.layout().zero_mm();
    document.perform(&EditCommand::AddBind(zero_mm + 7.0)).unwrap();
    let line = document.layout().raw().fold.line().unwrap().line.clone();
    let DrawnLine::Shape { shape, middle, size } = line else { panic!("it is a shape") };
    document.perform(&EditCommand::SetLine(DrawnLine::Shape { shape, middle, size: 1.2 * size })).unwrap();
    assert!(document.layout().zero_mm() > zero_mm + 5.0);
    let by_hand: Vec<f64> =
        document.figures().binds.iter().filter(|bind| bind.by_hand).filter_map(|bind| bind.from_line_mm).collect();
    assert_eq!(by_hand.len(), 1);
    assert_close!(by_hand[0], 7.0, 1e-9);
}

/// The middle of the shape is its handle; what lies on the line itself is not dragged by itself, its neighbours are.
#[test]
fn the_middle_moves_the_line_and_binds_beside_it_are_dragged() {
    let layout = tee(LineShape::Heart);
    let middle = layout.middle_as_laid().unwrap();
    assert_eq!(Target::at(&layout, middle, 5.0), Some(Target::Centre));
    let fold = layout.line().unwrap();
    let on_line = fold.source()[0].point(0.5);
    assert_eq!(Target::at(&layout, on_line, 2.0), None);
    let next = fold.parallel(&[Panel::Front], fold.line_mm() + 25.0)[0].point(0.5);
    assert!(matches!(Target::at(&layout, next, 2.0), Some(Target::Bind(_))));
    let mut document = Document::new(layout.clone());
    document.perform(&EditCommand::MoveCentre(Point::new(0.0, middle.y + 30.0))).unwrap();
    let moved = document.layout().line().unwrap().source()[0].point(0.5);
    assert_close!(moved.y, on_line.y + 30.0, 1e-9);
}

fn segments(layout: &Layout) -> Vec<PathSeg> {
    let spec = layout.raw().fold.line().unwrap();
    let (_, path): (LineKind, BezPath) = spec.line.on(layout.panels(), spec.centring).unwrap();
    path.segments().collect()
}

/// The distance from the line as it was drawn, by kurbo's nearest points on lines and cubics.
fn from_drawn_mm(segments: &[PathSeg], at: Point) -> f64 {
    let nearest = |segment: &PathSeg| segment.nearest(at, 1e-4).distance_sq.sqrt();
    segments.iter().map(nearest).fold(f64::INFINITY, f64::min)
}

fn points(shape: &Shape) -> Vec<Point> {
    let shares = || (0..=8_u8).map(|share| f64::from(share) / 8.0);
    match shape {
        Shape::Line(line) => shares().map(|share| line.eval(share)).collect(),
        Shape::Arc(arc) => shares().map(|share| arc.point_at(share)).collect(),
        _ => Vec::new(),
    }
}

fn template(layout: &Layout) -> Drawing {
    drawings(layout, &Figures::of(layout), PartKind::Template, &TemplateOptions::default()).remove(0)
}

/// Every chalk line of the template lies at its distance from the curve as it was drawn, a tenth of a chalk line at most beside it.
/// The source is kurbo's own distance from the cubics, which knows nothing of the arcs that the fold is made of.
#[test]
fn the_template_s_lines_lie_at_their_distances() {
    for shape in [LineShape::Heart, LineShape::Leaf, LineShape::Star { points: 5, depth: 0.5 }, LineShape::Drop] {
        let layout = tee(shape);
        let (drawn, figures) = (segments(&layout), Figures::of(&layout));
        let wanted_mm: Vec<f64> = figures.binds.iter().map(|bind| bind.from_line_mm.unwrap().abs()).collect();
        let mut met = vec![0; wanted_mm.len()];
        for item in template(&layout).items.iter().filter(|item| matches!(item.layer, Layer::Across | Layer::Guide)) {
            for at in points(&item.shape) {
                let distance_mm = from_drawn_mm(&drawn, at);
                let (bind, off_mm) = wanted_mm
                    .iter()
                    .enumerate()
                    .map(|(bind, wanted_mm)| (bind, (distance_mm - wanted_mm).abs()))
                    .min_by(|a, b| a.1.total_cmp(&b.1))
                    .unwrap();
                assert!(off_mm < LINE_TOLERANCE_MM, "{}: {at:?} lies {distance_mm} mm from the line", shape.name());
                met[bind] += 1;
            }
        }
        let inside_and_outside_alike =
            |bind: usize| wanted_mm.iter().filter(|mm| (*mm - wanted_mm[bind]).abs() < 0.5).count() > 1;
        assert!((0..met.len()).all(|bind| met[bind] > 0 || inside_and_outside_alike(bind)), "{}: {met:?}", shape.name());
    }
}

/// Everything but a block and a puck is drawn, and no word of it is about a burst.
#[test]
fn a_line_s_sheets_speak_of_the_line() {
    for shape in [LineShape::Heart, LineShape::Zigzag { teeth: 3 }, LineShape::Letter { letter: 'V' }] {
        let layout = tee(shape);
        let figures = Figures::of(&layout);
        for kind in PartKind::ALL {
            let drawn = drawings(&layout, &figures, kind, &TemplateOptions::default());
            assert_eq!(
                drawn.is_empty(),
                matches!(kind, PartKind::Block | PartKind::Puck | PartKind::FoldingCard),
                "{}",
                kind.name()
            );
            for text in drawn.iter().flat_map(|drawing| &drawing.items) {
                let Shape::Text(text) = &text.shape else { continue };
                let words = text.text.to_lowercase();
                assert!(!["burst", "guide arc", "from centre", "the centre"].iter().any(|word| words.contains(word)), "{words}");
            }
        }
        let work = Handwork::of(&layout, &figures);
        let told: Vec<String> = work.parts().map(|part| work.words(part, LengthStyle::default())).collect();
        assert!(told.iter().all(|words| !words.contains("centre;") && !words.contains("from the centre;")), "{told:?}");
        assert!(work.words(HandPart::Mark, LengthStyle::default()).starts_with("Line: "));
    }
}

/// Graded, a shape grows with the garment's width and keeps its place; kept, it stays as it is; a line from edge to edge reaches the edges
/// in any case.
#[test]
fn lines_are_graded() {
    use pleatwright::plan::{GradeRule, grade};
    let size = |layout: &Layout| match layout.raw().fold.line().unwrap().line {
        DrawnLine::Shape { size, .. } => size,
        DrawnLine::Path { .. } => panic!("it is a shape"),
    };
    let chest_mm = |layout: &Layout| layout.garment().value_mm(Measure::HalfChest).unwrap();
    let heart = tee(LineShape::Heart);
    let wave = tee(LineShape::Wave { crests: 2 });
    let xl = "XL".parse().unwrap();
    let scaled = grade(&heart, xl, GradeRule::Scaled).unwrap();
    assert_close!(size(&scaled).width / size(&heart).width, chest_mm(&scaled) / chest_mm(&heart), 1e-9);
    assert_eq!(size(&grade(&heart, xl, GradeRule::Kept).unwrap()), size(&heart));
    let kept = grade(&wave, xl, GradeRule::Kept).unwrap();
    assert_close!(size(&kept).width / size(&wave).width, chest_mm(&kept) / chest_mm(&wave), 1e-9);
    assert_close!(size(&kept).height, size(&wave).height, 1e-9);
}

/// A shape that becomes a line of the maker's own folds as before; a point added on it changes nothing but the number of points.
#[test]
fn a_point_added_on_a_line_folds_as_before() {
    for shape in [LineShape::Diamond, LineShape::Heart, LineShape::Wave { crests: 2 }] {
        let mut document = Document::new(tee(shape));
        let before = document.figures().clone();
        let spec = document.layout().raw().fold.line().unwrap().clone();
        let (kind, path) = spec.line.on(document.layout().panels(), spec.centring).unwrap();
        let near = path.segments().next().unwrap().eval(0.5) + kurbo::Vec2::new(0.4, -0.3);
        document.perform(&EditCommand::SetLine(DrawnLine::Path { kind, path })).unwrap();
        let count = document.layout().line_points().unwrap().count();
        let added = pleatwright::edit::with_points(document.layout(), |points| {
            points.add_near(near);
        });
        document.perform(&added.unwrap()).unwrap_or_else(|error| panic!("{}: {error}", shape.name()));
        assert_eq!(document.layout().line_points().unwrap().count(), count + 1);
        for (one, other) in before.binds.iter().zip(&document.figures().binds) {
            assert_close!(one.ring_mm.sum(), other.ring_mm.sum(), 0.2);
        }
    }
}

/// Pleats that end in a corner or at the ridge before the guide are not found along it: those that are make up its length there.
#[test]
fn the_pleats_along_the_guide_are_counted() {
    let layout = tee(LineShape::Heart);
    for (guide_mm, depth_mm) in [(25.0, 16.0), (60.0, 24.0), (0.0, 30.0)] {
        let mut document = Document::new(layout.clone());
        document.perform(&EditCommand::SetLineGuide(guide_mm)).unwrap();
        document.perform(&EditCommand::SetPleats(Pleats::Depth { depth_mm })).unwrap();
        let line = document.figures().line.clone().unwrap();
        // On the longer panel, as a tape laid along the chalk would find it.
        let fold = document.layout().line().unwrap();
        let along_mm = fold.guide_mm();
        let long_mm = |panel| fold.parallel(&[panel], along_mm).iter().map(Stretch::length_mm).sum::<f64>();
        let long_mm = long_mm(Panel::Front).max(long_mm(Panel::Back));
        let counted = f64::from(line.pleats_on_guide) * line.pleat_depth_mm;
        assert!((counted - long_mm).abs() < 1.5 * line.pleat_depth_mm, "guide {guide_mm}: {counted} of {long_mm} mm");
        assert!(line.pleats_on_guide <= line.pleats);
        let words = Handwork::of(document.layout(), document.figures()).words(HandPart::Fold, LengthStyle::default());
        assert_eq!(words.contains("of them lie along it"), line.pleats_on_guide < line.pleats, "{words}");
    }
}

/// A first layout whose pleats spring open would begin with a warning.
#[test]
fn a_heart_begins_with_pleats_that_hold() {
    let figures = Figures::of(&tee(LineShape::Heart));
    let shallow = figures.warnings.iter().find(|warning| matches!(warning, pleatwright::layout::Warning::PleatTooShallow { .. }));
    assert_eq!(shallow, None);
    // And a number of binds gives gaps that tighten toward the tip.
    for count in 6..=14 {
        let mut document = Document::new(tee(LineShape::Heart));
        document.perform(&EditCommand::SetBindCount(count)).unwrap();
        let gaps: Vec<f64> =
            document.layout().binds().binds.windows(2).map(|pair| pair[1].unrounded_mm() - pair[0].unrounded_mm()).collect();
        assert!(gaps.windows(2).all(|pair| pair[0] <= 1.5 * pair[1] + 1e-9), "{count} binds: {gaps:.1?}");
    }
}

/// Laid open, a line of one's own is whole; folded again, it is the half that it was, and folds as before.
#[test]
fn a_line_of_ones_own_is_halved_and_made_whole_with_the_garment() {
    for shape in [LineShape::Heart, LineShape::Diamond, LineShape::Wave { crests: 3 }] {
        let mut document = Document::new(tee(shape));
        let spec = document.layout().raw().fold.line().unwrap().clone();
        let (kind, path) = spec.line.on(document.layout().panels(), spec.centring).unwrap();
        document.perform(&EditCommand::SetLine(DrawnLine::Path { kind, path })).unwrap();
        let folded = document.layout().line().unwrap().source_length_mm();
        document.perform(&EditCommand::SetCentring(Centring::Open)).unwrap_or_else(|error| panic!("{}: {error}", shape.name()));
        let open = document.layout().line().unwrap().source_length_mm();
        assert_close!(open, 2.0 * folded, 1e-6 * open);
        document.perform(&EditCommand::SetCentring(Centring::Nested)).unwrap_or_else(|error| panic!("{}: {error}", shape.name()));
        assert_close!(document.layout().line().unwrap().source_length_mm(), folded, 1e-6 * folded);
    }
}

/// The swing strip has a hole for every ring of a line, as far from the pin as the ring lies from the line, on whichever side; both sides
/// share a hole where they lie equally far.
#[test]
fn the_swing_strip_swings_a_line_s_parallels() {
    for shape in [LineShape::Heart, LineShape::Star { points: 5, depth: 0.5 }, LineShape::Zigzag { teeth: 3 }] {
        let layout = tee(shape);
        let figures = Figures::of(&layout);
        let strip = drawings(&layout, &figures, PartKind::SwingStrip, &TemplateOptions::default()).remove(0);
        let holes_mm: Vec<f64> = strip
            .items
            .iter()
            .filter(|item| item.layer != Layer::Pin)
            .filter_map(|item| if let Shape::Circle(circle) = &item.shape { Some(circle.center.to_vec2().hypot()) } else { None })
            .collect();
        let is_near = |one: f64, other: f64| (one - other).abs() < 0.25;
        let wanted_mm: Vec<f64> =
            figures.binds.iter().map(|bind| bind.from_line_mm.unwrap().abs()).filter(|mm| *mm > 0.05).collect();
        assert!(
            holes_mm
                .iter()
                .all(|hole_mm| wanted_mm.iter().any(|mm| is_near(*hole_mm, *mm)) || is_near(*hole_mm, guide_mm(&layout)))
        );
        // A hole needs 3.5 mm of paper round the pin's.
        for mm in wanted_mm.iter().filter(|mm| **mm > 3.5) {
            assert!(holes_mm.iter().any(|hole_mm| is_near(*hole_mm, *mm)), "{}: none for {mm} among {holes_mm:?}", shape.name());
        }
    }
}

/// Where the pleats are folded, from the line, mm.
fn guide_mm(layout: &Layout) -> f64 {
    layout.raw().fold.line().unwrap().guide_mm.abs()
}

/// A needle's holes lie on the guide, one in the middle of each pleat that has cloth there: half a pleat from the creases, which are left
/// out. The distance from the line as it was drawn is kurbo's own.
#[test]
fn a_running_stitch_has_a_hole_in_every_pleat() {
    for (shape, guide_mm) in [(LineShape::Heart, 30.0), (LineShape::Leaf, 0.0), (LineShape::Zigzag { teeth: 3 }, 25.0)] {
        let folded = tee(shape);
        let mut raw = folded.raw().clone();
        let line = raw.fold.line_mut().unwrap();
        (line.gather, line.guide_mm) = (Gather::Stitch, guide_mm);
        let layout = Layout::try_from(raw).unwrap();
        let figures = Figures::of(&layout);
        let (line, stitches) = (figures.line.as_ref().unwrap(), figures.line.as_ref().unwrap().stitches.unwrap());
        let (drawn, holes) = (segments(&layout), layout.stitch_holes());
        let count = u32::try_from(holes.len()).unwrap();
        assert!(count <= line.pleats && count + 2 >= line.pleats_on_guide, "{}", shape.name());
        assert_eq!(count, stitches.holes);
        for hole in &holes {
            assert!((from_drawn_mm(&drawn, *hole) - guide_mm).abs() < LINE_TOLERANCE_MM, "{}: {hole:?}", shape.name());
        }
        // The thread runs the guide's length through the cloth, and two tails beyond it.
        let guide_along = layout.fold().parallel(&Panel::BOTH, layout.pleated_mm());
        let length_mm: f64 = guide_along.iter().map(Stretch::length_mm).sum();
        assert!((stitches.thread_mm - length_mm - 2.0 * layout.thread().tail_mm).abs() < 1e-9);
        assert!((stitches.stitch_mm * f64::from(stitches.holes) - length_mm).abs() < 1e-6);
        // On a parallel without corners holes are as far from the creases on either side.
        let creases: Vec<kurbo::Line> = layout.fold().creases(0.0).iter().map(|crease| crease.line).collect();
        let near_mm =
            |hole: &Point| creases.iter().map(|line| line.nearest(*hole, 1e-6).distance_sq.sqrt()).fold(f64::INFINITY, f64::min);
        let about_mm = 0.5 * stitches.stitch_mm;
        let middle = holes.iter().filter(|hole| near_mm(hole) > 0.6 * about_mm).count();
        assert!(middle * 4 > holes.len() * 3, "{}: {middle} of {} lie between their creases", shape.name(), holes.len());
        let drawing = template(&layout);
        let dots =
            drawing.items.iter().filter(|item| matches!(item.shape, Shape::Circle(_)) && item.layer == Layer::Guide).count();
        assert_eq!(dots, holes.len());
        assert!(!drawing.items.iter().any(|item| matches!(item.layer, Layer::Crease | Layer::LoneCrease)));
        let words = Handwork::of(&layout, &figures).words(HandPart::Fold, LengthStyle::default());
        assert!(words.contains(&format!("at {} dots", stitches.holes)), "{words}");
        assert!(folded.stitch_holes().is_empty());
    }
}
