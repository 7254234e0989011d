//! Everything that can be done to a layout.

use super::{GivenOrder, PresetChange, PresetUse, binds, giving};
use crate::geometry::{
    BindId, Burst, BurstSpec, Centre, Centring, Cloth, Fit, GarmentKind, Known, KnownValues, Measure, Neighbours, Pleats,
    Progression, RawMeasures, Side, SpacingPreset, Thread, middle_mm, tightened,
};
use crate::layout::{
    Colours, FibreShare, GarmentSpec, Layout, LayoutError, LayoutSpec, Process, Swatch, WashSpec, starter_name, starter_on_marks,
};
use crate::measure::{LengthStyle, RuleMarks};
use crate::telling::Field;
use kurbo::Point;

/// A change of a layout, in the maker's terms.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum EditCommand {
    /// Gives it another name.
    Rename(String),
    /// Writes its note.
    SetNote(String),
    /// Takes another kind of garment, with a first layout for it; thread, colours, process and name stay.
    SetKind(GarmentKind),
    /// Takes another size; `None` goes by measurements alone.
    SetSize(Option<String>),
    /// Gives a measurement in mm, or goes back to the size's.
    SetMeasure(Measure, Option<f64>),
    /// Colours the garment.
    SetGarmentColour(Option<Swatch>),
    /// Says what a full discharge leaves of its colour; `None` leaves that to be guessed.
    SetDischargedColour(Option<Swatch>),
    /// Describes the cloth.
    SetCloth(Cloth),
    /// Says what the cloth is made of; nothing takes it for cotton.
    SetFibres(Vec<FibreShare>),
    /// Describes what a wash does.
    SetWash(WashSpec),
    /// Lays the garment another way.
    SetCentring(Centring),
    /// Puts the burst centre somewhere in the garment's frame, mm; measured from shoulder or middle as before.
    MoveCentre(Point),
    /// Measures the burst centre from the middle, or from the shoulder; it stays where it is.
    MeasureCentreFromMiddle(bool),
    /// Sets the guide arc's radius, mm.
    SetGuideRadius(f64),
    /// Sets the extra arcs' radii, mm.
    SetFurtherArcs(Vec<f64>),
    /// Sets pleat depth or count.
    SetPleats(Pleats),
    /// Sets the gaps on one side of the guide arc.
    SetProgression(Side, Progression),
    /// Gives one value of a side's spacing, or takes it back, as it is among the values; others give way in this order.
    GiveSpacing(Side, Known, KnownValues, GivenOrder),
    /// Sets the number of binds on the whole rod.
    SetBindCount(u32),
    /// Sets the gap at the centre as a share of the gap at the edge, 1 for even gaps.
    Tighten(f64),
    /// Rounds to the marks of a rule.
    SetMarks(RuleMarks),
    /// Puts a bind at a radius, mm.
    PutBind(BindId, f64, Neighbours),
    /// Adds a bind at a radius, mm.
    AddBind(f64),
    /// Takes a bind away.
    RemoveBind(BindId),
    /// Gives a bind back to its progression.
    ReleaseBind(BindId),
    /// Gives all binds back to their progressions.
    ReleaseAllBinds,
    /// Lays a preset's spacing.
    ApplyPreset(Box<SpacingPreset>, Fit),
    /// Describes thread and tying.
    SetThread(Thread),
    /// Sets the rotation of colours.
    SetColours(Colours),
    /// Gives one section (numbered from the centre) a colour of its own, or its turn back.
    SetSectionColour(u32, Option<String>),
    /// Says how the rod is dyed, calibration included.
    SetProcess(Process),
}

