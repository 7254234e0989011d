//! Flat bundles in layouts: first layouts for every garment and pattern, their files, their figures by hand, other sizes.

use kurbo::Size;
use pleatwright::geometry::{
    BindEdit, BlockShape, BlocksSpec, BundleFace, Centring, FlatKind, FlatPattern, GarmentKind, Measure, RawMeasures,
    WedgesFirst, WrapSpec, centre_at,
};
use pleatwright::layout::{
    Figures, FlatStart, FoldStart, GarmentSpec, HandPart, Handwork, Layout, LayoutSpec, Warning, starter, starter_on,
};
use pleatwright::measure::{LengthStyle, RuleMarks};
use pleatwright::plan::{GradeRule, grade};
use pleatwright::print::parts::{FoldPictures, PartKind, TemplateOptions, drawings};
use pleatwright::print::{Layer, Shape};
use pleatwright::store::{layout_text, parse_layout};

fn begun(start: FlatStart, garment: &GarmentSpec) -> Layout {
    let name = start.kind.name();
    let raw = starter_on(FoldStart::Flat(start), garment, RuleMarks::Millimetres1);
    raw.and_then(Layout::try_from).unwrap_or_else(|error| panic!("{} {name}: {error}", garment.kind))
}

fn tee(kind: FlatKind) -> Layout {
    begun(FlatStart::of(kind), &GarmentSpec::sized(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()))
}

/// Every pattern can be begun with on every garment; something holds it, its sections weigh what the garment weighs, its file says all.
#[test]
fn every_garment_has_a_first_layout_in_every_pattern() {
    for kind in GarmentKind::ALL {
        let sizes = kind.sizes();
        let size = sizes.get(sizes.len() / 2).map(|size| size.name.to_string());
        for pattern in FlatKind::ALL {
            let garment = GarmentSpec::sized(kind, size.as_deref(), &RawMeasures::default());
            let layout = begun(FlatStart::of(pattern), &garment);
            let figures = Figures::of(&layout);
            assert!(!figures.binds.is_empty() || layout.blocks().is_some(), "{kind} {}", pattern.name());
            let all_g: f64 = figures.sections.iter().map(|section| section.mass_g).sum();
            assert!((all_g / figures.garment.cloth.mass_g - 1.0).abs() < 1e-9, "{kind} {}", pattern.name());
            let text = layout_text(layout.raw());
            let again = parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}\n{text}"));
            assert_eq!(again.raw(), layout.raw());
        }
    }
}

/// A cloth of 400 by 600 mm, two layers folded in half to 200, in stripes of 50 mm: 4 pieces of 4 layers of 0.6 mm make a bundle of 600 by 50 by
/// 9.6 mm. Its outermost layers, 16 in all, enclose at most 7 on either side of a crease, each `pi t` longer (half a circle, worked by hand).
#[test]
fn figures_of_stripes_are_those_worked_by_hand() {
    let mut measures = RawMeasures::default();
    measures.set(Measure::ClothWidth, Some(400.0));
    measures.set(Measure::ClothHeight, Some(600.0));
    let garment = GarmentSpec::sized(GarmentKind::FlatCloth, None, &measures);
    let layout = begun(FlatStart { width_mm: Some(50.0), ..FlatStart::of(FlatKind::Stripes) }, &garment);
    let figures = Figures::of(&layout);
    let flat = figures.flat.as_ref().unwrap();
    assert_eq!((flat.pieces, flat.folds), (4, 3));
    assert!((flat.bundle_length_mm - 600.0).abs() < 1e-9 && (flat.bundle_width_mm - 50.0).abs() < 1e-9);
    assert!((flat.bundle_height_mm - f64::from(flat.pieces * flat.layers) * 0.6).abs() < 1e-9);
    // A cut across meets all of the cloth's breadth in every layer: 400 mm of each panel.
    let cut = layout.fold().cut(300.0);
    assert!((cut.front.cloth_mm - 400.0).abs() < 1e-9);
    let words = Handwork::of(&layout, &figures).words(HandPart::Mark, LengthStyle::default());
    assert!(words.starts_with("Stripes 50 mm wide, running straight up."), "{words}");
}

