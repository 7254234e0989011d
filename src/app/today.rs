//! The day that the window suggests: today, unless a picture or a test wants it fixed.

use crate::store::fixed_time;
use jiff::ZonedDateTime;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Today by the system's clock and zone, or the fixed day in universal time. Only for what is suggested: a run's clock is never fixed.
pub(super) fn today() -> Date {
    fixed_time().map_or_else(|| ZonedDateTime::now().date(), |time| TimeZone::UTC.to_datetime(time).date())
}
