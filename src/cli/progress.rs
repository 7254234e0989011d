//! How far long work is, told on a terminal.

use super::terminal;
use pleatwright::reveal::Cancel;
use std::io::Write;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

/// What is done sooner is not told of.
const FIRST: Duration = Duration::from_millis(500);
const EVERY: Duration = Duration::from_millis(200);

/// Does work, and where standard error is a terminal tells there how far it is.
pub(crate) fn watched<T>(words: &str, work: impl FnOnce(&Cancel) -> T) -> T {
    let cancel = Cancel::new();
    if !terminal::errors_are_shown() {
        return work(&cancel);
    }
    std::thread::scope(|scope| {
        let (end, is_over) = channel();
        let watch = cancel.clone();
        scope.spawn(move || tell(words, &watch, &is_over, [FIRST, EVERY], &mut terminal::progress()));
        let done = work(&cancel);
        drop(end);
        done
    })
}

/// Writes one line over and over until the sender is dropped, then takes it away.
fn tell(words: &str, cancel: &Cancel, is_over: &Receiver<()>, [first, every]: [Duration; 2], output: &mut dyn Write) {
    let mut longest = 0;
    let mut wait = first;
    while is_over.recv_timeout(wait) == Err(RecvTimeoutError::Timeout) {
        let line = format!("{words}: {:.0} %", 100.0 * cancel.done());
        longest = longest.max(line.len());
        // Progress that nobody hears is no reason to stop.
        let _told = write!(output, "\r{line}").and_then(|()| output.flush());
        wait = every;
    }
    if longest > 0 {
        let _told = write!(output, "\r{:longest$}\r", "").and_then(|()| output.flush());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_work_is_told_of_and_the_line_taken_away_and_short_work_is_not() {
        let told = |long: Duration| {
            let (end, is_over) = channel();
            let work = std::thread::spawn(move || {
                std::thread::sleep(long);
                drop(end);
            });
            let mut output = Vec::new();
            let waits = [Duration::from_millis(200), Duration::from_millis(1)];
            tell("planning", &Cancel::new(), &is_over, waits, &mut output);
            work.join().unwrap();
            String::from_utf8(output).unwrap()
        };
        assert_eq!(told(Duration::ZERO), "");
        let long = told(Duration::from_millis(400));
        assert!(long.starts_with("\rplanning: 0 %\r") && long.ends_with("\r             \r"), "{long:?}");
    }
}