/// A square block holds its area of each layer between, and the clamp opens over them.
#[test]
fn figures_of_blocks_are_those_worked_by_hand() {
    let layout = tee(FlatKind::Squares);
    let figures = Figures::of(&layout);
    let held = figures.flat.as_ref().unwrap().blocks.unwrap();
    let under_mm2 = held.cloth_mm2.front + held.cloth_mm2.back;
    assert!(under_mm2 <= f64::from(held.most_layers) * held.area_mm2 + 1e-6, "{held:?}");
    assert!(under_mm2 > 0.5 * f64::from(held.most_layers) * held.area_mm2, "{held:?}");
    assert!((held.opening_mm - 0.45 * f64::from(held.most_layers)).abs() < 1e-9);
    let work = Handwork::of(&layout, &figures);
    assert_eq!(work.parts().last(), Some(HandPart::Clamp));
    assert!(work.words(HandPart::Clamp, LengthStyle::default()).contains("(square, 50 mm a side)"));
}

#[test]
fn what_holds_no_bundle_is_refused() {
    let mut raw = tee(FlatKind::Stripes).raw().clone();
    raw.blocks = Some(BlocksSpec::in_the_middle(BlockShape::Disc { diameter_mm: 3.0 }));
    let said = Layout::try_from(raw.clone()).unwrap_err().to_string();
    assert_eq!(said, "blocks.shape.diameter_mm: 3 mm is out of range; give 5 to 2000 mm");
    raw.fold = starter_on(FoldStart::Burst, &raw.garment, RuleMarks::Millimetres1).unwrap().fold;
    let said = Layout::try_from(raw.clone()).unwrap_err().to_string();
    assert!(said.starts_with("blocks: blocks hold a flat bundle"), "{said}");
    raw.blocks = None;
    raw.binds.edits = vec![BindEdit::Remove { bind: 0 }];
    let said = Layout::try_from(raw).unwrap_err().to_string();
    assert!(said.starts_with("binds.edits: "), "a burst keeps its guide arc: {said}");
    let mut wedges = tee(FlatKind::Wedges).raw().clone();
    if let Some(FlatPattern::Wedges { wedges, .. }) = wedges.fold.flat_mut().map(|flat| &mut flat.pattern) {
        *wedges = 7;
    }
    let said = Layout::try_from(wedges).unwrap_err().to_string();
    assert!(said.starts_with("fold.pattern.wedges: 7 wedges can't be folded"), "{said}");
}

/// On another size a strip is as much wider as the garment, and as many times folded.
#[test]
fn a_bundle_is_graded() {
    let small = tee(FlatKind::Squares);
    let large = grade(&small, "2XL".parse().unwrap(), GradeRule::Scaled).unwrap();
    let of = |layout: &Layout| match layout.raw().fold.flat().map(|flat| flat.pattern.clone()) {
        Some(FlatPattern::Squares { width_mm, .. }) => width_mm,
        other => panic!("{other:?}"),
    };
    let chest = |layout: &Layout| layout.garment().value_mm(Measure::HalfChest).unwrap();
    assert!((of(&large) / of(&small) - chest(&large) / chest(&small)).abs() < 1e-9);
    assert!(large.blocks().unwrap().area_mm2() > small.blocks().unwrap().area_mm2());
    let kept = grade(&small, "2XL".parse().unwrap(), GradeRule::Kept).unwrap();
    assert!((of(&kept) - of(&small)).abs() < 1e-12);
}

/// The template numbers every fold, an arrow beside each; the block's sheet holds the block at full size.
#[test]
fn the_template_numbers_folds_and_the_block_is_full_size() {
    let layout = tee(FlatKind::Squares);
    let figures = Figures::of(&layout);
    let options = TemplateOptions::default();
    let template = drawings(&layout, &figures, PartKind::Template, &options);
    let words = |wanted: &str| {
        template[0].items.iter().any(|item| matches!(&item.shape, Shape::Text(text) if text.text.starts_with(wanted)))
    };
    for number in 1..=figures.flat.as_ref().unwrap().folds {
        assert!(words(&format!("fold {number}")), "fold {number}");
    }
    let [block] = &drawings(&layout, &figures, PartKind::Block, &options)[..] else { panic!("one sheet") };
    let outline = block.items.iter().find(|item| item.layer == Layer::Outline).unwrap();
    let bounds = outline.shape.bounding_box();
    assert!((bounds.width() - 50.0).abs() < 1e-9 && (bounds.height() - 50.0).abs() < 1e-9, "{bounds:?}");
    assert!(drawings(&tee(FlatKind::Stripes), &figures, PartKind::Block, &options).is_empty());
}

