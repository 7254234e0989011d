//! Spirals in layouts: first layouts for every garment, their files, their figures by hand, their bands, other sizes, their sheets.

use crate::bodies::numbers;
use pleatwright::edit::{Document, DragRules, EditCommand, Target};
use pleatwright::geometry::{BindEdit, GarmentKind, Measure, Neighbours, Progression, RawMeasures, Twist};
use pleatwright::layout::{
    Figures, FoldStart, GarmentSpec, HandPart, Handwork, Layout, LayoutSpec, SpiralStart, Warning, starter_on,
};
use pleatwright::measure::{LengthStyle, RuleMarks};
use pleatwright::plan::{GradeRule, grade};
use pleatwright::print::parts::{PartKind, TemplateOptions, drawings};
use pleatwright::print::{Layer, Shape};
use pleatwright::store::{layout_text, parse_layout};
use std::f64::consts::PI;

fn begun(start: SpiralStart, garment: &GarmentSpec) -> LayoutSpec {
    starter_on(FoldStart::Spiral(start), garment, RuleMarks::Millimetres1)
        .unwrap_or_else(|error| panic!("{}: {error}", garment.kind))
}

fn tee() -> Layout {
    let garment = GarmentSpec::sized(GarmentKind::CrewTee, Some("M"), &RawMeasures::default());
    Layout::try_from(begun(SpiralStart::default(), &garment)).unwrap()
}

fn changed(layout: &Layout, change: impl FnOnce(&mut LayoutSpec)) -> Layout {
    let mut raw = layout.raw().clone();
    change(&mut raw);
    Layout::try_from(raw).unwrap()
}

/// Every garment in every size can be begun with, without a warning; its wedges weigh what the garment weighs, its file says all.
#[test]
fn every_garment_has_a_first_spiral() {
    for kind in GarmentKind::ALL {
        let sizes = kind.sizes().into_iter().map(|size| Some(size.name.to_string()));
        for size in sizes.chain(kind.sizes().is_empty().then_some(None)) {
            let garment = GarmentSpec::sized(kind, size.as_deref(), &RawMeasures::default());
            let layout = Layout::try_from(begun(SpiralStart::default(), &garment)).unwrap();
            let figures = Figures::of(&layout);
            assert_eq!(figures.warnings, [], "{kind} {size:?}");
            assert_eq!(figures.sections.len(), 6, "{kind} {size:?}");
            let all_g: f64 = figures.sections.iter().map(|section| section.mass_g).sum();
            assert!((all_g / figures.garment.cloth.mass_g - 1.0).abs() < 1e-9, "{kind} {size:?}");
            let text = layout_text(layout.raw());
            let again = parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}\n{text}"));
            assert_eq!(again.raw(), layout.raw());
        }
    }
}

/// A puck is a cylinder: packing, rim and girth by its formulas (any handbook of geometry); thread of a band is its wraps along the thread's
/// own middle and two tails, cut to the next 5 mm.
#[test]
fn figures_of_a_puck_are_those_worked_by_hand() {
    let layout = changed(&tee(), |raw| {
        let spiral = raw.fold.spiral_mut().unwrap();
        (spiral.puck_diameter_mm, spiral.puck_height_mm, spiral.bands) = (190.0, Some(32.0), 4);
    });
    let figures = Figures::of(&layout);
    let puck = figures.spiral.unwrap();
    // Twice the front's and the back's area, each of one layer of 0.6 mm.
    let cloth_mm2 = figures.garment.cloth.mass_g / 180.0 * 1e6;
    assert!((puck.packing - cloth_mm2 * 0.6 / (0.25 * PI * 190.0 * 190.0 * 32.0)).abs() < 1e-9, "{}", puck.packing);
    assert!((puck.rim_mm - PI * 190.0).abs() < 1e-9);
    assert!((puck.band_girth_mm - (2.0 * 190.0 + 2.0 * 32.0)).abs() < 1e-9);
    assert_eq!((puck.wedges, figures.binds.len(), figures.sections.len()), (8, 8, 8));
    let work = Handwork::of(&layout, &figures);
    let each_mm = 5.0 * ((3.0 * (444.0 + PI) + 240.0) / 5.0).ceil();
    assert_eq!(work.binds.len(), 4);
    assert!(work.binds.iter().all(|band| (band.thread_mm - each_mm).abs() < 1e-9), "{:?}, {each_mm}", work.binds);
    assert!((figures.thread_mm - 4.0 * each_mm).abs() < 1e-9);
}

