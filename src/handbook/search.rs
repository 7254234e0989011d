//! Looking for words in all pages, blind to capitals and accents.

use super::block::words_of;
use super::{Block, Page, pages};
use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

/// A page that has all the words looked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// The page.
    pub page: &'static Page,
    /// The heading above the place where most of them stand; none above the first heading.
    pub anchor: Option<&'static str>,
    /// The words there.
    pub excerpt: String,
}

/// What a word in a title, in a heading and elsewhere counts: a page about something comes before one that names it.
const TITLE: u32 = 40;
const HEADING: u32 = 12;
const TEXT: u32 = 1;
/// What a title counts besides that has nothing but the words looked for.
const WHOLE_TITLE: u32 = 400;
/// Words of a title that say nothing of its subject.
const SMALL_WORDS: [&str; 5] = ["the", "a", "to", "and", "of"];
/// How many times as much a whole word counts as the beginning of one.
const WHOLE: u32 = 2;
/// Places on a page that count at most for a word, so that a long page does not win by its length.
const MOST_PLACES: u32 = 6;

/// The pages in which every word looked for stands, or a word that begins so; the best first, equal ones in reading order.
#[must_use]
pub fn search(words: &str) -> Vec<Hit> {
    let wanted = tokens(words);
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<(u32, Hit)> = pages().iter().filter_map(|page| hit(page, &wanted)).collect();
    found.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    found.into_iter().map(|(_, hit)| hit).collect()
}

