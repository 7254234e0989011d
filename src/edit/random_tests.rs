//! Hands that know nothing: random commands on a document. Each kind of command is among them, and each is undone.

use super::{Document, EditCommand, GivenOrder, TieChange, Tying, another_tie, mirrored};
use crate::geometry::{
    BindId, BlockShape, BlocksSpec, Centre, Centring, Cloth, DipPart, DrawnLine, Fit, FlatFoldSpec, FlatKind, FlatPattern,
    FreeLine, GarmentEdge, GarmentKind, Gather, HalfFold, Known, KnownValues, LineKind, LineShape, MM2_PER_M2, Measure,
    Neighbours, OwnOutline, Pack, Panels, Pleats, Progression, Side, Span, SpiralSpec, Thread, ThreadKind, Triangle, Twist,
    WedgesFirst, WrapSpec,
};
use crate::layout::{
    Calibration, Colours, Component, ComponentReach, DipSpec, Discharge, Dryness, DyeBy, Fibre, FibreShare, FlatStart, FoldStart,
    IceLayers, Process, Rest, RotationStart, SpiralStart, Srgb, Swatch, Tuning,
};
use crate::layout::{Layout, WashSpec};
use crate::measure::RuleMarks;
use crate::seeded::seeded;
use crate::store::{EXAMPLE_LAYOUTS, EXAMPLE_PRESETS, parse_layout, parse_preset};
use kurbo::{BezPath, Size};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::TestRunner;
use std::cell::RefCell;
use std::collections::BTreeSet;

fn bind() -> impl Strategy<Value = BindId> {
    prop_oneof![(-14..=8_i32).prop_map(BindId::Numbered), (0..4_u32).prop_map(BindId::Added)]
}

fn neighbours() -> impl Strategy<Value = Neighbours> {
    select(vec![Neighbours::Stay, Neighbours::Follow])
}

fn progression() -> impl Strategy<Value = Progression> {
    let span = prop_oneof![
        (0.0..60.0).prop_map(|leave_mm| Some(Span::ToEnd { leave_mm })),
        (20.0..400.0).prop_map(|length_mm| Some(Span::Length { length_mm })),
    ];
    let parts = (proptest::option::of(0..30_u32), proptest::option::of(2.0..80.0), proptest::option::of(0.5..1.5), span);
    (parts, 0..4_u8).prop_map(|((count, gap, factor, span), kind)| match kind {
        0 => Progression::Even { count, gap_mm: gap, span },
        1 => Progression::Ratio { count, first_gap_mm: gap, last_gap_mm: None, ratio: factor, span },
        2 => Progression::Power { count, first_gap_mm: None, last_gap_mm: gap, exponent: factor, span },
        _ => Progression::EqualCloth { count, first_gap_mm: gap, last_gap_mm: None, span },
    })
}

fn swatch() -> impl Strategy<Value = Swatch> {
    let names = vec!["teal", "amber", "plum", "sand", "a name that is there twice"];
    (select(names), any::<[u8; 3]>()).prop_map(|(name, [red, green, blue])| Swatch::plain(name, Srgb { red, green, blue }))
}

/// Of a mixture, or of what makes none.
fn components() -> impl Strategy<Value = Vec<Component>> {
    let one = (swatch(), 0.3..60.0_f64, 0.5..2.2_f64).prop_map(|(Swatch { name, srgb, .. }, percent, reach_factor)| Component {
        name,
        srgb,
        percent,
        reach_factor,
    });
    (proptest::collection::vec(one, 0..4), 0..4_u8).prop_map(|(mut components, wrong)| {
        if let (Some(first), 1..) = (components.len().checked_sub(1), wrong) {
            components.iter_mut().enumerate().for_each(|(number, one)| one.name.push_str(&format!(" {number}")));
            let rest: f64 = components[..first].iter().map(|one| one.percent).sum();
            components[first].percent = (100.0 - rest).max(0.1);
        }
        components
    })
}

