//! Times as people say them, on a Monday morning: 23 November 2026 (the days of the week by Python's `calendar`).

use super::*;
use crate::telling::{Refused as _, Voice};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::RngSeed;

fn at(text: &str) -> DateTime {
    text.parse().unwrap()
}

fn said(text: &str) -> Result<DateTime, SaidTimeError> {
    said_time(text, at("2026-11-23T10:00"), Time::constant(20, 0, 0, 0))
}

#[test]
fn what_people_say_is_understood() {
    for (text, meant) in [
        ("Fri 5 pm", "2026-11-27T17:00"),
        ("fri 5pm", "2026-11-27T17:00"),
        ("5 p.m. on Friday", "2026-11-27T17:00"),
        ("friday 17:00", "2026-11-27T17:00"),
        ("by Friday, 17.30", "2026-11-27T17:30"),
        ("Friday", "2026-11-27T20:00"),
        ("this friday 17h30", "2026-11-27T17:30"),
        ("Thurs 1700", "2026-11-26T17:00"),
        ("weds at noon", "2026-11-25T12:00"),
        ("tomorrow 8", "2026-11-24T08:00"),
        ("8 tomorrow", "2026-11-24T08:00"),
        ("tomorrow 12 am", "2026-11-24T00:00"),
        ("tomorrow 12 pm", "2026-11-24T12:00"),
        ("today 18:00", "2026-11-23T18:00"),
        ("18:00", "2026-11-23T18:00"),
        ("day after tomorrow", "2026-11-25T20:00"),
        ("in 3 days", "2026-11-26T20:00"),
        ("in three days 9:15", "2026-11-26T09:15"),
        ("in a week", "2026-11-30T20:00"),
        ("in 5 hours", "2026-11-23T15:00"),
        ("in 90 min", "2026-11-23T11:30"),
        ("in 5h", "2026-11-23T15:00"),
        ("in 2 months", "2027-01-23T20:00"),
        ("27 Nov 17:00", "2026-11-27T17:00"),
        ("27th of November, 5 o'clock pm", "2026-11-27T17:00"),
        ("Nov 27", "2026-11-27T20:00"),
        ("27 Nov 1700", "2026-11-27T17:00"),
        ("Fri 27 Nov 2026 17:00", "2026-11-27T17:00"),
        // Over for this year.
        ("3 May 8:00", "2027-05-03T08:00"),
        // The next there is.
        ("29 Feb noon", "2028-02-29T12:00"),
        ("27/11 17:00", "2026-11-27T17:00"),
        ("11/27/2026 17:00", "2026-11-27T17:00"),
        ("12/12", "2026-12-12T20:00"),
        ("27.11.2026 17:00", "2026-11-27T17:00"),
        ("2026-11-27 17:00", "2026-11-27T17:00"),
        ("2026-11-27T17:00", "2026-11-27T17:00"),
        ("2026-11-27 5 pm", "2026-11-27T17:00"),
        ("2026-11-27", "2026-11-27T20:00"),
        // What has its year is taken at its word.
        ("2020-05-04 08:00", "2020-05-04T08:00"),
        ("4 May 2020", "2020-05-04T20:00"),
    ] {
        let read = said(text).unwrap_or_else(|error| panic!("{text}: {}", error.say(Voice::FILE)));
        assert_eq!(read, at(meant), "{text}");
    }
}

#[test]
fn what_can_be_meant_in_two_ways_is_refused_with_both() {
    for (text, both) in [
        ("tomorrow 5", ["Tue 24 Nov 2026 05:00", "Tue 24 Nov 2026 17:00"]),
        ("monday 17:00", ["Mon 23 Nov 2026 17:00", "Mon 30 Nov 2026 17:00"]),
        ("next friday 17:00", ["Fri 27 Nov 2026 17:00", "Fri 4 Dec 2026 17:00"]),
        ("next monday", ["Mon 30 Nov 2026 20:00", "Mon 7 Dec 2026 20:00"]),
        ("next friday 5", ["Fri 27 Nov 2026 05:00", "Fri 4 Dec 2026 17:00"]),
        ("monday 5", ["Mon 23 Nov 2026 17:00", "Mon 30 Nov 2026 05:00"]),
        ("fri midnight", ["Fri 27 Nov 2026 00:00", "Sat 28 Nov 2026 00:00"]),
        ("3/4 17:00", ["3 Apr", "4 Mar"]),
    ] {
        let words = said(text).expect_err(text).say(Voice::FILE);
        for one in both {
            assert!(words.contains(&format!("\"{one}\"")), "{text}: {words}");
            assert!(said(one).is_ok(), "what is offered is understood: {one}");
        }
    }
}