/// Bands lie evenly round, the first at the tick, wedges are counted from there, and each is told once where it goes.
#[test]
fn bands_part_the_puck_evenly_from_the_tick() {
    let layout = tee();
    let figures = Figures::of(&layout);
    let rim_mm = figures.spiral.unwrap().rim_mm;
    for (number, (bind, section)) in (1..).zip(figures.binds.iter().zip(&figures.sections)) {
        assert!((bind.radius_mm - rim_mm * f64::from(number) / 6.0).abs() < 1e-9);
        assert!((section.outer_mm - bind.radius_mm).abs() < 1e-9 && section.number == number);
    }
    assert_eq!(figures.tying_order, [6, 3, 1, 4, 2, 5], "both crossings of a band, then the next");
    assert_eq!(figures.binds.iter().map(|bind| bind.tied).collect::<Vec<_>>(), [2, 3, 1, 2, 3, 1]);
    let work = Handwork::of(&layout, &figures);
    let parts: Vec<HandPart> = work.parts().collect();
    assert_eq!(parts, [HandPart::Lay, HandPart::Mark, HandPart::Fold, HandPart::Tie(1), HandPart::Tie(2), HandPart::Tie(3)]);
    let say = |part| work.words(part, LengthStyle::default());
    assert!(
        say(parts[3]).starts_with("Over the middle, between wedges 6 and 1 and between wedges 3 and 4; girth "),
        "{}",
        say(parts[3])
    );
    assert!(
        say(HandPart::Fold).starts_with("Pinch all 2 layers in the circle. Turn the pinch clockwise"),
        "{}",
        say(HandPart::Fold)
    );
}

/// Turned, the bands take their wedges with them, and all of the cloth stays dyed once.
#[test]
fn turned_bands_move_all_wedges() {
    let mut document = Document::new(tee());
    let figures = document.figures().clone();
    let rim_mm = figures.spiral.unwrap().rim_mm;
    let second = document.layout().binds().binds[0].id;
    document.perform(&EditCommand::PutBind(second, rim_mm / 6.0 + rim_mm / 36.0, Neighbours::Stay)).unwrap();
    assert_eq!(document.layout().raw().fold.spiral().unwrap().first_band_deg, 10.0);
    let turned = document.figures();
    assert!((turned.sections[0].inner_mm - (rim_mm * (10.0 / 360.0 - 1.0 / 6.0))).abs() < 1e-6, "{:?}", turned.sections[0]);
    let mass = |figures: &Figures| figures.sections.iter().map(|section| section.mass_g).sum::<f64>();
    assert!((mass(turned) - mass(&figures)).abs() < 1e-9);
    assert!((turned.sections[0].mass_g - figures.sections[0].mass_g).abs() > 1e-3, "another wedge of cloth");
    document.perform(&EditCommand::SetBindCount(8)).unwrap();
    assert_eq!(document.layout().raw().fold.spiral().unwrap().bands, 4);
    document.perform(&EditCommand::SetSectionColour(8, Some("plum".to_owned()))).unwrap();
    let fewer = pleatwright::geometry::SpiralSpec { bands: 2, ..*document.layout().raw().fold.spiral().unwrap() };
    document.perform(&EditCommand::SetSpiral(fewer)).unwrap();
    assert!(document.layout().raw().colours.single.is_empty(), "the eighth wedge is gone, and its colour with it");
}

