//! The readme as a newcomer follows it: every command in its order, in one folder, with nothing but what the commands before made and what
//! the text says that the maker has.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const README: &str = include_str!("../../README.md");

/// The lines of the readme's shell blocks that run the program, without their remarks.
fn commands() -> Vec<&'static str> {
    let blocks = README.split("```sh\n").skip(1).filter_map(|rest| rest.split("```").next());
    let lines = blocks.flat_map(str::lines).filter(|line| line.starts_with("pleatwright "));
    lines.map(|line| line.split("  #").next().unwrap().trim_end()).collect()
}

/// A command's words, as a shell would part them: by spaces outside double quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
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
    Command::new(env!("CARGO_BIN_EXE_pleatwright"))
        .args(&words[1..])
        .current_dir(folder)
        .env("HOME", folder)
        .env("XDG_DATA_HOME", folder.join("data"))
        .output()
        .unwrap()
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let (path, name) = (entry.path(), entry.file_name());
        if path.is_dir() {
            copy_folder(&path, &to.join(name));
        } else {
            fs::copy(&path, to.join(name)).unwrap();
        }
    }
}

/// The maker's photograph.
fn photograph(path: &Path) {
    image::RgbImage::from_pixel(64, 48, image::Rgb([90, 40, 90])).save(path).unwrap();
}

/// What `new` says of the layout that one of them makes.
fn of_new(command: &str) -> &'static str {
    match command {
        _ if command.contains("heart.ron") => "Crew-neck tee, M\", 13 binds",
        _ if command.contains("star.ron") => "Flat cloth, bandana\", 12 binds",
        _ if command.contains("buoy.ron") => "Crew-neck tee, M\", 12 binds",
        _ if command.contains("hem.ron") => "Crew-neck tee, M\", 20 binds",
        _ if command.contains("chevrons.ron") => "Long-sleeve tee, L\", 9 binds",
        _ if command.contains("spokes.ron") => "Flat cloth, bandana\", 13 binds",
        _ if command.contains("wound.ron") => "Flat cloth, bandana\", 0 binds",
        _ if command.contains("tiles.ron") => "Tote bag, medium\", 0 binds",
        _ if command.contains("spiral.ron") => "Crew-neck tee, L\", 4 bands",
        _ if command.contains("smock.ron") => "front taken as the whole garment, back taken as the whole garment: 700 mm wide",
        _ => "Crew-neck tee, L\", 16 binds",
    }
}

/// Two of its commands used to fail as they stood.
#[test]
fn every_command_of_the_readme_does_what_it_says() {
    let folder = tempfile::tempdir().unwrap();
    copy_folder(&Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts"), &folder.path().join("layouts"));
    photograph(&folder.path().join("front.jpg"));
    let commands = commands();
    assert!(commands.len() >= 20, "{commands:?}");
    for command in &commands {
        let output = run(folder.path(), command);
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        let (said, wrong) = (text(&output.stdout), text(&output.stderr));
        assert_eq!(output.status.code(), Some(0), "{command}\n{said}{wrong}");
        assert!(!said.is_empty(), "{command} says nothing");
        let words = words(command);
        if let Some(at) = words.iter().position(|word| word == "-o") {
            let made = folder.path().join(&words[at + 1]);
            let page = if words[1] == "testcloth" { "what-to-do.pdf" } else { "pleatwright-print.1" };
            let page = if made.is_dir() { made.join(page) } else { made };
            assert!(fs::metadata(&page).is_ok_and(|file| file.len() > 100), "{command} made no {}", page.display());
            assert!(said.contains(&words[at + 1]), "{command} says {said}");
        }
        let expected = match (words[1].as_str(), words.get(2).map(String::as_str)) {
            ("new", _) => of_new(command),
            ("check", _) => "no problems",
            ("print", _) => "job card 1 page",
            ("reveal", _) => "estimate",
            ("wish", _) => "An estimate: ",
            ("figures", _) => " in",
            ("plan", Some("layouts/orders/harbour-row-regatta.ron")) => "harbour-row-tee-m.pdf",
            ("plan", Some("--list")) => "powder-under-ice",
            ("plan", Some("shirt.ron")) => "2027-05-03 08:00 to 2027-05-07",
            ("journal", Some("add")) => "-crew-neck-tee-l: added in",
            ("journal", Some("again")) => "To change: one bind more round the heart",
            ("journal", Some("search")) => "2027-05-06-crew-neck-tee-l",
            ("journal", Some("compare")) => "made: 2027-05-06",
            ("journal", Some("export")) => "plain: 2 entries",
            ("shelf", Some("set")) => &words[3],
            ("shelf", _) => "2 items in ",
            ("bundle", _) => "with 1 spacing preset",
            ("handbook", _) => "the handbook, ",
            ("testcloth", _) => "what to do and how to photograph",
            ("handout", _) => "2 pages on Letter",
            ("completions", _) => "completions for bash",
            ("man", _) => "pages; read with man -l man/pleatwright.1",
            ("spacing", Some("list")) => "Tight heart",
            ("spacing", Some("apply")) => "18 binds instead of 16",
            ("spacing", Some("save")) => "spacing preset \"Regatta\"",
            _ => panic!("nothing is expected of {command}"),
        };
        assert!(said.contains(expected), "{command} says\n{said}");
    }
}

/// Files that it shows or links are there.
#[test]
fn every_picture_and_link_of_the_readme_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let targets = README.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let mut seen = 0;
    for target in targets.filter(|target| !target.starts_with("http") && !target.starts_with('#')) {
        assert!(root.join(target).is_file(), "{target}");
        seen += 1;
    }
    assert!(seen > 15, "{seen}");
}

/// The refusal that it quotes is the program's own.
#[test]
fn the_quoted_refusal_is_what_the_program_says() {
    let quoted = README.split("```text\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let quoted = quoted.split_whitespace().collect::<Vec<_>>().join(" ");
    let folder = tempfile::tempdir().unwrap();
    let new = commands().into_iter().find(|command| command.starts_with("pleatwright new -o shirt.ron")).unwrap();
    assert!(run(folder.path(), new).status.success());
    let path = folder.path().join("shirt.ron");
    let text = fs::read_to_string(&path).unwrap();
    let at = text.find("neck_width_mm: ").unwrap() + "neck_width_mm: ".len();
    let end = at + text[at..].find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap();
    fs::write(&path, format!("{}415.0{}", &text[..at], &text[end..])).unwrap();
    let output = run(folder.path(), "pleatwright check shirt.ron");
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(&quoted), "{quoted}\nand not\n{said}");
}
