//! The table of actions: one entry each. Who adds one writes it here and nowhere else, unless it is the first to do what it does.

use super::entry::{Deed, Entry, Menu, Needs};
use crate::app::canvas::Showing;
use crate::app::day::DayAsk;
use crate::app::purpose::{DayFile, DrawnAs, Purpose};
use crate::app::settings::{Look, Units};
use crate::app::step::Step;
use crate::edit::EditCommand;
use Menu::{Edit, File, Help, View};
use egui::{Key, Modifiers};

/// Makes of the table the type, the list in the menus' order, and the way from one to the other.
macro_rules! actions {
    ($($action:ident: $entry:expr,)+) => {
        /// Something that can be done from a menu, by a key or through the finder.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(crate) enum Action {
            $($action,)+
            /// Goes to a step of the work; its words and its key are in the table of the steps.
            Go(Step),
        }

        impl Action {
            /// The actions of the table, in its order.
            pub(super) const TABLE: &[Self] = &[$(Self::$action,)+];

            /// All there is to it.
            pub(crate) fn entry(self) -> Entry {
                match self {
                    $(Self::$action => $entry,)+
                    Self::Go(step) => going(step),
                }
            }
        }
    };
}

const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

actions! {
    New: Entry::new("New layout…", "Start with a garment", Deed::Begin)
        .within(File, 0).keys(CTRL, Key::N).needing(Needs::Nothing).with_values(),
    Open: Entry::new("Open…", "Open a layout file", Deed::AskFile(Purpose::Open))
        .within(File, 0).keys(CTRL, Key::O).needing(Needs::Nothing).with_values(),
    Save: Entry::new("Save", "Save the layout; the earlier file is kept as .bak", Deed::Save)
        .within(File, 0).keys(CTRL, Key::S).with_values(),
    SaveAs: Entry::new("Save as…", "Save the layout under another name", Deed::AskFile(Purpose::Save))
        .within(File, 0).keys(CTRL_SHIFT, Key::S).with_values(),
    SavePreset: Entry::new(
        "Save spacing preset…", "Name this spacing for use on other garments", Deed::AskFile(Purpose::Preset),
    ).within(File, 0).with_values(),
    ImportLine: Entry::new(
        "Line from a file…", "Fold along a line from an SVG or DXF drawing, with new binds for it", Deed::AskFile(Purpose::Drawing(DrawnAs::Line)),
    ).within(File, 0).alone("Import a line from a drawing…").with_values(),
    ImportOutline: Entry::new(
        "Outline from a drawing…",
        "A garment of your own outline, from an SVG or DXF drawing of it or of half of it",
        Deed::AskFile(Purpose::Drawing(DrawnAs::Outline)),
    ).within(File, 0).needing(Needs::Nothing).with_values(),
    OutlineFromPhoto: Entry::new(
        "Outline from a photograph…",
        "A garment of your own outline, from a photograph of it undyed beside a sheet of paper",
        Deed::AskFile(Purpose::OutlinePhotograph { back: false }),
    ).within(File, 0).alone("Take the garment's outline from a photograph…").needing(Needs::Nothing).with_values(),

    Print: Entry::new("Print to file…", "Template, strips and job card as PDF, SVG or DXF", Deed::AskFile(Purpose::Print))
        .within(File, 1).keys(CTRL, Key::P).with_values(),
    SavePicture: Entry::new(
        "Save picture…", "The reveal's picture, front and back, as PNG with its true size", Deed::AskFile(Purpose::Picture),
    ).within(File, 1).with_values(),
    SaveBundle: Entry::new(
        "Save a bundle…",
        "One file to hand on: the layout with its presets, swatches and the reveal's picture",
        Deed::AskFile(Purpose::Bundle),
    ).within(File, 1).alone("Save a bundle to hand on…").with_values(),
    SaveHandout: Entry::new(
        "Save handout…",
        "One or two pages for others to follow on a garment of theirs, in all sizes: PDF, or a picture to post",
        Deed::AskFile(Purpose::Handout),
    ).within(File, 1).with_values(),
    Project: Entry::new(
        "Project onto the table…",
        "Show the layout at true size through a projector, or on a screen under the cloth",
        Deed::Project,
    ).within(File, 1).keys(CTRL_SHIFT, Key::P),
    Compare: Entry::new(
        "Compare with a file…", "Show another layout's reveal beside this one", Deed::AskFile(Purpose::Compare),
    ).within(File, 1).with_values(),

    HoldPhotograph: Entry::new(
        "Hold a photograph…",
        "Straighten a photograph of the opened garment onto its plan, and measure what came out",
        Deed::AskFile(Purpose::HeldPhotograph),
    ).within(File, 2).alone("Hold a photograph against the plan…").keys(CTRL, Key::H).with_values(),
    OpenMarks: Entry::new(
        "Open marks…", "Take the marks on the photograph from a file", Deed::AskFile(Purpose::OpenMarks),
    ).within(File, 2).alone("Open marks on the photograph…").needing(Needs::Photograph),
    SaveMarksAs: Entry::new(
        "Save marks as…", "Save the marks on the photograph to another file", Deed::AskFile(Purpose::SaveMarks),
    ).within(File, 2).alone("Save the photograph's marks as…").needing(Needs::Photograph),
    LikePhotograph: Entry::new(
        "Like a photograph…",
        "Wish for rings like those that a photograph of an opened garment shows",
        Deed::AskFile(Purpose::LikePhotograph),
    ).within(File, 2).alone("Wish for rings like those of a photograph…").with_values(),
    OpenWish: Entry::new("Open wish…", "Take up the rings of a wish in a file", Deed::AskFile(Purpose::OpenWish))
        .within(File, 2).alone("Open a wish for rings…"),
    SaveWish: Entry::new("Save wish…", "Save the rings you wish for, to open again or share", Deed::AskFile(Purpose::SaveWish))
        .within(File, 2).alone("Save the wish for rings…").with_values(),

    SavePlan: Entry::new("Save plan…", "The plan as PDF, text or calendar file", Deed::AskFile(Purpose::Plan))
        .within(File, 3).alone("Save the day's plan…").with_values(),
    PrintOrder: Entry::new(
        "Print everything…",
        "Template, strips and job card for every garment, with the plan, in one folder",
        Deed::AskFile(Purpose::PrintOrder),
    ).within(File, 3).alone("Print the whole order…").with_values(),
    OpenOrder: Entry::new(
        "Open order…",
        "Plan an order file: several garments, sizes and layouts",
        Deed::AskFile(Purpose::Day(DayFile::Order)),
    ).within(File, 3).alone("Plan an order from a file…"),
    SaveOrder: Entry::new("Save order", "Save the order; the earlier file is kept as .bak", Deed::Day(|| DayAsk::Save(DayFile::Order)))
        .within(File, 3).needing(Needs::Order).with_values(),
    SaveOrderAs: Entry::new(
        "Save order as…", "Save the order under another name", Deed::AskFile(Purpose::SaveDay(DayFile::Order)),
    ).within(File, 3).needing(Needs::Order).with_values(),
    OpenRecipe: Entry::new(
        "Choose recipe…", "Use the amounts in a recipe file", Deed::AskFile(Purpose::Day(DayFile::Recipe)),
    ).within(File, 3).alone("Choose a recipe file…"),
    OpenProcess: Entry::new(
        "Choose process…", "Follow the steps in a process file", Deed::AskFile(Purpose::Day(DayFile::Process)),
    ).within(File, 3).alone("Choose a process file…"),

    SwatchesFromPhoto: Entry::new(
        "Swatches from a photograph…",
        "Take colours of dyed squares from a photograph, beside white paper, into your own swatches",
        Deed::AskFile(Purpose::SwatchPhotograph),
    ).within(File, 4),
    ImportSwatches: Entry::new(
        "Import swatches…", "Add a file's swatches to your own", Deed::AskFile(Purpose::ImportSwatches),
    ).within(File, 4),
    ExportSwatches: Entry::new(
        "Export swatches…",
        "Save your own swatches to a file, to keep or share",
        Deed::AskFile(Purpose::ExportSwatches),
    ).within(File, 4),

    AttachPhotograph: Entry::new(
        "Attach a photograph…",
        "Attach a photograph to the entry you are writing",
        Deed::AskFile(Purpose::Photograph),
    ).within(File, 5).needing(Needs::Journal),
    ExportJournal: Entry::new(
        "Export the journal…",
        "Save the journal to a folder as plain files, with photographs",
        Deed::AskFile(Purpose::ExportJournal),
    ).within(File, 5).needing(Needs::Nothing),
    ImportJournal: Entry::new(
        "Import a journal…",
        "Import an exported journal; existing entries stay unchanged",
        Deed::AskFile(Purpose::ImportJournal),
    ).within(File, 5).needing(Needs::Nothing),

    LearnFromPhotographs: Entry::new(
        "Learn from photographs…",
        "Find calibration values from photographs of what you made",
        Deed::Learn,
    ).within(File, 5).needing(Needs::Nothing).with_values(),
    TestCloth: Entry::new(
        "Make the test cloth…",
        "Layouts, sheets and a day's plan for three squares that show most calibration values",
        Deed::AskFile(Purpose::TestCloth),
    ).within(File, 5).needing(Needs::Nothing),

    Quit: Entry::new("Quit", "Close the window", Deed::Quit)
        .within(File, 6).keys(CTRL, Key::Q).needing(Needs::Nothing).with_values(),

    Undo: Entry::new("Undo", "Undo the last change", Deed::Undo).within(Edit, 0).keys(CTRL, Key::Z).needing(Needs::Undo),
    Redo: Entry::new("Redo", "Redo the last undone change", Deed::Redo).within(Edit, 0).keys(CTRL_SHIFT, Key::Z).needing(Needs::Redo),

    ReleaseBinds: Entry::new(
        "Reset all binds",
        "Return every hand-moved bind to its spacing rule",
        Deed::Edit(|| EditCommand::ReleaseAllBinds),
    ).within(Edit, 1),

    Find: Entry::new("Find a command…", "Type a few letters of any command", Deed::Find)
        .within(Edit, 2).keys(CTRL, Key::K).needing(Needs::Nothing),

    ShowAsLaid: Entry::new(
        Showing::AsLaid.name(),
        "The garment laid on the table, ready to fold",
        Deed::Choose(|settings| settings.showing = Showing::AsLaid),
    ).within(View, 0).keys(CTRL, Key::Num1),
    ShowFront: Entry::new(
        Showing::Front.name(), "The front, opened out", Deed::Choose(|settings| settings.showing = Showing::Front),
    ).within(View, 0).keys(CTRL, Key::Num2),
    ShowBack: Entry::new(
        Showing::Back.name(),
        "The back, opened out, seen from behind",
        Deed::Choose(|settings| settings.showing = Showing::Back),
    ).within(View, 0).keys(CTRL, Key::Num3),

    Vary: Entry::new(
        "Variations",
        "Small reveals of what else this layout could be; click one to take it",
        Deed::Vary,
    ).within(View, 0).alone("Show variations of the layout").keys(CTRL_SHIFT, Key::R),

    Wish: Entry::new(
        "Wish…",
        "Draw the rings you want on the opened garment; find the binds and dyes that come nearest",
        Deed::Wish,
    ).within(View, 0).alone("Wish for rings on the opened garment").with_values(),

    Fit: Entry::new("Whole garment", "Fit the whole garment to the view", Deed::Fit).within(View, 1).keys(CTRL, Key::Num0),
    Closer: Entry::new("Zoom in", "Also the wheel, at the pointer", Deed::Zoom(1.25))
        .within(View, 1).keys(CTRL, Key::Equals),
    Farther: Entry::new("Zoom out", "Also the wheel, at the pointer", Deed::Zoom(0.8)).within(View, 1).keys(CTRL, Key::Minus),
    Numbers: Entry::new(
        "Show numbers", "Show or hide the computed numbers beside the cloth", Deed::Numbers,
    ).within(View, 1).keys(CTRL, Key::J).needing(Needs::Nothing),
    Inset: Entry::new(
        "Show small reveal",
        "Show or hide the reveal over the cloth in Fold, Binds and Colours",
        Deed::Show(|settings| &mut settings.inset_hidden),
    ).within(View, 1).keys(CTRL, Key::R).needing(Needs::Nothing),
    Alarm: Entry::new(
        "Sound an alarm in a run",
        "Call with sound and notification when a wait ends, or only show it",
        Deed::Show(|settings| &mut settings.alarm_silent),
    ).within(View, 1).needing(Needs::Nothing),

    LayoutUnits: Entry::new(
        "Layout's units",
        "Show lengths in the unit of the layout's marks",
        Deed::Choose(|settings| settings.units = Units::AsLayout),
    ).within(View, 2).needing(Needs::Nothing),
    Metric: Entry::new(
        "Millimetres",
        "Show lengths in millimetres, whatever the layout's marks",
        Deed::Choose(|settings| settings.units = Units::Millimetres),
    ).within(View, 2).needing(Needs::Nothing),
    Centimetres: Entry::new(
        "Centimetres",
        "Show lengths in centimetres, whatever the layout's marks",
        Deed::Choose(|settings| settings.units = Units::Centimetres),
    ).within(View, 2).needing(Needs::Nothing),
    Inches: Entry::new(
        "Inches",
        "Show lengths in inches and sixteenths, and start new layouts in them",
        Deed::Choose(|settings| settings.units = Units::Inches),
    ).within(View, 2).needing(Needs::Nothing),

    Dark: Entry::new("Slate and chalk", "Dark", Deed::Choose(|settings| settings.look = Look::Dark))
        .within(View, 3).needing(Needs::Nothing),
    Light: Entry::new("Paper and pencil", "Light", Deed::Choose(|settings| settings.look = Look::Light))
        .within(View, 3).needing(Needs::Nothing),
    AsSystem: Entry::new(
        "Match system", "Light or dark, as the system is", Deed::Choose(|settings| settings.look = Look::AsSystem),
    ).within(View, 3).needing(Needs::Nothing),

    LargerLetters: Entry::new(
        "Larger text",
        "Enlarge text and controls, to read from a step back",
        Deed::Set(|settings| settings.scale_by(1.1)),
    ).within(View, 4).keys(CTRL_SHIFT, Key::ArrowUp).needing(Needs::Nothing),
    SmallerLetters: Entry::new(
        "Smaller text", "Shrink text and controls", Deed::Set(|settings| settings.scale_by(1.0 / 1.1)),
    ).within(View, 4).keys(CTRL_SHIFT, Key::ArrowDown).needing(Needs::Nothing),
    UsualLetters: Entry::new(
        "Normal text size", "Use the display's own text size", Deed::Set(|settings| settings.scale = 1.0),
    ).within(View, 4).needing(Needs::Nothing),

    Handbook: Entry::new("Handbook", "The handbook's page about this step, beside the work", Deed::Handbook)
        .within(Help, 0).keys(Modifiers::NONE, Key::F1).needing(Needs::Nothing),
    Tour: Entry::new("Take the tour", "Five stops through the window, from the garment to the print", Deed::Tour)
        .within(Help, 0).needing(Needs::Nothing).with_values(),
    Keys: Entry::new("Keys and pointer…", "What each key does, and the pointer on the cloth", Deed::Keys)
        .within(Help, 0).keys(Modifiers::SHIFT, Key::F1).needing(Needs::Nothing),
}

/// The entry of going to a step.
fn going(step: Step) -> Entry {
    let needs = match step {
        Step::Journal => Needs::Nothing,
        Step::Day => Needs::Run,
        _ => Needs::Document,
    };
    Entry::new(step.going(), step.about(), Deed::Go(step)).keys(Modifiers::ALT, step.key()).needing(needs).with_values()
}
