//! How long a frame of the window takes, update and painting as triangles (the graphics card's work excluded): percentiles over a
//! drag of the burst centre on a tee with thirty binds, also with the reveal made beside it, a drag of a bind, a pointer that moves
//! over the cloth, and a drag of one of sixty points of a line with thirty binds.
//!
//! Percentiles are what a hand feels, so this bench counts frames itself, sixty a second as a screen asks for them: what other threads do
//! between frames is done between these too.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a bench that fails should stop, and tells its figures")]

#[path = "parts/sixty_points.rs"]
mod sixty_points;

use egui::{Event, Key, Modifiers, PointerButton, Pos2, RawInput, Rect, pos2, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::app::App;
use pleatwright::layout::Layout;
use pleatwright::store::{EXAMPLE_LAYOUTS, layout_text, parse_layout};
use sixty_points::{even, sixty_points};
use std::time::{Duration, Instant};

const FRAMES: u16 = 600;
const FRAME: Duration = Duration::from_nanos(16_666_667);
const SIZE: egui::Vec2 = vec2(1280.0, 860.0);

/// The tee with thirty binds.
fn thirty_binds() -> Layout {
    let mut raw = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
    (raw.binds.inward, raw.binds.outward) = (even(17, 14.0), even(12, 20.0));
    let layout = Layout::try_from(raw).unwrap();
    assert_eq!(layout.binds().binds.len(), 30);
    layout
}

struct Window {
    ctx: egui::Context,
    app: App,
    time: f64,
}

impl Window {
    fn new(layout: &Layout) -> Self {
        let (_folder, path) = file(layout);
        let ctx = egui::Context::default();
        let app = App::new(&ctx, None, Some(path));
        Self { ctx, app, time: 0.0 }
    }

    /// One frame with these events: its time.
    fn frame(&mut self, events: Vec<Event>) -> Duration {
        self.time += FRAME.as_secs_f64();
        let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, SIZE));
        let input = RawInput { screen_rect, time: Some(self.time), events, ..RawInput::default() };
        let begun = Instant::now();
        let output = self.ctx.run_ui(input, |ui| self.app.show(ui));
        let meshes = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        let taken = begun.elapsed();
        assert!(!meshes.is_empty());
        std::thread::sleep(FRAME.saturating_sub(taken));
        taken
    }

    /// Frames with the pointer on a small circle about a place, the button held or not.
    fn circle(&mut self, at: Pos2, held: bool) -> Vec<Duration> {
        for _ in 0..30 {
            self.frame(vec![Event::PointerMoved(at)]);
        }
        if held {
            self.frame(vec![button(at, true)]);
        }
        let frame = |turn: u16| {
            let angle = f32::from(turn) * 0.11;
            self.frame(vec![Event::PointerMoved(at + 22.0 * vec2(angle.cos() - 1.0, angle.sin()))])
        };
        let times = (0..FRAMES).map(frame).collect();
        self.frame(vec![button(at, false)]);
        times
    }
}

fn key(key: Key) -> Event {
    Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::ALT }
}

fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

fn tell(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |share: usize| times[(times.len() * share / 100).min(times.len() - 1)].as_secs_f64() * 1e3;
    let max = times.last().unwrap().as_secs_f64() * 1e3;
    println!("{what:<44} median {:6.2} ms   99th {:6.2} ms   longest {max:6.2} ms", at(50), at(99));
}

fn main() {
    if std::env::args().any(|argument| argument == "point") {
        return drag_a_point();
    }
    let layout = thirty_binds();
    let centre = handle(&layout, &[], "Burst centre handle");
    let begun = Instant::now();
    let mut window = Window::new(&layout);
    window.frame(Vec::new());
    println!("{:<44} {:13.2} ms", "from nothing to the first frame", begun.elapsed().as_secs_f64() * 1e3);
    let before = window.app.layout_text();
    tell("drag of the burst centre, 30 binds", window.circle(centre, true));
    assert_ne!(window.app.layout_text(), before, "the centre was moved");
    // In Burst the reveal is made anew on another thread, and its picture shows over the cloth.
    window.frame(vec![key(Key::Num2)]);
    let before = window.app.layout_text();
    tell("the same, with the reveal in view", window.circle(centre, true));
    assert_ne!(window.app.layout_text(), before, "the centre was moved");
    window.frame(vec![key(Key::Num1)]);
    let before = window.app.layout_text();
    // To the right of the centre, by about the guide arc's radius.
    let bind = centre + vec2(174.0, 0.0);
    tell("drag about a ring", window.circle(bind, true));
    println!("    {}", if window.app.layout_text() == before { "(the table moved)" } else { "(a bind moved)" });
    tell("pointer over the cloth", window.circle(pos2(640.0, 500.0), false));
    let rests = (0..FRAMES).map(|_| window.frame(Vec::new())).collect();
    tell("frame without an event", rests);
    drag_a_point();
}

fn drag_a_point() {
    let layout = sixty_points();
    let point = handle(&layout, &[Key::Num2], "Point 17 of the line");
    let mut window = Window::new(&layout);
    window.frame(vec![key(Key::Num2)]);
    let before = window.app.layout_text();
    tell("drag of one of 60 points, 30 binds", window.circle(point, true));
    assert_ne!(window.app.layout_text(), before, "the point was moved");
}

/// Where a handle shows in a window of this size once some keys are pressed.
fn handle(layout: &Layout, keys: &[Key], label: &str) -> Pos2 {
    let (folder, path) = file(layout);
    let mut harness = egui_kittest::Harness::builder()
        .with_size(SIZE)
        .with_max_steps(60)
        .build_eframe(move |creation| App::new(&creation.egui_ctx, None, Some(path)));
    harness.run_ok();
    for key in keys {
        harness.key_press_modifiers(Modifiers::ALT, *key);
        harness.run_ok();
    }
    drop(folder);
    harness.get_by_label(label).rect().center()
}

fn file(layout: &Layout) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    std::fs::write(&path, layout_text(layout.raw())).unwrap();
    (folder, path)
}