fn process() -> impl Strategy<Value = Process> {
    let discharge = proptest::option::of((0.2..2.0).prop_map(|strength| Discharge { strength }));
    let rest = select(vec![Rest::EdgesUp, Rest::OnItsFlat, Rest::TurnedHalfWay]);
    let inside = select(vec![Dryness::Dry, Dryness::Damp, Dryness::Wet]);
    let dye = select(vec![DyeBy::PowderUnderIce, DyeBy::ByHand, DyeBy::Dipped]);
    (discharge, rest, inside, dye, 0..5_u32).prop_map(|(discharge, rest, inside, dye, layers)| Process {
        discharge,
        rest,
        inside,
        dye,
        ice_layers: IceLayers(layers),
        ..Process::default()
    })
}

fn about_garment() -> impl Strategy<Value = EditCommand> {
    let sizes = select(vec!["S", "M", "2XL", "none such"]);
    let fibres = (0.0..110.0).prop_map(|cotton| {
        let share = |fibre, percent| FibreShare { fibre, percent };
        vec![share(Fibre::Cotton, cotton), share(Fibre::Polyester, 100.0 - cotton)]
    });
    prop_oneof![
        1 => "[a-z ]{0,90}".prop_map(EditCommand::Rename),
        1 => "[a-z .\n]{0,90}".prop_map(EditCommand::SetNote),
        1 => select(GarmentKind::ALL.to_vec()).prop_map(EditCommand::SetKind),
        1 => (80.0..600.0, 80.0..900.0, 0.2..1.4).prop_map(|(half_mm, high_mm, bulge)| {
            let mut front = BezPath::new();
            front.move_to((0.0, 0.0));
            front.curve_to((half_mm, 0.0), (half_mm * bulge, high_mm), (0.0, high_mm));
            EditCommand::SetOutline(Box::new(OwnOutline { front, back: None, panels: Panels::Two }))
        }),
        // Few sizes are ones of the kind that is there.
        4 => proptest::option::of(sizes).prop_map(|size| EditCommand::SetSize(size.map(str::to_owned))),
        1 => (select(Measure::ALL.to_vec()), proptest::option::of(-20.0..900.0)).prop_map(|(m, mm)| EditCommand::SetMeasure(m, mm)),
        1 => proptest::option::of(swatch()).prop_map(EditCommand::SetGarmentColour),
        1 => proptest::option::of(swatch()).prop_map(EditCommand::SetDischargedColour),
        1 => (10.0..400.0, 0.1..2.0).prop_map(|(grams_per_m2, free_thickness_mm)| {
            EditCommand::SetCloth(Cloth { grams_per_m2, free_thickness_mm, ..Cloth::default() })
        }),
        1 => fibres.prop_map(EditCommand::SetFibres),
        1 => (-12.0..4.0, -12.0..4.0)
            .prop_map(|(length_percent, width_percent)| { EditCommand::SetWash(WashSpec { length_percent, width_percent }) }),
    ]
}

fn about_dye() -> impl Strategy<Value = EditCommand> {
    let names = proptest::option::of(select(vec!["teal", "plum", "nobody"]));
    prop_oneof![
        proptest::collection::vec(swatch(), 0..4).prop_map(|rotation| {
            EditCommand::SetColours(Colours { rotation, start: RotationStart::Edge, ..Colours::default() })
        }),
        (select(vec!["teal", "amber", "plum"]), components())
            .prop_map(|(dye, components)| EditCommand::SetComponents(dye.to_owned(), components)),
        (0..20_u32).prop_map(EditCommand::LeaveBare),
        (0..30_u32, names).prop_map(|(section, name)| EditCommand::SetSectionColour(section, name.map(str::to_owned))),
        (select(vec![ThreadKind::Waxed, ThreadKind::RubberBand]), -1.0..6.0, 0..9_u32).prop_map(|(kind, diameter_mm, wraps)| {
            EditCommand::SetThread(Thread { kind, diameter_mm, wraps, ..Thread::default() })
        }),
        process().prop_map(EditCommand::SetProcess),
        tying().prop_map(|tying| EditCommand::TakeTying(Box::new(tying))),
        (0.0..0.5, select(vec!["slate", "nobody"]), 0.0..3.0).prop_map(|(seeping_per_mm, mixture, reach_factor)| {
            let (mixture, component) = (mixture.to_owned(), "blue".to_owned());
            let reaches = vec![ComponentReach { mixture, component, reach_factor }];
            let calibration = Calibration { seeping_per_mm, ..Calibration::default() };
            EditCommand::TakeLearned(Box::new(Tuning { calibration, reaches }))
        }),
    ]
}

