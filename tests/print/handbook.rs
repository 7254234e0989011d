//! The handbook as a maker uses it: every command in it is run, what it says of the command line is held to the program, and its PDF is read
//! back by a reader that shares no code with the writer.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::pdf_reader;
use lopdf::{Dictionary, Document, Object, ObjectId};
use pdf_reader::PdfFile;
use pleatwright::handbook::{Block, Link, Page, book, page, pages};
use pleatwright::print::Paper;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// The lines of a page's shell blocks.
fn commands(name: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/handbook/pages").join(format!("{name}.md"));
    let text = fs::read_to_string(path).unwrap();
    let blocks = text.split("```sh\n").skip(1).filter_map(|rest| rest.split("```").next());
    blocks.flat_map(str::lines).map(str::to_owned).collect()
}

/// A command's words, as a shell would part them: by spaces outside double quotes.
fn words(command: &str) -> Vec<String> {
    let (mut words, mut quoted) = (vec![String::new()], false);
    for letter in command.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            letter => words.last_mut().unwrap().push(letter),
        }
    }
    words
}

fn run(folder: &Path, command: &str) -> Output {
    let words = words(command);
    assert_eq!(words[0], "pleatwright", "{command}");
    Command::new(env!("CARGO_BIN_EXE_pleatwright"))
        .args(&words[1..])
        .current_dir(folder)
        .env("HOME", folder)
        .env("XDG_DATA_HOME", folder.join("data"))
        // 2027-01-15: before every day that is planned here.
        .env("SOURCE_DATE_EPOCH", "1800000000")
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let (path, name) = (entry.path(), entry.file_name());
        if path.is_dir() { copy_folder(&path, &to.join(name)) } else { fs::copy(&path, to.join(name)).map(drop).unwrap() }
    }
}

/// The layout that pages speak of, as the page on the command line begins it.
const SHIRT: &str = "pleatwright new -o shirt.ron ";