/// The blocks' outline on the pieces that they touch has the block's own area, and it lies on the template.
#[test]
fn blocks_are_seen_on_the_cloth() {
    let layout = tee(FlatKind::Squares);
    let (flat, block) = (layout.flat().unwrap(), layout.blocks().unwrap());
    let marks = flat.block_marks(block);
    assert_eq!(marks.touched.len(), 2, "the lowest and the highest");
    let area = |path: &kurbo::BezPath| kurbo::Shape::area(path).abs();
    for path in marks.touched.iter().chain(&marks.between) {
        assert!((area(path) - block.area_mm2()).abs() < 1e-6, "{}", area(path));
    }
    let template = drawings(&layout, &Figures::of(&layout), PartKind::Template, &TemplateOptions::default());
    assert_eq!(template[0].items.iter().filter(|item| item.layer == Layer::Ridge).count(), 2);
}

/// Every fold has its picture and its number, and the bundle below is drawn to the scale that is said: the block's bar of 50 mm.
#[test]
fn the_folding_card_shows_every_fold_and_the_bundle_to_scale() {
    for kind in FlatKind::ALL {
        let layout = tee(kind);
        let figures = Figures::of(&layout);
        let cards = drawings(&layout, &figures, PartKind::FoldingCard, &TemplateOptions::default());
        assert_eq!(cards.len(), 1, "{}: one page beside the maker", kind.name());
        let texts: Vec<&str> = cards[0]
            .items
            .iter()
            .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text.text.as_str()) } else { None })
            .collect();
        let folds = figures.flat.as_ref().unwrap().folds;
        let with_cloth = layout.flat().unwrap().steps().iter().filter(|step| step.crease.is_some()).count();
        let drawn = (1..=folds).filter(|number| {
            let plain = format!("fold {number}");
            texts.iter().any(|text| *text == plain || text.contains(&format!("{plain}:")))
        });
        let left_out = texts.iter().find_map(|text| text.strip_suffix(" folds the same way")?.parse::<usize>().ok()).unwrap_or(0);
        assert_eq!(drawn.count() + left_out, with_cloth, "{}: {texts:?}", kind.name());
        let scale = texts.iter().find_map(|text| text.split(" at 1 : ").nth(1)?.trim_end_matches('.').parse::<f64>().ok());
        if let Some(block) = layout.blocks() {
            let outline = cards[0].items.iter().find(|item| item.layer == Layer::Guide).unwrap().shape.bounding_box();
            let expected_mm = block.bounds().width() / scale.unwrap_or(1.0);
            assert!((outline.width() - expected_mm).abs() < 1e-6, "{}: {outline:?} {scale:?}", kind.name());
        }
        let page = cards[0].ink_bounds().unwrap();
        assert!(page.width() <= 193.0 && page.height() <= 254.0, "{}: {page:?}", kind.name());
    }
    let burst = Layout::try_from(starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).unwrap()).unwrap();
    assert!(drawings(&burst, &Figures::of(&burst), PartKind::FoldingCard, &TemplateOptions::default()).is_empty());
}

/// In rooms as small as a corner of the window no picture runs into words, its own or another's; every fold is drawn or counted.
#[test]
fn pictures_of_the_folds_stay_clear_of_their_words() {
    for kind in [FlatKind::Stripes, FlatKind::Triangles, FlatKind::RightTriangles] {
        let layout = tee(kind);
        let pictures = FoldPictures::of(&layout, &Figures::of(&layout), LengthStyle::default()).unwrap();
        for (width, height) in [(50.0, 50.0), (74.0, 88.0), (120.0, 50.0), (180.0, 60.0), (190.0, 140.0)] {
            let drawing = pictures.drawing(Size::new(width, height));
            let (words, lines): (Vec<_>, Vec<_>) = drawing.items.iter().partition(|item| matches!(item.shape, Shape::Text(_)));
            assert!(words.len() >= 3, "{} in {width} by {height}: {}", kind.name(), words.len());
            for word in &words {
                let word = word.shape.bounding_box();
                let over = lines.iter().map(|line| line.shape.bounding_box()).find(|line| line.overlaps(word));
                assert_eq!(over, None, "{} in {width} by {height}: {word:?}", kind.name());
            }
        }
    }
}

