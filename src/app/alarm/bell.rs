//! The thread that keeps the time of the alarms and rings each once.

use crate::plan::{Alarm, AlarmKind};
use egui::Context;
use jiff::Timestamp;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

/// What calls the maker beside the window.
pub trait Ring: Send {
    /// Calls with these sentences, one for each alarm. What can't be shown or heard is left.
    fn ring(&mut self, sentences: &[String]);
}

/// An alarm as it is rung.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Call {
    step: u32,
    kind: AlarmKind,
    at: Timestamp,
    sentence: String,
}

impl Call {
    pub(super) fn of(alarm: &Alarm) -> Self {
        Self { step: alarm.step, kind: alarm.kind, at: alarm.instant, sentence: alarm.sentence() }
    }
}

/// The bell, on its thread.
#[derive(Debug)]
pub(super) struct Bell {
    sender: Sender<Vec<Call>>,
    /// What it was told last.
    calls: Vec<Call>,
}

/// How often the time is looked at, at least: a machine that slept does not count its sleep as waiting.
const LOOKED_AT: Duration = Duration::from_secs(10);

impl Bell {
    /// Begins the thread; none where there is none to be had.
    pub(super) fn begin(ring: Box<dyn Ring>, ctx: &Context) -> Option<Self> {
        let (sender, receiver) = channel();
        let ctx = ctx.clone();
        let spawned = std::thread::Builder::new().name("alarm".to_owned()).spawn(move || keep_time(&receiver, ring, &ctx));
        spawned.ok().map(|_thread| Self { sender, calls: Vec::new() })
    }

    /// Sets what it is to ring for.
    pub(super) fn set(&mut self, alarms: &[Alarm]) {
        let calls: Vec<Call> = alarms.iter().map(Call::of).collect();
        if calls != self.calls && self.sender.send(calls.clone()).is_ok() {
            self.calls = calls;
        }
    }
}

fn keep_time(receiver: &Receiver<Vec<Call>>, mut ring: Box<dyn Ring>, ctx: &Context) {
    let (mut calls, mut rung): (Vec<Call>, Vec<Call>) = (Vec::new(), Vec::new());
    loop {
        let now = Timestamp::now();
        let (due, ahead): (Vec<&Call>, Vec<&Call>) =
            calls.iter().filter(|call| !rung.contains(call)).partition(|call| call.at <= now);
        let next = ahead.iter().map(|call| now.duration_until(call.at)).min();
        let wait = next.map_or(LOOKED_AT, |next| next.unsigned_abs().min(LOOKED_AT));
        if !due.is_empty() {
            // Of a wait that has passed several, the last is the one that counts.
            let is_last = |call: &&&Call| due.iter().rfind(|other| other.step == call.step).is_some_and(|last| last == *call);
            let sentences: Vec<String> = due.iter().filter(is_last).map(|call| call.sentence.clone()).collect();
            rung.extend(due.into_iter().cloned());
            ring.ring(&sentences);
            ctx.request_repaint();
            continue;
        }
        match receiver.recv_timeout(wait) {
            Ok(new) => calls = new,
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}