impl EditCommand {
    /// What it does, for "Undo ..." and "Redo ...".
    #[must_use]
    pub fn label(&self) -> String {
        match self {
            Self::Rename(_) => "rename".to_owned(),
            Self::SetNote(_) => "change note".to_owned(),
            Self::SetKind(kind) => format!("change kind to {}", kind.name()),
            Self::SetSize(Some(size)) => format!("change size to {size}"),
            Self::SetSize(None) => "use measurements".to_owned(),
            Self::SetMeasure(measure, _) => format!("change {}", measure.name()),
            Self::SetGarmentColour(_) => "colour garment".to_owned(),
            Self::SetDischargedColour(_) => "colour discharged cloth".to_owned(),
            Self::SetCloth(_) => "change cloth".to_owned(),
            Self::SetFibres(_) => "change fibres".to_owned(),
            Self::SetWash(_) => "change wash".to_owned(),
            Self::SetCentring(centring) => format!("change half fold to {}", centring.name()),
            Self::MoveCentre(_) => "move burst centre".to_owned(),
            Self::MeasureCentreFromMiddle(_) => "change centre's reference".to_owned(),
            Self::SetGuideRadius(_) => "move guide arc".to_owned(),
            Self::SetFurtherArcs(_) => "change extra arcs".to_owned(),
            Self::SetPleats(_) => "change pleats".to_owned(),
            Self::SetProgression(side, _) | Self::GiveSpacing(side, ..) => format!("change {side} spacing"),
            Self::SetBindCount(_) => "change number of binds".to_owned(),
            Self::Tighten(_) => "tighten gaps".to_owned(),
            Self::SetMarks(_) => "change marks".to_owned(),
            Self::PutBind(bind, ..) => format!("move {}", words(*bind)),
            Self::AddBind(_) => "add bind".to_owned(),
            Self::RemoveBind(bind) => format!("remove {}", words(*bind)),
            Self::ReleaseBind(bind) => format!("reset {}", words(*bind)),
            Self::ReleaseAllBinds => "reset all binds".to_owned(),
            Self::ApplyPreset(preset, _) => format!("apply \"{}\"", preset.name),
            Self::SetThread(_) => "change thread".to_owned(),
            Self::SetColours(_) => "change colours".to_owned(),
            Self::SetSectionColour(section, _) => format!("colour section {section}"),
            Self::SetProcess(_) => "change process".to_owned(),
        }
    }

    /// What is to be told when it was done, as a sentence without a full stop: what a preset changed besides the gaps. Other commands
    /// do what they say.
    #[must_use]
    pub fn told(&self, before: &Layout, after: &Layout, lengths: LengthStyle) -> Option<String> {
        let Self::ApplyPreset(preset, _) = self else { return None };
        let change = PresetChange::of(preset, before, after);
        Some(format!("Applied \"{}\": {}", preset.name, change.words(lengths)))
    }

    /// The raw layout that it makes of a layout. Whether that is right, only checking it as a whole can tell.
    ///
    /// # Errors
    /// [`LayoutError`] when it can't even be written down: no first layout for a kind, a preset without a guide radius.
    pub fn apply(&self, layout: &Layout) -> Result<LayoutSpec, LayoutError> {
        let mut raw = layout.raw().clone();
        let was_untyped = has_starter_name(&raw);
        // No arm for the rest: a command that nothing is done for must not compile.
        match self.clone() {
            Self::Rename(name) => raw.name = name,
            Self::SetNote(note) => raw.note = note,
            Self::SetKind(kind) => raw = other_kind(raw, kind)?,
            Self::SetSize(size) => raw.garment.size = size,
            Self::SetMeasure(measure, value_mm) => raw.garment.measures.set(measure, value_mm),
            Self::SetGarmentColour(colour) => raw.garment.colour = colour,
            Self::SetDischargedColour(colour) => raw.garment.discharged = colour,
            Self::SetCloth(cloth) => raw.garment.cloth = cloth,
            Self::SetFibres(fibres) => raw.garment.fibres = fibres,
            Self::SetWash(wash) => raw.garment.wash = wash,
            Self::SetThread(thread) => raw.thread = thread,
            Self::SetProcess(process) => raw.process = process,
            Self::SetColours(colours) => raw.colours = colours,
            Self::SetSectionColour(section, Some(colour)) => drop(raw.colours.single.insert(section, colour)),
            Self::SetSectionColour(section, None) => drop(raw.colours.single.remove(&section)),
            Self::SetCentring(centring) => on_burst(&mut raw, |burst| burst.centring = centring),
            Self::MoveCentre(to) => on_burst(&mut raw, |burst| burst.centre = moved(burst.centre, layout, to)),
            Self::MeasureCentreFromMiddle(from_middle) => {
                let like = if from_middle { FROM_MIDDLE } else { FROM_SHOULDER };
                if let Some(centre) = layout.burst().map(Burst::centre) {
                    on_burst(&mut raw, |burst| burst.centre = moved(like, layout, centre));
                }
            }
            Self::SetGuideRadius(radius_mm) => on_burst(&mut raw, |burst| burst.guide_radius_mm = radius_mm),
            Self::SetFurtherArcs(radii_mm) => on_burst(&mut raw, |burst| burst.further_arcs_mm = radii_mm),
            Self::SetPleats(pleats) => on_burst(&mut raw, |burst| burst.pleats = pleats),
            Self::SetProgression(Side::Inward, progression) => raw.binds.inward = progression,
            Self::SetProgression(Side::Outward, progression) => raw.binds.outward = progression,
            Self::GiveSpacing(side, known, values, order) => return giving::give(layout, side, known, values, &order),
            Self::SetBindCount(count) => return giving::give_bind_count(layout, count),
            Self::Tighten(share) => raw.binds = tightened(&raw.binds, layout.binds(), share),
            Self::SetMarks(marks) => raw.binds.marks = marks,
            Self::PutBind(bind, at_mm, neighbours) => binds::put(&mut raw.binds.edits, bind, at_mm, neighbours),
            Self::AddBind(at_mm) => raw.binds.edits.push(crate::geometry::BindEdit::Add { at_mm }),
            Self::RemoveBind(bind) => binds::remove(&mut raw.binds.edits, bind),
            Self::ReleaseBind(bind) => binds::release(&mut raw.binds.edits, bind),
            Self::ReleaseAllBinds => raw.binds.edits.clear(),
            Self::ApplyPreset(preset, fit) => {
                let laid = PresetUse { fit, ..PresetUse::default() }.lay(&preset, layout);
                raw = laid.map_err(|error| LayoutError { field: Field::from("binds"), problem: error.into() })?;
            }
        }
        if was_untyped && raw.name == layout.raw().name {
            raw.name = starter_name(raw.garment.kind, raw.garment.size.as_deref());
        }
        Ok(raw)
    }
}