/// A block of 50 mm whose middle lies 20 mm within the edge reaches 5 mm over it, and is warned of.
#[test]
fn blocks_over_the_edge_are_warned_of() {
    let mut raw = tee(FlatKind::Squares).raw().clone();
    let inside = |raw: &LayoutSpec| {
        let figures = Figures::of(&Layout::try_from(raw.clone()).unwrap());
        figures.warnings.iter().find_map(|warning| match warning {
            Warning::BlocksOverEdge { over_mm } => Some(*over_mm),
            _ => None,
        })
    };
    assert_eq!(inside(&raw), None);
    let length_mm = Layout::try_from(raw.clone()).unwrap().flat().unwrap().size().width;
    raw.blocks = Some(BlocksSpec {
        shape: BlockShape::Square { side_mm: 50.0 },
        along_mm: 0.5 * length_mm - 20.0,
        across_mm: 0.0,
        turn_deg: 0.0,
    });
    assert!((inside(&raw).unwrap() - 5.0).abs() < 1e-6, "{:?}", inside(&raw));
}

/// A first layout's blocks lie on the smallest bundle too; those asked for at a size keep it.
#[test]
fn first_blocks_lie_on_the_bundle() {
    for kind in GarmentKind::ALL {
        let size = kind.sizes().first().map(|size| size.name.to_string());
        let garment = GarmentSpec::sized(kind, size.as_deref(), &RawMeasures::default());
        for pattern in [FlatKind::Squares, FlatKind::Triangles, FlatKind::RightTriangles] {
            let layout = begun(FlatStart::of(pattern), &garment);
            let over_mm = layout.flat().unwrap().over_edge_mm(layout.blocks().unwrap());
            assert!(over_mm <= 1e-9, "{kind} {}: {over_mm}", pattern.name());
        }
        let shape = BlockShape::Disc { diameter_mm: 150.0 };
        let asked = begun(FlatStart { block: Some(shape.clone()), ..FlatStart::of(FlatKind::RightTriangles) }, &garment);
        assert_eq!(asked.raw().blocks.as_ref().map(|blocks| &blocks.shape), Some(&shape));
    }
}

/// Half folds halve a bag's body; its handles are laid aside.
#[test]
fn a_bag_is_halved_without_its_handles() {
    let size = GarmentKind::ToteBag.usual_size().map(|size| size.to_string());
    let garment = GarmentSpec::sized(GarmentKind::ToteBag, size.as_deref(), &RawMeasures::default());
    let layout = begun(FlatStart::of(FlatKind::Halves), &garment);
    let height_mm = layout.garment().value_mm(Measure::BagHeight).unwrap();
    let Some(FlatPattern::Halves { half_folds }) = layout.raw().fold.flat().map(|flat| flat.pattern.clone()) else { panic!() };
    let first = centre_at(half_folds[0].through, layout.panels());
    assert!((first.y - 0.5 * height_mm).abs() <= 0.5, "{} of {height_mm}", first.y);
}

/// Turned, a block is told by the side that it is cut by, and by the turn; the box round it would be broader by half.
#[test]
fn a_turned_block_is_told_by_its_side() {
    let mut raw = tee(FlatKind::Squares).raw().clone();
    let shape = BlockShape::Square { side_mm: 62.0 };
    raw.blocks = Some(BlocksSpec { shape, along_mm: -12.0, across_mm: 9.0, turn_deg: 30.0 });
    let layout = Layout::try_from(raw).unwrap();
    let figures = Figures::of(&layout);
    let said = Handwork::of(&layout, &figures).words(HandPart::Clamp, LengthStyle::default());
    assert!(said.contains("(square, 62 mm a side)") && said.contains(", turned by 30 degrees,"), "{said}");
    let [sheet] = &drawings(&layout, &figures, PartKind::Block, &TemplateOptions::default())[..] else { panic!("one sheet") };
    let texts: Vec<&str> = sheet
        .items
        .iter()
        .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text.text.as_str()) } else { None })
        .collect();
    assert!(texts.contains(&"Block: square, 62 mm a side. Cut two from board, and lay one on each flat."), "{texts:?}");
    let middle = layout.flat().unwrap().middle() + kurbo::Vec2::new(-12.0, 9.0);
    let cross = sheet.items.iter().filter(|item| item.layer == Layer::Pin).map(|item| item.shape.bounding_box());
    assert!((cross.reduce(|a, b| a.union(b)).unwrap().center() - middle).hypot() < 1e-9);
}

