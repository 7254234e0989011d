//! What panels read, and what they ask for.

use super::action::Action;
use super::brought::Brought;
use super::day::{DayAsk, RunAsk};
use super::journal::JournalAsk;
use super::learn::LearnAsk;
use super::photo::PhotoAsk;
use super::purpose::{DayFile, DrawnAs, Purpose};
use super::settings::Settings;
use super::step::Step;
use super::wish::WishAsk;
use crate::edit::{Document, EditCommand};
use crate::geometry::GarmentKind;
use crate::import::{FileUnit, FoundLine};
use crate::layout::{Figures, FoldStart, Layout, Swatch};
use crate::learn::Learned;
use crate::measure::{LengthStyle, LengthUnit};
use crate::telling::Voice;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What a panel may read while it is drawn.
#[derive(Clone, Copy)]
pub(crate) struct Context<'a> {
    /// What is worked on: of several ties one, as a layout of it alone.
    pub(crate) layout: &'a Arc<Layout>,
    pub(crate) figures: &'a Arc<Figures>,
    /// The layout as a whole; of one tie the same.
    pub(crate) whole: &'a Arc<Layout>,
    pub(crate) whole_figures: &'a Arc<Figures>,
    /// Which tie it is, from 0.
    pub(crate) tie: usize,
    /// How lengths are written.
    pub(crate) lengths: LengthStyle,
    pub(crate) settings: &'a Settings,
    /// What the maker's pieces taught, by their own file; none where there is none, or where it is not looked at.
    pub(crate) taught: Option<&'a Learned>,
    /// Whether a hand is ahead of its changes, which are worked out on another thread.
    pub(crate) is_followed: bool,
}

impl<'a> Context<'a> {
    /// What is known of an open document.
    pub(crate) fn of(document: &'a Document, lengths: LengthStyle, settings: &'a Settings) -> Self {
        Self {
            layout: document.tie(),
            figures: document.tie_figures(),
            whole: document.layout(),
            whole_figures: document.figures(),
            tie: document.tie_number(),
            lengths,
            settings,
            taught: None,
            is_followed: false,
        }
    }

    /// The same for what is about the whole garment.
    pub(crate) fn of_whole(&self) -> Self {
        Self { layout: self.whole, figures: self.whole_figures, ..*self }
    }

    /// The unit that a number typed without one is in.
    pub(crate) fn unit(&self) -> LengthUnit {
        self.lengths.unit()
    }

    /// How refusals and warnings are said.
    pub(crate) fn voice(&self) -> Voice {
        Voice::window(self.lengths)
    }

    /// What a drag is rounded to, mm: a millimetre, or a sixteenth of an inch.
    pub(crate) fn step_mm(&self) -> f64 {
        match self.lengths {
            LengthStyle::Metric { .. } => 1.0,
            LengthStyle::Inches { .. } => self.lengths.mark_mm(),
        }
    }
}

