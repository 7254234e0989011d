//! Laying a spacing preset on a layout, and what that changes in it.

use crate::geometry::{Fit, SpacingError, SpacingPreset, SpacingSpec};
use crate::layout::{FoldSpec, Layout, LayoutSpec};
use crate::measure::{LengthStyle, RuleMarks};

/// Whose marks a layout has when a preset is laid on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PresetMarks {
    /// Its own: they belong to the rule on the table.
    #[default]
    Kept,
    /// The preset's.
    Taken,
}

/// What becomes of a layout's edits by hand when a preset is laid on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PresetEdits {
    /// They go with the spacing that they were made for.
    #[default]
    LeftOut,
    /// They stay.
    Kept,
}

/// How a preset is laid on a layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PresetUse {
    /// What happens to its lengths.
    pub fit: Fit,
    /// Whose marks count.
    pub marks: PresetMarks,
    /// What becomes of the edits by hand.
    pub edits: PresetEdits,
}

impl PresetUse {
    /// The layout with the preset's spacing. Whether that is right, only checking it as a whole can tell.
    ///
    /// # Errors
    /// [`SpacingError::GuideRadius`] when the preset's guide arc can't be used, [`SpacingError::EvenBands`] on a puck.
    pub fn lay(self, preset: &SpacingPreset, layout: &Layout) -> Result<LayoutSpec, SpacingError> {
        let mut raw = layout.raw().clone();
        let marks = match self.marks {
            PresetMarks::Kept => raw.binds.marks,
            PresetMarks::Taken => preset.marks,
        };
        let edits = match self.edits {
            PresetEdits::LeftOut => Vec::new(),
            PresetEdits::Kept => std::mem::take(&mut raw.binds.edits),
        };
        let guide_radius_mm = match &raw.fold {
            FoldSpec::Burst(burst) => burst.on_marks(marks).guide_radius_mm,
            FoldSpec::Line(_) | FoldSpec::Flat(_) => layout.guide_mm(),
            FoldSpec::Spiral(_) => return Err(SpacingError::EvenBands { field: "inward" }),
        };
        // Round strokes nothing lies within: there is no inward side, nor a radius to scale by.
        let is_round_strokes = layout.line().is_some_and(|line| line.kind().has_no_inside());
        let spacing = preset.apply(guide_radius_mm, if is_round_strokes { Fit::Kept } else { self.fit })?;
        let inward = if is_round_strokes { raw.binds.inward } else { spacing.inward };
        raw.binds = SpacingSpec { inward, marks, edits, ..spacing };
        Ok(raw)
    }
}

/// What a preset changed in a layout besides its gaps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PresetChange {
    /// Number of binds before and after.
    pub binds: [usize; 2],
    /// Radius of the guide arc before and after, mm.
    pub guide_radius_mm: [f64; 2],
    /// Marks before and after.
    pub marks: [RuleMarks; 2],
    /// The marks that the preset was made with.
    pub preset_marks: RuleMarks,
    /// Gaps below this can't be tied, before and after, mm; none where the thread decides.
    pub smallest_gap_mm: [Option<f64>; 2],
    /// Edits by hand before and after.
    pub edits: [usize; 2],
}

impl PresetChange {
    /// What `preset` changed between two states of a layout.
    #[must_use]
    pub fn of(preset: &SpacingPreset, before: &Layout, after: &Layout) -> Self {
        let both = [before, after];
        Self {
            binds: both.map(|layout| layout.binds().binds.len()),
            guide_radius_mm: both.map(|layout| layout.guide_mm()),
            marks: both.map(Layout::marks),
            preset_marks: preset.marks,
            smallest_gap_mm: both.map(|layout| layout.raw().binds.smallest_gap_mm),
            edits: both.map(|layout| layout.raw().binds.edits.len()),
        }
    }