/// To and fro every fold lays what comes later on top: the arrow over a crease leads from the higher place to the lower.
#[test]
fn arrows_lead_onto_what_lies_there() {
    use pleatwright::geometry::{Bundle as _, Fold as _};
    for kind in [FlatKind::Stripes, FlatKind::Squares, FlatKind::Triangles, FlatKind::Halves, FlatKind::Wedges] {
        let mut raw = tee(kind).raw().clone();
        *raw.fold.centring_mut() = Centring::Open;
        if let Some(FlatPattern::Wedges { first, .. }) = raw.fold.flat_mut().map(|flat| &mut flat.pattern) {
            *first = WedgesFirst::HalfFold { angle_deg: 0.0 };
        }
        let layout = Layout::try_from(raw).unwrap();
        let flat = layout.flat().unwrap();
        // No later fold turns over what the last one has laid.
        let last: u32 = layout.marked_creases().iter().map(|crease| crease.number).max().unwrap();
        let mut seen = 0;
        for crease in layout.marked_creases().iter().filter(|crease| crease.number == last) {
            let toward = crease.toward.unwrap();
            let middle = crease.line.p0.midpoint(crease.line.p1);
            let place = |at: kurbo::Point| flat.to_bundle(flat.lay().cloth_at(0, at)).map(|there| there.layer());
            let (Some(from), Some(onto)) = (place(middle - 0.5 * toward), place(middle + 0.5 * toward)) else { continue };
            assert!(from > onto, "{}: place {from} is laid onto {onto}", kind.name());
            seen += 1;
        }
        assert!(seen > 0, "{}", kind.name());
    }
}

/// Typed where blocks alone hold a bundle, a number of binds brings as many.
#[test]
fn binds_are_added_where_there_are_none() {
    let mut document = pleatwright::edit::Document::new(tee(FlatKind::Squares));
    document.perform(&pleatwright::edit::EditCommand::SetBindCount(3)).unwrap();
    assert_eq!(document.layout().binds().binds.len(), 3);
}

/// A tee's strip with thread wound round it in place of binds.
fn wound(spec: WrapSpec) -> LayoutSpec {
    let start = FlatStart { wrap_gap_mm: Some(spec.gap_mm), ..FlatStart::of(FlatKind::Stripes) };
    let garment = GarmentSpec::sized(GarmentKind::CrewTee, Some("M"), &RawMeasures::default());
    let mut raw = begun(start, &garment).raw().clone();
    assert!(raw.binds.edits.contains(&BindEdit::Remove { bind: 0 }) && raw.wrap.is_some());
    raw.wrap = Some(spec);
    raw
}

