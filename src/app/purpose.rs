//! What a file's name is asked for: the words of the dialog, and which files it lists.

use crate::import::DrawingFormat;
use crate::store::{BUNDLE_ENDING, FileKind, LAYOUT_ENDING, PHOTOGRAPH_ENDINGS};
use crate::telling::listed;
use std::path::{Path, PathBuf};

/// A file that the day reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DayFile {
    Order,
    Recipe,
    Process,
}

/// What is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Printed {
    /// All sheets of the layout.
    All,
    /// One, by its place among all.
    One(usize),
    /// The sheets of every layout of an order.
    Order,
}

impl DayFile {
    /// What it holds.
    pub(super) const fn kind(self) -> FileKind {
        match self {
            Self::Order => FileKind::Order,
            Self::Recipe => FileKind::Recipe,
            Self::Process => FileKind::Process,
        }
    }
}

/// What the line of a drawing becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DrawnAs {
    /// A line to fold along.
    Line,
    /// The garment's outline.
    Outline,
    /// The back's, where it is cut otherwise.
    Back,
}

/// What a file name is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    Save,
    Print,
    /// One sheet, by its place among all.
    PrintSheet(usize),
    Preset,
    Picture,
    Bundle,
    Handout,
    Compare,
    /// A photograph to be held against the plan.
    HeldPhotograph,
    /// Marks on it, to be taken.
    OpenMarks,
    /// Marks on it, to be saved.
    SaveMarks,
    /// A photograph of dyed squares.
    SwatchPhotograph,
    /// A photograph of an undyed garment: of its back, if so.
    OutlinePhotograph {
        back: bool,
    },
    /// A photograph of an opened garment, to wish for rings like its.
    LikePhotograph,
    /// A wish, to be taken up.
    OpenWish,
    /// And to be saved.
    SaveWish,
    ImportSwatches,
    ExportSwatches,
    /// A drawing with a line that becomes something.
    Drawing(DrawnAs),
    Plan,
    PrintOrder,
    Day(DayFile),
    SaveDay(DayFile),
    /// A row of the order, by its index.
    Row(usize),
    Photograph,
    ExportJournal,
    ImportJournal,
    /// The layout of a piece to learn from.
    PieceLayout,
    /// A photograph of a piece to learn from, by the piece's number among those from files.
    PiecePhotograph(usize),
    /// The maker's own file of what was learned, to be written.
    KeepLearned,
    /// What was learned before.
    EarlierLearned,
    /// The folder of the test cloth.
    TestCloth,
}

/// Endings of the files that outlines come from: drawings, and photographs.
const OUTLINE_ENDINGS: [&str; 8] = {
    let ([svg, dxf], [jpg, jpeg, png, webp, tif, tiff]) = (DrawingFormat::ENDINGS, PHOTOGRAPH_ENDINGS);
    [svg, dxf, jpg, jpeg, png, webp, tif, tiff]
};