/// Each page's commands in their order, in a folder of their own with nothing but the examples and the shirt.
#[test]
fn every_command_does_what_it_says() {
    let begins = commands("command-line").into_iter().find(|command| command.starts_with(SHIRT)).unwrap();
    let mut seen = 0;
    for page in pages() {
        let folder = tempfile::tempdir().unwrap();
        copy_folder(&Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts"), &folder.path().join("layouts"));
        assert!(run(folder.path(), &begins).status.success());
        for command in commands(page.name()) {
            let output = run(folder.path(), &command);
            let (said, wrong) = (text(&output.stdout), text(&output.stderr));
            assert_eq!(output.status.code(), Some(0), "{}: {command}\n{said}{wrong}", page.name());
            assert!(!said.is_empty(), "{}: {command} says nothing", page.name());
            let words = words(&command);
            if let Some(at) = words.iter().position(|word| word == "-o" || word == "--print") {
                assert!(folder.path().join(&words[at + 1]).exists(), "{}: {command} made nothing", page.name());
            }
            seen += 1;
        }
    }
    assert!(seen > 25, "{seen}");
}

/// The commands in a table are those of the program, no more and no fewer.
#[test]
fn every_command_of_the_program_is_listed() {
    let help = text(&run(Path::new("."), "pleatwright --help").stdout);
    let listed = help.split("Commands:\n").nth(1).and_then(|rest| rest.split("\n\n").next()).unwrap();
    let own = listed.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let own: BTreeSet<String> = own.filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect();
    let rows = page("command-line").unwrap().blocks().iter().find_map(|block| match block {
        Block::Table { rows, .. } => Some(rows),
        _ => None,
    });
    let mut told: BTreeSet<String> = rows.unwrap().iter().map(|row| row[0][0].text.clone()).collect();
    told.insert("help".to_owned());
    assert_eq!(told, own);
}

/// 2 for wrong input, 1 for a failed write, as the page says.
#[test]
fn exit_statuses_are_as_told() {
    let folder = tempfile::tempdir().unwrap();
    let status = |command: &str| run(folder.path(), command).status.code();
    assert_eq!(status("pleatwright check none.ron"), Some(2));
    assert_eq!(status("pleatwright new -o none/shirt.ron"), Some(1));
    assert_eq!(status("pleatwright handbook --page none"), Some(2));
    assert_eq!(status("pleatwright handbook -o book.txt"), Some(2));
    assert_eq!(status("pleatwright handbook -o book.pdf --paper roll:610"), Some(2));
    assert_eq!(status("pleatwright handbook --search zeppelin"), Some(2));
}

#[test]
fn pages_are_listed_shown_and_found() {
    let folder = tempfile::tempdir().unwrap();
    let said = |command: &str| text(&run(folder.path(), command).stdout);
    let list = said("pleatwright handbook");
    assert!(pages().iter().all(|page| list.contains(page.title()) && list.contains(page.name())), "{list}");
    assert!(said("pleatwright handbook --page burst").starts_with("The burst\n=========\n"));
    let found = said("pleatwright handbook --search \"second layer\"");
    assert!(found.contains("warnings-colour: Warnings: colours and reveal, Second layer of ice"), "{found}");
    let unknown = text(&run(folder.path(), "pleatwright handbook --page brust").stderr);
    assert!(unknown.contains("--page brust: not a page of the handbook; choose start, window"), "{unknown}");
}

/// Where a link annotation leads: the page's object; none to an address.
fn leads_to(file: &Document, annotation: &Dictionary) -> Option<ObjectId> {
    let resolve = |object: &Object| match object {
        Object::Reference(id) => file.get_object(*id).unwrap().clone(),
        object => object.clone(),
    };
    let dest = annotation.get(b"Dest").ok().map(resolve).or_else(|| {
        let action = annotation.get(b"A").ok().map(resolve)?;
        action.as_dict().unwrap().get(b"D").ok().map(resolve)
    })?;
    Some(dest.as_array().unwrap()[0].as_reference().unwrap())
}

/// The links of a file, by the place of the page that they stand on and of the one that they lead to.
fn links(bytes: &[u8]) -> Vec<(usize, usize)> {
    let file = Document::load_mem(bytes).unwrap();
    let ids: Vec<ObjectId> = file.get_pages().into_values().collect();
    let mut links = Vec::new();
    for (from, id) in ids.iter().enumerate() {
        for annotation in file.get_page_annotations(*id).unwrap() {
            assert_eq!(annotation.get(b"Subtype").unwrap().as_name().unwrap(), b"Link");
            let to = leads_to(&file, annotation).unwrap();
            links.push((from, ids.iter().position(|id| *id == to).unwrap()));
        }
    }
    links
}

/// The pages that a page leads to.
fn linked_pages(page: &Page) -> BTreeSet<&str> {
    let mut names = BTreeSet::new();
    let mut blocks: Vec<&Block> = page.blocks().iter().collect();
    while let Some(block) = blocks.pop() {
        let runs: Vec<_> = match block {
            Block::Heading { runs, .. } | Block::Paragraph(runs) | Block::Quote(runs) | Block::Figure { caption: runs, .. } => {
                runs.iter().collect()
            }
            Block::List { items, .. } => {
                blocks.extend(items.iter().flatten());
                continue;
            }
            Block::Table { head, rows } => head.iter().chain(rows.iter().flatten()).flatten().collect(),
            Block::Code(_) => continue,
        };
        names.extend(runs.into_iter().filter_map(|run| match &run.link {
            Some(Link::Page { name, .. }) => Some(name.as_str()),
            _ => None,
        }));
    }
    names
}

/// The names of the fonts in a file, without the six letters of a font that is cut down to what is used (ISO 32000-1, 9.6.4).
fn fonts(bytes: &[u8]) -> BTreeSet<String> {
    let file = Document::load_mem(bytes).unwrap();
    let dictionaries = file.objects.values().filter_map(|object| object.as_dict().ok());
    let names = dictionaries.filter_map(|dictionary| dictionary.get(b"BaseFont").ok()?.as_name().ok());
    names.map(|name| text(name).split('+').next_back().unwrap().to_owned()).collect()
}

#[test]
fn the_pdf_has_every_page_its_number_and_its_links() {
    let paper: Paper = "Letter".parse().unwrap();
    let bytes = book(&paper).unwrap();
    assert_eq!(bytes, book(&paper).unwrap(), "the same program writes the same bytes");
    let file = PdfFile::read(&bytes);
    assert_eq!(file.title.as_deref(), Some("Pleatwright handbook"));
    let expected = ["Roboto-Regular", "Roboto-Bold", "Roboto-Italic", "Hack-Regular"];
    assert_eq!(fonts(&bytes), expected.map(str::to_owned).into());
    let numbers: Vec<String> = (1..=file.pages.len()).map(|number| number.to_string()).collect();
    assert_eq!(file.labels, numbers);
    for page in &file.pages {
        assert!((page.media_box[2] - 612.0).abs() < 0.01 && (page.media_box[3] - 792.0).abs() < 0.01, "{:?}", page.media_box);
    }
    // Pages of several sheets have their numbers below their titles.
    let titles: Vec<&str> = file.bookmarks.iter().map(String::as_str).filter(|title| title.parse::<u32>().is_err()).collect();
    let expected: Vec<&str> = ["Title", "Contents"].into_iter().chain(pages().iter().map(Page::title)).collect();
    assert_eq!(titles, expected);
    let links = links(&bytes);
    let first = links.iter().map(|(_, to)| *to).min().unwrap();
    let from_contents: Vec<usize> = links.iter().filter(|(from, _)| *from < first).map(|(_, to)| *to).collect();
    assert_eq!(from_contents.len(), pages().len(), "the contents lead to every page");
    assert!(from_contents.is_sorted() && from_contents.windows(2).all(|pair| pair[0] < pair[1]));
    for (at, page) in pages().iter().enumerate() {
        let own = from_contents[at]..from_contents.get(at + 1).copied().unwrap_or(file.pages.len());
        for name in linked_pages(page) {
            let to = pages().iter().position(|page| page.name() == name).unwrap();
            let sheets = from_contents[to]..from_contents.get(to + 1).copied().unwrap_or(file.pages.len());
            let is_linked = links.iter().any(|(from, to)| own.contains(from) && sheets.contains(to));
            assert!(
                is_linked,
                "{} leads to {name} in its source, and in the PDF {own:?} does not lead to {sheets:?}",
                page.name()
            );
        }
    }
}