/// Ten turns 40 mm apart: each the hypotenuse of 40 mm and of the girth with the thread's own (the arc length of a helix, any textbook), and two
/// tails; all of it is thread to cut. There and back it takes twice as much and once more across.
#[test]
fn figures_of_wound_thread_are_those_worked_by_hand() {
    let spec = WrapSpec { from_mm: 200.0, to_mm: 600.0, gap_mm: 40.0, crossed: false };
    let raw = wound(spec);
    let layout = Layout::try_from(raw.clone()).unwrap();
    let figures = Figures::of(&layout);
    let wrap = figures.flat.as_ref().unwrap().wrap.unwrap();
    // The strip's girth changes little from turn to turn but at the sleeves: half turn by half turn.
    let turn_mm = |half: u32| {
        let girth_mm = layout.flat().unwrap().held_girth_mm(200.0 + 20.0 * (f64::from(half) + 0.5), 0.45);
        (girth_mm + std::f64::consts::PI).hypot(40.0)
    };
    let expected_mm = 0.5 * (0..20).map(turn_mm).sum::<f64>() + 240.0;
    // It is cut to 5 mm, never shorter; the girth is asked for 24 times here, not 20.
    assert!((-1.0..8.0).contains(&(wrap.thread_mm - expected_mm)), "{} against {expected_mm}", wrap.thread_mm);
    assert_eq!((wrap.turns, figures.thread_mm, figures.binds.len()), (10.0, wrap.thread_mm, 0));
    let half_mm = layout.flat().unwrap().size().height / 20.0;
    assert!((wrap.angle_deg - (1.0 / half_mm).atan().to_degrees()).abs() < 1e-9);
    assert!(figures.warnings.iter().all(|warning| *warning != Warning::NothingHolds));
    let work = Handwork::of(&layout, &figures);
    assert_eq!(work.parts().last(), Some(HandPart::Wrap));
    let said = work.words(HandPart::Wrap, LengthStyle::default());
    assert!(
        said.starts_with("Wind waxed thread round the bundle, from 200 mm from the first end to 600 mm: 10 turns, each 40 mm on"),
        "{said}"
    );
    let crossed = Layout::try_from(LayoutSpec { wrap: Some(WrapSpec { crossed: true, ..spec }), ..raw }).unwrap();
    let crossed = Figures::of(&crossed);
    let twice_mm = 2.0 * (expected_mm - 240.0) + layout.flat().unwrap().size().height + 240.0;
    assert!((-1.0..8.0).contains(&(crossed.thread_mm - twice_mm)), "{} against {twice_mm}", crossed.thread_mm);
}

/// Each thing that may spoil a wound strip is warned of, and what can't be wound is refused by its field.
#[test]
fn wound_thread_is_warned_of_and_refused() {
    let spec = WrapSpec { from_mm: 100.0, to_mm: 400.0, gap_mm: 30.0, crossed: false };
    let found = |change: &dyn Fn(&mut LayoutSpec)| {
        let mut raw = wound(spec);
        change(&mut raw);
        Figures::of(&Layout::try_from(raw).unwrap()).warnings
    };
    assert!(found(&|_| {}).is_empty());
    let close = found(&|raw| raw.wrap = Some(WrapSpec { gap_mm: 1.5, ..spec }));
    assert_eq!(close, [Warning::WrapTooClose { gap_mm: 1.5, limit_mm: 2.0 }]);
    let over = found(&|raw| raw.wrap = Some(WrapSpec { to_mm: 2000.0, ..spec }));
    assert!(
        matches!(over[..], [Warning::WrapOverEnd { over_mm, length_mm }] if (over_mm + length_mm - 2000.0).abs() < 1e-9),
        "{over:?}"
    );
    let bound = found(&|raw| raw.binds.edits = vec![BindEdit::Remove { bind: 0 }, BindEdit::Add { at_mm: 250.0 }]);
    assert!(matches!(bound[..], [Warning::WrapMeetsBind { others: 0, .. }]), "{bound:?}");
    let beside = found(&|raw| raw.binds.edits = vec![BindEdit::Remove { bind: 0 }, BindEdit::Add { at_mm: 420.0 }]);
    assert!(beside.is_empty(), "{beside:?}");
    let block = |along_mm| {
        let shape = BlockShape::Square { side_mm: 40.0 };
        move |raw: &mut LayoutSpec| raw.blocks = Some(BlocksSpec { along_mm, ..BlocksSpec::in_the_middle(shape.clone()) })
    };
    assert_eq!(found(&block(-60.0)), [Warning::WrapMeetsBlocks]);
    assert!(found(&block(150.0)).is_empty());
    let refused = |wrap: WrapSpec| Layout::try_from(LayoutSpec { wrap: Some(wrap), ..wound(spec) }).unwrap_err().to_string();
    let said = refused(WrapSpec { gap_mm: 0.0, ..spec });
    assert!(said.starts_with("wrap.gap_mm: 0 mm is out of range; give 0.5 to "), "{said}");
    assert!(refused(WrapSpec { to_mm: 80.0, ..spec }).starts_with("wrap.to_mm: 80 mm is not beyond 100 mm"));
    assert!(refused(WrapSpec { from_mm: 5000.0, to_mm: 5100.0, ..spec }).starts_with("wrap.from_mm: the bundle ends at "));
    let mut burst = wound(spec);
    let begun = starter_on(FoldStart::Burst, &burst.garment, RuleMarks::Millimetres1).unwrap();
    (burst.fold, burst.binds) = (begun.fold, begun.binds);
    let said = Layout::try_from(burst).unwrap_err().to_string();
    assert!(said.starts_with("wrap: thread is wound round a flat bundle"), "{said}");
}

