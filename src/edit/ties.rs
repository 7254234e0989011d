//! Several ties on one garment: put on, taken off, named, ordered and mirrored.

use crate::geometry::{
    BindEdit, Centre, ClothPoint, DiscCutter, DrawnLine, Gather, LineFoldSpec, LineKind, Panel, PanelSet, Pleats, Progression,
    SpacingSpec, Taken, centre_at,
};
use crate::layout::{FoldSpec, FoldStart, Layout, LayoutSpec, Swatch, TieSpec, starter_tie};
use crate::telling::capitalised;
use kurbo::{Affine, Point, Shape as _, Size};

/// A change of which ties a garment has.
#[derive(Debug, Clone, PartialEq)]
pub enum TieChange {
    /// Puts another on, tied last. Where all of the garment was one tie, what that is called.
    Add(Box<TieSpec>),
    /// Takes one off, by its number from 0.
    Remove(usize),
    /// Calls one otherwise.
    Rename(usize, String),
    /// Ties one earlier or later: from one number to another.
    Reorder(usize, usize),
    /// Says what the cloth that no tie takes is dyed with, a dye that a tie has or another; `None` leaves it undyed.
    SetLoose(Option<Swatch>),
}

impl TieChange {
    /// What it does, for "Undo ..." and "Redo ...".
    pub(super) fn label(&self, layout: &Layout) -> String {
        let name = |number: &usize| layout.raw().tie_names().nth(*number).unwrap_or("tie").to_owned();
        match self {
            Self::Add(tie) => format!("add tie {}", tie.name),
            Self::Remove(number) => format!("remove tie {}", name(number)),
            Self::Rename(number, _) => format!("rename tie {}", name(number)),
            Self::Reorder(number, _) => format!("change when {} is tied", name(number)),
            Self::SetLoose(_) => "colour loose cloth".to_owned(),
        }
    }

    /// The layout that it makes of another. A number that no tie has changes nothing.
    pub(super) fn apply(self, layout: &Layout) -> LayoutSpec {
        let raw = layout.raw();
        let (mut ties, mut loose) = (raw.tie_specs(), raw.loose_swatch().cloned());
        match self {
            Self::Add(tie) => {
                if let ([only], false) = (&mut ties[..], layout.is_of_several()) {
                    only.name = tie_name(&only.fold, &[]);
                    leave_room(only, layout, &tie);
                }
                ties.push(*tie);
            }
            Self::Remove(number) if number < ties.len() && ties.len() > 1 => {
                ties.remove(number);
                if let [only] = &mut ties[..] {
                    keep_beyond(only, layout, usize::from(number == 0), loose.as_ref());
                }
            }
            Self::Rename(number, name) => {
                if let Some(tie) = ties.get_mut(number) {
                    tie.name = name;
                }
            }
            Self::Reorder(from, to) if from < ties.len() && to < ties.len() => {
                let tie = ties.remove(from);
                ties.insert(to, tie);
            }
            Self::SetLoose(colour) => loose = colour,
            Self::Remove(_) | Self::Reorder(..) => {}
        }
        raw.clone().with_ties(ties, loose)
    }
}

/// A layout with one of its ties changed. A dye that looks otherwise now does so in every tie that has it, and one that is called
/// otherwise is so called on the loose cloth, which keeps one that is taken away as its own.
pub(super) fn settled(raw: &LayoutSpec, number: usize, own: LayoutSpec) -> LayoutSpec {
    let (before, after) = (raw.tie(number).colours.rotation, own.colours.rotation.clone());
    let on_loose = raw.loose_swatch().cloned();
    let mut all = raw.with_tie(number, own);
    let colours = std::iter::once(&mut all.colours);
    let colours = colours.chain(all.ties.iter_mut().flat_map(|ties| &mut ties.further).map(|tie| &mut tie.colours));
    let known: Vec<String> = colours
        .flat_map(|colours| &mut colours.rotation)
        .map(|swatch| {
            if let Some(changed) = after.iter().find(|changed| changed.name == swatch.name) {
                swatch.clone_from(changed);
            }
            swatch.name.clone()
        })
        .collect();
    if let Some(ties) = &mut all.ties {
        // What is a tie's dye now is no more the loose cloth's own.
        if let Some(dye) = ties.loose_dye.take_if(|dye| known.contains(&dye.name)) {
            ties.loose = Some(dye.name);
        }
        if let Some(loose) = ties.loose.take_if(|loose| !known.contains(loose)) {
            let at = before.iter().position(|swatch| swatch.name == loose).filter(|_| before.len() == after.len());
            ties.loose = at.map(|at| after[at].name.clone());
            ties.loose_dye = if at.is_none() { on_loose } else { None };
        }
    }
    all
}