fn tying() -> impl Strategy<Value = Tying> {
    let layouts = EXAMPLE_LAYOUTS.iter().map(|example| Tying::of(&parse_layout(example.text).unwrap()));
    (select(layouts.collect::<Vec<_>>()), progression()).prop_map(|(mut tying, outward)| {
        tying.binds.outward = outward;
        tying
    })
}

fn given() -> impl Strategy<Value = EditCommand> {
    let known = || select(Known::ALL.to_vec());
    let sides = select(vec![Side::Inward, Side::Outward]);
    (sides, known(), progression(), proptest::collection::vec(known(), 0..6)).prop_map(|(side, known, progression, before)| {
        let mut order = GivenOrder::default();
        before.into_iter().for_each(|known| order.give(known));
        EditCommand::GiveSpacing(side, known, KnownValues::of(&progression), order)
    })
}

fn shape() -> impl Strategy<Value = LineShape> {
    (select(LineShape::ALL.to_vec()), 0..9_u32).prop_map(|(shape, count)| shape.with_count(count))
}

fn fold() -> impl Strategy<Value = FoldStart> {
    let drawn = (any::<bool>(), 20.0..500.0).prop_map(|(is_closed, width_mm)| {
        let mut path = BezPath::from_svg("M0 0L60 10C80 40 30 60 0 50").unwrap();
        if is_closed {
            path.close_path();
        }
        FoldStart::Drawn(FreeLine { name: "flag".to_owned(), path, width_mm: Some(width_mm), kind: None })
    });
    let beside = (select(GarmentEdge::ALL.to_vec()), 0.0..300.0).prop_map(|(edge, inset_mm)| FoldStart::Beside(edge, inset_mm));
    let bundle = select(FlatKind::ALL.to_vec()).prop_map(|kind| FoldStart::Flat(FlatStart::of(kind)));
    let spiral = Just(FoldStart::Spiral(SpiralStart::default()));
    prop_oneof![1 => Just(FoldStart::Burst), 1 => spiral, 2 => shape().prop_map(FoldStart::Line), 1 => drawn, 1 => beside, 2 => bundle]
}

fn line() -> impl Strategy<Value = DrawnLine> {
    let shaped = (shape(), -150.0..150.0, -100.0..700.0, 0.0..600.0, 3.0..600.0).prop_map(
        |(shape, from_centre_line_mm, below_shoulder_mm, width, height)| DrawnLine::Shape {
            shape,
            middle: Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm },
            size: Size::new(width, height),
        },
    );
    let kinds = select(vec![LineKind::Ring, LineKind::Across, LineKind::Stroke, LineKind::Point]);
    let points = proptest::collection::vec((-60.0..300.0, 0.0..700.0), 1..5);
    let drawn = (kinds, points, any::<bool>()).prop_map(|(kind, points, closed)| {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        points[1..].iter().for_each(|&point| path.line_to(point));
        if closed {
            path.close_path();
        }
        DrawnLine::Path { kind, path }
    });
    prop_oneof![shaped, drawn]
}