/// Whether the maker has typed no name yet: it is still what kind and size give.
fn has_starter_name(raw: &LayoutSpec) -> bool {
    raw.name == starter_name(raw.garment.kind, raw.garment.size.as_deref())
}

/// Changes the burst; another fold has nothing that a change of a burst could change, and stays as it is.
fn on_burst(raw: &mut LayoutSpec, change: impl FnOnce(&mut BurstSpec)) {
    if let Some(burst) = raw.fold.burst_mut() {
        change(burst);
    }
}

/// A bind in words: binds are numbered by their side, not from the centre, for those numbers change with the spacing.
fn words(bind: BindId) -> String {
    match bind {
        BindId::GUIDE => "guide arc".to_owned(),
        BindId::Numbered(number) if number < 0 => format!("bind {} inside the guide arc", -number),
        BindId::Numbered(number) => format!("bind {number} outside the guide arc"),
        BindId::Added(_) => "added bind".to_owned(),
    }
}

const FROM_MIDDLE: Centre = Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: 0.0 };
const FROM_SHOULDER: Centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.0 };

/// A centre at `to`, measured the way `like` is.
fn moved(like: Centre, layout: &Layout, to: Point) -> Centre {
    match like {
        Centre::BelowShoulder { .. } => Centre::BelowShoulder { from_centre_line_mm: to.x, below_shoulder_mm: to.y },
        Centre::AboveMiddle { .. } => {
            let above_middle_mm = middle_mm(layout.panels()) - to.y;
            Centre::AboveMiddle { from_centre_line_mm: to.x, above_middle_mm }
        }
    }
}

fn other_kind(raw: LayoutSpec, kind: GarmentKind) -> Result<LayoutSpec, LayoutError> {
    let sizes = kind.sizes();
    let usual = sizes.iter().map(|size| size.name.to_string()).find(|name| raw.garment.size.as_ref() == Some(name));
    let size = usual.or_else(|| sizes.get(sizes.len() / 2).map(|size| size.name.to_string()));
    let first = starter_on_marks(kind, size.as_deref(), &RawMeasures::default(), raw.binds.marks)?;
    let GarmentSpec { colour, discharged, fibres, cloth, .. } = raw.garment;
    let garment = GarmentSpec { colour, discharged, fibres, cloth, ..first.garment };
    let colours = Colours { single: std::collections::BTreeMap::new(), ..raw.colours };
    let LayoutSpec { name, note, thread, process, limits, .. } = raw;
    Ok(LayoutSpec { name, note, garment, thread, colours, process, limits, ..first })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Document;
    use crate::layout::starter;

    #[test]
    fn a_name_follows_kind_and_size_until_the_maker_types_one() {
        let first = starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).and_then(Layout::try_from).unwrap();
        let mut document = Document::new(first);
        assert_eq!(document.layout().name(), "Crew-neck tee, M");
        document.perform(&EditCommand::SetSize(Some("2XL".to_owned()))).unwrap();
        assert_eq!(document.layout().name(), "Crew-neck tee, 2XL");
        document.perform(&EditCommand::SetKind(GarmentKind::VNeckTee)).unwrap();
        assert_eq!(document.layout().name(), "V-neck tee, 2XL");
        document.undo();
        document.undo();
        assert_eq!((document.layout().name(), document.layout().raw().garment.size.as_deref()), ("Crew-neck tee, M", Some("M")));

        document.perform(&EditCommand::Rename("Regatta".to_owned())).unwrap();
        document.perform(&EditCommand::SetSize(Some("L".to_owned()))).unwrap();
        document.perform(&EditCommand::SetKind(GarmentKind::Tank)).unwrap();
        assert_eq!(document.layout().name(), "Regatta", "a typed name stays");
    }
}
