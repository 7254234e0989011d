//! When a run has to call the maker: a wait is over, its limit runs out, its limit has passed.

use super::checked::number;
use super::{Acknowledged, AlarmKind, Run, RunError};
use crate::plan::WallClock;
use jiff::civil::DateTime;
use jiff::{SignedDuration, Timestamp};

/// An alarm of a wait that goes on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alarm {
    /// The step whose wait it is.
    pub step: u32,
    /// What it calls for.
    pub kind: AlarmKind,
    /// When, by the run's clock.
    pub instant: Timestamp,
    /// What that clock shows then.
    pub at: DateTime,
    /// The step's name, with its load.
    pub title: String,
    /// The step that goes on with it, by its name; none after the last.
    pub then: Option<String>,
    /// When the wait has lasted too long; none where longer does no harm.
    pub latest: Option<DateTime>,
}

/// How long before a limit it is warned of: a fifth of the longest wait, but within these, min. Own choice: time to put on gloves and
/// mask, and not so early that it is forgotten again.
const WARNED_BEFORE_MIN: std::ops::RangeInclusive<u32> = 1..=15;

impl Alarm {
    /// What to do, in a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let clock = |time: DateTime| {
            let form = if time.date() == self.at.date() { "%H:%M" } else { "%A %-d %B, %H:%M" };
            time.strftime(form).to_string()
        };
        let Self { title, then, .. } = self;
        let by = |word: &str| self.latest.map_or_else(String::new, |latest| format!(" {word} {}", clock(latest)));
        match (self.kind, then) {
            (AlarmKind::Ready, Some(then)) => format!("{title}: the wait is over. Next: {then}{}.", by("by")),
            (AlarmKind::Ready, None) => format!("{title}: the wait is over."),
            (AlarmKind::Closing, Some(then)) => format!("{title}: its time runs out. Start {then}{}.", by("by")),
            (AlarmKind::Closing, None) => format!("{title}: its time runs out{}.", by("at")),
            (AlarmKind::Overdue, Some(then)) => format!("{title}: too long{}. Start {then} now.", by("since")),
            (AlarmKind::Overdue, None) => format!("{title}: too long{}.", by("since")),
        }
    }
}

impl Run {
    /// The alarms of all waits that go on, past and to come, by time; those that were acknowledged are not among them. A wait without a
    /// least has nothing to be ready for.
    #[must_use]
    pub fn alarms(&self) -> Vec<Alarm> {
        let mut alarms: Vec<Alarm> = (0..self.states.len()).flat_map(|index| self.alarms_of(index)).collect();
        alarms.retain(|alarm| !self.is_acknowledged(alarm.step, alarm.kind));
        alarms.sort_by_key(|alarm| (alarm.instant, alarm.step, alarm.kind));
        alarms
    }

    /// The alarms that stand at a time of the run's clock: for each wait the gravest alone.
    #[must_use]
    pub fn standing_alarms(&self, at: DateTime) -> Vec<Alarm> {
        self.standing_of(&self.alarms(), at)
    }

    /// The same of alarms that were made before, as [`Run::alarms`] makes them: they change with the ticks alone.
    #[must_use]
    pub fn standing_of(&self, alarms: &[Alarm], at: DateTime) -> Vec<Alarm> {
        let at = self.instant(at);
        let mut standing: Vec<Alarm> = Vec::new();
        for alarm in alarms.iter().filter(|alarm| alarm.instant <= at) {
            standing.retain(|earlier| earlier.step != alarm.step);
            standing.push(alarm.clone());
        }
        standing
    }

    /// When an alarm calls in truth: by the run's own zone, or by the clock `here` where the run names none, as [`Run::shown`] does.
    #[must_use]
    pub fn calls_at(&self, alarm: &Alarm, here: &WallClock) -> Timestamp {
        if self.raw.zone.is_some() { alarm.instant } else { here.instant(alarm.at) }
    }

    /// Notes that an alarm was acknowledged, and with it those of the same wait that came before.
    ///
    /// # Errors
    /// [`RunError::NoStep`].
    pub fn acknowledge(&mut self, step: u32, kind: AlarmKind) -> Result<(), RunError> {
        self.index(step)?;
        for alarm in [AlarmKind::Ready, AlarmKind::Closing, AlarmKind::Overdue].into_iter().filter(|earlier| *earlier <= kind) {
            if !self.is_acknowledged(step, alarm) {
                self.raw.acknowledged.push(Acknowledged { step, alarm });
            }
        }
        Ok(())
    }

    fn is_acknowledged(&self, step: u32, kind: AlarmKind) -> bool {
        self.raw.acknowledged.contains(&Acknowledged { step, alarm: kind })
    }

    /// Forgets what was acknowledged of waits that do not go on any more: they may begin anew.
    pub(super) fn forget_acknowledged(&mut self) {
        let kept = |known: &Acknowledged| self.index(known.step).is_ok_and(|index| self.finished(index).is_some());
        let kept: Vec<Acknowledged> = self.raw.acknowledged.iter().copied().filter(kept).collect();
        self.raw.acknowledged = kept;
    }

    fn alarms_of(&self, index: usize) -> Vec<Alarm> {
        let (Some(wait), Some(ready)) = (self.kind(index).wait, self.ready(index)) else { return Vec::new() };
        if self.ended(index).is_some() || self.is_needed_begun(index) {
            return Vec::new();
        }
        let latest = self.latest(index);
        let is_waited_for = wait.least_min > 0;
        let alarm = |kind, instant| Alarm {
            step: number(index),
            kind,
            instant,
            at: self.clock.shows(instant),
            title: self.title(index),
            then: self.taken_on_by(index).map(|then| self.title(then)),
            latest: latest.map(|latest| self.clock.shows(latest)),
        };
        let mut alarms = Vec::new();
        if is_waited_for {
            alarms.push(alarm(AlarmKind::Ready, ready));
        }
        if let Some((latest, most_min)) = latest.zip(wait.most_min) {
            let before_min = (most_min / 5).clamp(*WARNED_BEFORE_MIN.start(), *WARNED_BEFORE_MIN.end());
            let closing = latest.checked_sub(SignedDuration::from_mins(i64::from(before_min))).unwrap_or(latest);
            // What is ready so late says by when it has to go on.
            if closing > ready || !is_waited_for {
                alarms.push(alarm(AlarmKind::Closing, closing));
            }
            // At the limit to the second it is kept.
            alarms.push(alarm(AlarmKind::Overdue, latest.checked_add(SignedDuration::from_secs(1)).unwrap_or(latest)));
        }
        alarms
    }

    /// The step that goes on with what waits: the next one of its load, or one that needs it.
    fn taken_on_by(&self, index: usize) -> Option<usize> {
        let mut then = self.behind[index];
        while let Some(step) = then.filter(|&step| self.states[step].left_out) {
            then = self.behind[step];
        }
        then.or_else(|| (0..self.states.len()).find(|&other| self.needed[other].contains(&index)))
    }

    /// Whether a step that needs a step done once was begun.
    fn is_needed_begun(&self, index: usize) -> bool {
        let is_begun = |other: usize| self.states[other].begun.or(self.states[other].finished).is_some();
        (0..self.states.len()).any(|other| self.needed[other].contains(&index) && is_begun(other))
    }
}