fn flat() -> impl Strategy<Value = FlatFoldSpec> {
    let angle = || select(vec![0.0, 30.0, 45.0, 90.0, -17.5, 400.0]);
    let place = || {
        (-200.0..200.0, -50.0..800.0)
            .prop_map(|(from_centre_line_mm, below_shoulder_mm)| Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm })
    };
    let width = || 2.0..400.0;
    let triangle = select(vec![Triangle::Equilateral, Triangle::Right]);
    let first = prop_oneof![Just(WedgesFirst::OnTheFold), angle().prop_map(|angle_deg| WedgesFirst::HalfFold { angle_deg })];
    let pattern = prop_oneof![
        proptest::collection::vec((place(), angle()), 0..4).prop_map(|folds| FlatPattern::Halves {
            half_folds: folds.into_iter().map(|(through, angle_deg)| HalfFold { through, angle_deg }).collect()
        }),
        (width(), angle(), proptest::option::of(place())).prop_map(|(width_mm, angle_deg, start)| FlatPattern::Stripes {
            width_mm,
            angle_deg,
            start
        }),
        (width(), width(), angle(), proptest::option::of(place()))
            .prop_map(|(width_mm, height_mm, angle_deg, start)| FlatPattern::Squares { width_mm, height_mm, angle_deg, start }),
        (triangle, width(), angle(), proptest::option::of(place())).prop_map(|(triangle, width_mm, angle_deg, start)| {
            FlatPattern::Triangles { triangle, width_mm, angle_deg, start }
        }),
        (0..20_u32, place(), first).prop_map(|(wedges, centre, first)| FlatPattern::Wedges { wedges, centre, first }),
    ];
    let centring = select(vec![Centring::Nested, Centring::PlainHalf, Centring::Open]);
    let pack = select(vec![Pack::Zigzag, Pack::Rolled]);
    (centring, pattern, pack, angle(), proptest::option::of(-10.0..900.0)).prop_map(
        |(centring, pattern, pack, along_turn_deg, first_bind_mm)| FlatFoldSpec {
            centring,
            pattern,
            pack,
            along_turn_deg,
            first_bind_mm,
        },
    )
}

fn spiral() -> impl Strategy<Value = SpiralSpec> {
    let centring = select(vec![Centring::Nested, Centring::PlainHalf, Centring::Open]);
    let place = (-100.0..100.0, 50.0..500.0)
        .prop_map(|(from_centre_line_mm, below_shoulder_mm)| Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm });
    let numbers = (1.0..60.0, 0.1..6.0, select(Twist::ALL.to_vec()), 60.0..300.0, proptest::option::weighted(0.3, 5.0..200.0));
    (centring, place, numbers, 5..11_u32, any::<u64>(), 0..14_u32, -20.0..380.0).prop_map(
        |(
            centring,
            centre,
            (pinch_radius_mm, turns, twist, puck_diameter_mm, puck_height_mm),
            pleats,
            seed,
            bands,
            first_band_deg,
        )| {
            SpiralSpec {
                centring,
                centre,
                pinch_radius_mm,
                turns,
                twist,
                puck_diameter_mm,
                puck_height_mm,
                pleats,
                seed,
                bands,
                first_band_deg,
            }
        },
    )
}

fn blocks() -> impl Strategy<Value = Option<BlocksSpec>> {
    let shape = (select(BlockShape::BEGUN.to_vec()), 0.01..3.0).prop_map(|(shape, by)| shape.scaled(by));
    let drawn = Just(BlockShape::Drawn(BezPath::from_svg("M0 0L60 10C80 40 30 60 0 50Z").unwrap()));
    let spec = (prop_oneof![3 => shape, 1 => drawn], -60.0..60.0, -60.0..60.0, -400.0..400.0)
        .prop_map(|(shape, along_mm, across_mm, turn_deg)| BlocksSpec { shape, along_mm, across_mm, turn_deg });
    proptest::option::weighted(0.8, spec)
}

fn wrap() -> impl Strategy<Value = Option<WrapSpec>> {
    let spec = (-10.0..300.0, -10.0..700.0, 0.1..120.0, any::<bool>()).prop_map(|(from_mm, to_mm, gap_mm, crossed)| WrapSpec {
        from_mm,
        to_mm,
        gap_mm,
        crossed,
    });
    proptest::option::weighted(0.8, spec)
}

fn dips() -> impl Strategy<Value = Vec<DipSpec>> {
    let part = prop_oneof![
        (0..6_u32).prop_map(DipPart::Edge),
        (0..6_u32).prop_map(DipPart::Corner),
        select(vec![DipPart::Top, DipPart::Underside]),
    ];
    let colour = select(vec!["teal", "amber", "plum", "none"]).prop_map(str::to_owned);
    let dip = (part, -5.0..80.0, 0.0..20.0, colour).prop_map(|(part, depth_mm, minutes, colour)| DipSpec {
        part,
        depth_mm,
        minutes,
        colour,
    });
    proptest::collection::vec(dip, 0..4)
}