/// The cloth beyond the last bind of what becomes the only tie keeps what it had as loose cloth: its dye, where the tie has it, or none.
fn keep_beyond(only: &mut TieSpec, layout: &Layout, number: usize, loose: Option<&Swatch>) {
    let Some(tie) = layout.ties().get(number) else { return };
    let Ok(beyond) = u32::try_from(tie.binds().binds.len() + 1) else { return };
    match loose {
        None => drop(only.colours.bare.insert(beyond)),
        Some(dye) => {
            // A dye that this tie has not comes along.
            if !only.colours.rotation.iter().any(|swatch| swatch.name == dye.name) {
                keep_turns(only, layout, number);
                only.colours.rotation.push(dye.clone());
            }
            only.colours.single.insert(beyond, dye.name.clone());
        }
    }
}

/// Gives each section by name the dye that it has by its turn, before the rotation gets another.
fn keep_turns(only: &mut TieSpec, layout: &Layout, number: usize) {
    let Some(tie) = layout.ties().get(number) else { return };
    for (section, dye) in (1..).zip(tie.section_colours()) {
        if let Some(dye) = dye.and_then(|dye| tie.raw().colours.rotation.get(dye)) {
            only.colours.single.entry(section).or_insert_with(|| dye.name.clone());
        }
    }
}

/// What a tie is called to begin with: by its fold, with a number where that is taken.
#[must_use]
pub fn tie_name(fold: &FoldSpec, taken: &[&str]) -> String {
    let plain = match fold {
        FoldSpec::Line(line) => match &line.line {
            DrawnLine::Shape { shape, .. } => capitalised(shape.name()),
            DrawnLine::Path { .. } => "Line".to_owned(),
        },
        _ => "Burst".to_owned(),
    };
    free_name(&plain, taken)
}

/// A name that no tie has yet.
fn free_name(wanted: &str, taken: &[&str]) -> String {
    let numbered = (2..).map(|number: u32| format!("{wanted} {number}"));
    std::iter::once(wanted.to_owned()).chain(numbered).find(|name| !taken.contains(&name.as_str())).unwrap_or_default()
}

/// The least and the greatest radius of the guide arc of a burst that is put on beside others, mm, and the share of the room there that
/// it is (our own judgement).
const GUIDE_MM: [f64; 2] = [30.0, 60.0];
const OF_ROOM: f64 = 0.45;
/// Edge of the lattice on which room is looked for, mm.
const LATTICE_MM: f64 = 20.0;

/// A small burst where the garment has most room beside its ties: farthest from them and from its edges. Of a garment that is one tie
/// alone, which takes all of it, only the cloth out to its guide is thought to be taken.
#[must_use]
pub fn another_tie(layout: &Layout) -> TieSpec {
    let taken: Vec<Taken> = if layout.is_of_several() {
        layout.ties().iter().filter_map(|tie| Some(tie.tied_fold()?.taken().clone())).collect()
    } else {
        vec![layout.taken_within(layout.guide_mm())]
    };
    let (at, room_mm) = roomiest(layout, &taken);
    let raw = layout.raw();
    let names: Vec<&str> = raw.tie_names().collect();
    let radius_mm = (OF_ROOM * room_mm).clamp(GUIDE_MM[0], GUIDE_MM[1]).round();
    let mut tie = starter_tie("", at, radius_mm, layout.thread(), layout.marks(), raw.colours.clone());
    let first = if names.is_empty() { vec![tie_name(&raw.fold, &[])] } else { Vec::new() };
    let names: Vec<&str> = names.into_iter().chain(first.iter().map(String::as_str)).collect();
    tie.name = tie_name(&tie.fold, &names);
    tie
}

