//! The one way to the terminal. Names and notes come out of files that somebody else may have made: what would steer a terminal is
//! shown as a code in its place.

use super::CliError;
use pleatwright::store::{FileKind, refuse_other_kind};
use pleatwright::telling::{Refused as _, Voice};
use std::fmt::Write as _;
use std::io::{self, IsTerminal as _, Write};
use std::path::Path;

/// Where answers go.
pub(crate) fn output() -> Plain<impl Write> {
    Plain::new(io::stdout().lock())
}

/// Where refusals and progress go.
pub(crate) fn errors() -> Plain<impl Write> {
    Plain::new(io::stderr().lock())
}

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Content {
    Text,
    Binary,
}

/// Whether a file's name stands for standard output. (The device of that name can't be saved over.)
pub(crate) fn is_output(path: &Path) -> bool {
    ["-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"].iter().any(|name| path.as_os_str() == *name)
}

/// Saves a file under its name, or writes it to standard output, every byte as it is; only to a terminal, text goes like words.
pub(crate) fn deliver(path: &Path, bytes: &[u8], content: Content) -> Result<(), CliError> {
    if !is_output(path) {
        return Ok(pleatwright::store::save(path, bytes)?);
    }
    let mut stdout = io::stdout().lock();
    match content {
        _ if !stdout.is_terminal() => stdout.write_all(bytes)?,
        Content::Text => Plain::new(&mut stdout).write_all(bytes)?,
        Content::Binary => {
            return Err(CliError::argument("-o -", "this is not text for a terminal", "send it to a program or a file"));
        }
    }
    Ok(stdout.flush()?)
}

/// Delivers a text of one of the program's kinds; it is not saved over a file of another kind.
pub(crate) fn deliver_kind(path: &Path, text: &str, kind: FileKind) -> Result<(), CliError> {
    if !is_output(path) {
        refuse_other_kind(path, kind, None).map_err(|error| CliError::Argument(error.told(Voice::FILE)))?;
    }
    deliver(path, text.as_bytes(), Content::Text)
}

/// Where what is said of a file goes: not among its bytes.
pub(crate) fn beside<'a>(path: &Path, output: &'a mut dyn Write) -> Box<dyn Write + 'a> {
    if is_output(path) { Box::new(errors()) } else { Box::new(output) }
}

/// How a file is called in what is said of it.
pub(crate) fn called(path: &Path) -> String {
    if is_output(path) { "standard output".to_owned() } else { path.display().to_string() }
}

/// A writer through which no control character passes but the ends of lines and tabs. Others, and those that turn the direction of
/// writing, are written as `\u001b`, as JSON has them in its texts; what is no UTF-8 becomes U+FFFD.
pub(crate) struct Plain<W: Write> {
    inner: W,
    /// The beginning of something whose end has not come yet: a letter of several bytes, a carriage return.
    begun: Vec<u8>,
}

impl<W: Write> Plain<W> {
    fn new(inner: W) -> Self {
        Self { inner, begun: Vec::new() }
    }

    fn finish(&mut self) -> io::Result<()> {
        let begun = std::mem::take(&mut self.begun);
        self.inner.write_all(plain(&begun).as_bytes())
    }
}

impl<W: Write> Write for Plain<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.begun.extend_from_slice(bytes);
        let rest = self.begun.split_off(self.begun.len() - unfinished(&self.begun));
        let ready = std::mem::replace(&mut self.begun, rest);
        self.inner.write_all(plain(&ready).as_bytes())?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

impl<W: Write> Drop for Plain<W> {
    fn drop(&mut self) {
        // Nobody is left to tell.
        let _written = self.finish().and_then(|()| self.inner.flush());
    }
}

/// How many bytes at the end are only the beginning of something.
fn unfinished(bytes: &[u8]) -> usize {
    if bytes.ends_with(b"\r") {
        return 1;
    }
    let is_lead = |byte: &u8| *byte >= 0xc0;
    let Some(back) = bytes.iter().rev().take(3).position(is_lead) else { return 0 };
    // How many bytes a letter has stands in its first (RFC 3629).
    let length = match bytes[bytes.len() - 1 - back] {
        0xf0.. => 4,
        0xe0.. => 3,
        _ => 2,
    };
    let is_whole = length <= back + 1 || bytes[bytes.len() - back..].iter().any(|byte| !matches!(byte, 0x80..=0xbf));
    if is_whole { 0 } else { back + 1 }
}

