//! What holds for every page: nothing in it leads nowhere, is unknown to the program, or can go stale.

use super::block::Style;
use super::*;
use crate::plan::Hazard;
use crate::print::unprintable;
use pulldown_cmark::{Event, Options, Parser, Tag};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn all_blocks(blocks: &[Block]) -> Vec<&Block> {
    let mut found = Vec::new();
    for block in blocks {
        found.push(block);
        if let Block::List { items, .. } = block {
            items.iter().for_each(|item| found.extend(all_blocks(item)));
        }
    }
    found
}

fn words_on(page: &Page) -> usize {
    let runs = page.blocks().iter().flat_map(Block::runs);
    runs.map(|run| run.text.split_whitespace().count()).sum()
}

#[test]
fn pages_are_few_named_and_short() {
    assert!((25..=40).contains(&pages().len()));
    let names: BTreeSet<&str> = pages().iter().map(Page::name).collect();
    let titles: BTreeSet<&str> = pages().iter().map(Page::title).collect();
    assert_eq!((names.len(), titles.len()), (pages().len(), pages().len()));
    assert!(pages().is_sorted_by_key(Page::chapter));
    for (page, source) in pages().iter().zip(&SOURCES) {
        assert!(!page.title().is_empty(), "{}", page.name());
        let words = words_on(page);
        // Pages to look things up in are as long as their tables.
        let most = if ["cautions", "glossary", "keys", "model"].contains(&page.name()) { 1600 } else { 700 };
        assert!((90..=most).contains(&words), "{} has {words} words", page.name());
        let own = source.text.split_whitespace().count();
        assert!(own <= 620, "{} is {own} words long", page.name());
    }
}

/// Nothing but what the model has: no markup that a page would lose.
#[test]
fn pages_hold_nothing_that_the_model_has_not() {
    for source in &SOURCES {
        let text = fill::filled(source.text);
        let mut titles = 0;
        for event in Parser::new_ext(&text, Options::ENABLE_TABLES | Options::ENABLE_HEADING_ATTRIBUTES) {
            match event {
                Event::Start(Tag::Heading { level, .. }) => {
                    titles += usize::from(level as u8 == 1);
                    assert!(level as u8 <= 3, "{}: {level:?}", source.name);
                }
                Event::Start(Tag::Image { dest_url, .. }) => {
                    let figure = dest_url.strip_prefix("figure:").and_then(Figure::named);
                    assert!(figure.is_some(), "{}: {dest_url}", source.name);
                }
                Event::Start(
                    Tag::Paragraph
                    | Tag::BlockQuote(_)
                    | Tag::CodeBlock(_)
                    | Tag::List(_)
                    | Tag::Item
                    | Tag::Table(_)
                    | Tag::TableHead
                    | Tag::TableRow
                    | Tag::TableCell
                    | Tag::Emphasis
                    | Tag::Strong
                    | Tag::Link { .. },
                )
                | Event::End(_)
                | Event::Text(_)
                | Event::Code(_)
                | Event::SoftBreak => {}
                other => panic!("{}: {other:?}", source.name),
            }
        }
        assert_eq!(titles, 1, "{}", source.name);
    }
}

#[test]
fn everything_is_filled_in_and_can_be_printed() {
    for page in pages() {
        for block in all_blocks(page.blocks()) {
            let text: String = match block {
                Block::Code(code) => code.clone(),
                block => block.runs().iter().map(|run| run.text.as_str()).collect(),
            };
            assert!(!text.contains("{{") && !text.contains("}}"), "{}: {text}", page.name());
            assert_eq!(unprintable(&text), Vec::<char>::new(), "{}: {text}", page.name());
            if let Block::Table { head, rows } = block {
                assert!(rows.iter().all(|row| row.len() == head.len()), "{}", page.name());
            }
        }
    }
}

