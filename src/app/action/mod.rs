//! The table of actions: what menus, keys, the finder and the help all derive from.

use super::canvas::Showing;
use super::step::Step;
use egui::{Key, KeyboardShortcut, Modifiers};

/// Something that can be done from a menu, by a key or through the finder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Action {
    New,
    Open,
    Save,
    SaveAs,
    SavePreset,
    Print,
    SavePicture,
    Compare,
    ImportSwatches,
    ExportSwatches,
    SavePlan,
    PrintOrder,
    OpenOrder,
    OpenRecipe,
    OpenProcess,
    AttachPhotograph,
    ExportJournal,
    ImportJournal,
    Quit,
    Undo,
    Redo,
    ReleaseBinds,
    Fit,
    Closer,
    Farther,
    Show(Showing),
    Numbers,
    Go(Step),
    LayoutUnits,
    Metric,
    Inches,
    Dark,
    Light,
    AsSystem,
    LargerLetters,
    SmallerLetters,
    UsualLetters,
    Find,
    Keys,
}

/// What an action needs to be possible.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Possible {
    /// A layout is open.
    pub(crate) document: bool,
    /// The journal is at hand: it shows, or there is a step to it.
    pub(crate) journal: bool,
    /// A day is at hand: a run is under way, or a layout is open.
    pub(crate) run: bool,
    /// There is a step back.
    pub(crate) undo: bool,
    /// There is a step forward.
    pub(crate) redo: bool,
}

impl Action {
    /// The menus: their names, and their actions in groups.
    pub(crate) const MENUS: &[(&str, &[&[Self]])] =
        &[("File", Self::FILE), ("Edit", Self::EDIT), ("View", Self::VIEW), ("Help", &[&[Self::Keys]])];
    const FILE: &[&[Self]] = &[
        &[Self::New, Self::Open, Self::Save, Self::SaveAs, Self::SavePreset],
        &[Self::Print, Self::SavePicture, Self::Compare],
        &[Self::SavePlan, Self::PrintOrder, Self::OpenOrder, Self::OpenRecipe, Self::OpenProcess],
        &[Self::ImportSwatches, Self::ExportSwatches],
        &[Self::AttachPhotograph, Self::ExportJournal, Self::ImportJournal],
        &[Self::Quit],
    ];
    const EDIT: &[&[Self]] = &[&[Self::Undo, Self::Redo], &[Self::ReleaseBinds], &[Self::Find]];
    const VIEW: &[&[Self]] = &[
        &[Self::Show(Showing::AsLaid), Self::Show(Showing::Front), Self::Show(Showing::Back)],
        &[Self::Fit, Self::Closer, Self::Farther, Self::Numbers],
        &[Self::LayoutUnits, Self::Metric, Self::Inches],
        &[Self::Dark, Self::Light, Self::AsSystem],
        &[Self::LargerLetters, Self::SmallerLetters, Self::UsualLetters],
    ];

    /// Every action: those of the menus, and going to each step.
    pub(crate) fn all() -> Vec<Self> {
        let menus = Self::MENUS.iter().flat_map(|(_, groups)| groups.iter()).flat_map(|group| group.iter().copied());
        menus.chain(Step::ALL.map(Self::Go)).collect()
    }

