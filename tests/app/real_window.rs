//! The program in a real window, driven by real pointer and key events through one job, beside a twin without a display that says
//! where things are and what must come out.

use crate::harness::{SIZE, Window, click, layout, press, window, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{GarmentKind, SpacingPreset};
use pleatwright::layout::{Figures, Layout};
use pleatwright::measure::RuleMarks;
use pleatwright::print::parts::{PartKind, PrintOptions, TemplateOptions, printed_files};
use pleatwright::print::{STANDARD_PAPERS, TilingOptions};
use pleatwright::store::preset_text;
use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// What the library prints of a layout on A4 with everything as usual.
pub(crate) fn printed(layout: &Layout, path: &Path) -> Vec<u8> {
    printed_on(STANDARD_PAPERS[0].name, layout, path)
}

/// The same on a paper of that name.
fn printed_on(paper: &str, layout: &Layout, path: &Path) -> Vec<u8> {
    let options = PrintOptions {
        paper: paper.parse().unwrap(),
        tiling: TilingOptions::default(),
        template: TemplateOptions { lengths: None, pounce_mm: None, creases: true },
    };
    let files = printed_files(layout, &Figures::of(layout), &PartKind::ALL, &options, path).unwrap();
    files.into_iter().next().unwrap().bytes
}

/// The program on a display, and the tool that moves its pointer and presses its keys.
struct Real {
    program: Child,
    home: PathBuf,
    /// How many times it was clicked.
    clicks: Cell<u32>,
}

fn xdotool(arguments: &[&str]) -> String {
    let output = Command::new("xdotool").args(arguments).output().expect("xdotool is installed");
    String::from_utf8_lossy(&output.stdout).trim().to_owned()
}

impl Real {
    fn start(home: &Path) -> Self {
        let program = Command::new(env!("CARGO_BIN_EXE_pleatwright"))
            .env("XDG_DATA_HOME", home)
            .env("LIBGL_ALWAYS_SOFTWARE", "1")
            .env_remove("WAYLAND_DISPLAY")
            .spawn()
            .unwrap();
        let begun = Instant::now();
        let window = loop {
            assert!(begun.elapsed() < Duration::from_secs(30), "the window does not come up");
            match xdotool(&["search", "--onlyvisible", "--name", "Pleatwright"]).lines().last() {
                Some(window) => break window.to_owned(),
                None => sleep(Duration::from_millis(20)),
            }
        };
        assert!(begun.elapsed() < Duration::from_secs(10), "the window is up after {} ms", begun.elapsed().as_millis());
        let real = Self { program, home: home.to_owned(), clicks: Cell::new(0) };
        real.rest();
        xdotool(&["windowmove", &window, "0", "0", "windowsize", &window, "1280", "860"]);
        xdotool(&["windowfocus", "--sync", &window]);
        real.rest();
        real
    }

    /// Waits until the program has answered: each of its threads sleeps, and has slept for a while.
    ///
    /// How long an answer takes is the machine's affair; a pause of a fixed length is too short on some.
    fn rest(&self) {
        let begun = Instant::now();
        let mut still = 0;
        while still < 10 {
            sleep(Duration::from_millis(20));
            still = if self.sleeps() { still + 1 } else { 0 };
            assert!(begun.elapsed() < Duration::from_secs(60), "the window does not come to rest");
        }
    }

    /// Whether no thread of the program runs or wants to.
    fn sleeps(&self) -> bool {
        std::fs::read_dir(format!("/proc/{}/task", self.program.id())).unwrap().flatten().all(|task| {
            std::fs::read_to_string(task.path().join("stat"))
                .is_ok_and(|stat| stat.rsplit_once(')').is_some_and(|(_, rest)| !rest.trim_start().starts_with(['R', 'D'])))
        })
    }

    fn pointer(at: Pos2) -> [String; 2] {
        [format!("{:.0}", at.x), format!("{:.0}", at.y)]
    }

    fn click(&self, at: Pos2) {
        self.clicks.set(self.clicks.get() + 1);
        let [x, y] = Self::pointer(at);
        xdotool(&["mousemove", &x, &y]);
        self.rest();
        xdotool(&["click", "1"]);
        self.rest();
    }

    fn drag(&self, from: Pos2, by: egui::Vec2) {
        let [x, y] = Self::pointer(from);
        xdotool(&["mousemove", &x, &y]);
        self.rest();
        xdotool(&["mousedown", "1"]);
        self.rest();
        for step in 1..=4_u8 {
            let [x, y] = Self::pointer(from + by * (f32::from(step) / 4.0));
            xdotool(&["mousemove", &x, &y]);
            self.rest();
        }
        xdotool(&["mouseup", "1"]);
        self.rest();
    }

    fn key(&self, keys: &str) {
        xdotool(&["key", keys]);
        self.rest();
    }

    fn type_text(&self, text: &str) {
        xdotool(&["type", "--delay", "15", text]);
        self.rest();
    }

    fn file(&self, name: &str) -> PathBuf {
        self.home.join(name)
    }

    /// Waits until a file is there and no longer grows.
    fn wait(&self, path: &Path) -> Vec<u8> {
        for _ in 0..400 {
            if let Ok(bytes) = std::fs::read(path)
                && !bytes.is_empty()
            {
                sleep(Duration::from_millis(100));
                return bytes;
            }
            sleep(Duration::from_millis(50));
        }
        let _shot = Command::new("import").args(["-window", "root", "target/real-window.png"]).status();
        panic!("{} does not come; target/real-window.png shows the window", path.display());
    }
}

impl Drop for Real {
    fn drop(&mut self) {
        let _gone = self.program.kill();
        let _waited = self.program.wait();
    }
}

/// The same deed in both windows.
struct Both {
    real: Real,
    twin: Window,
}

impl Both {
    fn click(&mut self, label: &str) {
        let at = self.twin.get_by_label(label).rect().center();
        self.real.click(at);
        click(&mut self.twin, label);
    }

    fn write(&mut self, label: &str, text: &str) {
        let at = self.twin.get_by_role_and_label(Role::TextInput, label).rect().center();
        self.real.click(at);
        self.real.key("ctrl+a");
        self.real.type_text(text);
        self.real.key("Return");
        write(&mut self.twin, label, text);
    }

    /// Chooses an entry of a list.
    fn choose(&mut self, label: &str, entry: &str) {
        let at = self.twin.get_by_role_and_label(Role::ComboBox, label).rect().center();
        self.real.click(at);
        self.twin.get_by_role_and_label(Role::ComboBox, label).click();
        self.twin.run_ok();
        let at = self.twin.get_by_role_and_label(Role::Button, entry).rect().center();
        self.real.click(at);
        self.twin.get_by_role_and_label(Role::Button, entry).click();
        self.twin.run_ok();
    }

    /// Does what the finder finds by these letters.
    fn find(&mut self, letters: &str) {
        self.real.key("ctrl+k");
        self.real.type_text(letters);
        self.real.key("Return");
        press(&mut self.twin, Modifiers::COMMAND, Key::K);
        self.twin.get_by_role_and_label(Role::TextInput, "Find a command").type_text(letters);
        self.twin.run_ok();
        press(&mut self.twin, Modifiers::NONE, Key::Enter);
    }

    /// Keeps the spacing under a name: by the finder, then in the dialog.
    fn keep_preset(&mut self, name: &str) {
        self.find("save spacing");
        let field = self.twin.get_by_role_and_label(Role::TextInput, "Name").rect().center();
        self.real.click(field);
        self.real.type_text(name);
        self.twin.get_by_role_and_label(Role::TextInput, "Name").focus();
        self.twin.run_ok();
        self.twin.get_by_role_and_label(Role::TextInput, "Name").type_text(name);
        self.twin.run_ok();
        self.click("Save");
    }

    /// Answers the dialog that asks for a file: in the real window with a file of its own, in the twin it is closed.
    fn name_file(&mut self, keys: (&str, Key), path: &Path) {
        self.real.key(keys.0);
        self.real.key("ctrl+a");
        self.real.type_text(path.to_str().unwrap());
        self.real.key("Return");
        press(&mut self.twin, Modifiers::COMMAND, keys.1);
        press(&mut self.twin, Modifiers::NONE, Key::Escape);
    }
}

/// A new tee, its centre moved, its spacing changed and kept as a preset, the layout saved, the sheets printed; then the program is
/// killed with work unsaved, and takes it up again.
#[test]
#[ignore = "needs a display and xdotool: .ci/run has them"]
fn one_job_in_a_real_window() {
    let (real_home, twin_home) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    // Without the small reveal, which the hooded top's job has: its solving would be most of the time.
    std::fs::create_dir(real_home.path().join("pleatwright")).unwrap();
    std::fs::write(real_home.path().join("pleatwright/settings.ron"), "(inset_hidden: true)").unwrap();
    let mut both = Both { real: Real::start(real_home.path()), twin: window(twin_home.path()) };
    assert_eq!(both.twin.ctx.content_rect().size(), SIZE);
    both.click("Start with a crew-neck tee");
    both.click("View Fold");
    let centre = both.twin.get_by_label("Burst centre handle").rect().center().round();
    both.real.drag(centre, vec2(0.0, 60.0));
    crate::harness::drag(&mut both.twin, centre, vec2(0.0, 60.0));
    both.click("View Binds");
    both.write("Binds", "12");
    both.keep_preset("Regatta");
    let (layout_path, pdf_path) = (both.real.file("shirt.ron"), both.real.file("shirt.pdf"));
    both.name_file(("ctrl+s", Key::S), &layout_path);
    let saved = both.real.wait(&layout_path);
    assert_eq!(Some(String::from_utf8(saved).unwrap()), both.twin.state().layout_text());
    let laid = layout(&both.twin);
    assert!(
        (laid.burst().unwrap().centre().y - laid.burst().unwrap().centre().y.round()).abs() < 1e-9
            && laid.burst().unwrap().centre().x == 0.0
    );

    let kept = std::fs::read_dir(both.real.file("pleatwright/presets")).unwrap().flatten().next().unwrap().path();
    let preset = SpacingPreset::of("Regatta".to_owned(), String::new(), laid.guide_mm(), &laid.raw().binds);
    assert_eq!(std::fs::read_to_string(kept).unwrap(), preset_text(&preset));

    both.name_file(("ctrl+p", Key::P), &pdf_path);
    assert_eq!(both.real.wait(&pdf_path), printed(&laid, &pdf_path));

    // Killed with a change that no file holds, it offers it at the next start.
    both.click("View Fold");
    both.write("Guide arc", "201");
    sleep(Duration::from_millis(7000));
    let Both { real, mut twin } = both;
    drop(real);
    let again = Real::start(real_home.path());
    let mut offering = offering(&real_home.path().join("pleatwright"));
    again.click(offering.get_by_label("Recover").rect().center());
    click(&mut offering, "Recover");
    let taken = again.file("taken.ron");
    again.key("ctrl+shift+s");
    again.key("ctrl+a");
    again.type_text(taken.to_str().unwrap());
    again.key("Return");
    let text = String::from_utf8(again.wait(&taken)).unwrap();
    twin.run_ok();
    assert_eq!(Some(text), twin.state().layout_text());
}

/// From the start to a template of one's own: a hooded top of size 12 in inches, measured, with twelve binds and three colours by their
/// names, on Letter paper. In fewer than twenty clicks, and nothing is refused.
#[test]
#[ignore = "needs a display and xdotool: .ci/run has them"]
fn a_hooded_top_in_inches_in_a_real_window() {
    let (real_home, twin_home) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut both = Both { real: Real::start(real_home.path()), twin: twin(twin_home.path()) };
    both.find("inches");
    both.click(&format!("Start with {}", GarmentKind::HoodedTop));
    both.choose("Size", "child 12");
    both.write("Half chest", "16 1/4");
    both.write("Length", "23 1/2");
    both.click("View Binds");
    both.write("Binds", "12");
    both.click("View Colours");
    for (dye, name, digits) in [(1, "navy", "#000080"), (2, "dark red", "#8b0000"), (3, "gold", "#ffd700")] {
        both.click(&format!("Dye {dye}: colour"));
        both.write("Name or digits", name);
        both.real.key("Escape");
        press(&mut both.twin, Modifiers::NONE, Key::Escape);
        assert_eq!(layout(&both.twin).raw().colours.rotation[dye - 1].srgb.to_string(), digits);
    }
    both.click("View Sheets");
    both.choose("Paper", "Letter");
    let (layout_path, pdf_path) = (both.real.file("hood.ron"), both.real.file("hood.pdf"));
    both.name_file(("ctrl+s", Key::S), &layout_path);
    let saved = String::from_utf8(both.real.wait(&layout_path)).unwrap();
    assert_eq!(Some(&saved), both.twin.state().layout_text().as_ref());
    let laid = layout(&both.twin);
    assert_eq!((laid.binds().binds.len(), laid.name()), (12, "Hooded top, 12"));
    assert_eq!(laid.marks(), RuleMarks::InchSixteenth);
    both.name_file(("ctrl+p", Key::P), &pdf_path);
    assert_eq!(both.real.wait(&pdf_path), printed_on("Letter", &laid, &pdf_path));
    assert!(both.twin.query_by_label("!").is_none(), "nothing is refused");
    assert!(both.real.clicks.get() < 20, "{} clicks", both.real.clicks.get());
}

/// A twin that shows what the program shows at its first start, the small reveal too.
fn twin(home: &Path) -> Window {
    std::fs::write(home.join("settings.ron"), "(inset_hidden: false)").unwrap();
    window(home)
}

/// A twin of the program as it starts beside the same unsaved work, which it must not take away from the real one.
fn offering(home: &Path) -> Window {
    let copy = tempfile::tempdir().unwrap().keep();
    std::fs::create_dir(copy.join("unsaved")).unwrap();
    for folder in ["unsaved", "."] {
        for entry in std::fs::read_dir(home.join(folder)).unwrap().flatten().filter(|entry| entry.path().is_file()) {
            std::fs::copy(entry.path(), copy.join(folder).join(entry.file_name())).unwrap();
        }
    }
    window(&copy)
}
