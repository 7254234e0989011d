//! `testcloth`: layouts, sheets, plan and instructions of a day that shows most calibration values.

use super::CliError;
use super::arguments::TestClothArguments;
use super::paper::paper;
use super::progress::watched;
use jiff::tz::TimeZone;
use pleatwright::layout::layout_text;
use pleatwright::learn::TEST_CLOTH;
use pleatwright::plan::{GradeRule, Order, OrderLineSpec, OrderSpec, Plan, When, Workshop};
use pleatwright::print::parts::{
    OrderPrint, OrderPrintOptions, PartKind, PrintOptions, PrintedFile, TemplateOptions, test_cloth_pdf,
};
use pleatwright::print::{Paper, TilingOptions};
use pleatwright::reveal::Cancel;
use pleatwright::store::{order_text, planning_time, read_order, save, save_each_in};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The order's file.
const ORDER: &str = "test-cloth.ron";

pub(crate) fn run(arguments: &TestClothArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let folder = &arguments.output;
    let paper = paper(arguments.paper.as_deref().unwrap_or("A4"))?;
    let texts = texts();
    // Told before everything is computed.
    refuse_what_is_there(texts.iter().map(|(name, ..)| folder.join(name)))?;
    let order = staged(&texts)?;
    let clock = TimeZone::system().into();
    let when = When::Start(arguments.start);
    let plan = watched("planning", |cancel| Plan::at(&order, when, planning_time(&clock), &clock, cancel))?;
    let mut files: Vec<PrintedFile> = texts
        .into_iter()
        .map(|(name, text, words)| PrintedFile { path: folder.join(name), bytes: text.into_bytes(), words })
        .collect();
    files.extend(sheets(&order, &plan, &paper, folder)?);
    refuse_what_is_there(files.iter().map(|file| file.path.clone()))?;
    save_each_in(folder, &files, PrintedFile::content)?;
    for file in &files {
        writeln!(output, "{}: {}", file.path.display(), file.words)?;
    }
    writeln!(output, "On {paper}. Print at 100 % (actual size) and measure the 100 mm or 4 in bar before cutting.")?;
    Ok(())
}

fn refuse_what_is_there(mut paths: impl Iterator<Item = PathBuf>) -> Result<(), CliError> {
    match paths.find(|path| path.exists()) {
        Some(there) => Err(CliError::argument(there.display().to_string(), "it is there already", "choose a folder without it")),
        None => Ok(()),
    }
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
fn staged(texts: &[(String, String, String)]) -> Result<Order, CliError> {
    let staging = tempfile::tempdir()?;
    for (name, text, _) in texts {
        save(&staging.path().join(name), text.as_bytes())?;
    }
    Ok(read_order(&staging.path().join(ORDER))?)
}

/// Template, strips and card of each square, the plan, and what to do.
fn sheets(order: &Order, plan: &Plan, paper: &Paper, folder: &Path) -> Result<Vec<PrintedFile>, CliError> {
    let print = PrintOptions { paper: paper.clone(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    let options = OrderPrintOptions { print, kinds: PartKind::ALL.to_vec(), formulas: false, pictures: true };
    let mut files = OrderPrint { order, plan, folder, options: &options }.files(&Cancel::new(), &|_| ())?;
    let squares: Vec<(char, &str)> = TEST_CLOTH.iter().map(|square| (square.letter, square.about)).collect();
    let path: PathBuf = folder.join("what-to-do.pdf");
    let bytes = test_cloth_pdf(&squares, paper, &TilingOptions::default())?;
    files.insert(0, PrintedFile { path, bytes, words: "what to do and how to photograph".to_owned() });
    Ok(files)
}