/// Something that a panel asks for; done after everything is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Ask {
    /// A change of the layout.
    Edit(EditCommand),
    /// A change that a hand makes as it goes. It says all of where the hand is, so that one may be passed over for the next.
    Drag(EditCommand),
    /// Work on another of several ties.
    WorkOnTie(usize),
    /// What follows until the gesture ends is one step.
    BeginGesture(String),
    /// The gesture ends.
    EndGesture,
    /// It ends as if it had never been.
    DropGesture,
    /// Something from the table of actions.
    Act(Action),
    /// Go to a step of the work.
    Go(Step),
    /// Open a layout file.
    Open(PathBuf),
    /// Open one of the examples.
    OpenExample(usize),
    /// Begin with a garment of a kind and size, folded so.
    Begin(GarmentKind, String, FoldStart),
    /// Take over unsaved work of an earlier run, or give it up.
    Recover(PathBuf, bool),
    /// Save the layout here.
    SaveTo(PathBuf),
    /// Save it here even though somebody else wrote to the file.
    SaveOver(PathBuf),
    /// Allow writing to a file that is write-protected, then do this, which writes to it.
    AllowWriting(PathBuf, Box<Self>),
    /// Print here: all sheets, or one by its place among them.
    PrintTo(Option<usize>, PathBuf),
    /// Save the reveal's picture here.
    SavePictureTo(PathBuf),
    /// Save a bundle to hand on here.
    SaveBundleTo(PathBuf),
    /// Keep what a bundle brought.
    KeepBrought(Box<Brought>),
    /// Save the handout here.
    SaveHandoutTo(PathBuf),
    /// Set the reveal of the layout in this file beside the one at hand.
    CompareWith(PathBuf),
    /// Something with the rings that are wished for.
    Wish(WishAsk),
    /// Read the lines of a drawing, of which one becomes this; its numbers measure that where it does not say what.
    ReadDrawing(DrawnAs, PathBuf, Option<FileUnit>),
    /// Make this of a line of a drawing that was read.
    TakeDrawn(DrawnAs, PathBuf, FoundLine),
    /// Use a file for the day.
    UseForDay(DayFile, PathBuf),
    /// Save the plan here.
    SavePlanTo(PathBuf),
    /// Print the whole order into this folder.
    PrintOrderTo(PathBuf),
    /// Ask for the name of a file.
    NameFile(Purpose),
    /// Something with the day's orders, recipes and processes.
    Day(DayAsk),
    /// Something with the run.
    Run(RunAsk),
    /// Something with the journal.
    Journal(JournalAsk),
    /// Something with learning from photographs.
    Learn(LearnAsk),
    /// Something with a photograph that is held against its plan.
    Photo(PhotoAsk),
    /// Stop what is being made on another thread.
    StopBusy,
    /// Save the spacing as a preset.
    SavePreset {
        /// Its name.
        name: String,
        /// Where.
        path: PathBuf,
    },
    /// Ask for a preset's new name.
    NamePreset {
        /// Its file.
        path: PathBuf,
        /// Its name now.
        name: String,
    },
    /// Keep a colour among the swatches.
    KeepSwatch(Swatch),
    /// Take in the swatches of a file.
    ImportSwatches(PathBuf),
    /// Write the swatches to a file.
    ExportSwatches(PathBuf),
    /// Give a preset another name.
    RenamePreset {
        /// Its file.
        path: PathBuf,
        /// The new name.
        name: String,
    },
    /// Take a preset off the shelf.
    RemovePreset(PathBuf),
    /// Open a file in the program that the system has for it.
    OpenOutside(PathBuf),
    /// Close what stands before the window, and give up what it held up.
    CloseDialog,
    /// Turns the handbook to what it tells of a warning, by the warning's name.
    ReadAbout(&'static str),
    /// Close what stands before the window; what it held up goes on when the layout is saved.
    PutDialogAway,
    /// Go on with what the question about unsaved changes held up.
    GoOn,
    /// Go on with closing the program: what is written and not in the journal is kept for the next start, or given up.
    LeaveTexts {
        /// Whether it is kept.
        kept: bool,
    },
}

impl Ask {
    /// The file that it writes to by its own name, if it writes to one.
    pub(crate) fn written(&self) -> Option<&Path> {
        match self {
            Self::SaveTo(path)
            | Self::SaveOver(path)
            | Self::PrintTo(_, path)
            | Self::SavePictureTo(path)
            | Self::SaveBundleTo(path)
            | Self::SaveHandoutTo(path)
            | Self::SavePlanTo(path)
            | Self::ExportSwatches(path)
            | Self::SavePreset { path, .. }
            | Self::Photo(PhotoAsk::SaveMarks(path))
            | Self::Learn(LearnAsk::Keep(path))
            | Self::Day(DayAsk::SaveTo(_, path)) => Some(path),
            _ => None,
        }
    }
}
