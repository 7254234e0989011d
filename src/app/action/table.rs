//! The table of actions: one entry each. Who adds one writes it here and nowhere else, unless it is the first to do what it does.

use super::entry::{Deed, Entry, Menu, Needs};
use crate::app::canvas::Showing;
use crate::app::purpose::{DayFile, Purpose};
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
    New: Entry::new("New layout…", "Begin with a garment", Deed::Begin)
        .within(File, 0).keys(CTRL, Key::N).needing(Needs::Nothing).with_values(),
    Open: Entry::new("Open…", "Open a layout file", Deed::AskFile(Purpose::Open))
        .within(File, 0).keys(CTRL, Key::O).needing(Needs::Nothing).with_values(),
    Save: Entry::new("Save", "Save the layout; the earlier file is kept with .bak added", Deed::Save)
        .within(File, 0).keys(CTRL, Key::S).with_values(),
    SaveAs: Entry::new("Save as…", "Save the layout in another file", Deed::AskFile(Purpose::Save))
        .within(File, 0).keys(CTRL_SHIFT, Key::S).with_values(),
    SavePreset: Entry::new(
        "Save spacing preset…", "Keep this spacing under a name, for other garments", Deed::AskFile(Purpose::Preset),
    ).within(File, 0).with_values(),

    Print: Entry::new("Print to file…", "Template, strips and job card as PDF, SVG or DXF", Deed::AskFile(Purpose::Print))
        .within(File, 1).keys(CTRL, Key::P).with_values(),
    SavePicture: Entry::new(
        "Save picture…", "The reveal's picture, front and back, as PNG with its true size", Deed::AskFile(Purpose::Picture),
    ).within(File, 1).with_values(),
    Compare: Entry::new(
        "Compare with a file…", "Set another layout's reveal beside this one", Deed::AskFile(Purpose::Compare),
    ).within(File, 1).with_values(),

    SavePlan: Entry::new("Save plan…", "The plan as PDF, as text, or as a calendar file", Deed::AskFile(Purpose::Plan))
        .within(File, 2).alone("Save the day's plan…").with_values(),
    PrintOrder: Entry::new(
        "Print everything…",
        "Template, strips and job card of every garment of the plan, and the plan, into a folder",
        Deed::AskFile(Purpose::PrintOrder),
    ).within(File, 2).alone("Print the whole order…").with_values(),
    OpenOrder: Entry::new(
        "Take an order file…",
        "Plan the order in a file: several garments, sizes and layouts",
        Deed::AskFile(Purpose::Day(DayFile::Order)),
    ).within(File, 2).alone("Plan an order from a file…"),
    OpenRecipe: Entry::new(
        "Take a recipe file…", "Weigh by the recipe in a file", Deed::AskFile(Purpose::Day(DayFile::Recipe)),
    ).within(File, 2).alone("Weigh by a recipe from a file…"),
    OpenProcess: Entry::new(
        "Take a process file…", "Go by the steps in a file", Deed::AskFile(Purpose::Day(DayFile::Process)),
    ).within(File, 2).alone("Go by a process from a file…"),

    ImportSwatches: Entry::new(
        "Take in swatches…", "Add the swatches of a file to your own", Deed::AskFile(Purpose::ImportSwatches),
    ).within(File, 3),
    ExportSwatches: Entry::new(
        "Save your swatches…",
        "Write your own swatches to a file, to be given away or kept",
        Deed::AskFile(Purpose::ExportSwatches),
    ).within(File, 3),

    AttachPhotograph: Entry::new(
        "Attach a photograph…",
        "Attach a photograph to what is written in the journal",
        Deed::AskFile(Purpose::Photograph),
    ).within(File, 4).needing(Needs::Journal),
    ExportJournal: Entry::new(
        "Export the journal…",
        "Write the journal into a folder as plain files, photographs with them",
        Deed::AskFile(Purpose::ExportJournal),
    ).within(File, 4).needing(Needs::Nothing),
    ImportJournal: Entry::new(
        "Import a journal…",
        "Take in a journal that was exported; nothing that is there is changed",
        Deed::AskFile(Purpose::ImportJournal),
    ).within(File, 4).needing(Needs::Nothing),

    Quit: Entry::new("Quit", "Close the window", Deed::Quit)
        .within(File, 5).keys(CTRL, Key::Q).needing(Needs::Nothing).with_values(),

    Undo: Entry::new("Undo", "Take the last step back", Deed::Undo).within(Edit, 0).keys(CTRL, Key::Z).needing(Needs::Undo),
    Redo: Entry::new("Redo", "Do the step again", Deed::Redo).within(Edit, 0).keys(CTRL_SHIFT, Key::Z).needing(Needs::Redo),

    ReleaseBinds: Entry::new(
        "Release all binds",
        "Give every bind that was set by hand back to its progression",
        Deed::Edit(|| EditCommand::ReleaseAllBinds),
    ).within(Edit, 1),

    Find: Entry::new("Find a command…", "Type a few letters of any command", Deed::Find)
        .within(Edit, 2).keys(CTRL, Key::K).needing(Needs::Nothing),

    ShowAsLaid: Entry::new(
        Showing::AsLaid.name(),
        "The garment as it lies on the table to be folded",
        Deed::Set(|settings| settings.showing = Showing::AsLaid),
    ).within(View, 0).keys(CTRL, Key::Num1),
    ShowFront: Entry::new(
        Showing::Front.name(), "The front, opened out", Deed::Set(|settings| settings.showing = Showing::Front),
    ).within(View, 0).keys(CTRL, Key::Num2),
    ShowBack: Entry::new(
        Showing::Back.name(),
        "The back, opened out, seen from behind",
        Deed::Set(|settings| settings.showing = Showing::Back),
    ).within(View, 0).keys(CTRL, Key::Num3),

    Fit: Entry::new("Whole garment", "Look at the whole garment", Deed::Fit).within(View, 1).keys(CTRL, Key::Num0),
    Closer: Entry::new("Closer", "Look closer; the wheel does it at the pointer", Deed::Zoom(1.25))
        .within(View, 1).keys(CTRL, Key::Equals),
    Farther: Entry::new("Farther", "Look from farther", Deed::Zoom(0.8)).within(View, 1).keys(CTRL, Key::Minus),
    Numbers: Entry::new(
        "Numbers beside the table", "Show or put away what is computed, beside the table", Deed::Numbers,
    ).within(View, 1).keys(CTRL, Key::J).needing(Needs::Nothing),

    LayoutUnits: Entry::new(
        "Units as the layout's marks",
        "Write lengths in the unit of the layout's marks",
        Deed::Set(|settings| settings.units = Units::AsLayout),
    ).within(View, 2).needing(Needs::Nothing),
    Metric: Entry::new(
        "Millimetres",
        "Write lengths in millimetres, whatever the layout's marks",
        Deed::Set(|settings| settings.units = Units::Millimetres),
    ).within(View, 2).needing(Needs::Nothing),
    Inches: Entry::new(
        "Inches",
        "Write lengths in inches and sixteenths, and begin new layouts in them",
        Deed::Set(|settings| settings.units = Units::Inches),
    ).within(View, 2).needing(Needs::Nothing),

    Dark: Entry::new("Slate and chalk", "The dark look", Deed::Set(|settings| settings.look = Look::Dark))
        .within(View, 3).needing(Needs::Nothing),
    Light: Entry::new("Paper and pencil", "The light look", Deed::Set(|settings| settings.look = Look::Light))
        .within(View, 3).needing(Needs::Nothing),
    AsSystem: Entry::new(
        "Light or dark as the system", "Follow the system's theme", Deed::Set(|settings| settings.look = Look::AsSystem),
    ).within(View, 3).needing(Needs::Nothing),

    LargerLetters: Entry::new(
        "Larger letters",
        "Letters and controls larger, to be read from a step back",
        Deed::Set(|settings| settings.scale_by(1.1)),
    ).within(View, 4).keys(CTRL_SHIFT, Key::ArrowUp).needing(Needs::Nothing),
    SmallerLetters: Entry::new(
        "Smaller letters", "Letters and controls smaller", Deed::Set(|settings| settings.scale_by(1.0 / 1.1)),
    ).within(View, 4).keys(CTRL_SHIFT, Key::ArrowDown).needing(Needs::Nothing),
    UsualLetters: Entry::new(
        "Letters as usual", "Letters and controls as the screen asks for", Deed::Set(|settings| settings.scale = 1.0),
    ).within(View, 4).needing(Needs::Nothing),

    Keys: Entry::new("Keys and pointer…", "What every key does, and what the pointer does on the cloth", Deed::Keys)
        .within(Help, 0).keys(Modifiers::NONE, Key::F1).needing(Needs::Nothing),
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