/// On another size the ends of the wrap grow with the bundle's length and its gap with the garment's width, as stripes do; kept, they stay.
#[test]
fn a_wound_bundle_is_graded() {
    let spec = WrapSpec { from_mm: 100.0, to_mm: 400.0, gap_mm: 30.0, crossed: true };
    let small = Layout::try_from(wound(spec)).unwrap();
    let size = "2XL".parse().unwrap();
    let large = grade(&small, size, GradeRule::Scaled).unwrap().raw().wrap.unwrap();
    let chest = |layout: &Layout| layout.garment().value_mm(Measure::HalfChest).unwrap();
    let by = chest(&grade(&small, size, GradeRule::Kept).unwrap()) / chest(&small);
    let long = |layout: &Layout| layout.flat().unwrap().size().width;
    let along = long(&grade(&small, size, GradeRule::Scaled).unwrap()) / long(&small);
    assert!((along - by).abs() > 0.01, "a size is not as much longer as it is wider: {along} {by}");
    for (of_large, of_small, by) in
        [(large.from_mm, spec.from_mm, along), (large.to_mm, spec.to_mm, along), (large.gap_mm, spec.gap_mm, by)]
    {
        assert!((of_large / of_small - by).abs() < 1e-9);
    }
    assert!(large.crossed);
    assert_eq!(grade(&small, size, GradeRule::Kept).unwrap().raw().wrap, Some(spec));
}

/// On the laid cloth the thread's lines lie where they lie on the bundle, on cloth alone, as far out as there is cloth, and the template shows the
/// upper ones.
#[test]
fn wound_thread_is_marked_on_the_cloth_that_it_touches() {
    use pleatwright::geometry::Fold as _;
    let layout = Layout::try_from(wound(WrapSpec { from_mm: 100.0, to_mm: 400.0, gap_mm: 30.0, crossed: false })).unwrap();
    let (flat, wrap) = (layout.flat().unwrap(), layout.wrap().unwrap());
    let marks = flat.wrap_marks(wrap);
    for (lines, face, outermost) in [(&marks.upper, BundleFace::Upper, true), (&marks.lower, BundleFace::Lower, false)] {
        let on_bundle: Vec<_> = wrap.lines(face).collect();
        assert!(lines.len() >= on_bundle.len());
        let last = pleatwright::geometry::Bundle::places(flat) / 4 - 1;
        let mut pieces = Vec::new();
        for line in lines {
            assert!(flat.lay().is_cloth(line.midpoint()));
            // Carried back into the bundle its middle lies on one of the thread's lines.
            let cloth = flat.lay().cloth_at(0, line.midpoint());
            let there = pleatwright::geometry::Bundle::to_bundle(flat, cloth).unwrap();
            let width_mm = pleatwright::geometry::Bundle::width_mm(flat, there.along_mm);
            let at = kurbo::Point::new(there.along_mm, there.across * width_mm);
            let off_mm = |own: &kurbo::Line| kurbo::ParamCurveNearest::nearest(own, at, 1e-9).distance_sq.sqrt();
            assert!(on_bundle.iter().any(|own| off_mm(own) < 1e-6), "{at:?}");
            pieces.push(there.layer() / 4);
        }
        // Near the hem the stripes of the sleeve, which lie outermost, have no cloth: there it lies on the last one of the body.
        let body = if outermost { last - 2 } else { 0 };
        assert!(pieces.iter().all(|piece| *piece == body), "{pieces:?} of {last}");
    }
    let figures = Figures::of(&layout);
    let [template] = &drawings(&layout, &figures, PartKind::Template, &TemplateOptions::default())[..] else {
        panic!("one sheet")
    };
    let threads = template.items.iter().filter(|item| item.layer == Layer::Reference).count();
    assert_eq!((threads, template.names.of(Layer::Reference)), (marks.upper.len(), "thread"));
}
