//! The day that the window suggests: today, unless a picture or a test wants it fixed.

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// Names a fixed time in seconds since 1970 that programs take for now, so that what they make can be made again alike (published: the
/// `SOURCE_DATE_EPOCH` specification of the Reproducible Builds project, 1.1).
const FIXED: &str = "SOURCE_DATE_EPOCH";

/// Today by the system's clock and zone, or the fixed day. Only for what is suggested: a run's clock is never fixed.
pub(super) fn today() -> Date {
    fixed(std::env::var(FIXED).ok().as_deref()).unwrap_or_else(|| ZonedDateTime::now().date())
}

/// The day, in universal time, that a fixed time names; none for what is no time.
fn fixed(seconds: Option<&str>) -> Option<Date> {
    let time = Timestamp::from_second(seconds?.trim().parse().ok()?).ok()?;
    Some(TimeZone::UTC.to_datetime(time).date())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 800 000 000 s are 2027-01-15 08:00 in universal time (GNU date -u -d @1800000000).
    #[test]
    fn a_fixed_time_names_its_day_and_anything_else_none() {
        assert_eq!(fixed(Some("1800000000")), Some(jiff::civil::date(2027, 1, 15)));
        for wrong in [None, Some(""), Some("tomorrow"), Some("1e9"), Some("99999999999999999")] {
            assert_eq!(fixed(wrong), None, "{wrong:?}");
        }
    }
}
