//! What could be tried with a layout.

use super::change::{Change, Touches};
use super::round;
use crate::edit::EditCommand;
use crate::geometry::{Centring, DrawnLine, FlatPattern, Spiral, ThreadKind, Twist, tightening};
use crate::layout::{DyeBy, Figures, Layout, LayoutSpec, RotationStart};
use crate::measure::LengthStyle;
use crate::telling::Warned as _;
use std::sync::Arc;

/// A layout that differs from another in one or two things.
#[derive(Debug, Clone)]
pub struct Variation {
    changes: Vec<Change>,
    commands: Vec<EditCommand>,
    layout: Arc<Layout>,
    /// Which of several ties it changes, from 0.
    tie: usize,
}

impl Variation {
    /// A layout with changes made to it, or to one of its several ties, one after the other. None where one of them does nothing or is refused, or where the outcome warns
    /// of something that the layout does not warn of.
    #[must_use]
    pub fn of(layout: &Layout, tie: usize, changes: Vec<Change>) -> Option<Self> {
        Self::beside(layout, tie, &warned_of(layout), changes)
    }

    /// The same where it is known what the layout warns of.
    fn beside(layout: &Layout, tie: usize, known: &[&'static str], changes: Vec<Change>) -> Option<Self> {
        let mut commands = Vec::with_capacity(changes.len());
        let mut varied = Arc::new(layout.clone());
        for change in &changes {
            let command = change.command(varied.ties().get(tie)?)?;
            let command = if varied.is_of_several() { EditCommand::InTie(tie, Box::new(command)) } else { command };
            let raw = command.apply(&varied).ok()?;
            if same_work(&raw, varied.raw()) {
                return None;
            }
            varied = Arc::new(Layout::try_from(raw).ok()?);
            commands.push(command);
        }
        let is_sound = warned_of(&varied).iter().all(|name| known.contains(name));
        is_sound.then_some(Self { changes, commands, layout: varied, tie })
    }

    /// What it has otherwise, in the order in which it is changed.
    #[must_use]
    pub fn changes(&self) -> &[Change] {
        &self.changes
    }

    /// What makes it of the layout that it varies, one after the other.
    #[must_use]
    pub fn commands(&self) -> &[EditCommand] {
        &self.commands
    }

    /// It as a layout.
    #[must_use]
    pub fn layout(&self) -> &Arc<Layout> {
        &self.layout
    }

    /// What it has otherwise, in a maker's words: `11 binds, plain string`.
    #[must_use]
    pub fn words(&self, lengths: LengthStyle) -> String {
        let words = self.layout.ties().get(self.tie).unwrap_or(&self.layout).words();
        self.changes.iter().map(|change| change.words(words, lengths)).collect::<Vec<_>>().join(", ")
    }

    /// Whether both could be made at once: they touch different things.
    pub(super) fn goes_with(&self, other: &Self) -> bool {
        let touched: Vec<Touches> = other.changes.iter().map(Change::touches).collect();
        self.changes.iter().all(|change| !touched.contains(&change.touches()))
    }

    /// Both made at once.
    pub(super) fn with(&self, other: &Self, layout: &Layout) -> Option<Self> {
        // The fold first: it may take binds and colours with it.
        let mut changes: Vec<Change> = self.changes.iter().chain(&other.changes).cloned().collect();
        changes.sort_by_key(|change| change.touches() != Touches::Fold);
        Self::of(layout, self.tie, changes)
    }
}

/// Whether two layouts ask for the same work, whatever they are called.
fn same_work(one: &LayoutSpec, other: &LayoutSpec) -> bool {
    one.fold == other.fold
        && one.binds == other.binds
        && one.colours == other.colours
        && one.thread == other.thread
        && one.ties == other.ties
        && one.process == other.process
}

fn warned_of(layout: &Layout) -> Vec<&'static str> {
    Figures::of(layout).warnings.iter().map(|warning| warning.name()).collect()
}