#[test]
fn every_link_leads_somewhere() {
    let mut seen = 0;
    for source in pages() {
        let mut anchors = BTreeSet::new();
        for block in source.blocks() {
            if let Block::Heading { anchor, .. } = block {
                assert!(anchors.insert(anchor), "{} has {anchor} twice", source.name());
            }
        }
        for run in source.blocks().iter().flat_map(Block::runs) {
            let Some(Link::Page { name, anchor }) = &run.link else { continue };
            let target = page(name).unwrap_or_else(|| panic!("{} leads to {name}", source.name()));
            if let Some(anchor) = anchor {
                assert!(target.heading(anchor).is_some(), "{} leads to {name}#{anchor}", source.name());
            }
            seen += 1;
        }
    }
    assert!(seen > 50, "{seen}");
}

/// Every page but the first can be reached from another, and every picture stands somewhere.
#[test]
fn nothing_is_left_out() {
    let leads = |run: &Run| match &run.link {
        Some(Link::Page { name, .. }) => Some(name.clone()),
        _ => None,
    };
    let reached: BTreeSet<String> =
        pages().iter().flat_map(|page| page.blocks().iter().flat_map(Block::runs)).filter_map(leads).collect();
    let lost: Vec<&str> = pages()[1..].iter().map(Page::name).filter(|name| !reached.contains(*name)).collect();
    assert_eq!(lost, [""; 0]);
    let drawn: BTreeSet<&str> = pages()
        .iter()
        .flat_map(|page| all_blocks(page.blocks()))
        .filter_map(|block| if let Block::Figure { figure, .. } = block { Some(figure.name()) } else { None })
        .collect();
    assert_eq!(drawn, Figure::ALL.map(Figure::name).into_iter().collect());
}

/// The views are those that the keys go to.
#[test]
fn every_view_has_its_page() {
    let keys = include_str!("../../KEYS.md");
    let views: Vec<&str> = keys
        .split("Go to the ")
        .skip(1)
        .filter_map(|rest| rest.split(' ').next())
        .map(|view| view.trim_end_matches('|'))
        .collect();
    assert_eq!(views.len(), 9, "{views:?}");
    for view in views {
        assert!(page_of_step(view).is_some(), "{view}");
    }
    assert_eq!(page_of_step("Garment").map(Page::name), Some("garment"));
}

#[test]
fn every_hazard_has_its_caution_after_the_two_general_ones() {
    // Fails to compile when a hazard is added.
    let name = |hazard: Hazard| match hazard {
        Hazard::SulfurDioxide => Some("sulfur-dioxide"),
        Hazard::StillGassing => Some("still-gassing"),
        Hazard::Respirator => Some("respirator"),
        Hazard::SelfHeatingPowder => Some("self-heating-powder"),
        Hazard::Eruption => Some("eruption"),
        Hazard::NeverMix => Some("never-mix"),
        Hazard::SpentBath => Some("spent-bath"),
        Hazard::Acid => Some("acid"),
        Hazard::Alkali => Some("alkali"),
        Hazard::DyePowder => Some("dye-powder"),
        Hazard::Scald => Some("scald"),
        Hazard::Bleach => Some("bleach"),
        Hazard::Defer => None,
    };
    let all = [
        Hazard::SulfurDioxide,
        Hazard::StillGassing,
        Hazard::Respirator,
        Hazard::SelfHeatingPowder,
        Hazard::Eruption,
        Hazard::NeverMix,
        Hazard::SpentBath,
        Hazard::Acid,
        Hazard::Alkali,
        Hazard::DyePowder,
        Hazard::Scald,
        Hazard::Bleach,
    ];
    let cautions = page("cautions").unwrap();
    for hazard in all {
        assert!(name(hazard).is_some_and(|name| cautions.heading(name).is_some()), "{hazard:?}");
    }
    let first_list = cautions.blocks().iter().find(|block| matches!(block, Block::List { .. }));
    assert!(matches!(first_list, Some(Block::List { first: Some(1), items }) if items.len() == 2), "{first_list:?}");
}

