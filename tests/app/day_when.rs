//! When the day is: said in words, clicked in a month, within working hours; and where the run is started.

use crate::harness::{SIZE, TEE, Window, click, fill, planned_day, press, wait, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use jiff::civil::{DateTime, Time};
use jiff::{ToSpan as _, ZonedDateTime};
use pleatwright::plan::said_time;

fn at_day(home: &std::path::Path, size: Vec2) -> Window {
    let mut window = window_with(home, None, size);
    window.get_by_label(TEE).scroll_to_me();
    window.run_ok();
    click(&mut window, TEE);
    click(&mut window, "View Day");
    window
}

/// What the field says of when.
fn when(window: &Window) -> String {
    window.get_by_role_and_label(Role::TextInput, "Date and time").accesskit_node().value().unwrap_or_default()
}

fn shown(time: DateTime) -> String {
    time.strftime("%a %-d %b %Y %H:%M").to_string()
}

/// What people say of a time is understood; what it was taken for is written out.
#[test]
fn a_time_is_said_in_words() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    let tomorrow = ZonedDateTime::now().date().tomorrow().unwrap();
    write(&mut window, "Date and time", "tomorrow 9");
    assert_eq!(when(&window), shown(tomorrow.to_datetime(Time::constant(9, 0, 0, 0))));
    write(&mut window, "Date and time", "in 3 days");
    let day = tomorrow.checked_add(2.days()).unwrap();
    assert_eq!(when(&window), shown(day.to_datetime(Time::constant(8, 0, 0, 0))), "at the beginning of the working hours");
    click(&mut window, "Finish by");
    write(&mut window, "Date and time", "in 4 days");
    let day = day.tomorrow().unwrap();
    assert_eq!(when(&window), shown(day.to_datetime(Time::constant(20, 0, 0, 0))), "at their end");
    let name = day.tomorrow().unwrap().strftime("%A").to_string();
    write(&mut window, "Date and time", &format!("{name} 5 pm"));
    let said = said_time(&format!("{name} 17:00"), ZonedDateTime::now().datetime(), Time::MIN).unwrap();
    assert_eq!(when(&window), shown(said));
}

/// What can be meant in two ways, or is past, is said, and stays written.
#[test]
fn a_doubtful_time_is_said_and_stays() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    for (text, words) in [
        ("next friday 17:00", "This can be meant in two ways; give \"Fri "),
        ("tomorrow 5", "05:00\" or \""),
        ("soon", "Not a day and time: \"soon\"; give one such as"),
        ("today 0:00", "is past; it is "),
    ] {
        fill(&mut window, "Date and time", text);
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert!(window.query_by_label_contains(words).is_some(), "{text}");
        assert_eq!(when(&window), text);
    }
}

/// A day of the week said on that day is today or in a week: once a refusal, and no way but to write it anew.
#[test]
fn the_readings_of_a_doubtful_time_are_clicked() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    let today = ZonedDateTime::now().date();
    let [now, later] =
        [today, today.checked_add(7.days()).unwrap()].map(|day| shown(day.to_datetime(Time::constant(23, 59, 0, 0))));
    let said = today.strftime("%A 23:59").to_string();
    for (words, meant) in [(format!("Mean in a week, {later}"), &later), (format!("Mean today, {now}"), &now)] {
        fill(&mut window, "Date and time", &said);
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert_eq!(when(&window), said, "it stays while it is asked");
        click(&mut window, &words);
        assert_eq!(when(&window), *meant);
        assert!(window.query_by_label_contains("can be meant in").is_none() && window.query_by_label(&words).is_none());
    }
}

