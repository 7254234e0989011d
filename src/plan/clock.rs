//! The clock on the wall: what it shows when, and where it is put forward or back within a plan.
//!
//! Waits are true lengths of time: a rest of 24 hours over the night in which summer time ends is over at an earlier time of the clock
//! than the day before. So times are civil at the edges, and minutes are counted between instants.

use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::civil::DateTime;
use jiff::tz::{Offset, TimeZone};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;

/// The clock of a place: a time zone of the IANA tz database, or one that is never changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WallClock {
    zone: TimeZone,
}

/// A time zone that is not known.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct ZoneError {
    /// The name given.
    pub name: String,
}

displayed_as_in_files!(ZoneError);

impl Refused for ZoneError {
    fn told(&self, _voice: Voice) -> Told {
        Told::new(format!("not a time zone: \"{}\"", self.name), "give a name such as \"Europe/Berlin\" or \"America/New_York\"")
    }
}

/// The clock being put forward or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct ClockChange {
    /// What it shows when that is done.
    pub at: DateTime,
    /// By how much it is put forward, min; negative where it is put back.
    pub forward_min: i64,
}

impl From<TimeZone> for WallClock {
    fn from(zone: TimeZone) -> Self {
        Self { zone }
    }
}

impl Default for WallClock {
    fn default() -> Self {
        Self::unchanged()
    }
}

impl WallClock {
    /// A clock that is never put forward or back.
    #[must_use]
    pub const fn unchanged() -> Self {
        Self { zone: TimeZone::UTC }
    }

    /// The clock of a zone, by its name in the IANA tz database.
    ///
    /// # Errors
    /// [`ZoneError`].
    pub fn of_zone(name: &str) -> Result<Self, ZoneError> {
        let unknown = |_reason: jiff::Error| ZoneError { name: name.to_owned() };
        TimeZone::get(name).map(|zone| Self { zone }).map_err(unknown)
    }

    /// The zone's name; none for a clock that is never changed.
    #[must_use]
    pub fn zone_name(&self) -> Option<&str> {
        self.zone.iana_name().filter(|_| self.zone != TimeZone::UTC)
    }

    /// When the clock shows a time. Of an hour that comes twice, the first; a time that is left out counts as so much later. Times at
    /// the ends of the calendar are the first and last that there are.
    #[must_use]
    pub fn instant(&self, shown: DateTime) -> Timestamp {
        self.zone.to_timestamp(shown).unwrap_or(if shown < DateTime::ZERO { Timestamp::MIN } else { Timestamp::MAX })
    }

    /// The same, but of an hour that comes twice the second where the first lies before `least`.
    #[must_use]
    pub fn instant_from(&self, shown: DateTime, least: Timestamp) -> Timestamp {
        let first = self.instant(shown);
        if first >= least {
            return first;
        }
        self.zone.to_ambiguous_timestamp(shown).later().map_or(first, |second| second.max(first))
    }

    /// What the clock shows at an instant.
    #[must_use]
    pub fn shows(&self, instant: Timestamp) -> DateTime {
        self.zone.to_datetime(instant)
    }

    /// Whole minutes that pass between two times of the clock; none where one lies beyond the calendar.
    #[must_use]
    pub fn minutes(&self, from: DateTime, to: DateTime) -> Option<i64> {
        let instant = |time| self.zone.to_timestamp(time).ok();
        Some(instant(from)?.duration_until(instant(to)?).as_mins())
    }

    /// What the clock shows so many minutes after it showed a time; none beyond the calendar.
    #[must_use]
    pub fn after(&self, from: DateTime, minutes: i64) -> Option<DateTime> {
        let seconds = minutes.checked_mul(60)?;
        let instant = self.zone.to_timestamp(from).ok()?.checked_add(SignedDuration::from_secs(seconds)).ok()?;
        Some(self.shows(instant))
    }

