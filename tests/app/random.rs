//! Hands that know nothing: random commands on a document, random clicks and words in the window.

use crate::harness::{TEE, Window, click, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::edit::{Document, EditCommand};
use pleatwright::geometry::{
    BindId, Centring, Fit, GarmentKind, Neighbours, Pleats, Progression, Side, Span, Thread, ThreadKind,
};
use pleatwright::layout::{Colours, RotationStart, Srgb, Swatch};
use pleatwright::measure::RuleMarks;
use pleatwright::store::{EXAMPLE_LAYOUTS, EXAMPLE_PRESETS, parse_layout, parse_preset};
use proptest::prelude::*;
use proptest::sample::select;

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
    (select(names), any::<[u8; 3]>())
        .prop_map(|(name, [red, green, blue])| Swatch { name: name.to_owned(), srgb: Srgb { red, green, blue } })
}

fn command() -> impl Strategy<Value = EditCommand> {
    let burst = prop_oneof![
        (-120.0..120.0, -50.0..800.0).prop_map(|(x, y): (f64, f64)| EditCommand::MoveCentre((x, y).into())),
        any::<bool>().prop_map(EditCommand::MeasureCentreFromMiddle),
        (-10.0..500.0).prop_map(EditCommand::SetGuideRadius),
        proptest::collection::vec(5.0..400.0, 0..3).prop_map(EditCommand::SetFurtherArcs),
        (5.0..120.0).prop_map(|depth_mm| EditCommand::SetPleats(Pleats::Depth { depth_mm })),
        (0..40_u32).prop_map(|count| EditCommand::SetPleats(Pleats::Count { count })),
        select(vec![Centring::Nested, Centring::PlainHalf, Centring::Open]).prop_map(EditCommand::SetCentring),
    ];
    let binds = prop_oneof![
        (select(vec![Side::Inward, Side::Outward]), progression()).prop_map(|(side, p)| EditCommand::SetProgression(side, p)),
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
    let rest = prop_oneof![
        select(GarmentKind::ALL.to_vec()).prop_map(EditCommand::SetKind),
        select(vec!["S", "M", "2XL", "none such"]).prop_map(|size| EditCommand::SetSize(Some(size.to_owned()))),
        proptest::option::of(swatch()).prop_map(EditCommand::SetGarmentColour),
        proptest::collection::vec(swatch(), 0..4).prop_map(|rotation| {
            EditCommand::SetColours(Colours { rotation, start: RotationStart::Edge, ..Colours::default() })
        }),
        (0..30_u32, proptest::option::of(select(vec!["teal", "plum", "nobody"])))
            .prop_map(|(section, name)| EditCommand::SetSectionColour(section, name.map(str::to_owned))),
        (select(vec![ThreadKind::Waxed, ThreadKind::RubberBand]), -1.0..6.0, 0..9_u32).prop_map(|(kind, diameter_mm, wraps)| {
            EditCommand::SetThread(Thread { kind, diameter_mm, wraps, ..Thread::default() })
        }),
        "[a-z ]{0,90}".prop_map(EditCommand::Rename),
    ];
    prop_oneof![burst, binds, rest]
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
    let mass_g: f64 = figures.sections.iter().map(|section| section.mass_g).sum();
    let whole_g = figures.garment.cloth.mass_g;
    assert!((mass_g - whole_g).abs() <= 1e-9 * whole_g.max(1.0), "sections weigh {mass_g} g of {whole_g} g");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

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

/// What is not pressed at random: it reaches outside the window.
const LEFT_ALONE: [&str; 6] = ["Browse…", "Open", "Open the folder", "Quit", "Print", "Save"];

/// Presses whatever can be pressed and writes whatever comes to mind, from a fixed seed.
#[test]
fn random_clicks_and_words_do_no_harm() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let mut seed = 20_260_503_u32;
    let mut draw = |below: usize| {
        // Numerical Recipes' linear congruential generator.
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 8) as usize % below.max(1)
    };
    let words = ["", "12", "-5", "1e9", "8 in + 3", "plum", "0", "999999999999", "1/0", "ß"];
    for _ in 0..160 {
        let pressed: Vec<egui::Rect> = controls(&window);
        let chosen = pressed[draw(pressed.len())];
        if chosen.center().is_finite() {
            window.hover_at(chosen.center());
            window.drag_at(chosen.center());
            window.drop_at(chosen.center());
            window.run_ok();
        }
        match draw(8) {
            0..=2 => {
                window.event(egui::Event::Text(words[draw(words.len())].to_owned()));
                window.key_press(Key::Enter);
            }
            3 => window.key_press_modifiers(Modifiers::COMMAND, Key::Z),
            4 => window.key_press(Key::Escape),
            5 => window.key_press(Key::ArrowDown),
            _ => {}
        }
        window.run_ok();
        if let Some(text) = window.state().layout_text() {
            parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}"));
        }
    }
}

/// Where the controls lie that may be pressed at random.
fn controls(window: &Window) -> Vec<egui::Rect> {
    let roles = [Role::Button, Role::CheckBox, Role::TextInput, Role::ComboBox, Role::Tab, Role::Canvas, Role::RadioButton];
    let of = |role| window.query_all_by_role(role);
    let nodes = roles.into_iter().flat_map(of);
    let allowed = nodes.filter(|node| !node.accesskit_node().label().is_some_and(|label| LEFT_ALONE.contains(&label.as_str())));
    allowed.map(|node| node.rect()).collect()
}
