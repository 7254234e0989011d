//! What time it is for whatever is planned or suggested: the system's, unless a picture or a test wants it fixed.

use crate::plan::WallClock;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// Names a fixed time in seconds since 1970 that programs take for now, so that what they make can be made again alike (published: the
/// `SOURCE_DATE_EPOCH` specification of the Reproducible Builds project, 1.1).
const FIXED: &str = "SOURCE_DATE_EPOCH";

/// The minute that a clock shows now, or at the fixed time. Only for what is planned: a run's clock is never fixed.
#[must_use]
pub fn planning_time(clock: &WallClock) -> DateTime {
    let shown = clock.shows(fixed_time().unwrap_or_else(Timestamp::now));
    shown.with().second(0).subsec_nanosecond(0).build().unwrap_or(shown)
}

/// Today by the system's clock and zone, or the fixed day in universal time. Only for what is suggested or noted.
#[must_use]
pub fn today() -> Date {
    fixed_time().map_or_else(|| ZonedDateTime::now().date(), |time| TimeZone::UTC.to_datetime(time).date())
}

/// The fixed time, if there is one.
#[must_use]
pub fn fixed_time() -> Option<Timestamp> {
    fixed(std::env::var(FIXED).ok().as_deref())
}

/// The time that a text names; none for what is no time.
fn fixed(seconds: Option<&str>) -> Option<Timestamp> {
    Timestamp::from_second(seconds?.trim().parse().ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 800 000 000 s are 2027-01-15 08:00 in universal time (GNU date -u -d @1800000000).
    #[test]
    fn a_fixed_time_is_read_and_anything_else_is_none() {
        assert_eq!(fixed(Some("1800000000")), "2027-01-15T08:00:00Z".parse().ok());
        for wrong in [None, Some(""), Some("tomorrow"), Some("1e9"), Some("99999999999999999")] {
            assert_eq!(fixed(wrong), None, "{wrong:?}");
        }
    }
}