/// Sources without their tests, the handbook's own left out.
fn sources(folder: &Path, text: &mut String) {
    for path in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if path.is_dir() && !path.ends_with("handbook") {
            sources(&path, text);
        } else if path.extension().is_some_and(|ending| ending == "rs") && !path.ends_with("tests.rs") {
            text.push_str(&fs::read_to_string(&path).unwrap());
        }
    }
}

/// Names of things in the window are set in italics; each stands in the program's sources, so that a renamed one is found here.
#[test]
fn every_name_of_the_window_is_the_windows() {
    let mut text = String::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut text);
    let mut unknown = Vec::new();
    for page in pages() {
        for run in
            page.blocks().iter().flat_map(Block::runs).filter(|run| run.style == Style { emphasis: true, ..Style::default() })
        {
            let name = run.text.trim_end_matches(['.', ',']);
            if !text.contains(name) {
                unknown.push(format!("{}: {name}", page.name()));
            }
        }
    }
    assert_eq!(unknown, Vec::<String>::new());
}

/// Numbers that pages may say by themselves: names of papers and standards, and what a maker types. All others are filled in by the program,
/// stand in what it says, or in commands that a test runs.
const OWN_NUMBERS: [(&str, &str); 16] = [
    ("burst", "100 %"),
    ("refusals", "100 %"),
    ("sheets", "100 %"),
    ("sheets", "100 mm"),
    ("sheets", "A4"),
    ("projection", "A3"),
    ("spacing", "below 1"),
    ("spacing", "above 1"),
    ("line", "above 0"),
    ("line", "below 0"),
    ("command-line", "is 2"),
    ("command-line", "input, 1 for"),
    ("files", "is 0"),
    ("files", "outward 1, 2 and so on, inward -1, -2"),
    ("reveal", "0"),
    ("numbers", "D65"),
];

#[test]
fn no_number_can_go_stale() {
    for source in &SOURCES {
        // What the program puts in, headings' names, quotes, which a test holds to the program, and code.
        let mut text = String::new();
        let mut is_code = false;
        for line in source.text.lines() {
            if line.starts_with("```") {
                is_code = !is_code;
            } else if !is_code && !line.starts_with('>') {
                text.push_str(line);
                text.push('\n');
            }
        }
        let text = without(&without(&text, "{{", "}}"), "`", "`");
        let text = without(&text, "](", ")").replace("CIEDE2000", "");
        let text = OWN_NUMBERS.iter().filter(|(page, _)| *page == source.name).fold(text, |text, (_, own)| text.replace(own, ""));
        for line in text.lines() {
            let line = line.trim_start_matches(|c: char| c.is_ascii_digit()).trim_start_matches('.');
            assert!(!line.contains(|c: char| c.is_ascii_digit()), "{}: {line}", source.name);
        }
    }
}

/// A text without what stands between marks.
fn without(text: &str, from: &str, to: &str) -> String {
    let mut rest = text;
    let mut kept = String::new();
    while let Some((before, after)) = rest.split_once(from) {
        kept.push_str(before);
        rest = after.split_once(to).map_or("", |(_, after)| after);
    }
    kept + rest
}

#[test]
fn a_page_is_text_for_a_terminal() {
    for page in pages() {
        let text = plain_text(page, 80);
        assert!(text.starts_with(page.title()), "{text}");
        let long = text.lines().find(|line| line.chars().count() > 80 && !line.starts_with("    "));
        assert_eq!(long, None, "{}", page.name());
    }
    let text = plain_text(page("binds").unwrap(), 80);
    assert!(text.contains("\n*Binds* takes a number.") && text.contains("\npreset        its gaps\n-----"), "{text}");
    let text = plain_text(page("spacing").unwrap(), 60);
    assert!(text.contains("\nratio\n    gaps: each the one before times the same number\n    give: "), "{text}");
    let text = plain_text(page("warnings-colour").unwrap(), 80);
    assert!(text.contains("\nAdvice\n------\n") && text.contains("\n  > Turn the rod over"), "{text}");
}
