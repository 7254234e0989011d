//! Refusals and warnings of layouts, and what the window refuses.

use super::handbook::{named_by_variant, quoted};
use super::{INCHES, MM, every, refusals, warnings};
use crate::edit::{Document, EditCommand};
use crate::geometry::{
    BlockError, BurstError, Cloth, DipError, FlatError, GarmentError, LineError, Measure, Panel, Pleats, Progression, Quantity,
    Side, SpacingError, Span, SpiralError, Top, WashDirection, WashError, WrapError,
};
use crate::layout::{
    BindRef, Fibre, FoldKind, FoldWords, LayoutError, LayoutProblem, MixtureProblem, ParseColourError, ParseFibresError, Srgb,
    TieProblem, Warning, warning_runs,
};
use crate::measure::RuleMarks;
use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
use crate::telling::{Field, Names, Refused as _, Voice, Warned as _};
use kurbo::Point;

#[test]
fn layouts() {
    let problems = every!(LayoutProblem:
        LayoutProblem::Format { .. } => LayoutProblem::Format { found: 7, known: 1 },
        LayoutProblem::Garment(_) => GarmentError::NotFinite { measure: Measure::Length, value_mm: f64::INFINITY }.into(),
        LayoutProblem::Wash(_) => WashError { direction: WashDirection::Width, percent: 40.0 }.into(),
        LayoutProblem::Burst(_) => BurstError::PleatCount { pleats: 900.0 }.into(),
        LayoutProblem::Line(_) => LineError::NoInside.into(),
        LayoutProblem::Flat(_) => FlatError::Wedges { wedges: 7, most: 72 }.into(),
        LayoutProblem::Spiral(_) => SpiralError::Bands { bands: 30 }.into(),
        LayoutProblem::Blocks(_) => BlockError::OffTheBundle.into(),
        LayoutProblem::Wrap(_) => WrapError::NoFlatBundle.into(),
        LayoutProblem::Dips(_) => DipError::Depth { value_mm: 200.0, least_mm: 1.0, most_mm: 95.0 }.into(),
        LayoutProblem::Spacing(_) => SpacingError::GuideEdited.into(),
        LayoutProblem::Number { .. } => LayoutProblem::Number { value: 4000.0, least: 0.0, most: 2000.0 },
        LayoutProblem::FreeBelowPressed { .. } => LayoutProblem::FreeBelowPressed { free_mm: 0.4, pressed_mm: 0.5 },
        LayoutProblem::Fibres { .. } => LayoutProblem::Fibres { percent: 90.0 },
        LayoutProblem::Name { .. } => LayoutProblem::Name { length: 1, most: 80 },
        LayoutProblem::LongText { .. } => LayoutProblem::LongText { length: 60_000, most: 50_000 },
        LayoutProblem::TooMany { .. } => LayoutProblem::TooMany { count: 201, most: 200 },
        LayoutProblem::ColourTwice { .. } => LayoutProblem::ColourTwice { name: "teal".to_owned() },
        LayoutProblem::Mixture(_) => MixtureProblem::Count { count: 1 }.into(),
        LayoutProblem::UnknownColour { .. } =>
            LayoutProblem::UnknownColour { name: "red".to_owned(), known: vec!["teal".to_owned(), "amber".to_owned()] },
        LayoutProblem::BareAndColoured { .. } => LayoutProblem::BareAndColoured { section: 4, colour: "teal".to_owned() },
        LayoutProblem::Tie(_) => TieProblem::TakesAll { fold: FoldKind::Spiral }.into(),
        LayoutProblem::UnknownSection { .. } => LayoutProblem::UnknownSection { section: 99, most: 18 },
    );
    refusals(&problems);
    refusals(&tie_problems());
    let mixtures = every!(MixtureProblem:
        MixtureProblem::Count { .. } => MixtureProblem::Count { count: 4 },
        MixtureProblem::Name { .. } => MixtureProblem::Name { length: 0 },
        MixtureProblem::NameTwice { .. } => MixtureProblem::NameTwice { name: "blue".to_owned() },
        MixtureProblem::Number { .. } => MixtureProblem::Number { value: 9.0, least: 0.4, most: 2.5 },
        MixtureProblem::OfCloth { .. } => MixtureProblem::OfCloth { count: 2 },
        MixtureProblem::Shares { .. } => MixtureProblem::Shares { percent: 90.0 },
    );
    refusals(&mixtures);
    let within = |key| Field::from("colours.rotation").item(3).then("components").item(2).then(key);
    for field in ["percent", "reach_factor", "name"].map(within) {
        let placed = |problem: &MixtureProblem| LayoutError { field: field.clone(), problem: problem.clone().into() };
        refusals(&mixtures.iter().map(placed).collect::<Vec<_>>());
    }
    let fields =
        [Field::from("thread.tail_mm"), Field::from("garment.cloth.grams_per_m2"), Field::from("colours.rotation").item(3)];
    for field in fields {
        let placed = |problem: &LayoutProblem| LayoutError { field: field.clone(), problem: problem.clone() };
        refusals(&problems.iter().map(placed).collect::<Vec<_>>());
    }
    refusals(&[LayoutProblem::Format { found: 0, known: 1 }, LayoutProblem::UnknownColour { name: "x".into(), known: vec![] }]);
    refusals(&[ParseColourError { text: "teal".to_owned() }]);
    refusals(&[ParseFibresError { text: "60 % wood".to_owned() }]);
}

