//! Where a field stands in a RON text, so that an error about its value can point there.
//!
//! The parser knows places only for what it can't read; a value that reads well but is wrong (a neck wider than the shoulders) is
//! found later, by its path. This walks the text once and follows names and brackets; it never fails, at worst it finds the
//! nearest enclosing field.

/// A place in a text, both counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Column, in characters.
    pub column: usize,
}

/// The place of the field with this dotted path (`garment.measures.neck_width_mm`), or of the deepest part of the path found.
///
/// Items of a list are counted from 1: `swatches.3.depth_percent`.
#[must_use]
pub fn locate(text: &str, path: &str) -> Option<Place> {
    let path: Vec<&str> = path.split('.').map(|name| if name == "\"\"" { "" } else { name }).collect();
    let mut walk = Walk::default();
    let mut best: Option<(usize, Place)> = None;
    let mut rest = text;
    while let Some(token) = next_token(rest) {
        let place = walk.place;
        let after = &rest[token.len()..];
        walk.step(token, after);
        let matched = walk.matched(&path);
        if walk.named_now && matched == walk.names.len() && best.is_none_or(|(depth, _)| matched > depth) {
            best = Some((matched, place));
        }
        rest = after;
    }
    best.map(|(_, place)| place)
}

struct Walk {
    place: Place,
    /// The names of the fields that the walk is in, innermost last.
    names: Vec<String>,
    named_now: bool,
    /// The open brackets, innermost last.
    brackets: Vec<Bracket>,
}

struct Bracket {
    /// How many names were open outside it.
    outside: usize,
    /// In a list, the number of the present item.
    item: Option<usize>,
}

impl Default for Walk {
    fn default() -> Self {
        Self { place: Place { line: 1, column: 1 }, names: Vec::new(), named_now: false, brackets: Vec::new() }
    }
}

impl Walk {
    fn step(&mut self, token: &str, after: &str) {
        self.named_now = false;
        match token {
            "(" | "{" => self.brackets.push(Bracket { outside: self.names.len(), item: None }),
            "[" => {
                self.brackets.push(Bracket { outside: self.names.len(), item: Some(1) });
                self.begin_entry();
            }
            ")" | "]" | "}" => {
                let outside = self.brackets.pop().map_or(0, |bracket| bracket.outside);
                self.names.truncate(outside);
            }
            "," => {
                if let Some(item) = self.brackets.last_mut().and_then(|bracket| bracket.item.as_mut()) {
                    *item += 1;
                }
                self.begin_entry();
            }
            _ if is_name(token) && after.trim_start().starts_with(':') => {
                self.begin_entry();
                self.names.push(token.trim_matches('"').to_owned());
                self.named_now = true;
            }
            _ => {}
        }
        self.advance(token);
    }

    /// Leaves the names of the last entry; in a list, the number of the present item is a name.
    fn begin_entry(&mut self) {
        let (outside, item) = self.brackets.last().map_or((0, None), |bracket| (bracket.outside, bracket.item));
        self.names.truncate(outside);
        self.names.extend(item.map(|item| item.to_string()));
    }

    fn advance(&mut self, token: &str) {
        for c in token.chars() {
            if c == '\n' {
                self.place = Place { line: self.place.line + 1, column: 1 };
            } else {
                self.place.column += 1;
            }
        }
    }

    /// How many leading names agree with the path.
    fn matched(&self, path: &[&str]) -> usize {
        self.names.iter().zip(path).take_while(|(name, part)| name == *part).count()
    }
}

fn is_name(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphanumeric() || c == '_' || c == '"')
}

/// The next token: a word or number, a string, a comment, a run of white space, or one other character.
fn next_token(text: &str) -> Option<&str> {
    let first = text.chars().next()?;
    let length = if text.starts_with("//") {
        text.find('\n').unwrap_or(text.len())
    } else if text.starts_with("/*") {
        text.find("*/").map_or(text.len(), |end| end + 2)
    } else if first == '"' {
        string_length(text)
    } else if first.is_whitespace() {
        text.find(|c: char| !c.is_whitespace()).unwrap_or(text.len())
    } else if first.is_alphanumeric() || first == '_' {
        text.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.')).unwrap_or(text.len())
    } else {
        first.len_utf8()
    };
    text.get(..length)
}

fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seeded::seeded;
    use proptest::prelude::*;

    const TEXT: &str = r##"(
    // neck_width_mm: 1
    format: 1, name: "a (: \" name: b",
    garment: (
        kind: CrewTee, /* measures: ( */
        measures: (half_chest_mm: 500, neck_width_mm: 900),
    ),
    sections: { 3: "teal", 12: "amber" },
    fold: Burst(centre: BelowShoulder(from_centre_line_mm: 0, below_shoulder_mm: 300)), wrapped: Burst((pleats: 3)),
    neck_width_mm: 5,
    arcs: [(at: 1), (at: 2, more: [(deep: 1), (deep: 2)]), (at: 3)],
)"##;

    fn at(path: &str) -> Option<(usize, usize)> {
        locate(TEXT, path).map(|place| (place.line, place.column))
    }

    #[test]
    fn fields_are_found_by_path() {
        assert_eq!(at("format"), Some((3, 5)));
        assert_eq!(at("garment.measures.neck_width_mm"), Some((6, 40)));
        assert_eq!(at("neck_width_mm"), Some((10, 5)));
        assert_eq!(at("sections.12"), Some((8, 28)));
        assert_eq!(at("fold.centre.below_shoulder_mm"), Some((9, 63)));
        assert_eq!(at("wrapped.pleats"), Some((9, 105)));
        assert_eq!(at("arcs.1.at"), Some((11, 13)));
        assert_eq!(at("arcs.2.more.2.deep"), Some((11, 48)));
        assert_eq!(at("arcs.3.at"), Some((11, 61)));
        assert_eq!(at("arcs.4.at"), Some((11, 5)));
    }

    #[test]
    fn the_deepest_part_found_serves() {
        assert_eq!(at("garment.measures.length_mm"), Some((6, 9)));
        assert_eq!(at("thread.kind"), None);
    }

    proptest! {
        #![proptest_config(seeded(34, 256))]

        #[test]
        fn no_text_panics(text in "\\PC{0,80}|[()\\[\\]{}:,\"/*a-c\\\\\n ]{0,60}", path in "[a-c.]{0,6}") {
            let _place = locate(&text, &path);
        }
    }
}