/// Every change of one thing that a maker could try with a layout, or with one of its several ties (from 0), and that it can carry without
/// a new warning.
#[must_use]
pub fn candidates(layout: &Layout, tie: usize) -> Vec<Variation> {
    let known = warned_of(layout);
    let Some(own) = layout.ties().get(tie) else { return Vec::new() };
    let changes = [binds(own), colours(own), fold(own), flat(own), spiral(own), dyeing(own)];
    changes.into_iter().flatten().filter_map(|change| Variation::beside(layout, tie, &known, vec![change])).collect()
}

/// Shares of the gap at the edge that the one at the centre may have: tight, tighter toward the centre, even.
const GAPS: [f64; 4] = [0.2, 0.4, 0.7, 1.0];
/// A share this near to the layout's own, as a ratio, is the same to the eye (own judgement).
const SAME_GAPS: f64 = 1.2;
/// What numbers and lengths are varied by, as shares.
const FEWER: f64 = 0.7;
const MORE: f64 = 1.4;
const TWICE: f64 = 2.0;

fn binds(layout: &Layout) -> Vec<Change> {
    if layout.spiral().is_some() {
        return Vec::new();
    }
    let now = tightening(&layout.raw().binds, layout.binds());
    let differs = |share: &f64| now.is_some_and(|now| (now / share).max(share / now) > SAME_GAPS);
    let gaps = GAPS.into_iter().filter(differs).map(Change::Gaps);
    let count = u32::try_from(layout.binds().binds.len()).unwrap_or(u32::MAX);
    let counts = [FEWER, MORE, TWICE].map(|share| round::count(count, share)).into_iter().filter(|&number| number > 0);
    gaps.chain(counts.map(Change::Binds)).collect()
}

fn colours(layout: &Layout) -> Vec<Change> {
    let colours = &layout.raw().colours;
    if colours.rotation.len() < 2 {
        return Vec::new();
    }
    let other = match colours.start {
        RotationStart::Centre => RotationStart::Edge,
        RotationStart::Edge => RotationStart::Centre,
    };
    let first = colours.rotation.iter().skip(1).map(|swatch| Change::FirstColour(swatch.name.clone()));
    let reversed = (colours.rotation.len() > 2).then_some(Change::Reversed);
    std::iter::once(Change::Start(other)).chain(first).chain(reversed).collect()
}

/// What the middle is moved by, as a share of the garment's height: seen at once, and still on the chest (own judgement).
const MOVED: f64 = 0.12;

fn fold(layout: &Layout) -> Vec<Change> {
    let mut changes = Vec::new();
    let now = layout.lay().centring();
    let others = [Centring::Nested, Centring::PlainHalf, Centring::Open];
    changes.extend(others.into_iter().filter(|&other| other != now).map(Change::Centring));
    if layout.middle().is_some() {
        let height_mm = layout.panels().iter().map(|(_, panel)| panel.whole().bounds().height()).fold(0.0, f64::max);
        let by_mm = round::length_mm(MOVED * height_mm, layout.marks());
        changes.extend([by_mm, -by_mm].map(Change::Lower));
    }
    if layout.burst().is_some() || layout.line().is_some() {
        let depth_mm = Figures::of(layout).fold.pleat_depth_mm;
        changes.extend([FEWER, MORE].map(|share| Change::PleatDepth(round::length_mm(share * depth_mm, layout.marks()))));
    }
    if let Some(DrawnLine::Shape { size, .. }) = layout.raw().fold.line().map(|of| &of.line) {
        changes.extend([FEWER, MORE].map(|share| Change::ShapeWidth(round::length_mm(share * size.width, layout.marks()))));
    }
    changes
}

/// Directions that strips are turned to, degrees.
const ANGLES: [f64; 4] = [0.0, 45.0, 90.0, 135.0];

fn flat(layout: &Layout) -> Vec<Change> {
    let strips = |width_mm: f64, angle_deg: f64| {
        let widths = [FEWER, MORE].map(|share| Change::StripWidth(round::length_mm(share * width_mm, layout.marks())));
        let angles = ANGLES.into_iter().filter(|angle| (angle - angle_deg).abs() > 1.0).map(Change::StripAngle);
        widths.into_iter().chain(angles).collect()
    };
    match layout.raw().fold.flat().map(|flat| &flat.pattern) {
        Some(
            FlatPattern::Stripes { width_mm, angle_deg, .. }
            | FlatPattern::Squares { width_mm, angle_deg, .. }
            | FlatPattern::Triangles { width_mm, angle_deg, .. },
        ) => strips(*width_mm, *angle_deg),
        Some(FlatPattern::Wedges { wedges, .. }) => {
            [wedges.saturating_sub(4), wedges.saturating_sub(2), wedges + 2, wedges + 4].map(Change::Wedges).to_vec()
        }
        Some(FlatPattern::Halves { .. }) | None => Vec::new(),
    }
}

