//! The run calls when a wait ends: once, by a bell on its own thread and a banner in every view, until it is acknowledged.

use crate::day_run::{as_planned_until, long_ago, order, run};
use crate::harness::{SIZE, Window, click, wait};
use egui::{ViewportCommand, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use jiff::civil::DateTime;
use jiff::{SignedDuration, ZonedDateTime};
use pleatwright::app::{App, Ring};
use pleatwright::plan::{AlarmKind, Run};
use pleatwright::store::{EXAMPLE_LAYOUTS, read_run, save_run};
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// A bell that keeps what it was rung for.
#[derive(Clone, Default)]
struct Heard(Arc<Mutex<Vec<String>>>);

impl Ring for Heard {
    fn ring(&mut self, sentences: &[String]) {
        assert_eq!(std::thread::current().name(), Some("alarm"), "not on the window's thread");
        self.0.lock().unwrap().extend(sentences.iter().cloned());
    }
}

impl Heard {
    fn all(&self) -> Vec<String> {
        self.0.lock().unwrap().clone()
    }
}

/// A bell that breaks.
struct Broken;

impl Ring for Broken {
    fn ring(&mut self, _sentences: &[String]) {
        panic!("no sound, no notification");
    }
}

fn now() -> DateTime {
    ZonedDateTime::now().datetime()
}

/// A run whose soak of 20 minutes ends so many seconds from now; the soak's number.
pub(crate) fn soaking(ends_in_s: i64) -> (Run, u32) {
    let mut run = run(&order(1), long_ago());
    as_planned_until(&mut run, "soda ash soak");
    let soak = run.steps().find(|step| step.name == "soda ash soak").unwrap().number;
    let done = SignedDuration::from_secs(ends_in_s) - SignedDuration::from_mins(20);
    run.finish(soak, now().checked_add(done).unwrap()).unwrap();
    (run, soak)
}

fn window(home: &Path, ring: impl Ring + 'static) -> Window {
    let (folder, file) = (home.to_owned(), home.join("tee.ron"));
    std::fs::write(&file, EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window: Window = Harness::builder()
        .with_size(SIZE)
        .with_max_steps(60)
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(folder), Some(file)).ringing(ring, &creation.egui_ctx));
    window.run_ok();
    window
}

const BANNER: &str = "soda ash soak, load 1: the wait is over. Next: spin, load 1 by";

/// When a wait was over nothing once called: one had to look at the run.
#[test]
fn a_wait_that_ends_calls_in_every_view_until_it_is_acknowledged() {
    let home = tempfile::tempdir().unwrap();
    let (run, soak) = soaking(20);
    save_run(&home.path().join("run.ron"), &run).unwrap();
    let heard = Heard::default();
    let mut window = window(home.path(), heard.clone());
    assert!(heard.all().is_empty() && window.query_by_label_contains(BANNER).is_none());
    // No frame is drawn meanwhile: the bell keeps its own time.
    for _ in 0..400 {
        std::thread::sleep(Duration::from_millis(100));
        if !heard.all().is_empty() {
            break;
        }
    }
    assert!(matches!(&heard.all()[..], [one] if one.starts_with(BANNER)), "{:?}", heard.all());
    let mut asked = false;
    for _ in 0..10 {
        window.step();
        let commands = &window.output().viewport_output[&ViewportId::ROOT].commands;
        asked |= commands.iter().any(|command| matches!(command, ViewportCommand::RequestUserAttention(_)));
    }
    assert!(asked, "the window asks for attention");
    for view in ["View Binds", "View Journal", "View Garment"] {
        click(&mut window, view);
        assert!(window.query_by_label_contains(BANNER).is_some(), "{view}");
    }
    click(&mut window, "Open the run");
    assert_eq!(window.query_all_by_label_contains(BANNER).count(), 1, "the run's view has it, once");
    click(&mut window, "OK: soda ash soak, load 1");
    assert!(window.query_by_label_contains(BANNER).is_none());
    assert_eq!(heard.all().len(), 1, "once");
    drop(window);
    let kept = read_run(&home.path().join("run.ron")).unwrap();
    assert!(!kept.alarms().iter().any(|alarm| alarm.step == soak && alarm.kind == AlarmKind::Ready));
    // After a restart what was heard is not rung again.
    let again = Heard::default();
    let window = self::window(home.path(), again.clone());
    std::thread::sleep(Duration::from_millis(300));
    assert!(again.all().is_empty() && window.query_by_label_contains(BANNER).is_none());
}

/// A wait that ended while the program was closed calls when it is opened; a bell that breaks is no error to the maker.
#[test]
fn a_broken_bell_harms_nothing() {
    let home = tempfile::tempdir().unwrap();
    save_run(&home.path().join("run.ron"), &soaking(-30).0).unwrap();
    let mut window = window(home.path(), Broken);
    std::thread::sleep(Duration::from_millis(300));
    window.run_ok();
    assert!(window.query_by_label_contains(BANNER).is_some());
    click(&mut window, "View Fold");
    click(&mut window, "OK: soda ash soak, load 1");
    assert!(window.query_by_label_contains(BANNER).is_none());
}

#[test]
fn the_alarm_is_turned_off_and_stays_off() {
    let home = tempfile::tempdir().unwrap();
    save_run(&home.path().join("run.ron"), &soaking(3600).0).unwrap();
    let heard = Heard::default();
    let mut window = window(home.path(), heard.clone());
    click(&mut window, "View Day");
    click(&mut window, "Run");
    click(&mut window, "Alarm by sound and notification");
    drop(window);
    save_run(&home.path().join("run.ron"), &soaking(-5).0).unwrap();
    let mut window = self::window(home.path(), heard.clone());
    std::thread::sleep(Duration::from_millis(300));
    window.run_ok();
    assert!(window.query_by_label_contains(BANNER).is_some(), "what is seen stays");
    assert!(heard.all().is_empty());
    click(&mut window, "Open the run");
    click(&mut window, "Alarm by sound and notification");
    wait(&mut window, "the bell", |_| heard.all().len() == 1);
}