#[test]
fn what_a_puck_has_not_is_refused() {
    let said = |change: &dyn Fn(&mut LayoutSpec)| {
        let mut raw = tee().raw().clone();
        change(&mut raw);
        Layout::try_from(raw).unwrap_err().to_string()
    };
    let list = || Progression::List { gaps_mm: vec![40.0] };
    let even = "bands lie evenly round a puck; set their number in the fold instead";
    assert_eq!(said(&|raw| raw.binds.outward = list()), format!("binds.outward: {even}"));
    assert_eq!(said(&|raw| raw.binds.edits = vec![BindEdit::Add { at_mm: 40.0 }]), format!("binds.edits: {even}"));
    assert_eq!(
        said(&|raw| raw.fold.spiral_mut().unwrap().bands = 13),
        "fold.bands: 13 bands can't be laid over a puck; give 1 to 12"
    );
    let turned = said(&|raw| raw.fold.spiral_mut().unwrap().first_band_deg = 400.0);
    assert_eq!(turned, "fold.first_band_deg: 400 is not a direction; give 0 to 360 degrees");
    let tight = said(&|raw| raw.fold.spiral_mut().unwrap().puck_height_mm = Some(5.0));
    assert!(tight.starts_with("fold.puck_height_mm: a puck 5 mm high has no room for the cloth"), "{tight}");
    let wedge = said(&|raw| drop(raw.colours.single.insert(7, "teal".to_owned())));
    assert!(wedge.starts_with("colours.single.7: 7 is beyond the last section"), "{wedge}");
}

/// More turns than the cloth allows are warned about with the most there can be; a puck too loose and one too tight with the height that would
/// be right.
#[test]
fn pucks_that_do_not_hold_are_warned_about() {
    let warnings = |change: &dyn Fn(&mut LayoutSpec)| Figures::of(&changed(&tee(), |raw| change(raw))).warnings;
    let most = Figures::of(&tee()).spiral.unwrap().told_most_turns();
    let over = warnings(&|raw| raw.fold.spiral_mut().unwrap().turns = 3.0);
    assert_eq!(over, [Warning::TooManyTurns { turns: 3.0, most }]);
    let [Warning::PuckTooLoose { most_height_mm, .. }] =
        warnings(&|raw| raw.fold.spiral_mut().unwrap().puck_height_mm = Some(80.0))[..]
    else {
        panic!("a loose puck")
    };
    let at = |height_mm: f64| warnings(&move |raw| raw.fold.spiral_mut().unwrap().puck_height_mm = Some(height_mm));
    assert!(at(most_height_mm - 0.1).is_empty() && !at(most_height_mm + 0.1).is_empty());
    let [Warning::PuckTooTight { least_height_mm, .. }] = at(15.0)[..] else { panic!("a tight puck") };
    assert!(at(least_height_mm + 0.1).is_empty() && !at(least_height_mm - 0.1).is_empty());
}

/// On another size a puck is as much wider as the garment; turns and bands stay.
#[test]
fn a_spiral_is_graded() {
    let small = tee();
    let large = grade(&small, "2XL".parse().unwrap(), GradeRule::Scaled).unwrap();
    let [before, after] = [&small, &large].map(|layout| *layout.raw().fold.spiral().unwrap());
    let chest = |layout: &Layout| layout.garment().value_mm(Measure::HalfChest).unwrap();
    assert!((after.puck_diameter_mm / before.puck_diameter_mm - chest(&large) / chest(&small)).abs() < 1e-9);
    assert_eq!((after.turns, after.twist, after.bands), (before.turns, before.twist, before.bands));
    let kept = grade(&small, "2XL".parse().unwrap(), GradeRule::Kept).unwrap();
    assert_eq!(kept.raw().fold.spiral().unwrap().puck_diameter_mm, before.puck_diameter_mm);
}