fn command() -> impl Strategy<Value = EditCommand> {
    let burst = prop_oneof![
        (-120.0..120.0, -50.0..800.0).prop_map(|(x, y): (f64, f64)| EditCommand::MoveCentre((x, y).into())),
        any::<bool>().prop_map(EditCommand::MeasureCentreFromMiddle),
        (-10.0..500.0).prop_map(EditCommand::SetGuideRadius),
        proptest::collection::vec(5.0..400.0, 0..3).prop_map(EditCommand::SetReferences),
        (5.0..120.0).prop_map(|depth_mm| EditCommand::SetPleats(Pleats::Depth { depth_mm })),
        (0..40_u32).prop_map(|count| EditCommand::SetPleats(Pleats::Count { count })),
        select(vec![Centring::Nested, Centring::PlainHalf, Centring::Open]).prop_map(EditCommand::SetCentring),
        fold().prop_map(EditCommand::SetFold),
    ];
    // Few random lines, bundles and dips can be folded: they are drawn as often as all else about the fold.
    let folds = prop_oneof![
        2 => line().prop_map(EditCommand::SetLine),
        1 => (-60.0..120.0).prop_map(EditCommand::SetLineGuide),
        1 => select(Gather::ALL.to_vec()).prop_map(EditCommand::SetGather),
        3 => flat().prop_map(|flat| EditCommand::SetFlat(Box::new(flat))),
        1 => blocks().prop_map(EditCommand::SetBlocks),
        1 => wrap().prop_map(EditCommand::SetWrap),
        2 => dips().prop_map(EditCommand::SetDips),
        2 => spiral().prop_map(EditCommand::SetSpiral),
    ];
    let binds = prop_oneof![
        (select(vec![Side::Inward, Side::Outward]), progression()).prop_map(|(side, p)| EditCommand::SetProgression(side, p)),
        given(),
        (0..40_u32).prop_map(EditCommand::SetBindCount),
        (-0.5..1.5).prop_map(EditCommand::Tighten),
        select(RuleMarks::ALL.to_vec()).prop_map(EditCommand::SetMarks),
        (bind(), 1.0..500.0, neighbours()).prop_map(|(bind, at, beside)| EditCommand::PutBind(bind, at, beside)),
        (1.0..500.0).prop_map(EditCommand::AddBind),
        bind().prop_map(EditCommand::RemoveBind),
        bind().prop_map(EditCommand::ReleaseBind),
        Just(EditCommand::ReleaseAllBinds),
        (0..EXAMPLE_PRESETS.len(), select(vec![Fit::Kept, Fit::Scaled])).prop_map(|(index, fit)| {
            EditCommand::ApplyPreset(Box::new(parse_preset(EXAMPLE_PRESETS[index].text).unwrap()), fit)
        }),
    ];
    prop_oneof![burst, folds, binds, about_garment(), about_dye()]
}

#[derive(Debug, Clone)]
enum Deed {
    Perform(Box<EditCommand>),
    Undo,
    Redo,
    Begin,
    End,
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        12 => command().prop_map(|command| Deed::Perform(Box::new(command))),
        2 => Just(Deed::Undo),
        1 => Just(Deed::Redo),
        1 => Just(Deed::Begin),
        1 => Just(Deed::End),
    ]
}

/// What is so of a document at any moment.
fn check(document: &Document) {
    let text = document.text();
    let again = parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}\n{text}"));
    assert_eq!(again.raw(), document.layout().raw(), "the text holds the layout");
    let binds = &document.layout().binds().binds;
    assert!(binds.windows(2).all(|pair| pair[0].radius_mm < pair[1].radius_mm), "radii increase");
    let figures = document.figures();
    let loose_g = figures.several.as_ref().map_or(0.0, |several| several.loose.mass_g);
    let mass_g: f64 = figures.all_sections().map(|section| section.mass_g).sum::<f64>() + loose_g;
    let whole_g = figures.garment.cloth.mass_g;
    // The pieces of a line's parallels meet to a millionth of a millimetre, over a metre at most.
    let joints_mm2 = if document.layout().ties().iter().any(|tie| tie.line().is_some()) { 1e-6 * 1000.0 } else { 0.0 };
    let joints_g = joints_mm2 * document.layout().raw().garment.cloth.grams_per_m2 / MM2_PER_M2;
    assert!((mass_g - whole_g).abs() <= 1e-9 * whole_g.max(1.0) + joints_g, "sections weigh {mass_g} g of {whole_g} g");
}

