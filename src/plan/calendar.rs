//! The timetable as an iCalendar file (RFC 5545).
//!
//! Written here rather than by a library: the form needed is a hundred lines, and a reader of another hand can then judge it.
//! The same plan gives the same bytes: identifiers come from the names of order, load and step, so that a calendar that reads a
//! corrected plan moves its entries in place of doubling them; the stamp comes from the plan's begin unless it is given.

use super::{Entry, Plan, Stretch};
use crate::measure::counted;
use jiff::civil::DateTime;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Longest content line, octets without its end: RFC 5545, 3.1.
const LINE_OCTETS: usize = 75;

/// The plan as an iCalendar file: an event with a reminder for every stretch of hands-on work. Times are floating: what the clock on
/// the wall shows, wherever it is read. `stamp` is written as the time of making (UTC); none for the plan's begin.
#[must_use]
pub fn calendar_text(plan: &Plan, stamp: Option<DateTime>) -> String {
    let mut writer = Writer::default();
    writer.line("BEGIN:VCALENDAR");
    writer.line("VERSION:2.0");
    writer.line("PRODID:-//Pleatwright//Plan 1//EN");
    writer.line("CALSCALE:GREGORIAN");
    writer.line("METHOD:PUBLISH");
    let stamp = basic(stamp.unwrap_or(plan.timeline.begins)) + "Z";
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    for entry in &plan.timeline.entries {
        for (index, &stretch) in entry.stretches.iter().enumerate() {
            // Two processes may have a step done once of the same name.
            let wanted = uid_name(plan, entry, index);
            let twins = names.entry(wanted.clone()).or_default();
            *twins += 1;
            let uid = if *twins == 1 { wanted } else { format!("{wanted}-{twins}") };
            let event = Event { entry, index, stretch, uid, stamp: &stamp };
            event.write(plan, &mut writer);
        }
    }
    writer.line("END:VCALENDAR");
    writer.text
}

/// A stretch of hands-on work as an event.
struct Event<'a> {
    entry: &'a Entry,
    /// Which of the entry's stretches.
    index: usize,
    stretch: Stretch,
    uid: String,
    stamp: &'a str,
}

impl Event<'_> {
    fn write(&self, plan: &Plan, writer: &mut Writer) {
        let (entry, stretch) = (self.entry, self.stretch);
        writer.line("BEGIN:VEVENT");
        writer.line(&format!("UID:{}@pleatwright", self.uid));
        writer.line(&format!("DTSTAMP:{}", self.stamp));
        writer.line(&format!("DTSTART:{}", basic(stretch.from)));
        // RFC 5545, 3.8.2.2: an end is later than its start.
        if stretch.to > stretch.from {
            writer.line(&format!("DTEND:{}", basic(stretch.to)));
        }
        let summary = escaped(&summary(entry, self.index));
        writer.line(&format!("SUMMARY:{summary}"));
        writer.line(&format!("DESCRIPTION:{}", escaped(&description(plan, entry))));
        if let Some(place) = entry.place {
            writer.line(&format!("LOCATION:{}", escaped(place.name())));
        }
        writer.line("BEGIN:VALARM");
        writer.line("ACTION:DISPLAY");
        writer.line("TRIGGER:-PT5M");
        writer.line(&format!("DESCRIPTION:{summary}"));
        writer.line("END:VALARM");
        writer.line("END:VEVENT");
    }
}

fn summary(entry: &Entry, index: usize) -> String {
    let load = entry.load.map_or_else(String::new, |load| format!("Load {load}: "));
    let part = if entry.stretches.len() > 1 { format!(" ({} of {})", index + 1, entry.stretches.len()) } else { String::new() };
    let garments = counted(entry.garments, "garment");
    format!("{load}{}, {garments}{part}", entry.title)
}

fn description(plan: &Plan, entry: &Entry) -> String {
    let marks = entry.marks().map_or_else(String::new, |marks| format!("\n! {marks}"));
    let mut text = format!("{}{marks}\n{}", plan.name, entry.what);
    for needs in entry.needs_words() {
        let _written = write!(text, "\n{needs}");
    }
    if let Some(wait) = entry.wait_words() {
        let _written = write!(text, "\n{wait}");
    }
    for caution in &entry.cautions {
        let _written = write!(text, "\n! {}", caution.text);
    }
    text
}

/// A name that stays the same when the plan is made again: order, load, step and stretch.
fn uid_name(plan: &Plan, entry: &Entry, index: usize) -> String {
    let load = entry.load.map_or_else(|| "once".to_owned(), |load| format!("load-{load}"));
    format!("{}.{load}.{}.{}", plain(&plan.name), plain(&entry.step), index + 1)
}

/// Letters and digits of a name, the rest as hyphens or, beyond ASCII, as numbers, so that different names stay different.
fn plain(name: &str) -> String {
    let mut text = String::new();
    for c in name.chars() {
        match c {
            'a'..='z' | '0'..='9' => text.push(c),
            'A'..='Z' => text.push(c.to_ascii_lowercase()),
            ' ' => text.push('-'),
            other => {
                let _written = write!(text, "_{:x}_", u32::from(other));
            }
        }
    }
    text
}

/// A time in the basic form of RFC 5545, 3.3.5.
fn basic(time: DateTime) -> String {
    time.strftime("%Y%m%dT%H%M%S").to_string()
}

/// A text with backslash, semicolon, comma and line ends escaped (RFC 5545, 3.3.11), and other controls left out.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

#[derive(Default)]
struct Writer {
    text: String,
}

impl Writer {
    /// Writes a content line, folded so that none is longer than 75 octets and no character is cut.
    fn line(&mut self, content: &str) {
        let mut octets = 0;
        for c in content.chars() {
            if octets + c.len_utf8() > LINE_OCTETS {
                self.text.push_str("\r\n ");
                octets = 1;
            }
            self.text.push(c);
            octets += c.len_utf8();
        }
        self.text.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(seeded(31, 256))]

        /// RFC 5545, 3.1: lines of at most 75 octets, and taking the folds out gives the text back.
        #[test]
        fn folding_is_undone_by_unfolding(text in "[a-z ü€🧵]{0,300}") {
            let mut writer = Writer::default();
            writer.line(&text);
            let lines: Vec<&str> = writer.text.split("\r\n").collect();
            prop_assert!(lines.iter().all(|line| line.len() <= 75));
            prop_assert_eq!(writer.text.replace("\r\n ", ""), text + "\r\n");
        }
    }

    #[test]
    fn texts_are_escaped() {
        assert_eq!(escaped("a, b; c\\d\ne\r\t"), "a\\, b\\; c\\\\d\\ne");
        assert_ne!(plain("a b"), plain("a_b"));
    }
}
