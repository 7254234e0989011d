//! The journal's texts as they are kept: each says its own name, turn, length and digest, so that it is found again in a damaged file
//! and known to be whole.

use super::photo::hex;
use sha2::{Digest as _, Sha256};

/// How the line above a kept text begins. It is a comment to whoever reads the text as RON.
const MARK: &str = "// pleatwright entry, ";
/// Longest such line, bytes: a name, two numbers and a digest fit twice.
const LONGEST_LINE: usize = 1024;

/// What an entry says, or said before it was amended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Record {
    pub(super) id: String,
    /// 1 as it was first written down, and one more with every amendment.
    pub(super) turn: u32,
    pub(super) text: String,
}

impl Record {
    /// As it is kept.
    pub(super) fn sealed(&self) -> String {
        let Self { id, turn, text } = self;
        let head = format!("turn {turn}, {} bytes, {}, {id}", text.len(), digest(id, *turn, text));
        format!("{MARK}{}, {head}\n{text}", check(&head))
    }

    /// A text that is kept under a name. One that an earlier program kept has no line above it, and its turn is given.
    pub(super) fn kept(id: &str, stored: &str, turn: u32) -> Self {
        let (turn, text) = match stored.strip_prefix(MARK).and_then(|rest| rest.split_once('\n')) {
            Some((line, text)) => (Head::parse(line).map_or(turn, |head| head.turn), text),
            None => (turn, stored),
        };
        Self { id: id.to_owned(), turn, text: text.to_owned() }
    }
}

fn digest(id: &str, turn: u32, text: &str) -> String {
    hex(&Sha256::digest(format!("{turn} {id}\n{text}")))
}

/// What the line above a text begins with, so that no name is told that a damaged line bears.
fn check(head: &str) -> String {
    hex(&Sha256::digest(head)[..4])
}

/// The line above a text.
struct Head<'a> {
    turn: u32,
    length: usize,
    digest: &'a str,
    id: &'a str,
}

impl<'a> Head<'a> {
    /// Reads what follows [`MARK`]; none if it is not as it was written.
    fn parse(line: &'a str) -> Option<Self> {
        let (_, head) = line.split_once(", ").filter(|(told, head)| *told == check(head))?;
        let mut parts = head.splitn(4, ", ");
        let turn = parts.next()?.strip_prefix("turn ")?.parse().ok()?;
        let length = parts.next()?.strip_suffix(" bytes")?.parse().ok()?;
        Some(Self { turn, length, digest: parts.next()?, id: parts.next()? })
    }
}

/// What is found in a file.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Texts that are as they were written.
    pub(super) whole: Vec<Record>,
    /// Names and turns of texts that are not.
    pub(super) damaged: Vec<(String, u32)>,
}

/// Looks for kept texts in whatever bytes.
pub(super) fn find(bytes: &[u8]) -> Found {
    let mut found = Found::default();
    let mut rest = bytes;
    while let Some(at) = rest.windows(MARK.len()).position(|window| window == MARK.as_bytes()) {
        rest = &rest[at + MARK.len()..];
        let line = rest.iter().take(LONGEST_LINE).position(|&byte| byte == b'\n');
        let Some((line, after)) = line.map(|end| (&rest[..end], &rest[end + 1..])) else { continue };
        let Some(head) = std::str::from_utf8(line).ok().and_then(Head::parse) else { continue };
        let text = after.get(..head.length).and_then(|text| std::str::from_utf8(text).ok());
        match text.filter(|text| digest(head.id, head.turn, text) == head.digest) {
            Some(text) => {
                found.whole.push(Record { id: head.id.to_owned(), turn: head.turn, text: text.to_owned() });
                // What a maker wrote into it is no record of its own.
                rest = &after[head.length..];
            }
            None => found.damaged.push((head.id.to_owned(), head.turn)),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(id: &str, turn: u32, text: &str) -> Record {
        Record { id: id.to_owned(), turn, text: text.to_owned() }
    }

    #[test]
    fn texts_are_found_among_whatever_bytes() {
        let nested = record("a", 1, &record("no", 1, "inside").sealed());
        let records = [nested, record("2027-05-05-tüll", 2, "(\n note: \"x\")\n"), record("b", 3, "")];
        let mut bytes = vec![0xff, 0, b'/'];
        for record in &records {
            bytes.extend(record.sealed().bytes());
            bytes.extend(b"// pleatwright entry, 0, turn x\0\xfe");
        }
        let found = find(&bytes);
        assert_eq!(found.whole, records);
        assert!(found.damaged.is_empty(), "{:?}", found.damaged);
        assert_eq!(Record::kept("b", &records[2].sealed(), 9), records[2]);
        assert_eq!(Record::kept("b", "(plain)", 9), record("b", 9, "(plain)"));
    }

    /// Whatever single bit is flipped, no text comes back other than it was written.
    #[test]
    fn no_flipped_bit_goes_unseen() {
        let (first, second) = (record("first", 1, "one"), record("second", 12, "two of them"));
        let bytes = [first.sealed(), second.sealed()].concat().into_bytes();
        for bit in 0..8 * bytes.len() {
            let mut flipped = bytes.clone();
            flipped[bit / 8] ^= 1 << (bit % 8);
            let found = find(&flipped);
            let (is_first, is_second) = (found.whole.contains(&first), found.whole.contains(&second));
            assert!(is_first != is_second && found.whole.len() == 1, "bit {bit}: {found:?}");
            // What is told to be lost is lost.
            let lost = if is_first { (second.id.clone(), 12) } else { (first.id.clone(), 1) };
            assert!(found.damaged.is_empty() || found.damaged == [lost], "bit {bit}: {found:?}");
        }
    }
}
