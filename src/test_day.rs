//! The day of the test cloth, as files: three squares to be tied, dyed and photographed, which together show most calibration values.

use crate::layout::layout_text;
use crate::learn::TEST_CLOTH;
use crate::plan::{GradeRule, Order, OrderLineSpec, OrderSpec, Plan, PlanError, When, Workshop};
use crate::print::parts::{
    OrderPrint, OrderPrintError, OrderPrintOptions, PartKind, PrintOptions, PrintedFile, TemplateOptions, test_cloth_pdf,
};
use crate::print::{Paper, TilingOptions};
use crate::reveal::Cancel;
use crate::store::{
    FileFault, FileWork, ReadError, SaveError, file_said, order_text, planning_time, read_order, save, save_each_in,
};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::path::{Path, PathBuf};

/// The order's file.
const ORDER: &str = "test-cloth.ron";

/// Why the test cloth's files are not written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum TestDayError {
    /// A file of that name is there already: nothing is overwritten.
    IsThere {
        /// The file.
        path: PathBuf,
    },
    /// The day can't be planned.
    Plan(PlanError),
    /// The sheets can't be printed.
    Print(OrderPrintError),
    /// The order can't be read back.
    Read(ReadError),
    /// A file can't be written.
    Save(SaveError),
    /// There is no folder to be had in which the order is put together.
    Staging(FileFault),
}

displayed_as_in_files!(TestDayError);

impl Refused for TestDayError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::IsThere { path } => Told::new("it is there already", "choose a folder without it").at(file_said(path, voice)),
            Self::Plan(error) => error.told(voice),
            Self::Print(error) => error.told(voice),
            Self::Read(error) => error.told(voice),
            Self::Save(error) => error.told(voice),
            Self::Staging(error) => error.told(voice),
        }
    }
}

/// Writes layouts, order, sheets, the day's plan and what to do into a folder, which is made if missing; what each file is.
///
/// # Errors
/// [`TestDayError`]: a file that is there already, a day that can't be planned, a write that failed.
pub fn write_test_day(folder: &Path, start: DateTime, paper: &Paper, cancel: &Cancel) -> Result<Vec<PrintedFile>, TestDayError> {
    let texts = texts();
    // Told before everything is computed.
    refuse_what_is_there(texts.iter().map(|(name, ..)| folder.join(name)))?;
    let order = staged(&texts)?;
    let clock = TimeZone::system().into();
    let plan = Plan::at(&order, When::Start(start), planning_time(&clock), &clock, cancel).map_err(TestDayError::Plan)?;
    let mut files: Vec<PrintedFile> = texts
        .into_iter()
        .map(|(name, text, words)| PrintedFile { path: folder.join(name), bytes: text.into_bytes(), words })
        .collect();
    files.extend(sheets(&order, &plan, paper, folder, cancel)?);
    refuse_what_is_there(files.iter().map(|file| file.path.clone()))?;
    save_each_in(folder, &files, PrintedFile::content).map_err(TestDayError::Save)?;
    Ok(files)
}

fn refuse_what_is_there(mut paths: impl Iterator<Item = PathBuf>) -> Result<(), TestDayError> {
    paths.find(|path| path.exists()).map_or(Ok(()), |path| Err(TestDayError::IsThere { path }))
}

fn file_name(letter: char) -> String {
    format!("test-cloth-{}.ron", letter.to_ascii_lowercase())
}

/// The layouts and their order: names, texts, and what they are.
fn texts() -> Vec<(String, String, String)> {
    let mut texts: Vec<_> = TEST_CLOTH
        .iter()
        .map(|square| (file_name(square.letter), layout_text(&square.layout()), format!("layout, {}", square.about)))
        .collect();
    let line = |letter: char| OrderLineSpec {
        layout: file_name(letter),
        size: None,
        rings: GradeRule::Scaled,
        count: 1,
        process: None,
        blank_price: None,
    };
    let order = OrderSpec {
        name: "Test cloth".to_owned(),
        note: "Three squares to learn calibration from.".to_owned(),
        recipe: None,
        process: None,
        deadline: None,
        lines: TEST_CLOTH.iter().map(|square| line(square.letter)).collect(),
        depths: Default::default(),
        workshop: Workshop::default(),
        mix_grounds: false,
        scrap_tested: false,
        supplies: Vec::new(),
        money: None,
    };
    texts.push((ORDER.to_owned(), order_text(&order), "the order of all three".to_owned()));
    texts
}

/// The order, read from a folder of its own as from the maker's: what it refers to lies beside it.
fn staged(texts: &[(String, String, String)]) -> Result<Order, TestDayError> {
    let within = std::env::temp_dir();
    let staging = tempfile::tempdir_in(&within).map_err(FileFault::of(&within, FileWork::Make)).map_err(TestDayError::Staging)?;
    for (name, text, _) in texts {
        save(&staging.path().join(name), text.as_bytes()).map_err(TestDayError::Save)?;
    }
    read_order(&staging.path().join(ORDER)).map_err(TestDayError::Read)
}

/// Template, strips and card of each square, the plan, and what to do.
fn sheets(order: &Order, plan: &Plan, paper: &Paper, folder: &Path, cancel: &Cancel) -> Result<Vec<PrintedFile>, TestDayError> {
    let print = PrintOptions { paper: paper.clone(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    let options = OrderPrintOptions { print, kinds: PartKind::ALL.to_vec(), formulas: false, pictures: true };
    let mut files = OrderPrint { order, plan, folder, options: &options }.files(cancel, &|_| ()).map_err(TestDayError::Print)?;
    let squares: Vec<(char, &str)> = TEST_CLOTH.iter().map(|square| (square.letter, square.about)).collect();
    let bytes = test_cloth_pdf(&squares, paper, &TilingOptions::default())
        .map_err(|source| TestDayError::Print(OrderPrintError::Print { name: "Test cloth".to_owned(), source }))?;
    let path: PathBuf = folder.join("what-to-do.pdf");
    files.insert(0, PrintedFile { path, bytes, words: "what to do and how to photograph".to_owned() });
    Ok(files)
}