    /// Its words where nothing around it tells what it is about: in menus and in the finder.
    pub(crate) fn full_label(self) -> &'static str {
        match self {
            Self::SavePlan => "Save the day's plan…",
            Self::PrintOrder => "Print the whole order…",
            Self::OpenOrder => "Plan an order from a file…",
            Self::OpenRecipe => "Weigh by a recipe from a file…",
            Self::OpenProcess => "Go by a process from a file…",
            other => other.label(),
        }
    }

    /// Its words beside what it is about.
    pub(crate) fn label(self) -> &'static str {
        match self {
            Self::New => "New layout…",
            Self::Open => "Open…",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::SavePreset => "Save spacing preset…",
            Self::Print => "Print to file…",
            Self::SavePicture => "Save picture…",
            Self::Compare => "Compare with a file…",
            Self::ImportSwatches => "Take in swatches…",
            Self::ExportSwatches => "Save your swatches…",
            Self::SavePlan => "Save plan…",
            Self::PrintOrder => "Print everything…",
            Self::OpenOrder => "Take an order file…",
            Self::OpenRecipe => "Take a recipe file…",
            Self::OpenProcess => "Take a process file…",
            Self::AttachPhotograph => "Attach a photograph…",
            Self::ExportJournal => "Export the journal…",
            Self::ImportJournal => "Import a journal…",
            Self::Quit => "Quit",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::ReleaseBinds => "Release all binds",
            Self::Fit => "Whole garment",
            Self::Closer => "Closer",
            Self::Farther => "Farther",
            Self::Show(showing) => showing.name(),
            Self::Numbers => "Numbers beside the table",
            Self::Go(step) => step.going(),
            Self::LayoutUnits => "Units as the layout's marks",
            Self::Metric => "Millimetres",
            Self::Inches => "Inches",
            Self::Dark => "Slate and chalk",
            Self::Light => "Paper and pencil",
            Self::AsSystem => "Light or dark as the system",
            Self::LargerLetters => "Larger letters",
            Self::SmallerLetters => "Smaller letters",
            Self::UsualLetters => "Letters as usual",
            Self::Find => "Find a command…",
            Self::Keys => "Keys and pointer…",
        }
    }

    /// One sentence about it.
    pub(crate) fn tooltip(self) -> &'static str {
        match self {
            Self::New => "Begin with a garment",
            Self::Open => "Open a layout file",
            Self::Save => "Save the layout; the earlier file is kept with .bak added",
            Self::SaveAs => "Save the layout in another file",
            Self::SavePreset => "Keep this spacing under a name, for other garments",
            Self::Print => "Template, strips and job card as PDF, SVG or DXF",
            Self::SavePicture => "The reveal's picture, front and back, as PNG with its true size",
            Self::Compare => "Set another layout's reveal beside this one",
            Self::ImportSwatches => "Add the swatches of a file to your own",
            Self::ExportSwatches => "Write your own swatches to a file, to be given away or kept",
            Self::PrintOrder => "Template, strips and job card of every garment of the plan, and the plan, into a folder",
            Self::SavePlan => "The plan as PDF, as text, or as a calendar file",
            Self::OpenOrder => "Plan the order in a file: several garments, sizes and layouts",
            Self::OpenRecipe => "Weigh by the recipe in a file",
            Self::OpenProcess => "Go by the steps in a file",
            Self::AttachPhotograph => "Attach a photograph to what is written in the journal",
            Self::ExportJournal => "Write the journal into a folder as plain files, photographs with them",
            Self::ImportJournal => "Take in a journal that was exported; nothing that is there is changed",
            Self::Quit => "Close the window",
            Self::Undo => "Take the last step back",
            Self::Redo => "Do the step again",
            Self::ReleaseBinds => "Give every bind that was set by hand back to its progression",
            Self::Fit => "Look at the whole garment",
            Self::Closer => "Look closer; the wheel does it at the pointer",
            Self::Farther => "Look from farther",
            Self::Show(Showing::AsLaid) => "The garment as it lies on the table to be folded",
            Self::Show(Showing::Front) => "The front, opened out",
            Self::Show(Showing::Back) => "The back, opened out, seen from behind",
            Self::Numbers => "Show or put away what is computed, beside the table",
            Self::Go(step) => step.about(),
            Self::LayoutUnits => "Write lengths in the unit of the layout's marks",
            Self::Metric => "Write lengths in millimetres, whatever the layout's marks",
            Self::Inches => "Write lengths in inches and sixteenths, and begin new layouts in them",
            Self::Dark => "The dark look",
            Self::Light => "The light look",
            Self::AsSystem => "Follow the system's theme",
            Self::LargerLetters => "Letters and controls larger, to be read from a step back",
            Self::SmallerLetters => "Letters and controls smaller",
            Self::UsualLetters => "Letters and controls as the screen asks for",
            Self::Find => "Type a few letters of any command",
            Self::Keys => "What every key does, and what the pointer does on the cloth",
        }
    }

    /// Its keys.
    pub(crate) fn shortcut(self) -> Option<KeyboardShortcut> {
        let command = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        let shifted = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key));
        match self {
            Self::New => command(Key::N),
            Self::Open => command(Key::O),
            Self::Save => command(Key::S),
            Self::SaveAs => shifted(Key::S),
            Self::Print => command(Key::P),
            Self::Quit => command(Key::Q),
            Self::Undo => command(Key::Z),
            Self::Redo => shifted(Key::Z),
            Self::Fit => command(Key::Num0),
            Self::Closer => command(Key::Equals),
            Self::Farther => command(Key::Minus),
            Self::Show(Showing::AsLaid) => command(Key::Num1),
            Self::Show(Showing::Front) => command(Key::Num2),
            Self::Show(Showing::Back) => command(Key::Num3),
            Self::Numbers => command(Key::J),
            Self::LargerLetters => shifted(Key::ArrowUp),
            Self::SmallerLetters => shifted(Key::ArrowDown),
            Self::Find => command(Key::K),
            Self::Keys => Some(KeyboardShortcut::new(Modifiers::NONE, Key::F1)),
            Self::Go(step) => Some(KeyboardShortcut::new(Modifiers::ALT, step.key())),
            _ => None,
        }
    }

    /// Whether it goes by what the fields say or puts them away: one that is being written in gives up its value before.
    pub(crate) fn needs_values(self) -> bool {
        let saves = matches!(self, Self::Save | Self::SaveAs | Self::SavePreset | Self::SavePicture | Self::SavePlan);
        let prints = matches!(self, Self::Print | Self::PrintOrder | Self::Compare);
        saves || prints || matches!(self, Self::New | Self::Open | Self::Quit | Self::Go(_))
    }

    /// Whether it can be done now.
    pub(crate) fn is_enabled(self, possible: Possible) -> bool {
        match self {
            Self::New
            | Self::Open
            | Self::Quit
            | Self::LayoutUnits
            | Self::Metric
            | Self::Inches
            | Self::Dark
            | Self::Light
            | Self::AsSystem
            | Self::Numbers
            | Self::LargerLetters
            | Self::SmallerLetters
            | Self::UsualLetters
            | Self::ExportJournal
            | Self::ImportJournal
            | Self::Go(Step::Journal)
            | Self::Find
            | Self::Keys => true,
            Self::AttachPhotograph => possible.journal,
            Self::Go(Step::Day) => possible.run,
            Self::Undo => possible.undo,
            Self::Redo => possible.redo,
            _ => possible.document,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_actions_share_keys_or_words() {
        let all = Action::all();
        for (index, a) in all.iter().enumerate() {
            for b in &all[index + 1..] {
                assert_ne!(a.label(), b.label());
                assert!(a.shortcut().is_none() || a.shortcut() != b.shortcut(), "{a:?} and {b:?}");
            }
        }
    }
}