impl Purpose {
    pub(super) fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a layout",
            Self::Save => "Save the layout as",
            Self::Print => "Print to a file",
            Self::PrintSheet(_) => "Print one sheet to a file",
            Self::Preset => "Save the spacing as a preset",
            Self::Picture => "Save the reveal's picture",
            Self::Bundle => "Save a bundle to hand on",
            Self::Handout => "Save the handout",
            Self::Compare => "Compare with the reveal of another layout",
            Self::HeldPhotograph => "Hold a photograph against the plan",
            Self::OpenMarks => "Open marks on the photograph",
            Self::SaveMarks => "Save the marks as",
            Self::SwatchPhotograph => "Take swatches from a photograph",
            Self::OutlinePhotograph { back: false } => "Take the garment's outline from a photograph",
            Self::OutlinePhotograph { back: true } => "Take the back's outline from a photograph",
            Self::LikePhotograph => "Wish for rings like those of a photograph",
            Self::OpenWish => "Open a wish",
            Self::SaveWish => "Save the wish as",
            Self::ImportSwatches => "Import swatches",
            Self::ExportSwatches => "Export your swatches",
            Self::Drawing(DrawnAs::Line) => "Import a line from a drawing",
            Self::Drawing(DrawnAs::Outline) => "Import the garment's outline from a drawing or a photograph",
            Self::Drawing(DrawnAs::Back) => "Import the back's outline from a drawing or a photograph",
            Self::Plan => "Save the plan",
            Self::PrintOrder => "Print everything to a folder",
            Self::SaveDay(DayFile::Order) => "Save the order as",
            Self::SaveDay(DayFile::Recipe) => "Save the recipe as",
            Self::SaveDay(DayFile::Process) => "Save the process as",
            Self::Row(_) => "Choose a row's layout",
            Self::Day(DayFile::Order) => "Open an order",
            Self::Day(DayFile::Recipe) => "Use a recipe",
            Self::Day(DayFile::Process) => "Use a process",
            Self::Photograph => "Attach a photograph",
            Self::ExportJournal => "Export the journal to a folder",
            Self::ImportJournal => "Import a journal from a folder",
            Self::PieceLayout => "Learn from a piece: its layout",
            Self::PiecePhotograph(_) => "A photograph of the piece",
            Self::KeepLearned => "Keep what was learned",
            Self::EarlierLearned => "Learn on top of learned values",
            Self::TestCloth => "Make the test cloth in a folder",
        }
    }

    pub(super) fn button(self) -> &'static str {
        match self {
            Self::Open
            | Self::HeldPhotograph
            | Self::SwatchPhotograph
            | Self::OutlinePhotograph { .. }
            | Self::OpenMarks
            | Self::LikePhotograph
            | Self::OpenWish => "Open",
            Self::PieceLayout | Self::PiecePhotograph(_) => "Add",
            Self::TestCloth => "Make",
            Self::EarlierLearned => "Use",
            Self::Save
            | Self::SaveWish
            | Self::SaveMarks
            | Self::SaveDay(_)
            | Self::Preset
            | Self::Picture
            | Self::Bundle
            | Self::Handout
            | Self::Plan
            | Self::KeepLearned
            | Self::ExportSwatches => "Save",
            Self::ImportSwatches | Self::Drawing(_) => "Import",
            Self::Day(DayFile::Order) => "Open",
            Self::Day(_) | Self::Row(_) => "Use",
            Self::Compare => "Compare",
            Self::Photograph => "Attach",
            Self::ExportJournal => "Export",
            Self::ImportJournal => "Import",
            Self::Print | Self::PrintSheet(_) | Self::PrintOrder => "Print",
        }
    }

    /// Whether a file is read, not written.
    pub(super) fn reads(self) -> bool {
        matches!(
            self,
            Self::Open
                | Self::Compare
                | Self::HeldPhotograph
                | Self::SwatchPhotograph
                | Self::OutlinePhotograph { .. }
                | Self::OpenMarks
                | Self::LikePhotograph
                | Self::OpenWish
                | Self::Day(_)
                | Self::Row(_)
                | Self::Photograph
                | Self::ImportJournal
                | Self::ImportSwatches
                | Self::PieceLayout
                | Self::PiecePhotograph(_)
                | Self::EarlierLearned
                | Self::Drawing(_)
        )
    }

    /// What is printed, if it is for that.
    pub(super) fn printed(self) -> Option<Printed> {
        match self {
            Self::Print => Some(Printed::All),
            Self::PrintSheet(sheet) => Some(Printed::One(sheet)),
            Self::PrintOrder => Some(Printed::Order),
            _ => None,
        }
    }

    /// What of the program's own kinds is written, if it is one of them.
    pub(super) fn kind(self) -> Option<FileKind> {
        match self {
            Self::Save => Some(FileKind::Layout),
            Self::SaveDay(file) => Some(file.kind()),
            Self::Preset => Some(FileKind::SpacingPreset),
            Self::Bundle => Some(FileKind::Bundle),
            Self::SaveMarks => Some(FileKind::Marks),
            Self::SaveWish => Some(FileKind::Wish),
            Self::KeepLearned => Some(FileKind::Learned),
            Self::ExportSwatches => Some(FileKind::Swatches),
            _ => None,
        }
    }

    /// Whether a folder is named, not a file.
    pub(super) fn is_folder(self) -> bool {
        matches!(self, Self::ExportJournal | Self::ImportJournal | Self::PrintOrder | Self::TestCloth)
    }

    /// Endings of the files that are listed; the first is added where none is written.
    pub(super) fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Open | Self::Compare | Self::Row(_) | Self::PieceLayout => &["ron", LAYOUT_ENDING, BUNDLE_ENDING],
            Self::Save => &[LAYOUT_ENDING, "ron"],
            Self::Bundle => &[BUNDLE_ENDING],
            Self::Preset
            | Self::Day(_)
            | Self::SaveDay(_)
            | Self::ImportSwatches
            | Self::ExportSwatches
            | Self::OpenMarks
            | Self::SaveMarks
            | Self::OpenWish
            | Self::SaveWish
            | Self::KeepLearned
            | Self::EarlierLearned => &["ron"],
            Self::HeldPhotograph
            | Self::SwatchPhotograph
            | Self::OutlinePhotograph { .. }
            | Self::LikePhotograph
            | Self::PiecePhotograph(_) => &PHOTOGRAPH_ENDINGS,
            Self::Drawing(DrawnAs::Line) => &DrawingFormat::ENDINGS,
            Self::Drawing(DrawnAs::Outline | DrawnAs::Back) => &OUTLINE_ENDINGS,
            Self::Plan => &["pdf", "txt", "ics"],
            Self::PrintSheet(_) => &["pdf"],
            Self::Picture => &["png"],
            Self::Handout => &["pdf", "png"],
            Self::Photograph => &["jpg", "jpeg", "png", "webp", "gif", "tif", "tiff", "heic", "heif", "avif"],
            Self::Print => &["pdf", "svg", "dxf"],
            Self::PrintOrder | Self::ExportJournal | Self::ImportJournal | Self::TestCloth => &[],
        }
    }

    /// A path to write to with its ending, added where there is none.
    pub(super) fn with_ending(self, path: PathBuf) -> PathBuf {
        match self.endings().first() {
            Some(ending) if !self.reads() && path.extension().is_none() && path.file_name().is_some() => {
                path.with_extension(ending)
            }
            _ => path,
        }
    }

    /// What is written when another folder is chosen: the same name in it, or the folder itself.
    pub(super) fn within(self, folder: &Path, written: &Path) -> PathBuf {
        match written.file_name() {
            Some(name) if !self.reads() && !written.is_dir() => folder.join(name),
            // With a separator at its end, so that a name can be written behind it.
            _ => folder.join(""),
        }
    }

    /// What belongs into the field of the name.
    pub(super) fn hint(self) -> String {
        let (endings, folder) = (self.listed_endings(), "a folder; created if missing");
        match self {
            Self::PrintOrder => format!("{folder}; files of the same name are kept as backups"),
            Self::ExportJournal => folder.to_owned(),
            Self::TestCloth => format!("{folder}; nothing in it is overwritten"),
            Self::ImportJournal => "a folder that holds an exported journal".to_owned(),
            Self::Photograph => format!("a photograph ending in {endings}; it is copied into the journal"),
            _ => format!("a file ending in {endings}"),
        }
    }

    /// `.pdf, .svg or .dxf`.
    fn listed_endings(self) -> String {
        listed(self.endings().iter().map(|ending| format!(".{ending}")), "or")
    }
}
