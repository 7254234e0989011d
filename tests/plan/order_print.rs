//! A whole order printed in one go: all of it, the same every time, or nothing.

use crate::{regatta, regatta_path};
use pleatwright::plan::*;
use pleatwright::print::TilingOptions;
use pleatwright::print::parts::*;
use pleatwright::reveal::Cancel;
use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;
use std::sync::Mutex;

fn options(kinds: &[PartKind]) -> OrderPrintOptions {
    let print =
        PrintOptions { paper: "A4".parse().unwrap(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    OrderPrintOptions { print, kinds: kinds.to_vec(), formulas: false, pictures: false }
}

fn names(files: &[PrintedFile]) -> Vec<String> {
    files.iter().map(|file| file.path.file_name().unwrap().to_string_lossy().into_owned()).collect()
}

fn plan(order: &Order) -> Plan {
    Plan::new(order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap()
}

#[test]
fn every_size_gets_a_file_and_each_is_told_once() {
    let order = regatta();
    let (plan, options) = (plan(&order), options(&PartKind::ALL));
    let told = Mutex::new(Vec::new());
    let progress =
        |progress: OrderProgress<'_>| told.lock().unwrap().push((progress.done, progress.of, progress.file.path.clone()));
    let job = OrderPrint { order: &order, plan: &plan, folder: Path::new("sheets"), options: &options };
    let files = job.files(&Cancel::new(), &progress).unwrap();
    let expected = [
        "harbour-row-tee-s.pdf",
        "harbour-row-tee-m.pdf",
        "harbour-row-tee-l.pdf",
        "harbour-row-tee-2xl.pdf",
        "harbour-row-tote.pdf",
        "harbour-row-regatta-plan.pdf",
    ];
    assert_eq!(names(&files), expected);
    let told = told.into_inner().unwrap();
    assert_eq!(told.iter().map(|(done, ..)| *done).collect::<BTreeSet<_>>(), (1..=6).collect());
    assert!(told.iter().all(|(_, of, _)| *of == 6));
    assert_eq!(told.iter().map(|(.., path)| path).collect::<BTreeSet<_>>().len(), 6);
    // Each file is what printing that line alone gives, card and template among it.
    let line = &order.lines()[2];
    let card = CardOptions { plan: Some(&plan), line: 2, ..CardOptions::default() };
    let alone = printed_files_with(&line.layout, &line.figures, &PartKind::ALL, &options.print, &card, &files[2].path).unwrap();
    assert!(
        alone[0] == files[2] && files[2].words.contains("template") && files[2].words.contains("job card"),
        "{}",
        files[2].words
    );
}

/// Two lines of one layout must not end in one file.
#[test]
fn lines_of_one_layout_get_files_of_their_own() {
    let order = regatta();
    let mut raw = order.raw().clone();
    raw.lines = vec![raw.lines[1].clone(), raw.lines[1].clone()];
    raw.supplies.clear();
    raw.depths.clear();
    let layout = crate::layout("harbour-row-tee-m.ron");
    let parts = OrderParts {
        recipes: vec![crate::recipe("powder-under-ice")],
        processes: vec![("discharge-and-dye".to_owned(), crate::process("discharge-and-dye"))],
        layouts: vec![layout.clone(), layout],
    };
    let order = Order::new(raw, parts).unwrap();
    let (plan, options) = (plan(&order), options(&[PartKind::JobCard]));
    let job = OrderPrint { order: &order, plan: &plan, folder: Path::new("."), options: &options };
    let files = job.files(&Cancel::new(), &|_| {}).unwrap();
    assert_eq!(names(&files), ["harbour-row-tee-m.pdf", "harbour-row-tee-m-2.pdf", "harbour-row-regatta-plan.pdf"]);
}

#[test]
fn a_print_that_is_stopped_gives_nothing() {
    let order = regatta();
    let (plan, options) = (plan(&order), options(&[PartKind::JobCard]));
    let job = OrderPrint { order: &order, plan: &plan, folder: Path::new("."), options: &options };
    let cancel = Cancel::new();
    let stop_after_the_first = |_: OrderProgress<'_>| cancel.cancel();
    assert_eq!(job.files(&cancel, &stop_after_the_first), Err(OrderPrintError::Cancelled));
    assert_eq!(job.files(&cancel, &|_| panic!("nothing is made any more")), Err(OrderPrintError::Cancelled));
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_pleatwright")).arg("plan").args(arguments).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn the_command_line_prints_all_or_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (order, sheets) = (regatta_path(), folder.path().join("sheets"));
    let order = order.to_str().unwrap();
    let print = ["--start", "2027-05-03T08:00", "--part", "job-card", "--print", sheets.to_str().unwrap()];
    let with = |more: &[&str]| run(&[&[order], &print[..], more].concat());
    let (status, said, progress) = with(&["--paper", "10x10"]);
    assert!(status == 2 && said.is_empty() && !sheets.exists(), "{said} {progress}");
    let (status, said, progress) = with(&["--units", "in"]);
    assert_eq!((status, progress.lines().count()), (0, 6), "{progress}");
    assert!(progress.contains("6 of 6: ") && said.contains("harbour-row-tote.pdf: job card 3 pages"), "{said}");
    assert_eq!(std::fs::read_dir(&sheets).unwrap().count(), 6);
    // A name that can't be written: the others stay as they were.
    std::fs::remove_file(sheets.join("harbour-row-tote.pdf")).unwrap();
    std::fs::create_dir(sheets.join("harbour-row-tote.pdf")).unwrap();
    let before = std::fs::read(sheets.join("harbour-row-tee-s.pdf")).unwrap();
    let (status, _, complaint) = with(&[]);
    assert!(status == 1 && complaint.contains("it is a folder"), "{complaint}");
    assert_eq!(std::fs::read(sheets.join("harbour-row-tee-s.pdf")).unwrap(), before);
    let (status, _, complaint) = run(&[order, "--start", "2027-05-03", "--pictures"]);
    assert!(status == 2 && complaint.contains("--print"), "{complaint}");
}
