//! Which colour each section gets.

use super::Swatch;
use std::collections::{BTreeMap, BTreeSet};

/// The end of the rod at which the rotation of colours starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RotationStart {
    /// The section within the innermost bind gets the first colour.
    #[default]
    Centre,
    /// The section beyond the outermost bind gets the first colour.
    Edge,
}

/// Colours laid on the sections in rotation, with single sections changed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Colours {
    /// The colours in their order of rotation; none leaves every section without.
    pub rotation: Vec<Swatch>,
    /// Where the rotation starts.
    pub start: RotationStart,
    /// Sections that get another colour than their turn, by section number (1 is at the centre) and name of a colour.
    pub single: BTreeMap<u32, String>,
    /// Sections that get no dye, by section number.
    pub bare: BTreeSet<u32>,
}

impl Colours {
    /// The rotation alone: no section has a colour of its own or is left bare.
    #[must_use]
    pub fn in_turn(self) -> Self {
        Self { single: BTreeMap::new(), bare: BTreeSet::new(), ..self }
    }

    /// Whether no section has a colour of its own or is left bare.
    #[must_use]
    pub fn is_in_turn(&self) -> bool {
        self.single.is_empty() && self.bare.is_empty()
    }

    /// Forgets what is said of sections beyond so many.
    pub fn keep_sections(&mut self, sections: usize) {
        self.single.retain(|section, _| *section as usize <= sections);
        self.bare.retain(|section| *section as usize <= sections);
    }

    /// For each of `sections` sections, from the centre outward, the index of its colour in the rotation.
    #[must_use]
    pub fn by_section(&self, sections: usize) -> Vec<Option<usize>> {
        let count = self.rotation.len();
        let by_name = |name: &String| self.rotation.iter().position(|swatch| swatch.name == *name);
        (0..sections)
            .map(|index| {
                let number = u32::try_from(index + 1).ok().filter(|number| !self.bare.contains(number))?;
                let turn = match self.start {
                    RotationStart::Centre => index,
                    RotationStart::Edge => sections - 1 - index,
                };
                self.single.get(&number).and_then(by_name).or_else(|| turn.checked_rem(count))
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Srgb;

    fn colours(start: RotationStart, single: &[(u32, &str)]) -> Colours {
        let swatch = |name: &str| Swatch::plain(name, Srgb { red: 0, green: 0, blue: 0 });
        let single = single.iter().map(|&(number, name)| (number, name.to_owned())).collect();
        Colours { rotation: ["teal", "amber", "plum"].map(swatch).to_vec(), start, single, bare: BTreeSet::new() }
    }

    #[test]
    fn every_nth_section_has_the_same_colour() {
        let some = |turns: [usize; 7]| turns.map(Some).to_vec();
        assert_eq!(colours(RotationStart::Centre, &[]).by_section(7), some([0, 1, 2, 0, 1, 2, 0]));
        assert_eq!(colours(RotationStart::Edge, &[]).by_section(7), some([0, 2, 1, 0, 2, 1, 0]));
        assert_eq!(colours(RotationStart::Centre, &[(2, "teal")]).by_section(7), some([0, 0, 2, 0, 1, 2, 0]));
        assert_eq!(Colours::default().by_section(2), [None, None]);
        let mut bare = Colours { bare: [2, 5].into(), ..colours(RotationStart::Centre, &[(3, "teal"), (6, "teal")]) };
        assert_eq!(bare.by_section(4), [Some(0), None, Some(0), Some(0)], "the turn goes on under what is bare");
        bare.keep_sections(4);
        assert_eq!((bare.single.len(), bare.bare.len(), bare.is_in_turn()), (1, 1, false));
        assert_eq!(bare.in_turn(), colours(RotationStart::Centre, &[]));
    }
}
