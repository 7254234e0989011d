//! What the day's panels ask for.

use crate::app::purpose::DayFile;
use crate::layout::HandPart;
use crate::plan::{AlarmKind, Mark};
use jiff::civil::DateTime;
use std::path::PathBuf;

/// What is asked of the run.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum RunAsk {
    /// Begin the plan as a run.
    Begin,
    /// Say of a step that it is begun, done or left out.
    Tick(u32, Mark),
    /// Say of a step that it was done at an earlier time.
    DoneAt(u32, DateTime),
    /// Say of a part of folding and tying a garment of a step that it is done, or is not.
    Part {
        /// The step.
        step: u32,
        /// The garment's number in it.
        garment: u32,
        /// The part.
        part: HandPart,
        /// Whether it is done.
        done: bool,
    },
    /// Take the last tick back.
    Undo,
    /// Note something on a step.
    Note(u32, String),
    /// An alarm was heard.
    Acknowledge(u32, AlarmKind),
    /// Whether alarms are rung by sound and notification.
    Alarm(bool),
    /// Go to the run.
    Show,
    /// Whether what it used is taken from the shelf when it ends.
    Take(bool),
    /// Put the run away.
    End,
}

/// What is asked of the day's orders, recipes and processes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum DayAsk {
    /// Begin an order with the open layout.
    NewOrder,
    /// Open an order that comes with the program.
    ExampleOrder(usize),
    /// Make a row of the order, the one after the last too, from a layout file.
    Row(usize, PathBuf),
    /// Write a recipe or process: the one that is planned by.
    Write(DayFile),
    /// Save what is being written in its file, or ask for one.
    Save(DayFile),
    /// Save what is being written here.
    SaveTo(DayFile, PathBuf),
    /// Put what is being written away.
    Close(DayFile),
    /// Give up what is not saved of it.
    GiveUp(DayFile),
}