    /// It in words, without a capital letter or a full stop.
    #[must_use]
    pub fn words(&self, lengths: LengthStyle) -> String {
        let mut words = vec![binds(self.binds), marks(self.marks, self.preset_marks)];
        let [before_mm, after_mm] = self.guide_radius_mm;
        if before_mm != after_mm {
            words.push(format!("guide arc {} instead of {}", lengths.format(after_mm), lengths.format(before_mm)));
        }
        let gap = |gap_mm: Option<f64>| gap_mm.map_or_else(|| "as the thread needs".to_owned(), |mm| lengths.format(mm));
        let [before_mm, after_mm] = self.smallest_gap_mm;
        if before_mm != after_mm {
            words.push(format!("smallest gap {} instead of {}", gap(after_mm), gap(before_mm)));
        }
        words.extend(edits(self.edits));
        words.join("; ")
    }
}

fn binds([before, after]: [usize; 2]) -> String {
    let noun = if after == 1 { "bind" } else { "binds" };
    if before == after { format!("{after} {noun} as before") } else { format!("{after} {noun} instead of {before}") }
}

fn marks([before, after]: [RuleMarks; 2], presets: RuleMarks) -> String {
    match (before == after, after == presets) {
        (false, _) => format!("marks {} instead of {}", after.name(), before.name()),
        (true, true) => format!("marks {}", after.name()),
        (true, false) => format!("marks stay {} (the preset has {})", after.name(), presets.name()),
    }
}

fn edits([before, after]: [usize; 2]) -> Option<String> {
    let noun = if before == 1 { "edit" } else { "edits" };
    let fate = if after == before { "kept" } else { "left out" };
    (before > 0).then(|| format!("{before} {noun} by hand {fate}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Document, EditCommand};
    use crate::geometry::{GarmentKind, RawMeasures};
    use crate::layout::starter_on_marks;
    use crate::store::{EXAMPLE_PRESETS, parse_preset};

    fn inch_layout() -> Layout {
        let raw = starter_on_marks(GarmentKind::HoodedTop, Some("L"), &RawMeasures::default(), RuleMarks::InchSixteenth);
        Layout::try_from(raw.unwrap()).unwrap()
    }

    /// Every preset that comes with the program is metric, and laid on an inch layout it used to make that metric too.
    #[test]
    fn a_preset_leaves_the_rule_alone_and_says_what_it_changed() {
        for example in EXAMPLE_PRESETS {
            let (preset, before) = (parse_preset(example.text).unwrap(), inch_layout());
            let raw = PresetUse { fit: Fit::Scaled, ..PresetUse::default() }.lay(&preset, &before).unwrap();
            let after = Layout::try_from(raw).unwrap();
            assert_eq!(after.marks(), RuleMarks::InchSixteenth, "{}", preset.name);
            assert_eq!(after.guide_mm(), before.guide_mm());
            let words = PresetChange::of(&preset, &before, &after).words(after.marks().lengths());
            assert!(words.contains("marks stay every 1/16 in (the preset has every "), "{words}");
            let taken = PresetUse { marks: PresetMarks::Taken, ..PresetUse::default() }.lay(&preset, &before).unwrap();
            let taken = Layout::try_from(taken).unwrap();
            assert_eq!(taken.marks(), preset.marks);
            let words = PresetChange::of(&preset, &before, &taken).words(before.marks().lengths());
            assert!(words.contains(&format!("marks {} instead of every 1/16 in", preset.marks.name())), "{words}");
        }
    }

    #[test]
    fn in_the_window_too_a_preset_leaves_the_rule_alone() {
        let preset = parse_preset(EXAMPLE_PRESETS[0].text).unwrap();
        let mut document = Document::new(inch_layout());
        document.perform(&EditCommand::AddBind(30.0)).unwrap();
        let (before, command) = (document.layout().clone(), EditCommand::ApplyPreset(Box::new(preset), Fit::Scaled));
        document.perform(&command).unwrap();
        assert_eq!(document.layout().marks(), RuleMarks::InchSixteenth);
        let told = command.told(&before, document.layout(), before.marks().lengths()).unwrap();
        assert!(told.starts_with("Applied \"") && told.contains("1 edit by hand left out"), "{told}");
        assert_eq!(EditCommand::ReleaseAllBinds.told(&before, document.layout(), before.marks().lengths()), None);
        document.perform(&EditCommand::SetKind(GarmentKind::CrewTee)).unwrap();
        assert_eq!(document.layout().marks(), RuleMarks::InchSixteenth, "another garment is measured with the same rule");
    }
}