/// Words in small letters without accents: parted at whatever is no letter or digit.
fn tokens(text: &str) -> Vec<String> {
    let bare: String = text.nfkd().filter(|c| !is_combining_mark(*c)).flat_map(char::to_lowercase).collect();
    bare.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// What a wanted word counts against a text's words.
fn places(wanted: &str, words: &[String]) -> u32 {
    words.iter().map(|word| if word == wanted { WHOLE } else { u32::from(word.starts_with(wanted)) }).sum()
}

/// A place of a page: the heading above it, and its words.
struct Place {
    anchor: Option<&'static str>,
    text: String,
}

fn hit(page: &'static Page, wanted: &[String]) -> Option<(u32, Hit)> {
    let mut title = tokens(page.title());
    title.retain(|word| !SMALL_WORDS.contains(&word.as_str()));
    let headings: Vec<String> =
        page.blocks().iter().filter(|block| is_heading(block)).flat_map(|b| tokens(&text_of(b))).collect();
    let places_of: Vec<Place> = texts(page);
    let texts: Vec<Vec<String>> = places_of.iter().map(|place| tokens(&place.text)).collect();
    let mut score = 0;
    for word in wanted {
        let elsewhere = texts.iter().map(|text| places(word, text)).sum::<u32>().min(MOST_PLACES * WHOLE);
        let counts =
            TITLE * places(word, &title).min(WHOLE) + HEADING * places(word, &headings).min(2 * WHOLE) + TEXT * elsewhere;
        if counts == 0 {
            return None;
        }
        score += counts;
    }
    let named = title.iter().filter(|own| wanted.iter().any(|word| own.starts_with(word.as_str()))).count();
    score += WHOLE_TITLE * u32::try_from(named).unwrap_or(0) / u32::try_from(title.len().max(1)).unwrap_or(1);
    // Words beside each other count for more than words on one page.
    let together = |text: &Vec<String>| wanted.iter().filter(|word| places(word, text) > 0).count();
    let best = (0..texts.len()).max_by_key(|at| (together(&texts[*at]), std::cmp::Reverse(*at)));
    let nearness = best.map_or(0, |at| u32::try_from(together(&texts[at])).unwrap_or(0));
    score += if nearness > 1 { 10 * nearness } else { 0 };
    let place = best.map(|at| &places_of[at]);
    let excerpt = place.map_or_else(String::new, |place| excerpt(&place.text, wanted));
    Some((score, Hit { page, anchor: place.and_then(|place| place.anchor), excerpt }))
}

fn is_heading(block: &Block) -> bool {
    matches!(block, Block::Heading { .. })
}

fn text_of(block: &Block) -> String {
    match block {
        Block::Code(code) => code.clone(),
        block => block.runs().iter().map(|run| run.text.as_str()).collect(),
    }
}

/// A page's places in reading order: paragraphs, items and rows, each under its heading.
fn texts(page: &'static Page) -> Vec<Place> {
    let (mut anchor, mut places) = (None, Vec::new());
    for block in page.blocks() {
        match block {
            Block::Heading { anchor: own, .. } => {
                anchor = Some(own.as_str());
                places.push(Place { anchor, text: text_of(block) });
            }
            Block::List { items, .. } => {
                let text = |item: &Vec<Block>| item.iter().map(text_of).collect::<Vec<_>>().join(" ");
                places.extend(items.iter().map(|item| Place { anchor, text: text(item) }));
            }
            Block::Table { rows, .. } => {
                let text = |row: &Vec<super::Cell>| row.iter().map(|cell| words_of(cell)).collect::<Vec<_>>().join(": ");
                places.extend(rows.iter().map(|row| Place { anchor, text: text(row) }));
            }
            Block::Paragraph(_) | Block::Code(_) | Block::Quote(_) | Block::Figure { .. } => {
                places.push(Place { anchor, text: text_of(block) });
            }
        }
    }
    places
}

/// Letters of an excerpt at most, about.
const EXCERPT: usize = 140;

/// The words round the first one that is looked for.
fn excerpt(text: &str, wanted: &[String]) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_wanted = |word: &&str| tokens(word).iter().any(|own| wanted.iter().any(|wanted| own.starts_with(wanted.as_str())));
    let middle = words.iter().position(is_wanted).unwrap_or(0);
    let mut from = middle;
    while from > 0 && words[from - 1..=middle].iter().map(|word| word.len() + 1).sum::<usize>() < EXCERPT / 3 {
        from -= 1;
    }
    let mut taken = 0;
    let shown: Vec<&str> = words[from..]
        .iter()
        .take_while(|word| {
            taken += word.len() + 1;
            taken <= EXCERPT
        })
        .copied()
        .collect();
    let before = if from > 0 { "… " } else { "" };
    let after = if from + shown.len() < words.len() { " …" } else { "" };
    format!("{before}{}{after}", shown.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(words: &str) -> Vec<&'static str> {
        search(words).iter().map(|hit| hit.page.name()).collect()
    }

    #[test]
    fn a_page_about_something_comes_first() {
        for (words, page) in [
            ("burst", "burst"),
            ("spacing rules", "spacing"),
            ("discharge bath", "discharge"),
            ("journal", "journal"),
            ("glossary", "glossary"),
            ("measure", "measuring"),
            ("keys", "keys"),
            ("command line", "command-line"),
        ] {
            assert_eq!(names(words).first(), Some(&page), "{words}: {:?}", names(words));
        }
    }

    #[test]
    fn capitals_accents_and_the_ends_of_words_do_not_matter() {
        assert_eq!(names("BÚRST"), names("burst"));
        assert!(names("calibr").contains(&"model"));
        assert_eq!(tokens("Größe, CAFÉ-naïf 7½"), ["große", "cafe", "naif", "71", "2"]);
    }

    #[test]
    fn all_words_have_to_stand_on_the_page() {
        assert_eq!(names("burst zeppelin"), [""; 0]);
        assert_eq!(names("  ,; "), [""; 0]);
        let hits = search("second layer ice");
        assert!(hits.iter().all(|hit| tokens(&hit.excerpt).len() > 2), "{hits:?}");
        let own = hits.iter().find(|hit| hit.page.name() == "warnings-colour").unwrap();
        assert_eq!(own.anchor, Some("second-ice"));
    }
}
