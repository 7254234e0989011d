//! Blocks from Markdown. Only what the model has is understood; a test finds anything else in a page.

use super::block::words_of;
use super::inline::Runs;
use super::{Block, Cell, Figure};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// What a picture's target begins with.
const FIGURE: &str = "figure:";

/// The title and the blocks of a page.
pub(super) fn blocks(markdown: &str) -> (String, Vec<Block>) {
    let options = Options::ENABLE_TABLES | Options::ENABLE_HEADING_ATTRIBUTES;
    let mut reader = Reader { events: Parser::new_ext(markdown, options), title: String::new() };
    let blocks = reader.blocks();
    (reader.title, blocks)
}

struct Reader<'a> {
    events: Parser<'a>,
    title: String,
}

impl Reader<'_> {
    /// The blocks up to the end of what holds them. Words without a paragraph of their own, as in a short list, are one.
    fn blocks(&mut self) -> Vec<Block> {
        let (mut blocks, mut bare) = (Vec::new(), Runs::default());
        while let Some(event) = self.events.next() {
            if bare.take(&event) {
                continue;
            }
            push_paragraph(&mut blocks, bare.finish());
            match event {
                Event::Start(tag) => blocks.extend(self.block(&tag)),
                Event::End(_) => break,
                _ => {}
            }
        }
        push_paragraph(&mut blocks, bare.finish());
        blocks
    }

    /// A block, up to its end.
    fn block(&mut self, tag: &Tag<'_>) -> Option<Block> {
        match tag {
            Tag::Heading { level, id, .. } => {
                let runs = self.runs();
                let level = *level as u8;
                if level == 1 {
                    self.title = words_of(&runs);
                    return None;
                }
                let anchor = id.as_ref().map_or_else(|| anchor(&words_of(&runs)), ToString::to_string);
                Some(Block::Heading { level, runs, anchor })
            }
            Tag::Paragraph => self.paragraph(),
            Tag::List(first) => Some(Block::List { first: *first, items: self.items() }),
            Tag::Table(_) => Some(self.table()),
            Tag::CodeBlock(_) => Some(Block::Code(self.text())),
            Tag::BlockQuote(_) => {
                let quoted = self.blocks().into_iter();
                Some(Block::Quote(quoted.flat_map(|block| block.runs().into_iter().cloned().collect::<Vec<_>>()).collect()))
            }
            _ => None,
        }
    }

    /// A paragraph, or the picture that stands alone in one.
    fn paragraph(&mut self) -> Option<Block> {
        let mut runs = Runs::default();
        let mut picture = None;
        for event in self.events.by_ref() {
            match event {
                _ if runs.take(&event) => {}
                Event::Start(Tag::Image { dest_url, .. }) => picture = dest_url.strip_prefix(FIGURE).and_then(Figure::named),
                Event::End(TagEnd::Image) => {}
                _ => break,
            }
        }
        let runs = runs.finish();
        Some(match picture {
            Some(figure) => Block::Figure { figure, caption: runs },
            None => Block::Paragraph(runs),
        })
    }

    fn items(&mut self) -> Vec<Vec<Block>> {
        let mut items = Vec::new();
        while let Some(Event::Start(Tag::Item)) = self.events.next() {
            items.push(self.blocks());
        }
        items
    }

    fn table(&mut self) -> Block {
        let (mut head, mut rows): (Vec<Cell>, Vec<Vec<Cell>>) = Default::default();
        while let Some(event) = self.events.next() {
            match event {
                Event::Start(Tag::TableHead) => head = self.cells(),
                Event::Start(Tag::TableRow) => rows.push(self.cells()),
                _ => break,
            }
        }
        Block::Table { head, rows }
    }

    fn cells(&mut self) -> Vec<Cell> {
        let mut cells = Vec::new();
        while let Some(Event::Start(Tag::TableCell)) = self.events.next() {
            cells.push(self.runs());
        }
        cells
    }

    /// The words up to the end of what holds them.
    fn runs(&mut self) -> Cell {
        let mut runs = Runs::default();
        for event in self.events.by_ref() {
            if !runs.take(&event) {
                break;
            }
        }
        runs.finish()
    }

    fn text(&mut self) -> String {
        let mut text = String::new();
        while let Some(Event::Text(part)) = self.events.next() {
            text.push_str(&part);
        }
        text
    }
}

fn push_paragraph(blocks: &mut Vec<Block>, runs: Cell) {
    if !runs.is_empty() {
        blocks.push(Block::Paragraph(runs));
    }
}

/// What links call a heading that has no name of its own: its words in small letters, joined by hyphens.
fn anchor(words: &str) -> String {
    let letters: String = words.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { ' ' }).collect();
    letters.split_whitespace().collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::{Link, Run, Style};

    fn run(text: &str) -> Run {
        Run { text: text.to_owned(), style: Style::default(), link: None }
    }

    #[test]
    fn every_kind_of_block_is_read() {
        let text = "# Title\n\n## A part { #own }\n\nSay **so**\nand *so*, `code`, [there](burst#fold-it).\n\n1. one\n2. two\n\n   - within\n\n\
            | a | b |\n|---|---|\n| c | d |\n\n```sh\npleatwright\n```\n\n> Said. Twice.\n\n![Under it.](figure:burst)\n\n### The last one!\n";
        let (title, blocks) = blocks(text);
        assert_eq!(title, "Title");
        let [part, words, list, table, code, quote, figure, last] = &blocks[..] else { panic!("{blocks:#?}") };
        assert_eq!(part, &Block::Heading { level: 2, runs: vec![run("A part")], anchor: "own".to_owned() });
        let Block::Paragraph(words) = words else { panic!("{words:?}") };
        let looks: Vec<(&str, bool, bool, bool)> =
            words.iter().map(|run| (run.text.as_str(), run.style.strong, run.style.emphasis, run.style.code)).collect();
        let expected = [
            ("Say ", false, false, false),
            ("so", true, false, false),
            (" and ", false, false, false),
            ("so", false, true, false),
            (", ", false, false, false),
            ("code", false, false, true),
            (", ", false, false, false),
            ("there", false, false, false),
            (".", false, false, false),
        ];
        assert_eq!(looks, expected);
        assert_eq!(words[7].link, Some(Link::Page { name: "burst".to_owned(), anchor: Some("fold-it".to_owned()) }));
        let within = Block::List { first: None, items: vec![vec![Block::Paragraph(vec![run("within")])]] };
        let items = vec![vec![Block::Paragraph(vec![run("one")])], vec![Block::Paragraph(vec![run("two")]), within]];
        assert_eq!(list, &Block::List { first: Some(1), items });
        let cells = |words: [&str; 2]| words.map(|word| vec![run(word)]).to_vec();
        assert_eq!(table, &Block::Table { head: cells(["a", "b"]), rows: vec![cells(["c", "d"])] });
        assert_eq!(code, &Block::Code("pleatwright\n".to_owned()));
        assert_eq!(quote, &Block::Quote(vec![run("Said. Twice.")]));
        assert_eq!(figure, &Block::Figure { figure: Figure::Burst, caption: vec![run("Under it.")] });
        assert!(matches!(last, Block::Heading { level: 3, anchor, .. } if anchor == "the-last-one"));
    }
}