fn tie_problems() -> Vec<TieProblem> {
    let srgb = Srgb { red: 1, green: 2, blue: 3 };
    let mut problems = every!(TieProblem:
        TieProblem::Twice { .. } => TieProblem::Twice { name: "Heart".to_owned() },
        TieProblem::Alone => TieProblem::Alone,
        TieProblem::UnknownLoose { .. } =>
            TieProblem::UnknownLoose { name: "red".to_owned(), known: vec!["teal".to_owned(), "amber".to_owned()] },
        TieProblem::LooseTwice { .. } => TieProblem::LooseTwice { named: "teal".to_owned(), own: "sky".to_owned() },
        TieProblem::TakesAll { .. } => TieProblem::TakesAll { fold: FoldKind::Spiral },
        TieProblem::Unbound => TieProblem::Unbound,
        TieProblem::NothingLeft => TieProblem::NothingLeft,
        TieProblem::ColourDiffers { .. } => TieProblem::ColourDiffers {
            name: "teal".to_owned(), srgb, other: Srgb { red: 15, green: 124, blue: 138 },
        },
    );
    problems.push(TieProblem::ColourDiffers { name: "teal".to_owned(), srgb, other: srgb });
    problems.push(TieProblem::UnknownLoose { name: "red".to_owned(), known: Vec::new() });
    problems
}

fn bind(number: u32) -> BindRef {
    BindRef { number, edit_number: i32::try_from(number).ok().map(|number| number - 9) }
}

fn off_cloth(number: u32) -> Warning {
    Warning::RingMeetsNoCloth {
        words: FoldWords::BURST,
        bind: bind(number),
        radius_mm: 480.0 + 2.0 * f64::from(number),
        farthest_mm: 494.0,
        is_taken: false,
    }
}

/// The same of one of several ties, where another has the cloth.
fn taken(number: u32) -> Warning {
    let Warning::RingMeetsNoCloth { words, bind, radius_mm, farthest_mm, .. } = off_cloth(number) else { unreachable!() };
    Warning::RingMeetsNoCloth { words, bind, radius_mm: radius_mm - 300.0, farthest_mm, is_taken: true }
}

fn narrow(number: u32, gap_mm: f64) -> Warning {
    Warning::GapTooSmall { inner_bind: bind(number), outer_bind: bind(number + 1), gap_mm, limit_mm: 6.0 }
}