/// Turns are varied by quarters.
const TURN: f64 = 0.25;

fn spiral(layout: &Layout) -> Vec<Change> {
    let Some(spec) = layout.spiral().map(Spiral::spec) else { return Vec::new() };
    let turns = [0.5, FEWER, MORE].map(|share| Change::Turns(((share * spec.turns / TURN).round() * TURN).max(TURN)));
    let bands = [spec.bands.saturating_sub(1), spec.bands + 1, spec.bands + 2].map(Change::Bands);
    let twist = match spec.twist {
        Twist::Clockwise => Twist::Anticlockwise,
        Twist::Anticlockwise => Twist::Clockwise,
    };
    turns.into_iter().chain(bands).chain([Change::Twist(twist)]).collect()
}

fn dyeing(layout: &Layout) -> Vec<Change> {
    let threads = [ThreadKind::Waxed, ThreadKind::PlainString, ThreadKind::RubberBand];
    let mut changes: Vec<Change> = threads.into_iter().filter(|&kind| kind != layout.thread().kind).map(Change::Thread).collect();
    if layout.process().dye == DyeBy::PowderUnderIce {
        let layers = layout.process().ice_layers.0;
        changes.extend([layers.saturating_sub(1), layers + 1, layers + 2].into_iter().filter(|&n| n > 0).map(Change::IceLayers));
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Document;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Whatever is offered can be done in the document, and leads to the layout that was pictured, as one step that can be undone.
    #[test]
    fn every_example_has_variations_and_each_can_be_taken() {
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            let found = candidates(&layout, 0);
            assert!(found.len() >= 5, "{}: {} found", example.name, found.len());
            let mut document = Document::new(layout.clone());
            for variation in &found {
                document.begin_gesture("variation");
                for command in variation.commands() {
                    document.perform(command).unwrap();
                }
                document.end_gesture();
                assert_eq!(document.layout().raw(), variation.layout().raw(), "{}: {:?}", example.name, variation.changes());
                assert!(!variation.words(LengthStyle::default()).is_empty());
                document.undo();
                assert_eq!(document.layout().raw(), layout.raw(), "{}: {:?}", example.name, variation.changes());
            }
        }
    }

    /// Nobody is led from a layout that is sound to one that is warned of.
    #[test]
    fn no_variation_brings_a_warning() {
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            let before = warned_of(&layout);
            for variation in candidates(&layout, 0) {
                let new: Vec<_> = warned_of(variation.layout()).into_iter().filter(|name| !before.contains(name)).collect();
                assert!(new.is_empty(), "{}: {:?} {new:?}", example.name, variation.changes());
            }
        }
    }

    /// The numbers of a bind count are those that were asked for.
    #[test]
    fn what_the_words_say_is_what_is_there() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let mut seen = 0;
        for variation in candidates(&layout, 0) {
            let varied = variation.layout();
            match variation.changes() {
                [Change::Binds(count)] => assert_eq!(varied.binds().binds.len(), *count as usize),
                [Change::Thread(kind)] => assert_eq!(varied.thread().kind, *kind),
                [Change::Gaps(share)] => {
                    let found = tightening(&varied.raw().binds, varied.binds()).unwrap();
                    assert!((found / share - 1.0).abs() < 0.02, "{share}: {found}");
                }
                [Change::FirstColour(name)] => assert_eq!(varied.raw().colours.rotation[0].name, *name),
                [Change::Lower(mm)] => {
                    let moved = varied.middle().unwrap() - layout.middle().unwrap();
                    assert!((moved.y - mm).abs() < 1e-6 && moved.x.abs() < 1e-6, "{mm}: {moved:?}");
                }
                _ => continue,
            }
            seen += 1;
        }
        assert!(seen >= 8, "{seen} of them looked at");
    }
}