proptest! {
    #![proptest_config(seeded(41, 48))]

    /// Any commands, right or wrong, leave a right layout; they are taken back to the start and done again to the end.
    #[test]
    fn random_commands_keep_the_layout_right_and_undo_cleanly(
        example in 0..EXAMPLE_LAYOUTS.len(),
        deeds in proptest::collection::vec(deed(), 1..40),
    ) {
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[example].text).unwrap());
        let start = document.text();
        for deed in deeds {
            let before = document.text();
            match deed {
                Deed::Perform(command) => {
                    if document.perform(&command).is_err() {
                        prop_assert_eq!(&document.text(), &before, "a refused change changes nothing");
                    }
                }
                Deed::Undo => document.undo(),
                Deed::Redo => document.redo(),
                Deed::Begin => document.begin_gesture("drag"),
                Deed::End => document.end_gesture(),
            }
            check(&document);
        }
        document.end_gesture();
        while document.history().redo_label().is_some() {
            document.redo();
        }
        let end = document.text();
        while document.history().undo_label().is_some() {
            document.undo();
        }
        prop_assert_eq!(document.text(), start);
        while document.history().redo_label().is_some() {
            document.redo();
        }
        prop_assert_eq!(document.text(), end);
    }
}

/// The kinds of commands, as `command.rs` has them.
fn kinds() -> BTreeSet<&'static str> {
    let of_enum = include_str!("command.rs").split("pub enum EditCommand {\n").nth(1).and_then(|rest| rest.split("\n}").next());
    let lines = of_enum.unwrap().lines().map(str::trim).filter(|line| line.starts_with(char::is_uppercase));
    lines.map(|line| line.split(['(', ',', ' ']).next().unwrap()).collect()
}

/// The kind of a command: the first word of how it is shown for debugging.
fn kind(command: &EditCommand) -> String {
    let shown = format!("{command:?}");
    shown.split(|letter: char| !letter.is_alphanumeric()).next().unwrap().to_owned()
}

/// What is tried on a layout: any command, or one that is about something it has and likely to be taken.
#[derive(Debug, Clone)]
enum Tried {
    Any(Box<EditCommand>),
    Measure { which: prop::sample::Index, by_mm: f64 },
    Put { which: prop::sample::Index, by_mm: f64 },
    Release { which: prop::sample::Index },
    Tie { which: prop::sample::Index, how: u8 },
}

fn tried() -> impl Strategy<Value = Tried> {
    let which = any::<prop::sample::Index>();
    prop_oneof![
        7 => command().prop_map(|command| Tried::Any(Box::new(command))),
        1 => (which.clone(), -6.0..6.0).prop_map(|(which, by_mm)| Tried::Measure { which, by_mm }),
        1 => (which.clone(), -6.0..6.0).prop_map(|(which, by_mm)| Tried::Put { which, by_mm }),
        1 => which.clone().prop_map(|which| Tried::Release { which }),
        2 => (which, 0..9_u8).prop_map(|(which, how)| Tried::Tie { which, how }),
    ]
}

impl Tried {
    fn on(&self, document: &Document) -> EditCommand {
        let binds = &document.tie().binds().binds;
        match self {
            Self::Tie { which, how } => tied(document.layout(), which, *how),
            Self::Any(command) => (**command).clone(),
            Self::Measure { which, by_mm } => {
                let measures: Vec<Measure> = document.layout().garment().kind().measures().collect();
                let measure = measures[which.index(measures.len())];
                let key = measure.key();
                let now_mm = document.figures().garment.measures.iter().find(|figure| figure.name == key).unwrap().now_mm;
                EditCommand::SetMeasure(measure, Some(now_mm + by_mm))
            }
            Self::Put { .. } | Self::Release { .. } if binds.is_empty() => EditCommand::ReleaseAllBinds,
            Self::Put { which, by_mm } => {
                let bind = &binds[which.index(binds.len())];
                EditCommand::PutBind(bind.id, bind.radius_mm + by_mm, Neighbours::Stay)
            }
            Self::Release { which } => EditCommand::ReleaseBind(binds[which.index(binds.len())].id),
        }
    }
}

