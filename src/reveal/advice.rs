//! What a maker would try, for the whole rod: the sections' fixes gathered into a few sentences.

use super::summary::UNEVEN_BELOW;
use super::{Fix, Reveal, SectionReveal};

/// One thing to try, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// What to try.
    pub fix: Fix,
    /// Numbers of the sections that it is for, rising, 1 at the centre.
    pub sections: Vec<usize>,
    /// The least and the greatest share of these sections' cloth that their dye reaches, 0 to 1.
    pub reached: (f64, f64),
    /// The most uneven of them: what its paler side gets of its darker side's dose, 0 to 1, front against back or left against right.
    pub least_even: f64,
}

impl Advice {
    /// What to try, for which sections, and why, in one or two sentences.
    #[must_use]
    pub fn sentence(&self) -> String {
        let percent = |share: f64| format!("{:.0}", 100.0 * share);
        let (least, greatest) = (percent(self.reached.0), percent(self.reached.1));
        let reached = if least == greatest { least } else { format!("{least} to {greatest}") };
        let whose = if self.sections.len() == 1 { "its" } else { "their" };
        let sides = match self.least_even {
            even if even < UNEVEN_BELOW => {
                format!(", and where it is most uneven the paler side gets {} % of the other's dose", percent(even))
            }
            _ => String::new(),
        };
        format!("{} {}: the dye reaches {reached} % of {whose} cloth{sides}.", self.fix.sentence(), in_ranges(&self.sections))
    }
}

/// Sections in words: `Sections 1-3 and 5`.
fn in_ranges(sections: &[usize]) -> String {
    let mut ranges: Vec<(usize, usize)> = Vec::new();
    for &section in sections {
        match ranges.last_mut() {
            Some((_, last)) if *last + 1 == section => *last = section,
            _ => ranges.push((section, section)),
        }
    }
    let words: Vec<String> =
        ranges.iter().map(|&(first, last)| if first == last { first.to_string() } else { format!("{first}-{last}") }).collect();
    let noun = if sections.len() == 1 { "Section" } else { "Sections" };
    match words.split_last() {
        Some((last, [])) => format!("{noun} {last}"),
        Some((last, before)) => format!("{noun} {} and {last}", before.join(", ")),
        None => "No section".to_owned(),
    }
}

impl Reveal {
    /// What to try, the most useful first: each fix that any section asks for, once.
    #[must_use]
    pub fn advice(&self) -> Vec<Advice> {
        gather(&self.summary)
    }
}

fn gather(summary: &[SectionReveal]) -> Vec<Advice> {
    let asking = |fix: Fix| summary.iter().filter(move |section| section.fixes.contains(&fix));
    let even = |section: &SectionReveal| section.even_front_back.min(section.even_left_right);
    let advice = |fix: Fix| Advice {
        fix,
        sections: asking(fix).map(|section| section.number).collect(),
        reached: asking(fix).fold((1.0, 0.0), |(least, most), section| (section.reached.min(least), section.reached.max(most))),
        least_even: asking(fix).map(even).fold(1.0, f64::min),
    };
    let asked = Fix::ALL.into_iter().filter(|&fix| asking(fix).next().is_some());
    asked.map(advice).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section(number: usize, reached: f64, even_front_back: f64, fixes: &[Fix]) -> SectionReveal {
        let fixes = fixes.to_vec();
        SectionReveal {
            number,
            dye: Some(0),
            reached,
            mean_dose: 0.5,
            middle_dose: 0.1,
            even_front_back,
            even_left_right: 1.0,
            fixes,
        }
    }

    #[test]
    fn each_fix_is_told_once_with_its_sections_and_why() {
        let turn = [Fix::TurnTheRod];
        let summary = [
            section(1, 1.0, 1.0, &[]),
            section(2, 0.9, 0.52, &turn),
            section(3, 0.5, 0.9, &[Fix::TurnTheRod, Fix::SecondIce]),
            section(4, 0.95, 0.98, &[]),
            section(5, 0.7, 0.6, &turn),
        ];
        let advice = gather(&summary);
        let [turned, ice] = &advice[..] else { panic!("{advice:?}") };
        assert_eq!(
            (turned.fix, &turned.sections[..], turned.reached, turned.least_even),
            (Fix::TurnTheRod, &[2, 3, 5][..], (0.5, 0.9), 0.52)
        );
        let why = "Sections 2-3 and 5: the dye reaches 50 to 90 % of their cloth, and where it is most uneven the paler side gets 52 % of the other's dose.";
        assert!(turned.sentence().ends_with(why), "{}", turned.sentence());
        assert!(ice.sentence().contains(" Section 3: the dye reaches 50 % of its"), "{}", ice.sentence());
        assert_eq!(gather(&summary[..1]), []);
    }
}