#[test]
fn what_is_past_or_not_understood_is_said() {
    for (text, words) in [
        ("today 8:00", "Mon 23 Nov 2026 08:00 is past; it is Mon 23 Nov 2026 10:00"),
        ("9:00", "Mon 23 Nov 2026 09:00 is past"),
        ("20 Nov", "Fri 20 Nov 2026 20:00 is past"),
        ("30 Feb", "Feb has no day 30"),
        ("31.11.2026", "Nov has no day 31"),
        ("Thu 27 Nov 2026", "Fri 27 Nov 2026 is not a Thursday"),
        ("", "not a day and time: \"\""),
        ("soon", "not a day and time: \"soon\"; give one such as \"Tue 24 Nov 2026 17:00\""),
        ("Fri 25:00", "not a day and time"),
        ("Fri 13 pm", "not a day and time"),
        ("Fri 17:60", "not a day and time"),
        ("in 99999999999999999999 days", "not a day and time"),
        ("in 9999999999 hours", "not a day and time"),
        ("-5", "not a day and time"),
        ("Friday Saturday", "not a day and time"),
        ("27 Nov 2026 17:00 18:00", "not a day and time"),
    ] {
        let told = said(text).expect_err(text).say(Voice::FILE);
        assert!(told.contains(words), "{text}: {told}");
    }
}

/// Of several readings, one that is not past alone is meant.
#[test]
fn what_is_past_is_not_meant() {
    for (text, meant) in [("5", "2026-11-23T17:00"), ("today 5", "2026-11-23T17:00"), ("midnight", "2026-11-24T00:00")] {
        assert_eq!(said(text), Ok(at(meant)), "{text}");
    }
}

/// Said on a weekday whose hour is over, that weekday is the next one.
#[test]
fn a_weekday_whose_hour_is_over_is_the_next() {
    assert_eq!(said("Mon 9:00"), Ok(at("2026-11-30T09:00")));
}

/// What the window writes is read back as it was, for every day of four years.
#[test]
fn a_time_in_full_is_read_back() {
    for day in 0..1461_i64 {
        let minutes = day * 1440 + day * 607 % 1440;
        let time = at("2026-11-24T00:00").checked_add(SignedDuration::from_mins(minutes)).unwrap();
        let written = time.strftime("%a %-d %b %Y %H:%M").to_string();
        assert_eq!(said(&written), Ok(time), "{written}");
    }
}

#[test]
fn working_hours_are_understood() {
    let read = |text: &str| {
        let hours = said_hours(text).unwrap_or_else(|error| panic!("{text}: {}", error.say(Voice::FILE)));
        hours.into_iter().map(|hours| format!("{}-{}", hours.from, hours.to)).collect::<Vec<_>>().join(" ")
    };
    for (text, meant) in [
        ("08:00 to 20:00", "08:00-20:00"),
        ("8-12:30, 13:30-19", "08:00-12:30 13:30-19:00"),
        ("9 am to 5 pm", "09:00-17:00"),
        ("9 to 5", "09:00-17:00"),
        ("6 to 12; 1 pm to midnight", "06:00-12:00 13:00-24:00"),
        ("8.00–12.00 and 14.00–18.00", "08:00-12:00 14:00-18:00"),
        ("20:00 to 24:00", "20:00-24:00"),
    ] {
        assert_eq!(read(text), meant, "{text}");
    }
    for text in ["", "all day", "8", "8 to", "to 8", "8 to 9 to 10", "8 to 25"] {
        let told = said_hours(text).expect_err(text).say(Voice::FILE);
        assert!(told.starts_with(&format!("not working hours: \"{text}\"")), "{told}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, rng_seed: RngSeed::Fixed(5), failure_persistence: None, ..ProptestConfig::default() })]

    /// Nothing that can be written brings it down, and what is taken without its year is never past.
    #[test]
    fn anything_at_all_is_read_or_refused(parts in proptest::collection::vec(select(PARTS.to_vec()), 0..7), spaced: bool) {
        let text = parts.join(if spaced { " " } else { "" });
        let _hours = said_hours(&text);
        match said(&text) {
            Ok(time) => prop_assert!(time > at("2026-11-23T10:00") || text.contains("2026"), "{}: {}", text, time),
            Err(error) => prop_assert!(!error.say(Voice::FILE).is_empty()),
        }
    }
}

const PARTS: [&str; 28] = [
    "in",
    "3",
    "days",
    "fri",
    "next",
    "5",
    "pm",
    "27",
    "nov",
    "2026",
    "17:00",
    "/",
    "-",
    ".",
    "9999999999",
    "a",
    "noon",
    "é",
    " ",
    "midnight",
    "hours",
    "today",
    "0",
    "31",
    "feb",
    ":",
    ",",
    "to",
];