    /// Where it is put forward or back between two of its times.
    #[must_use]
    pub fn changes(&self, from: DateTime, to: DateTime) -> Vec<ClockChange> {
        let (from, to) = (self.instant(from), self.instant(to));
        let mut before = self.zone.to_offset(from);
        let mut changes = Vec::new();
        for transition in self.zone.following(from).take_while(|transition| transition.timestamp() <= to) {
            let (at, after): (Timestamp, Offset) = (transition.timestamp(), transition.offset());
            let forward_min = i64::from(after.seconds() - before.seconds()) / 60;
            if forward_min != 0 {
                changes.push(ClockChange { at: before.to_datetime(at), forward_min });
            }
            before = after;
        }
        changes
    }
}

impl ClockChange {
    /// In words: `the clock is put back 1 h on Sunday 25 October 2026 at 03:00`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let way = if self.forward_min < 0 { "back" } else { "forward" };
        let by = super::duration(self.forward_min.abs());
        format!("the clock is put {way} {by} on {}", self.at.strftime("%A %-d %B %Y at %H:%M"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn time(text: &str) -> DateTime {
        text.parse().unwrap()
    }

    /// IANA tz database, zones Europe/Berlin and `America/New_York`: 25 October 2026, 03:00 CEST becomes 02:00 CET; 28 March 2027, 02:00
    /// CET becomes 03:00 CEST; 1 November 2026, 02:00 EDT becomes 01:00 EST; 14 March 2027, 02:00 EST becomes 03:00 EDT.
    #[test]
    fn changes_are_those_of_the_tz_database() {
        for (zone, from, to, at, forward_min) in [
            ("Europe/Berlin", "2026-10-24T12:00", "2026-10-26T12:00", "2026-10-25T03:00", -60),
            ("Europe/Berlin", "2027-03-27T12:00", "2027-03-29T12:00", "2027-03-28T02:00", 60),
            ("America/New_York", "2026-10-31T12:00", "2026-11-02T12:00", "2026-11-01T02:00", -60),
            ("America/New_York", "2027-03-13T12:00", "2027-03-15T12:00", "2027-03-14T02:00", 60),
        ] {
            let clock = WallClock::of_zone(zone).unwrap();
            assert_eq!(clock.changes(time(from), time(to)), [ClockChange { at: time(at), forward_min }], "{zone}");
            // From noon to noon: 25 hours in autumn, 23 in spring, either way.
            let day = time(from).date();
            let noon = |days: i64| day.checked_add(jiff::Span::new().days(days)).unwrap().at(12, 0, 0, 0);
            assert_eq!(clock.minutes(noon(0), noon(1)), Some(24 * 60 - forward_min), "{zone}");
            assert_eq!(clock.after(noon(0), 24 * 60 - forward_min), Some(noon(1)), "{zone}");
        }
        assert_eq!(WallClock::unchanged().changes(time("2026-01-01T00:00"), time("2027-01-01T00:00")), []);
        assert!(WallClock::of_zone("Harbour/Row").unwrap_err().to_string().contains("Harbour/Row"));
    }

    #[test]
    fn an_hour_that_comes_twice_is_told_by_what_went_before() {
        let clock = WallClock::of_zone("Europe/Berlin").unwrap();
        let (late, early) = (time("2026-10-25T02:40"), time("2026-10-25T02:10"));
        let first = clock.instant(late);
        assert_eq!(first.to_string(), "2026-10-25T00:40:00Z");
        assert_eq!(clock.instant_from(early, first).to_string(), "2026-10-25T01:10:00Z");
        assert_eq!(clock.instant_from(early, Timestamp::MIN).to_string(), "2026-10-25T00:10:00Z");
        // Half past two does not come in spring: it counts as half past three.
        assert_eq!(clock.shows(clock.instant(time("2027-03-28T02:30"))), time("2027-03-28T03:30"));
        // At the calendar's ends nothing panics.
        assert_eq!((clock.minutes(DateTime::MIN, DateTime::MAX), clock.after(DateTime::MAX, 1)), (None, None));
        assert_eq!(clock.instant(DateTime::MAX), Timestamp::MAX);
    }
}
