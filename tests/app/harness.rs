//! The window without a display, and what hands do in it, by the names of its controls.

use egui::accesskit::Role;
use egui::{ColorImage, ImageData, Key, Modifiers, Pos2, TexturesDelta, Vec2, vec2};
use egui_kittest::kittest::Queryable as _;
use egui_kittest::{Harness, TestRenderer};
use pleatwright::app::App;
use pleatwright::layout::Layout;
use pleatwright::store::parse_layout;
use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

/// The first example's name, which is also its card's on the welcome screen.
pub(crate) const TEE: &str = "Harbour Row tee, M";
/// Size of the window, points.
pub(crate) const SIZE: Vec2 = vec2(1280.0, 860.0);

pub(crate) type Window = Harness<'static, App>;

pub(crate) fn window(home: &Path) -> Window {
    window_with(home, None, SIZE)
}

/// A window whose small reveal is put away, unless this home has settings already: making reveals is most of a test's time.
pub(crate) fn window_with(home: &Path, file: Option<PathBuf>, size: Vec2) -> Window {
    made(home, size, move |ctx, home| App::new(ctx, home, file).following_at_once())
}

/// A window as a maker has it: a drag whose changes are slow is followed on another thread, so that a frame shows what is done by then.
pub(crate) fn window_that_follows(home: &Path) -> Window {
    made(home, SIZE, |ctx, home| App::new(ctx, home, None))
}

fn made(home: &Path, size: Vec2, app: impl FnOnce(&egui::Context, Option<PathBuf>) -> App + 'static) -> Window {
    let settings = home.join("settings.ron");
    if !settings.exists() {
        std::fs::write(settings, "(inset_hidden: true)").unwrap();
    }
    let home = home.to_owned();
    let mut window =
        Harness::builder().with_size(size).with_max_steps(60).build_eframe(move |creation| app(&creation.egui_ctx, Some(home)));
    window.run_ok();
    window
}

pub(crate) fn click(window: &mut Window, label: &str) {
    window.get_by_label(label).scroll_to_me();
    window.run_ok();
    window.get_by_label(label).click();
    window.run_ok();
}

/// Writes over what a field says.
pub(crate) fn fill(window: &mut Window, label: &str, text: &str) {
    window.get_by_label(label).scroll_to_me();
    window.run_ok();
    let field = |window: &Window| {
        let role = [Role::TextInput, Role::MultilineTextInput]
            .into_iter()
            .find(|role| window.query_by_role_and_label(*role, label).is_some());
        role.unwrap_or_else(|| panic!("no field {label}"))
    };
    let role = field(window);
    window.get_by_role_and_label(role, label).focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(role, label).type_text(text);
    window.run_ok();
}

/// Writes into a field and leaves it.
pub(crate) fn write(window: &mut Window, label: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, label).focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, label).type_text(text);
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
}

pub(crate) fn press(window: &mut Window, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run_ok();
}

/// The handle of the guide arc lies on the horizontal through the burst centre: what lies on that at other distances.
pub(crate) fn beside_centre(window: &Window, share: f32) -> Pos2 {
    let centre = window.get_by_label("Burst centre handle").rect().center();
    let guide = window.get_by_label("Guide arc handle").rect().center();
    centre + share * (guide - centre)
}

/// Presses, moves in eight steps, lets go.
pub(crate) fn drag(window: &mut Window, from: Pos2, by: Vec2) {
    window.hover_at(from);
    window.run_ok();
    window.drag_at(from);
    window.step();
    for step in 1..=8_u8 {
        window.hover_at(from + by * (f32::from(step) / 8.0));
        window.step();
    }
    window.drop_at(from + by);
    window.run_ok();
}

pub(crate) fn layout(window: &Window) -> Layout {
    parse_layout(&window.state().layout_text().expect("a layout is open")).unwrap()
}

/// Lets frames pass until something is so, for at most a minute.
pub(crate) fn wait(window: &mut Window, what: &str, is_so: impl Fn(&Window) -> bool) {
    for _ in 0..3000 {
        if is_so(window) {
            return;
        }
        window.run_ok();
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    panic!("{what} does not come");
}

/// Lets frames pass until the small reveal is fine, where it shows.
pub(crate) fn fine(window: &mut Window) {
    wait(window, "the fine reveal", |window| window.query_by_label_contains("coarse so far").is_none());
}

/// Gives a name in the dialog that asks for a file.
pub(crate) fn name_file(window: &mut Window, path: &Path) {
    let field = window.get_by_role_and_label(Role::TextInput, "File");
    field.focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, "File").type_text(path.to_str().unwrap());
    window.run_ok();
    press(window, Modifiers::NONE, Key::Enter);
}

/// The day of the tee, planned for a time to come.
pub(crate) fn planned_day(home: &Path) -> Window {
    let mut window = window(home);
    click(&mut window, TEE);
    click(&mut window, "View Day");
    write(&mut window, "Date and time", "2055-05-03 08:00");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    window
}

/// Keeps every picture that would be given to the screen.
#[derive(Default, Clone)]
pub(crate) struct Textures(Rc<RefCell<Vec<Arc<ColorImage>>>>);

impl TestRenderer for Textures {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        let images = delta.set.values().flatten().map(|delta| {
            let ImageData::Color(image) = &delta.image;
            image.clone()
        });
        self.0.borrow_mut().extend(images);
        delta.clear();
    }
}

impl Textures {
    /// Lets frames pass until a picture of that size comes, for at most half a minute: its bytes.
    pub(crate) fn next(&self, window: &mut Window, size: [usize; 2]) -> Vec<u8> {
        for _ in 0..1500 {
            let images = std::mem::take(&mut *self.0.borrow_mut());
            if let Some(image) = images.iter().find(|image| image.size == size) {
                return image.pixels.iter().flat_map(|pixel| pixel.to_array()).collect();
            }
            std::thread::sleep(std::time::Duration::from_millis(20));
            window.step();
        }
        panic!("no picture comes");
    }
}

/// A window whose pictures can be looked at.
pub(crate) fn window_and_textures(home: &Path) -> (Window, Textures) {
    // Only the pictures that a test asks for.
    std::fs::write(home.join("settings.ron"), "(inset_hidden: true)").unwrap();
    let (textures, home) = (Textures::default(), home.to_owned());
    let mut window: Window = Harness::builder()
        .with_size(SIZE)
        .with_max_steps(60)
        .renderer(textures.clone())
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(home), None));
    window.run_ok();
    (window, textures)
}
