//! The system's own ways to call: a notification, and a sound.

use super::bell::Ring;
use super::chime;
use notify_rust::{Notification, Timeout};

/// Rings by the system's notification and a sound.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemRing;

/// The sound that a notification asks for where the chime was not heard: by the names that each system knows. Whether it is played is up
/// to the system's settings.
#[cfg(all(unix, not(target_os = "macos")))]
const SOUND: &str = "alarm-clock-elapsed";
#[cfg(target_os = "macos")]
const SOUND: &str = "Glass";
#[cfg(not(unix))]
const SOUND: &str = "Reminder";

impl Ring for SystemRing {
    fn ring(&mut self, sentences: &[String]) {
        let mut notification = Notification::new();
        notification.appname("Pleatwright").summary("Pleatwright: the run").body(&sentences.join("\n")).timeout(Timeout::Never);
        #[cfg(all(unix, not(target_os = "macos")))]
        notification.urgency(notify_rust::Urgency::Critical);
        // Shown first: the chime lasts two seconds. Its sound is the chime where there is a player for it.
        notification.sound_name(SOUND);
        let _not_shown = notification.show();
        let _not_heard = chime::play();
    }
}