/// The point of the cloth with most room round it, and how much, mm.
fn roomiest(layout: &Layout, taken: &[Taken]) -> (Point, f64) {
    let Some((panel, outline)) = layout.panels().iter().next() else { return (Point::ORIGIN, 0.0) };
    let whole = outline.whole();
    let bounds = whole.bounds();
    let steps = |from_mm: f64, to_mm: f64| {
        #[expect(clippy::cast_possible_truncation, reason = "a garment is a few metres wide; casts saturate")]
        let ends = [(from_mm / LATTICE_MM).ceil() as i32, (to_mm / LATTICE_MM).floor() as i32];
        (ends[0]..=ends[1]).map(|step| f64::from(step) * LATTICE_MM)
    };
    let room_mm = |at: Point| {
        let cloth = ClothPoint { panel, x_mm: at.x, y_mm: at.y };
        let ties = taken.iter().map(|tie| tie.beyond_mm(cloth)).fold(f64::INFINITY, f64::min);
        ties.min(DiscCutter::new(whole, at).nearest_mm())
    };
    // What lies to the wearer's left first, so that of two places alike that one is taken.
    let rows = steps(bounds.y0, bounds.y1).flat_map(|y| steps(0.0, bounds.x1).map(move |x| Point::new(x, y)));
    let on_cloth = rows.filter(|&at| whole.contains(at)).map(|at| (at, room_mm(at)));
    on_cloth.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((bounds.center(), 0.0))
}

/// Takes away the outward binds of what was the only tie, as far as the other begins.
fn leave_room(only: &mut TieSpec, layout: &Layout, other: &TieSpec) {
    let reach_mm = match &other.fold {
        FoldSpec::Burst(burst) => burst.guide_radius_mm * 1.5,
        _ => 0.0,
    };
    let middle = middle_of(&other.fold, layout.panels());
    let nearest_mm = middle.map_or(f64::INFINITY, |at| {
        let cloth = ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y };
        layout.fold().along_as_laid_mm(layout.lay().as_laid(cloth)) - reach_mm
    });
    let guide_mm = layout.guide_mm();
    let kept: Vec<f64> = layout
        .binds()
        .binds
        .iter()
        .filter(|bind| bind.radius_mm > guide_mm && bind.radius_mm <= nearest_mm)
        .map(|bind| bind.radius_mm)
        .collect();
    if kept.len() + 1 >= layout.binds().binds.iter().filter(|bind| bind.radius_mm >= guide_mm).count() {
        return;
    }
    let gaps = std::iter::once(guide_mm).chain(kept.iter().copied()).zip(&kept).map(|(inner, outer)| outer - inner).collect();
    only.binds.outward = Progression::List { gaps_mm: gaps };
    // Places are as they came out: corrections by hand of these binds are in them.
    only.binds.edits.retain(|edit| match edit {
        BindEdit::Move { bind, .. } | BindEdit::Lock { bind, .. } | BindEdit::Remove { bind } => *bind <= 0,
        BindEdit::Add { at_mm } => *at_mm + layout.zero_mm() < guide_mm,
    });
    only.colours.keep_sections(layout.binds().binds.iter().filter(|bind| bind.radius_mm <= guide_mm).count() + kept.len());
}

/// One of several ties folded another way: a burst or a shape in its place, about as large. None of other folds, which lie where they lie on
/// any garment.
pub(super) fn refolded(tie: &Layout, start: &FoldStart) -> Option<LayoutSpec> {
    let (raw, middle) = (tie.raw(), tie.middle()?);
    // To the last bind, so that as much cloth is taken.
    let reach_mm = tie.tied_fold()?.taken().until_mm();
    let begun = |radius_mm: f64| starter_tie("", middle, radius_mm.round(), tie.thread(), tie.marks(), raw.colours.clone());
    let burst = begun(reach_mm / OUTER);
    let (fold, binds) = match start {
        FoldStart::Burst => {
            let mut fold = burst.fold;
            *fold.centring_mut() = raw.fold.centring();
            (fold, burst.binds)
        }
        FoldStart::Line(shape) => {
            // A line from edge to edge lies where it lies on any garment.
            if shape.kind() == LineKind::Across {
                return None;
            }
            let middle = FROM_MIDDLE.put(middle, tie.panels());
            let size = Size::new(2.0 * reach_mm / OUTER, 2.0 * reach_mm / OUTER);
            let size = Size::new(size.width.round(), size.height.round());
            let line = LineFoldSpec {
                centring: raw.fold.centring(),
                line: DrawnLine::Shape { shape: *shape, middle, size },
                guide_mm: if shape.kind() == LineKind::Ring { 0.0 } else { BESIDE_MM },
                further_mm: Vec::new(),
                pleats: Pleats::Depth { depth_mm: PLEAT_MM },
                gather: Gather::FanFold,
            };
            // How far it reaches inward hangs on the shape; binds outside it always have room.
            let gap_mm = (0.2 * reach_mm).clamp(15.0, 30.0).round();
            let outward = Progression::Even { count: Some(2), gap_mm: Some(gap_mm), span: None };
            let inward = Progression::List { gaps_mm: Vec::new() };
            (FoldSpec::Line(line), SpacingSpec { inward, outward, ..burst.binds })
        }
        _ => return None,
    };
    Some(LayoutSpec { fold, binds, colours: raw.colours.clone().in_turn(), ..raw.clone() })
}

