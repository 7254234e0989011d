//! The sound of the alarm: computed here, played by what the system has.

use std::f64::consts::TAU;
use std::io::Write as _;
use std::process::{Command, Stdio};

/// Samples a second.
const RATE_HZ: u32 = 22_050;
/// Pitch, Hz: high enough for a small loudspeaker, and to be heard over a running tap (own choice).
const PITCH_HZ: f64 = 880.0;
/// Length of a beep and of the pause after it, s, and how many.
const BEEP_S: f64 = 0.18;
const PAUSE_S: f64 = 0.12;
const BEEPS: u32 = 6;
/// Share of the loudest that there is.
const LOUDNESS: f64 = 0.6;
/// How long a beep swells and fades, s: without, it clicks.
const EDGE_S: f64 = 0.01;

/// Programs that play a file and come with Linux desktops: of the sound servers there, and of the kernel's own sound.
#[cfg(all(unix, not(target_os = "macos")))]
const PLAYERS: [(&str, &[&str]); 3] = [("pw-play", &[]), ("paplay", &[]), ("aplay", &["-q"])];
#[cfg(target_os = "macos")]
const PLAYERS: [(&str, &[&str]); 1] = [("afplay", &[])];
#[cfg(not(unix))]
const PLAYERS: [(&str, &[&str]); 0] = [];

/// Plays the chime to its end by the first player there is; whether one did.
pub(super) fn play() -> bool {
    let Ok(mut file) = tempfile::Builder::new().prefix("pleatwright-").suffix(".wav").tempfile() else { return false };
    if file.write_all(&wave()).and_then(|()| file.flush()).is_err() {
        return false;
    }
    PLAYERS.iter().any(|(program, options)| {
        let mut command = Command::new(program);
        command.args(*options).arg(file.path()).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        command.status().is_ok_and(|status| status.success())
    })
}

/// The chime as a WAVE file: one channel, 16 bits (RIFF WAVE, Microsoft and IBM 1991, format 1).
fn wave() -> Vec<u8> {
    let samples = samples();
    let bytes = u32::try_from(2 * samples.len()).unwrap_or(u32::MAX);
    let mut wave = Vec::with_capacity(44 + 2 * samples.len());
    wave.extend(b"RIFF");
    wave.extend((36 + bytes).to_le_bytes());
    wave.extend(b"WAVEfmt ");
    wave.extend(16_u32.to_le_bytes());
    // PCM, one channel.
    wave.extend([1, 0, 1, 0]);
    wave.extend(RATE_HZ.to_le_bytes());
    wave.extend((2 * RATE_HZ).to_le_bytes());
    // Bytes of a sample, and its bits.
    wave.extend([2, 0, 16, 0]);
    wave.extend(b"data");
    wave.extend(bytes.to_le_bytes());
    samples.iter().for_each(|sample| wave.extend(sample.to_le_bytes()));
    wave
}

fn samples() -> Vec<i16> {
    let (rate, turn_s) = (f64::from(RATE_HZ), BEEP_S + PAUSE_S);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "two seconds of samples")]
    let count = (rate * turn_s * f64::from(BEEPS)) as u32;
    let sample = |at: u32| {
        let time_s = (f64::from(at) / rate) % turn_s;
        let swell = (time_s.min(BEEP_S - time_s) / EDGE_S).clamp(0.0, 1.0);
        let level = LOUDNESS * swell * (TAU * PITCH_HZ * time_s).sin();
        #[expect(clippy::cast_possible_truncation, reason = "a level is at most 1")]
        let sample = (level * f64::from(i16::MAX)) as i16;
        sample
    };
    (0..count).map(sample).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The header by the format's own table: sizes add up, and the beep crosses zero as often as its pitch says.
    #[test]
    fn the_chime_is_a_wave_file_of_its_pitch() {
        let wave = wave();
        let number = |at: usize| u32::from_le_bytes(wave[at..at + 4].try_into().unwrap()) as usize;
        assert_eq!((&wave[..4], &wave[8..16], &wave[36..40]), (&b"RIFF"[..], &b"WAVEfmt "[..], &b"data"[..]));
        assert_eq!((number(4), number(40), number(24)), (wave.len() - 8, wave.len() - 44, RATE_HZ as usize));
        let samples = samples();
        let rises = samples.windows(2).filter(|pair| pair[0] <= 0 && pair[1] > 0).count();
        let beeps = f64::from(BEEPS);
        assert!((rises as f64 - beeps * PITCH_HZ * BEEP_S).abs() <= beeps, "{rises} rises");
        assert!(samples.iter().any(|sample| sample.unsigned_abs() > 15_000));
    }
}