fn all_warnings() -> Vec<Warning> {
    let fibre = Fibre::Polyester;
    every!(Warning:
        Warning::GapTooSmall { .. } => narrow(3, 5.9),
        Warning::PleatTooShallow { .. } => Warning::PleatTooShallow { words: FoldWords::BURST, depth_mm: 6.0, limit_mm: 15.0 },
        Warning::PleatTooDeep { .. } => Warning::PleatTooDeep { words: FoldWords::BURST, depth_mm: 80.0, limit_mm: 60.0 },
        Warning::RodTooThick { .. } => Warning::RodTooThick { bind: bind(9), diameter_mm: 62.0, limit_mm: 60.0 },
        Warning::RingMeetsNoCloth { .. } => off_cloth(19),
        Warning::FurtherArcMeetsNoCloth { .. } =>
            Warning::FurtherArcMeetsNoCloth { words: FoldWords::BURST, arc: 1, radius_mm: 4000.0, farthest_mm: 494.0 },
        Warning::FurtherArcOnGuideArc { .. } => Warning::FurtherArcOnGuideArc { words: FoldWords::BURST, arc: 2, radius_mm: 230.0 },
        Warning::PleatsMadeEven { .. } => Warning::PleatsMadeEven { asked: 39, got: 40 },
        Warning::PleatTooDeepOutside { .. } => Warning::PleatTooDeepOutside { bind: bind(18), depth_mm: 160.0, limit_mm: 150.0 },
        Warning::ClothPaler { .. } => Warning::ClothPaler { fibre, percent: 40.0 },
        Warning::ClothHardlyDyed { .. } => Warning::ClothHardlyDyed { fibre, percent: 65.0 },
        Warning::ClothHarmed { .. } => Warning::ClothHarmed { fibre: Fibre::Silk, percent: 100.0 },
        Warning::CentreOnOnePanel { .. } => Warning::CentreOnOnePanel {
            bare: Panel::Front, top: Top::ShoulderPoint, centre_mm: 60.0, cloth_begins_mm: 90.0
        },
        Warning::GuideArcOffCloth { .. } => Warning::GuideArcOffCloth { panel: Panel::Back, share: 0.6, limit: 0.75 },
        Warning::MirroredPair { .. } => Warning::MirroredPair { from_centre_line_mm: 135.0 },
        Warning::CantLieFlat { .. } =>
            Warning::CantLieFlat { bunched_mm2: 2200.0, lone_ends: 5, laid_open: false, strokes: false },
        Warning::UnevenPleats { .. } => Warning::UnevenPleats { least_mm: 12.0, most_mm: 36.4 },
        Warning::Creep { .. } => Warning::Creep { creep_mm: 48.0, width_mm: 90.0 },
        Warning::NothingHolds => Warning::NothingHolds,
        Warning::NothingDipped => Warning::NothingDipped,
        Warning::WrapTooClose { .. } => Warning::WrapTooClose { gap_mm: 1.5, limit_mm: 2.0 },
        Warning::WrapOverEnd { .. } => Warning::WrapOverEnd { over_mm: 40.0, length_mm: 820.0 },
        Warning::WrapMeetsBind { .. } => Warning::WrapMeetsBind { bind: bind(5), others: 2 },
        Warning::WrapMeetsBlocks => Warning::WrapMeetsBlocks,
        Warning::BlocksOverEdge { .. } => Warning::BlocksOverEdge { over_mm: 14.0 },
        Warning::TooManyTurns { .. } => Warning::TooManyTurns { turns: 2.5, most: 2.0 },
        Warning::PuckTooLoose { .. } =>
            Warning::PuckTooLoose { packing: 0.2, least: 0.3, height_mm: 60.0, most_height_mm: 40.0 },
        Warning::PuckTooTight { .. } =>
            Warning::PuckTooTight { packing: 1.0, most: 0.8, height_mm: 24.0, least_height_mm: 30.0 },
        Warning::LineTwice { .. } => Warning::LineTwice { from_centre_line_mm: 80.0 },
        Warning::LooserTowardCentre { .. } => Warning::LooserTowardCentre { words: FoldWords::BURST, bind: bind(3), gap_mm: 30.0, outer_gap_mm: 28.0 },
        Warning::RoundedFar { .. } =>
            Warning::RoundedFar { bind: bind(5), by_mm: -3.2, marks: RuleMarks::InchEighth, others: 2 },
        Warning::InTie { .. } => Warning::InTie { tie: "Left sleeve".to_owned(), warning: Box::new(off_cloth(4)) },
        Warning::TieCrowded { .. } => Warning::TieCrowded {
            tie: "Hem".to_owned(), by: "Heart".to_owned(), times: 2.63, most: 2.0
        },
        Warning::TiesShareCloth { .. } => Warning::TiesShareCloth { tie: "Hem".to_owned(), area_mm2: 3400.0 },
        Warning::Adjusted { .. } =>
            Warning::Adjusted { side: Side::Inward, quantity: Quantity::LastGap, asked: 10.0, got: 9.863 },
    )
}

#[test]
fn layout_warnings() {
    warnings(&all_warnings());
    // What is told of one of several ties has the entry of what is told.
    let own: Vec<Warning> = all_warnings().into_iter().filter(|warning| !matches!(warning, Warning::InTie { .. })).collect();
    quoted(&own);
    named_by_variant(&own);
    warnings(&[Warning::Adjusted { side: Side::Outward, quantity: Quantity::Ratio, asked: 1.1, got: 1.102 }]);
    let own: Vec<Warning> =
        [0, 1].map(|others| Warning::RoundedFar { bind: bind(5), by_mm: 2.0, marks: RuleMarks::InchSixteenth, others }).into();
    warnings(&own);
}