/// Something with one of several ties.
fn tied(layout: &Layout, which: &prop::sample::Index, how: u8) -> EditCommand {
    let tie = which.index(layout.ties().len());
    let change = match how {
        0 | 1 => TieChange::Add(Box::new(another_tie(layout))),
        2 => match mirrored(layout, tie) {
            Some(other) => TieChange::Add(Box::new(other)),
            None => TieChange::Rename(tie, "Yoke".to_owned()),
        },
        3 => TieChange::Remove(tie),
        4 => TieChange::Rename(tie, format!("Tie {how}")),
        5 => TieChange::Reorder(tie, 0),
        6 => TieChange::SetLoose(Some(Swatch::plain("teal", Srgb { red: 15, green: 124, blue: 138 }))),
        7 => TieChange::SetLoose(Some(Swatch::plain("sky", Srgb { red: 140, green: 180, blue: 220 }))),
        _ => return EditCommand::InTie(tie, Box::new(EditCommand::Tighten(0.4))),
    };
    EditCommand::Ties(change)
}

/// Each kind of command changes some layout, and one step back brings every byte of it back. Seven kinds used to be left out.
#[test]
fn every_kind_of_command_changes_a_layout_and_is_undone() {
    let changed = RefCell::new(BTreeSet::new());
    let drawn = (0..EXAMPLE_LAYOUTS.len(), tried(), tried());
    let outcome = TestRunner::new(seeded(42, 2000)).run(&drawn, |(example, before, tried)| {
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[example].text).unwrap());
        // Only what was put somewhere by hand can be released, and only a line that is there drawn or gathered otherwise.
        let before = match &tried {
            Tried::Release { which } => Tried::Put { which: *which, by_mm: 2.0 },
            Tried::Tie { which, .. } => Tried::Tie { which: *which, how: 0 },
            Tried::Any(command)
                if matches!(
                    **command,
                    EditCommand::SetFlat(_) | EditCommand::SetBlocks(_) | EditCommand::SetWrap(_) | EditCommand::SetDips(_)
                ) =>
            {
                Tried::Any(Box::new(EditCommand::SetFold(FoldStart::Flat(FlatStart::of(FlatKind::Stripes)))))
            }
            Tried::Any(command) if matches!(**command, EditCommand::SetSpiral(_)) => {
                Tried::Any(Box::new(EditCommand::SetFold(FoldStart::Spiral(SpiralStart::default()))))
            }
            Tried::Any(command)
                if matches!(**command, EditCommand::SetLine(_) | EditCommand::SetLineGuide(_) | EditCommand::SetGather(_)) =>
            {
                Tried::Any(Box::new(EditCommand::SetFold(FoldStart::Line(LineShape::Heart))))
            }
            _ => before,
        };
        let _right_or_refused = document.perform(&before.on(&document));
        let command = tried.on(&document);
        let is_of_all = matches!(command, EditCommand::Ties(_) | EditCommand::InTie(..));
        let label = command.label(if is_of_all { document.layout() } else { document.tie() });
        let (start, figures) = (document.text(), document.figures().clone());
        if document.perform(&command).is_err() {
            prop_assert_eq!(document.text(), start);
            return Ok(());
        }
        let end = document.text();
        if end != start {
            prop_assert_eq!(document.history().undo_label(), Some(&*label));
            document.undo();
            prop_assert_eq!(document.text(), start);
            prop_assert_eq!(document.figures(), &figures);
            document.redo();
            prop_assert_eq!(document.text(), end);
            changed.borrow_mut().insert(kind(&command));
        }
        Ok(())
    });
    outcome.unwrap();
    let (changed, kinds) = (changed.into_inner(), kinds());
    let left: Vec<_> = kinds.iter().filter(|kind| !changed.contains(**kind)).collect();
    assert!(kinds.len() >= 28 && left.is_empty(), "of {} kinds these changed nothing: {left:?}", kinds.len());
}
