//! A layout's ties taken apart and put together.

use super::tie_spec::{TieSpec, TiesSpec};
use super::{LayoutSpec, Swatch};

impl LayoutSpec {
    /// How many ties there are.
    #[must_use]
    pub fn tie_count(&self) -> usize {
        1 + self.ties.as_ref().map_or(0, |ties| ties.further.len())
    }

    /// What the ties are called, in the order in which they are tied; the one tie of a layout has no name.
    pub fn tie_names(&self) -> impl Iterator<Item = &str> {
        let ties = self.ties.iter();
        ties.flat_map(|ties| std::iter::once(ties.first.as_str()).chain(ties.further.iter().map(|tie| tie.name.as_str())))
    }

    /// One of the ties as a layout of it alone, counted from 0; the last where there are fewer.
    #[must_use]
    pub fn tie(&self, number: usize) -> Self {
        let mut own = Self { ties: None, ..self.clone() };
        let further = self.ties.as_ref().map_or(&[][..], |ties| &ties.further);
        if let Some(tie) = number.checked_sub(1).and_then(|index| further.get(index.min(further.len().saturating_sub(1)))) {
            let TieSpec { name: _, fold, binds, thread, colours } = tie.clone();
            own = Self { fold, binds, thread, colours, ..own };
        }
        own
    }

    /// The same with one tie as it is in a layout of it alone, which says of the garment and its day what holds for all.
    #[must_use]
    pub fn with_tie(&self, number: usize, own: Self) -> Self {
        let mut ties = self.tie_specs();
        let Some(tie) = ties.get_mut(number) else { return self.clone() };
        let Self { name, note, garment, fold, binds, blocks, wrap, dips, thread, colours, process, limits, ties: _ } = own;
        *tie = TieSpec { name: std::mem::take(&mut tie.name), fold, binds, thread, colours };
        let mut all = Self { name, note, garment, blocks, wrap, dips, process, limits, ..self.clone() }.with_ties(ties, None);
        if let Some((ties, own)) = all.ties.as_mut().zip(self.ties.as_ref()) {
            (ties.loose, ties.loose_dye) = (own.loose.clone(), own.loose_dye.clone());
        }
        all
    }

    /// What the cloth that no tie takes is dyed with; none where it gets no dye, or one by a name that no tie has.
    #[must_use]
    pub fn loose_swatch(&self) -> Option<&Swatch> {
        let ties = self.ties.as_ref()?;
        let named = |name: &String| self.swatches().into_iter().find(|swatch| swatch.name == *name);
        ties.loose_dye.as_ref().or_else(|| ties.loose.as_ref().and_then(named))
    }

    /// The colours that any tie or the loose cloth is dyed with, each once by its name, in the order of the ties and their rotations.
    #[must_use]
    pub fn swatches(&self) -> Vec<&Swatch> {
        let further = self.ties.iter().flat_map(|ties| ties.further.iter().map(|tie| &tie.colours));
        let loose = self.ties.iter().filter_map(|ties| ties.loose_dye.as_ref());
        let mut swatches: Vec<&Swatch> = Vec::new();
        for swatch in std::iter::once(&self.colours).chain(further).flat_map(|colours| &colours.rotation).chain(loose) {
            if !swatches.iter().any(|known| known.name == swatch.name) {
                swatches.push(swatch);
            }
        }
        swatches
    }

    /// All ties, in the order in which they are tied.
    #[must_use]
    pub fn tie_specs(&self) -> Vec<TieSpec> {
        let name = self.ties.as_ref().map_or_else(String::new, |ties| ties.first.clone());
        let Self { fold, binds, thread, colours, .. } = self.clone();
        let first = TieSpec { name, fold, binds, thread, colours };
        std::iter::once(first).chain(self.ties.iter().flat_map(|ties| ties.further.iter().cloned())).collect()
    }

    /// The same with other ties, and with what the cloth about them is dyed with: a dye that a tie has goes by its name. Of no tie it is as it
    /// was, and of one it is a layout of one.
    #[must_use]
    pub fn with_ties(self, ties: Vec<TieSpec>, loose: Option<Swatch>) -> Self {
        let has_dye = |swatch: &Swatch| ties.iter().flat_map(|tie| &tie.colours.rotation).any(|dye| dye.name == swatch.name);
        let (loose, loose_dye) = match loose {
            Some(swatch) if has_dye(&swatch) => (Some(swatch.name), None),
            own => (None, own),
        };
        let mut ties = ties.into_iter();
        let Some(TieSpec { name, fold, binds, thread, colours }) = ties.next() else { return self };
        let further: Vec<TieSpec> = ties.collect();
        let ties = (!further.is_empty()).then_some(TiesSpec { first: name, further, loose, loose_dye });
        Self { fold, binds, thread, colours, ties, ..self }
    }
}