/// Typed sides, quantities and marks stand in the figures' JSON as their words did.
#[test]
fn warnings_are_the_same_data_as_ever() {
    let json = |warning: Warning| serde_json::to_value(warning).unwrap();
    let adjusted = Warning::Adjusted { side: Side::Outward, quantity: Quantity::FirstGap, asked: 10.0, got: 9.5 };
    let wanted = r#"{"kind": "adjusted", "side": "outward", "quantity": "first_gap_mm", "asked": 10.0, "got": 9.5}"#;
    assert_eq!(json(adjusted), serde_json::from_str::<serde_json::Value>(wanted).unwrap());
    let rounded = Warning::RoundedFar { bind: bind(5), by_mm: -3.0, marks: RuleMarks::Millimetres5, others: 2 };
    assert_eq!(json(rounded)["marks"], "every 5 mm");
}

/// Eight equal sentences used to tell of a burst that runs off the cloth.
#[test]
fn a_run_of_like_warnings_is_one_sentence() {
    let list = [narrow(2, 3.0), narrow(3, 3.9), taken(9), off_cloth(19), off_cloth(20), off_cloth(21), off_cloth(30)];
    let runs = warning_runs(&list);
    let said: Vec<String> = runs.iter().map(|run| run.say(Voice::window(MM))).collect();
    let expected = [
        "Binds 2 to 4 are 3 mm to 3.9 mm apart; this thread needs at least 6 mm. Move them apart, or use a thinner thread.",
        "Bind 9, 198 mm from the centre, meets no cloth of this tie: another tie has it. Remove it, or give the gaps less room.",
        "Binds 19 to 21 are off the cloth, which ends at 494 mm. Remove them, or give the gaps less room.",
        "Bind 30, 540 mm from the centre, is off the cloth, which ends at 494 mm. Remove it, or give the gaps less room.",
    ];
    assert_eq!(said, expected);
    warnings(&runs);
    warnings(&warning_runs(&[taken(8), taken(9)]));
    let all = all_warnings();
    warnings(&warning_runs(&all));
}

/// How edits count a bind stood behind each on screen and paper too.
#[test]
fn how_edits_count_a_bind_is_said_beside_keys_only() {
    let warning = off_cloth(19);
    assert!(warning.say(Voice { lengths: MM, names: Names::Keys }).contains("19 (10 counted from the one tied first)"));
    assert!(!warning.say(Voice::window(MM)).contains("counted"));
}

/// Whatever is refused in the window, no key and no path of a file is in it, and in inches no millimetres.
#[test]
fn what_the_window_refuses_speaks_its_words() {
    let even = |gap_mm| Progression::Even { count: None, gap_mm: Some(gap_mm), span: Some(Span::ToEnd { leave_mm: 9000.0 }) };
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let cloth = layout.raw().garment.cloth;
    let refused = |command: &EditCommand| Document::new(layout.clone()).perform(command).unwrap_err();
    let errors: Vec<LayoutError> = [
        EditCommand::SetMeasure(Measure::NeckWidth, Some(f64::NAN)),
        EditCommand::SetMeasure(Measure::NeckWidth, Some(550.0)),
        EditCommand::SetMeasure(Measure::HalfChest, Some(2540.0)),
        EditCommand::SetGuideRadius(-25.4),
        EditCommand::SetPleats(Pleats::Depth { depth_mm: 0.001 }),
        EditCommand::MoveCentre(Point::new(0.0, 5000.0)),
        EditCommand::MoveCentre(Point::new(0.0, 9000.0)),
        EditCommand::SetProgression(Side::Inward, even(20.0)),
        EditCommand::SetProgression(Side::Outward, even(0.0)),
        EditCommand::SetProgression(Side::Inward, Progression::Even { count: None, gap_mm: None, span: None }),
        EditCommand::SetReferences(vec![-1.0]),
        EditCommand::AddBind(-5.0),
        EditCommand::SetSize(Some("XXXXXL".to_owned())),
        EditCommand::SetCloth(Cloth { grams_per_m2: 1e9, ..cloth }),
    ]
    .iter()
    .map(refused)
    .collect();
    refusals(&errors);
    let said: Vec<String> = errors.iter().map(|error| error.say(Voice::window(INCHES))).collect();
    assert_eq!(said[2], "Half chest: 100 in is outside the plausible range; give 4 3/4 to 43 1/4 in");
    assert_eq!(said[3], "Guide arc: -1 in is out of range; give more than 0 and at most 196 13/16 in");
    assert!(said[8].starts_with("Outward gaps, margin: 354 5/16 in leaves no room in the "), "{}", said[8]);
    assert_eq!(errors[13].say(Voice::window(MM)), "Grams per m²: 1.0e9 is out of range; give 20 to 2000");
    assert!(errors[12].say(Voice::window(MM)).starts_with("Size: \"XXXXXL\" is not a size of a crew-neck tee; choose "));
}