/// The puck's sheet is a circle of its size with its bands as rays at even angles from the tick, up, clockwise; no line of them is on the
/// template, which has the pinch. Swing and rod strips serve no puck.
#[test]
fn the_sheets_show_the_puck_and_the_pinch() {
    let layout = tee();
    let (figures, options) = (Figures::of(&layout), TemplateOptions::default());
    let puck = figures.spiral.unwrap();
    let [sheet] = &drawings(&layout, &figures, PartKind::Puck, &options)[..] else { panic!("one sheet") };
    let bounds = sheet.items.iter().find(|item| item.layer == Layer::Outline).unwrap().shape.bounding_box();
    assert!((bounds.width() - puck.puck_diameter_mm).abs() < 1e-3 && (bounds.height() - puck.puck_diameter_mm).abs() < 1e-3);
    let mut rays_deg: Vec<f64> = Vec::new();
    for item in sheet.items.iter().filter(|item| matches!(item.layer, Layer::Across | Layer::Guide)) {
        let bounds = item.shape.bounding_box();
        let far = [bounds.x0, bounds.x1].into_iter().max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap();
        let down = [bounds.y0, bounds.y1].into_iter().max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap();
        rays_deg.push((360.0 + far.atan2(-down).to_degrees() + 1e-6).rem_euclid(360.0));
    }
    rays_deg.sort_by(f64::total_cmp);
    for (number, ray_deg) in rays_deg.iter().enumerate() {
        assert!((ray_deg - 60.0 * number as f64).abs() < 1e-3, "{rays_deg:?}");
    }
    assert_eq!(rays_deg.len(), 6);
    let [template] = &drawings(&layout, &figures, PartKind::Template, &options)[..] else { panic!("one drawing") };
    assert!(template.items.iter().all(|item| item.layer != Layer::Across));
    let pinch = template.items.iter().filter(|item| item.layer == Layer::Guide).map(|item| item.shape.bounding_box());
    let pinch = pinch.reduce(|a, b| a.union(b)).unwrap();
    assert!(
        (pinch.width() - 2.0 * puck.pinch_radius_mm).abs() < 1e-3 && (pinch.center() - layout.middle().unwrap()).hypot() < 1e-6
    );
    let words = template.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text.text.as_str()),
        _ => None,
    });
    assert!(words.clone().any(|text| text == "pinch"), "{:?}", words.collect::<Vec<_>>());
    for kind in [PartKind::SwingStrip, PartKind::RodStrip, PartKind::Block] {
        assert!(drawings(&layout, &figures, kind, &options).is_empty(), "{}", kind.name());
    }
}

/// A line between wedges is taken hold of on the cloth, near by as far out, and turns with the hand.
#[test]
fn bands_are_taken_hold_of_on_the_cloth() {
    let layout = tee();
    let mut next = numbers(9);
    let mut held = 0;
    for bind in &layout.binds().binds {
        let lines = layout.fold().parallel(&pleatwright::geometry::Panel::BOTH, bind.radius_mm);
        let points: Vec<_> = lines.iter().flat_map(|stretch| stretch.flattened(1.0)).collect();
        for _ in 0..40 {
            let at = points[(next() * points.len() as f64) as usize];
            // Within the pinch all lines are near.
            if at.distance(layout.middle().unwrap()) < 40.0 || !layout.lay().is_cloth(at) {
                continue;
            }
            assert_eq!(Target::at(&layout, at, 0.5), Some(Target::of_bind(bind.id)), "{at:?}");
            held += 1;
        }
    }
    assert!(held > 100, "{held}");
    let rules = DragRules { snap_mm: 0.0, step_mm: 0.0, neighbours: Neighbours::Stay, held_off_mm: 0.0 };
    let target = Target::of_bind(layout.binds().binds[1].id);
    let to = layout.middle().unwrap() + kurbo::Vec2::new(120.0, 90.0);
    let mut document = Document::new(layout);
    document.perform(&target.dragged_to(document.layout(), to, rules).unwrap()).unwrap();
    let away = document.layout().fold().along_as_laid_mm(to) - target.radius_mm(document.layout()).unwrap();
    // As fine as the turn is written.
    assert!(away.abs() < 0.2, "{away}");
    assert_eq!(document.layout().raw().fold.spiral().unwrap().twist, Twist::Clockwise);
}