/// Where a deadline's earlier reading can't be met, the later is meant, and said to be.
#[test]
fn the_only_deadline_that_can_be_met_is_taken() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    click(&mut window, "Finish by");
    let today = ZonedDateTime::now().date();
    let [now, later] =
        [today, today.checked_add(7.days()).unwrap()].map(|day| shown(day.to_datetime(Time::constant(23, 59, 0, 0))));
    fill(&mut window, "Date and time", &today.strftime("%A 23:59").to_string());
    press(&mut window, Modifiers::NONE, Key::Enter);
    wait(&mut window, "the reading", |window| window.query_by_label_contains("Taken as ").is_some());
    assert_eq!(when(&window), later);
    assert!(window.query_by_label_contains(&format!("Taken as {later}: {now} can't be met, the earliest finish is ")).is_some());
    wait(&mut window, "its plan", |window| {
        window.query_by_label("Shopping list").is_some() && window.query_by_label_contains("The deadline can't be met").is_none()
    });
}

#[test]
fn a_day_is_clicked_in_the_calendar() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    write(&mut window, "Date and time", "tomorrow 9");
    click(&mut window, "Calendar");
    click(&mut window, "Later month");
    let next = ZonedDateTime::now().date().tomorrow().unwrap().checked_add(1.month()).unwrap().first_of_month();
    let day = next.checked_add(14.days()).unwrap();
    click(&mut window, &day.strftime("%A %-d %B %Y").to_string());
    assert_eq!(when(&window), shown(day.to_datetime(Time::constant(9, 0, 0, 0))), "the hour stays");
    assert!(window.query_by_label("Later month").is_none(), "it is put away");
}

/// Working hours and days off are kept for the next start, and planned by.
#[test]
fn working_hours_and_days_off_are_set() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = at_day(home.path(), SIZE);
        write(&mut window, "Date and time", "2055-05-03 08:00");
        write(&mut window, "Working hours", "9 to 12:30, 1 pm to 5 pm");
        click(&mut window, "Sunday off");
        wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
        click(&mut window, "Times");
        wait(&mut window, "the hours", |window| window.query_by_label_contains("Monday 3 May, 09:00 to").is_some());
        write(&mut window, "Working hours", "9 to 8:30, all day");
        assert!(window.query_by_label_contains("Not working hours: \"9 to 8:30, all day\"").is_some());
    }
    let kept = std::fs::read_to_string(home.path().join("workshop.ron")).unwrap();
    assert!(kept.contains("13:00") && kept.contains("17:00") && kept.contains("Sunday"), "{kept}");
    let window = at_day(home.path(), SIZE);
    let hours = window.get_by_role_and_label(Role::TextInput, "Working hours").accesskit_node().value();
    assert_eq!(hours.as_deref(), Some("09:00 to 12:30, 13:00 to 17:00"));
}

/// Where a deadline can't be met, the earliest that can is one press away.
#[test]
fn the_earliest_finish_is_offered() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_day(home.path(), SIZE);
    click(&mut window, "Finish by");
    write(&mut window, "Date and time", "in 2 hours");
    wait(&mut window, "the offer", |window| window.query_by_label_contains("Take the earliest finish, ").is_some());
    window.get_by_label_contains("Take the earliest finish, ").click();
    window.run_ok();
    wait(&mut window, "a plan in time", |window| {
        window.query_by_label_contains("can't be met").is_none() && window.query_by_label("Shopping list").is_some()
    });
}

/// What begins the run used to lie below the workshop's fields, out of sight.
#[test]
fn the_run_is_started_without_scrolling() {
    for size in [SIZE, vec2(760.0, 520.0)] {
        let home = tempfile::tempdir().unwrap();
        let window = at_day(home.path(), size);
        let button = window.get_by_label("Start the run").rect();
        assert!(Rect::from_min_size(egui::Pos2::ZERO, size).contains_rect(button), "{size:?}: {button:?}");
    }
}

/// What can be done before its time is said in the words of the rest.
#[test]
fn a_step_before_its_time_can_start_now() {
    let home = tempfile::tempdir().unwrap();
    let mut window = planned_day(home.path());
    click(&mut window, "Start the run");
    assert!(window.query_all_by_label_contains("; can start now").next().is_some());
}