fn plain(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let mut plain = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let ends_line = letter == '\r' && letters.peek() == Some(&'\n');
        if steers(letter) && !ends_line {
            // Writing to a string does not fail.
            let _written = write!(plain, "\\u{:04x}", u32::from(letter));
        } else {
            plain.push(letter);
        }
    }
    plain
}

/// Whether a terminal would do something else than show it: control characters (ECMA-48), and those that turn the direction of
/// writing (Unicode Standard Annex 9, table 2).
fn steers(letter: char) -> bool {
    (letter.is_control() && !matches!(letter, '\n' | '\t')) || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Whether somebody sees what is said of errors as it is said.
pub(super) fn errors_are_shown() -> bool {
    io::stderr().is_terminal()
}

/// Where progress is told, whose own words alone move the cursor back.
pub(super) fn progress() -> impl Write {
    io::stderr()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::RefCell;
    use std::rc::Rc;

    /// What comes out when it is written in pieces of this many bytes.
    fn written(bytes: &[u8], piece: usize) -> String {
        #[derive(Clone, Default)]
        struct Shared(Rc<RefCell<Vec<u8>>>);
        impl Write for Shared {
            fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
                self.0.borrow_mut().write(bytes)
            }
            fn flush(&mut self) -> io::Result<()> {
                Ok(())
            }
        }
        let shared = Shared::default();
        let mut plain = Plain::new(shared.clone());
        bytes.chunks(piece).for_each(|piece| plain.write_all(piece).unwrap());
        drop(plain);
        String::from_utf8(shared.0.take()).unwrap()
    }

    /// A layout's name used to be able to clear the screen and to set the window's title.
    #[test]
    fn nothing_that_steers_a_terminal_passes_however_it_is_cut() {
        let cases: [(&[u8], &str); 7] = [
            (b"tee \x1b[2J\x1b]0;owned\x07", "tee \\u001b[2J\\u001b]0;owned\\u0007"),
            ("12 cm², ½ in\n\tsand — teal 🧵\n".as_bytes(), "12 cm², ½ in\n\tsand — teal 🧵\n"),
            ("\u{9b}31m \u{202e}txt".as_bytes(), "\\u009b31m \\u202etxt"),
            (b"one\r\ntwo\rthree\r", "one\r\ntwo\\u000dthree\\u000d"),
            (b"a\x9b31m\xff\x7f", "a\u{fffd}31m\u{fffd}\\u007f"),
            (b"cut \xf0\x9f\xa7", "cut \u{fffd}"),
            (b"\xe2\x1b[2J", "\u{fffd}\\u001b[2J"),
        ];
        for (bytes, expected) in cases {
            for piece in 1..=bytes.len() {
                assert_eq!(written(bytes, piece), expected, "{piece} bytes at a time");
            }
        }
    }

    /// Figures as JSON stay JSON, and mean the same.
    #[test]
    fn json_stays_json() {
        let name = "tee \u{1b}[2J \u{9b} \u{202e} \u{7f} ½";
        let json = serde_json::to_string(name).unwrap();
        let plain = written(json.as_bytes(), 5);
        assert!(plain.chars().all(|letter| !steers(letter)));
        assert_eq!(serde_json::from_str::<String>(&plain).unwrap(), name);
    }

    /// Whatever is said to the terminal is said through here.
    #[test]
    fn nothing_else_speaks_to_the_terminal() {
        fn walk(folder: &Path, found: &mut Vec<String>) {
            for path in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
                if path.is_dir() {
                    walk(&path, found);
                } else if path.extension().is_some_and(|ending| ending == "rs") {
                    let text = std::fs::read_to_string(&path).unwrap();
                    let speaks = ["io::stdout()", "io::stderr()", "error.print()"].iter().any(|call| text.contains(call));
                    found.extend(speaks.then(|| path.display().to_string()));
                }
            }
        }
        let mut found = Vec::new();
        walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
        assert!(found.len() == 1 && found[0].ends_with("terminal.rs"), "{found:?}");
    }
}
