//! Runs of words from the parser's events.

use super::block::{Link, Run, Style};
use pulldown_cmark::{Event, Tag, TagEnd};

/// Collects runs; words of one look become one run.
#[derive(Debug, Default)]
pub(super) struct Runs {
    runs: Vec<Run>,
    style: Style,
    link: Option<Link>,
}

impl Runs {
    /// Takes an event in; whether it was one of words.
    pub(super) fn take(&mut self, event: &Event<'_>) -> bool {
        match event {
            Event::Text(text) => self.push(text, self.style),
            Event::Code(code) => self.push(code, Style { code: true, ..self.style }),
            Event::SoftBreak | Event::HardBreak => self.push(" ", self.style),
            Event::Start(Tag::Strong) => self.style.strong = true,
            Event::End(TagEnd::Strong) => self.style.strong = false,
            Event::Start(Tag::Emphasis) => self.style.emphasis = true,
            Event::End(TagEnd::Emphasis) => self.style.emphasis = false,
            Event::Start(Tag::Link { dest_url, .. }) => self.link = Some(link(dest_url)),
            Event::End(TagEnd::Link) => self.link = None,
            _ => return false,
        }
        true
    }

    fn push(&mut self, text: &str, style: Style) {
        match self.runs.last_mut() {
            Some(last) if last.style == style && last.link == self.link => last.text.push_str(text),
            _ => self.runs.push(Run { text: text.to_owned(), style, link: self.link.clone() }),
        }
    }

    /// What was collected, which is then gone.
    pub(super) fn finish(&mut self) -> Vec<Run> {
        std::mem::take(self).runs
    }
}

/// A page's name, with `#` before a heading's; or an address.
fn link(to: &str) -> Link {
    if to.contains("://") {
        return Link::Web(to.to_owned());
    }
    let (name, anchor) = to.split_once('#').map_or((to, None), |(name, anchor)| (name, Some(anchor.to_owned())));
    Link::Page { name: name.to_owned(), anchor }
}
