//! What a maker would try, for the whole rod: the sections' fixes gathered into a few sentences.

use super::summary::UNEVEN_BELOW;
use super::{Fix, Reveal, SectionReveal};
use crate::telling::{Told, Voice, Warned};

/// What to try for some sections, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Which of several ties it is for.
    pub tie: Option<String>,
    /// What to try, the most useful first.
    pub fixes: Vec<Fix>,
    /// Numbers of the sections that it is for, rising, 1 at the centre.
    pub sections: Vec<usize>,
    /// The least and the greatest share of these sections' cloth that their dye reaches, 0 to 1.
    pub reached: (f64, f64),
    /// The most uneven of them: what its paler side gets of its darker side's dose, 0 to 1, front against back or left against right.
    pub least_even: f64,
}

impl Warned for Advice {
    fn name(&self) -> &'static str {
        "advice"
    }

    fn told(&self, _voice: Voice) -> Told {
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
        let cure = match self.fixes[..] {
            [only] => only.words().to_owned(),
            _ => format!("any of these helps: {}", self.fixes.iter().map(|fix| fix.words()).collect::<Vec<_>>().join("; ")),
        };
        let tie = self.tie.as_ref().map_or_else(String::new, |tie| format!("{tie}: "));
        Told::new(format!("{tie}{}: the dye reaches {reached} % of {whose} cloth{sides}", in_ranges(&self.sections)), cure)
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
    /// What to try, the most useful first: the fixes that the same sections ask for together.
    #[must_use]
    pub fn advice(&self) -> Vec<Advice> {
        self.ties().iter().flat_map(|tie| gather(&tie.summary, tie.layout().tie_name())).collect()
    }
}

fn gather(summary: &[SectionReveal], tie: Option<&str>) -> Vec<Advice> {
    let mut gathered: Vec<Advice> = Vec::new();
    for fix in Fix::ALL {
        let asking: Vec<&SectionReveal> = summary.iter().filter(|section| section.fixes.contains(&fix)).collect();
        let sections: Vec<usize> = asking.iter().map(|section| section.number).collect();
        match gathered.iter_mut().find(|advice| advice.sections == sections) {
            _ if sections.is_empty() => {}
            Some(advice) => advice.fixes.push(fix),
            None => {
                let even = |section: &&SectionReveal| section.even_front_back.min(section.even_left_right);
                gathered.push(Advice {
                    tie: tie.map(str::to_owned),
                    fixes: vec![fix],
                    sections,
                    reached: asking
                        .iter()
                        .fold((1.0, 0.0), |(least, most), section| (section.reached.min(least), section.reached.max(most))),
                    least_even: asking.iter().map(even).fold(1.0, f64::min),
                });
            }
        }
    }
    gathered
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
        let advice = gather(&summary, None);
        let [turned, ice] = &advice[..] else { panic!("{advice:?}") };
        assert_eq!(
            (&turned.fixes[..], &turned.sections[..], turned.reached, turned.least_even),
            (&turn[..], &[2, 3, 5][..], (0.5, 0.9), 0.52)
        );
        let why = "Sections 2-3 and 5: the dye reaches 50 to 90 % of their cloth, and where it is most uneven the paler side gets 52 % of the other's dose. Turn the rod over";
        let said = |advice: &Advice| advice.say(Voice::FILE);
        assert!(said(turned).starts_with(why), "{}", said(turned));
        assert!(said(ice).starts_with("Section 3: the dye reaches 50 % of its cloth. Put on"), "{}", said(ice));
        assert_eq!(gather(&summary[..1], None), []);
    }

    /// One reason used to be told three times, once for each fix.
    #[test]
    fn a_reason_is_told_once_with_all_that_helps() {
        let all = [Fix::TurnTheRod, Fix::DyeTheOtherSide, Fix::SecondIce];
        let [advice] = &gather(&[section(2, 0.32, 0.9, &all), section(3, 0.59, 0.9, &all)], None)[..] else {
            panic!("one advice")
        };
        let said = advice.say(Voice::FILE);
        assert_eq!(said.matches("the dye reaches").count(), 1, "{said}");
        assert!(all.iter().all(|fix| said.contains(fix.words())), "{said}");
    }
}