/// How much farther the last bind of a burst to begin with lies than its guide arc.
const OUTER: f64 = 1.3;
/// Pleat depth to begin with, mm, and how far beside a line that nothing lies within its guide runs (our own judgement).
const PLEAT_MM: f64 = 25.0;
const BESIDE_MM: f64 = 30.0;
const FROM_MIDDLE: Centre = Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: 0.0 };

/// Where a burst or a shape has its middle, mm in the garment's frame.
fn middle_of(fold: &FoldSpec, panels: &PanelSet) -> Option<Point> {
    match fold {
        FoldSpec::Burst(burst) => Some(centre_at(burst.centre, panels)),
        FoldSpec::Line(LineFoldSpec { line: DrawnLine::Shape { middle, .. }, .. }) => Some(centre_at(*middle, panels)),
        FoldSpec::Line(LineFoldSpec { line: DrawnLine::Path { path, .. }, .. }) => Some(path.bounding_box().center()),
        FoldSpec::Flat(_) | FoldSpec::Spiral(_) => None,
    }
}

/// The same tie on the other side of the centre line; none of one that lies on a folded garment, which is on both sides already.
#[must_use]
pub fn mirrored(layout: &Layout, number: usize) -> Option<TieSpec> {
    let tie = layout.raw().tie_specs().into_iter().nth(number)?;
    if tie.fold.centring().is_folded() {
        return None;
    }
    let names: Vec<&str> = layout.raw().tie_names().collect();
    let name = other_side(&tie.name).unwrap_or_else(|| format!("{}, mirrored", tie.name));
    let fold = match tie.fold.clone() {
        FoldSpec::Burst(mut burst) => {
            burst.centre = burst.centre.mirrored();
            FoldSpec::Burst(burst)
        }
        FoldSpec::Line(mut line) => {
            line.line = match line.line {
                DrawnLine::Shape { shape, middle, size } => DrawnLine::Shape { shape, middle: middle.mirrored(), size },
                DrawnLine::Path { kind, path } => DrawnLine::Path { kind, path: Affine::scale_non_uniform(-1.0, 1.0) * path },
            };
            FoldSpec::Line(line)
        }
        fold => fold,
    };
    Some(TieSpec { name: free_name(&name, &names), fold, ..tie })
}

