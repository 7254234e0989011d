//! What a file's name is asked for: the words of the dialog, and which files it lists.

use crate::telling::listed;
use std::path::{Path, PathBuf};

/// A file that the day reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DayFile {
    Order,
    Recipe,
    Process,
}

/// What a file name is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    Save,
    Print,
    Preset,
    Picture,
    Compare,
    ImportSwatches,
    ExportSwatches,
    Plan,
    PrintOrder,
    Day(DayFile),
    Photograph,
    ExportJournal,
    ImportJournal,
}

impl Purpose {
    pub(super) fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a layout",
            Self::Save => "Save the layout as",
            Self::Print => "Print to a file",
            Self::Preset => "Save the spacing as a preset",
            Self::Picture => "Save the reveal's picture",
            Self::Compare => "Compare with the reveal of another layout",
            Self::ImportSwatches => "Import swatches",
            Self::ExportSwatches => "Export your swatches",
            Self::Plan => "Save the plan",
            Self::PrintOrder => "Print everything to a folder",
            Self::Day(DayFile::Order) => "Plan an order",
            Self::Day(DayFile::Recipe) => "Use a recipe",
            Self::Day(DayFile::Process) => "Use a process",
            Self::Photograph => "Attach a photograph",
            Self::ExportJournal => "Export the journal to a folder",
            Self::ImportJournal => "Import a journal from a folder",
        }
    }

    pub(super) fn button(self) -> &'static str {
        match self {
            Self::Open => "Open",
            Self::Save | Self::Preset | Self::Picture | Self::Plan | Self::ExportSwatches => "Save",
            Self::ImportSwatches => "Import",
            Self::Day(_) => "Use",
            Self::Compare => "Compare",
            Self::Photograph => "Attach",
            Self::ExportJournal => "Export",
            Self::ImportJournal => "Import",
            Self::Print | Self::PrintOrder => "Print",
        }
    }

    /// Whether a file is read, not written.
    pub(super) fn reads(self) -> bool {
        matches!(self, Self::Open | Self::Compare | Self::Day(_) | Self::Photograph | Self::ImportJournal | Self::ImportSwatches)
    }

    /// Whether a folder is named, not a file.
    pub(super) fn is_folder(self) -> bool {
        matches!(self, Self::ExportJournal | Self::ImportJournal | Self::PrintOrder)
    }

    /// Endings of the files that are listed; the first is added where none is written.
    pub(super) fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Open
            | Self::Compare
            | Self::Save
            | Self::Preset
            | Self::Day(_)
            | Self::ImportSwatches
            | Self::ExportSwatches => &["ron"],
            Self::Plan => &["pdf", "txt", "ics"],
            Self::Picture => &["png"],
            Self::Photograph => &["jpg", "jpeg", "png", "webp", "gif", "tif", "tiff", "heic", "heif", "avif"],
            Self::Print => &["pdf", "svg", "dxf"],
            Self::PrintOrder | Self::ExportJournal | Self::ImportJournal => &[],
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