/// `Left sleeve` as `Right sleeve`.
fn other_side(name: &str) -> Option<String> {
    [("Left", "Right"), ("left", "right"), ("Right", "Left"), ("right", "left")]
        .into_iter()
        .find(|(side, _)| name.split_whitespace().any(|word| word == *side))
        .map(|(side, other)| name.replacen(side, other, 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Document, EditCommand};
    use crate::geometry::PanelPair;
    use crate::layout::{LayoutProblem, Srgb, Swatch, TieProblem};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn document() -> Document {
        Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap())
    }

    fn perform(document: &mut Document, change: TieChange) {
        document.perform(&EditCommand::Ties(change)).unwrap();
    }

    /// A tee with a second and a third tie, the third the second one's mirror image.
    fn with_sleeves() -> Document {
        let mut document = document();
        let another = another_tie(document.layout());
        perform(&mut document, TieChange::Add(Box::new(another)));
        perform(&mut document, TieChange::Rename(1, "Left sleeve".to_owned()));
        let other = mirrored(document.layout(), 1).unwrap();
        perform(&mut document, TieChange::Add(Box::new(other)));
        document
    }

    fn area_mm2(layout: &Layout, tie: usize) -> PanelPair<f64> {
        use crate::geometry::Bundle as _;
        let fold = layout.ties()[tie].tied_fold().unwrap();
        fold.cut(fold.taken().until_mm()).map(|cut| cut.area_mm2)
    }

    #[test]
    fn a_second_tie_is_put_where_there_is_room_and_the_first_makes_way() {
        let before = document();
        let document = with_sleeves();
        let layout = document.layout();
        assert_eq!(layout.raw().tie_names().collect::<Vec<_>>(), ["Burst", "Left sleeve", "Right sleeve"]);
        assert_eq!(document.tie_number(), 2);
        let shared: f64 = layout.ties().iter().map(|tie| tie.tied_fold().unwrap().shared_mm2().sum()).sum();
        assert!(shared < 1e-9, "{shared} mm2 in two ties");
        // Binds that stayed are where they were.
        let kept = &layout.ties()[0].binds().binds;
        assert!(kept.len() > 3 && kept.len() < before.layout().binds().binds.len());
        for (bind, earlier) in kept.iter().zip(&before.layout().binds().binds) {
            assert!((bind.radius_mm - earlier.radius_mm).abs() < 1e-9, "{bind:?} was {earlier:?}");
        }
        let [left, right] = [1, 2].map(|tie| area_mm2(layout, tie));
        assert!((left.sum() - right.sum()).abs() < 1e-6 * left.sum(), "{left:?} and {right:?}");
        let all: f64 = (0..3).map(|tie| area_mm2(layout, tie).sum()).sum::<f64>() + layout.loose().unwrap().area_mm2.sum();
        let cloth: f64 = layout.panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
        assert!((all - cloth).abs() < 1e-9 * cloth);
    }

    #[test]
    fn what_is_performed_is_done_to_the_tie_that_is_worked_on() {
        let mut document = with_sleeves();
        let before = document.layout().clone();
        document.work_on_tie(1);
        document.perform(&EditCommand::SetGuideRadius(40.0)).unwrap();
        let radius_mm = |tie: usize| document.layout().ties()[tie].guide_mm();
        assert_eq!(radius_mm(1), 40.0);
        assert_eq!([0, 2].map(radius_mm), [0, 2].map(|tie| before.ties()[tie].guide_mm()));
        assert_eq!(document.tie_number(), 1);
        // What is about the garment holds for all.
        document.perform(&EditCommand::SetSize(Some("L".to_owned()))).unwrap();
        assert!(document.layout().ties().iter().all(|tie| tie.raw().garment.size.as_deref() == Some("L")));
        document.undo();
        document.undo();
        assert_eq!(document.layout().raw(), before.raw());
    }

    #[test]
    fn a_dye_looks_alike_in_every_tie_and_on_the_loose_cloth() {
        let mut document = with_sleeves();
        let name = document.tie().raw().colours.rotation[0].name.clone();
        let dye = document.tie().raw().colours.rotation[0].clone();
        perform(&mut document, TieChange::SetLoose(Some(dye)));
        let mut colours = document.tie().raw().colours.clone();
        colours.rotation[0].srgb = Srgb { red: 1, green: 2, blue: 3 };
        document.perform(&EditCommand::SetColours(colours.clone())).unwrap();
        let layout = document.layout().clone();
        let looks = layout.ties().iter().filter_map(|tie| tie.raw().colours.rotation.iter().find(|swatch| swatch.name == name));
        assert!(looks.clone().count() == 3 && looks.clone().all(|swatch| swatch.srgb == colours.rotation[0].srgb));
        assert_eq!(layout.loose().unwrap().swatch.unwrap().srgb, colours.rotation[0].srgb);
        // A file may say otherwise, and is told.
        let mut raw = layout.raw().clone();
        let further = &mut raw.ties.as_mut().unwrap().further[1].colours.rotation[0];
        *further = Swatch::plain(&name, Srgb { red: 200, green: 0, blue: 0 });
        let error = Layout::try_from(raw).unwrap_err();
        assert!(matches!(error.problem, LayoutProblem::Tie(TieProblem::ColourDiffers { .. })), "{error}");
        assert_eq!(error.field.to_string(), "ties.further.2.colours.rotation.1");
    }

    /// A dye that no tie has, one that a tie gets as well, and one that its tie loses: the cloth looks as it did.
    #[test]
    fn loose_cloth_may_have_a_dye_of_its_own() {
        let mut document = with_sleeves();
        let sky = Swatch::plain("sky", Srgb { red: 140, green: 180, blue: 220 });
        let on_loose = |document: &Document| document.layout().loose().unwrap().swatch;
        let names =
            |document: &Document| document.layout().raw().ties.as_ref().map(|ties| (ties.loose.clone(), ties.loose_dye.clone()));
        perform(&mut document, TieChange::SetLoose(Some(sky.clone())));
        assert_eq!((on_loose(&document), names(&document)), (Some(sky.clone()), Some((None, Some(sky.clone())))));
        assert_eq!(document.layout().swatches().last(), Some(&&sky));
        let [with, without] = [true, false].map(|has_sky| {
            let mut colours = document.tie().raw().colours.clone();
            colours.rotation.extend(has_sky.then(|| sky.clone()));
            colours
        });
        document.perform(&EditCommand::SetColours(with)).unwrap();
        assert_eq!((on_loose(&document), names(&document)), (Some(sky.clone()), Some((Some("sky".to_owned()), None))));
        document.perform(&EditCommand::SetColours(without)).unwrap();
        assert_eq!((on_loose(&document), names(&document)), (Some(sky.clone()), Some((None, Some(sky.clone())))));
        perform(&mut document, TieChange::Remove(2));
        assert_eq!(on_loose(&document), Some(sky.clone()));
        // Of the tie that is left the section beyond its last bind has it, and the others what they had.
        let before = document.layout().ties()[0].clone();
        perform(&mut document, TieChange::Remove(1));
        let after = document.layout();
        let colour = |layout: &Layout, section: usize| {
            layout.section_colours()[section].map(|dye| layout.raw().colours.rotation[dye].clone())
        };
        assert_eq!(colour(after, before.sections()), Some(sky));
        for section in 0..before.sections() {
            assert_eq!(colour(after, section), colour(&before, section), "section {section}");
        }
    }

    #[test]
    fn ties_are_ordered_and_taken_off_until_one_is_left() {
        let mut document = with_sleeves();
        perform(&mut document, TieChange::Reorder(2, 0));
        assert_eq!(document.layout().raw().tie_names().collect::<Vec<_>>(), ["Right sleeve", "Burst", "Left sleeve"]);
        assert_eq!(document.tie_number(), 0);
        perform(&mut document, TieChange::Remove(1));
        assert_eq!(document.layout().raw().tie_names().collect::<Vec<_>>(), ["Right sleeve", "Left sleeve"]);
        perform(&mut document, TieChange::Remove(0));
        assert!(!document.layout().is_of_several() && document.layout().raw().ties.is_none());
        // What lay loose and undyed stays undyed: the section beyond the last bind.
        let sections = u32::try_from(document.layout().sections()).unwrap();
        assert_eq!(document.layout().raw().colours.bare, [sections].into());
        perform(&mut document, TieChange::Remove(0));
        assert_eq!(document.layout().ties().len(), 1);
    }

    #[test]
    fn a_tie_is_folded_otherwise_in_its_place() {
        let mut document = with_sleeves();
        let middle = document.tie().middle().unwrap();
        let taken_mm2 = area_mm2(document.layout(), 2).sum();
        document.perform(&EditCommand::SetFold(FoldStart::Line(crate::geometry::LineShape::Heart))).unwrap();
        assert!(document.tie().line().is_some());
        assert!(document.tie().middle().unwrap().distance(middle) < 1.0);
        let share = area_mm2(document.layout(), 2).sum() / taken_mm2;
        assert!((0.5..2.5).contains(&share), "{share}");
        // Every shape that doesn't run from edge to edge can be tied there, letters too.
        for shape in crate::geometry::LineShape::ALL.into_iter().filter(|shape| shape.kind() != LineKind::Across) {
            let folded = document.perform(&EditCommand::SetFold(FoldStart::Line(shape)));
            assert!(folded.is_ok(), "{}: {}", shape.name(), folded.unwrap_err());
        }
    }
}
