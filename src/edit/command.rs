//! Everything that can be done to a layout.

use super::naming::bind_name;
use super::{GivenOrder, PresetChange, PresetUse, TieChange, Tying, binds, giving, ties};
use crate::geometry::{
    BindEdit, BindId, BlocksSpec, Centre, Centring, Cloth, DrawnLine, Fit, FlatFoldSpec, FlatPattern, GarmentKind, Gather, Known,
    KnownValues, LineFoldSpec, Measure, Neighbours, OwnOutline, Pleats, Progression, RawMeasures, Side, SpacingPreset,
    SpiralSpec, Thread, WedgesFirst, WrapSpec, half_at_fold, tightened, whole_at_fold,
};
use crate::layout::{
    Colours, Component, DipSpec, FibreShare, FoldSpec, FoldStart, GarmentSpec, Layout, LayoutError, LayoutSpec, Process, Swatch,
    Tuning, WashSpec, starter_name, starter_on,
};
use crate::measure::{LengthStyle, RuleMarks};
use crate::telling::Field;
use kurbo::{Affine, Point, Vec2};

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
    /// Takes an outline of the maker's own, at the size at which it is drawn; with a first layout for it where the garment was another.
    SetOutline(Box<OwnOutline>),
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
    /// Folds the garment another way, with first binds for it.
    SetFold(FoldStart),
    /// Draws the line that it is folded along: its shape, place and size, or its path.
    SetLine(DrawnLine),
    /// Sets how far from the line the cloth is pleated along a parallel, mm, outside above 0.
    SetLineGuide(f64),
    /// Lays the pleats along the line by hand or by a running stitch.
    SetGather(Gather),
    /// Describes the creases of a flat bundle, and where its first bind lies.
    SetFlat(Box<FlatFoldSpec>),
    /// Puts blocks onto a flat bundle, or takes them off.
    SetBlocks(Option<BlocksSpec>),
    /// Winds a thread round a flat bundle, or takes it off.
    SetWrap(Option<WrapSpec>),
    /// Says what of a flat bundle is dipped into dye.
    SetDips(Vec<DipSpec>),
    /// Describes pinch, turns, puck and bands of a spiral.
    SetSpiral(SpiralSpec),
    /// Lays the garment another way.
    SetCentring(Centring),
    /// Puts the burst centre somewhere in the garment's frame, mm; measured from shoulder or middle as before.
    MoveCentre(Point),
    /// Measures the burst centre from the middle, or from the shoulder; it stays where it is.
    MeasureCentreFromMiddle(bool),
    /// Sets the guide arc's radius, mm.
    SetGuideRadius(f64),
    /// Sets the extra arcs' radii, mm.
    SetReferences(Vec<f64>),
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
    /// Says what the dye of this name is mixed of; nothing leaves it unmixed.
    SetComponents(String, Vec<Component>),
    /// Gives one section (numbered from the centre) a colour of its own, or its turn back.
    SetSectionColour(u32, Option<String>),
    /// Leave a section without dye.
    LeaveBare(u32),
    /// Takes calibration values that were learned, and with them how far the components of mixtures reach.
    TakeLearned(Box<Tuning>),
    /// Says how the rod is dyed, calibration included.
    SetProcess(Process),
    /// Takes the binds and dyes that were found for a wish.
    TakeTying(Box<Tying>),
    /// Changes which ties the garment has.
    Ties(TieChange),
    /// Does something to one of several ties, by its number from 0, as if it were a layout by itself. Of what holds for the whole
    /// garment all ties follow.
    InTie(usize, Box<Self>),
}

impl EditCommand {
    /// What it does to `layout`, for "Undo ..." and "Redo ...".
    #[must_use]
    pub fn label(&self, layout: &Layout) -> String {
        let words = |bind: BindId| bind_name(bind, layout);
        match self {
            Self::Rename(_) => "rename".to_owned(),
            Self::SetNote(_) => "change note".to_owned(),
            Self::SetKind(kind) => format!("change kind to {}", kind.name()),
            Self::SetOutline(_) => "change the outline".to_owned(),
            Self::SetSize(Some(size)) => format!("change size to {size}"),
            Self::SetSize(None) => "use measurements".to_owned(),
            Self::SetMeasure(measure, _) => format!("change {}", measure.name()),
            Self::SetGarmentColour(_) => "colour garment".to_owned(),
            Self::SetDischargedColour(_) => "colour discharged cloth".to_owned(),
            Self::SetCloth(_) => "change cloth".to_owned(),
            Self::SetFibres(_) => "change fibres".to_owned(),
            Self::SetWash(_) => "change wash".to_owned(),
            Self::SetFold(start) => format!("fold {}", start.words()),
            Self::SetLine(_) => "change the line".to_owned(),
            Self::SetLineGuide(_) => "move the fold guide".to_owned(),
            Self::SetGather(gather) => format!("change pleats to {}", gather.name()),
            Self::SetFlat(_) => "change the creases".to_owned(),
            Self::SetSpiral(_) => "change the spiral".to_owned(),
            Self::SetDips(_) => "change the dips".to_owned(),
            Self::SetBlocks(Some(_)) => "put blocks on".to_owned(),
            Self::SetBlocks(None) => "take blocks off".to_owned(),
            Self::SetWrap(Some(_)) => "wind thread round".to_owned(),
            Self::SetWrap(None) => "unwind the thread".to_owned(),
            Self::SetCentring(centring) => format!("change half fold to {}", centring.name()),
            Self::MoveCentre(_) => "move burst centre".to_owned(),
            Self::MeasureCentreFromMiddle(_) => "measure the centre another way".to_owned(),
            Self::SetGuideRadius(_) => "move guide arc".to_owned(),
            Self::SetReferences(_) => "change extra arcs".to_owned(),
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
            Self::SetComponents(dye, components) if components.is_empty() => format!("unmix {dye}"),
            Self::SetComponents(dye, _) => format!("mix {dye}"),
            Self::SetSectionColour(section, _) => format!("colour section {section}"),
            Self::LeaveBare(section) => format!("leave section {section} bare"),
            Self::TakeLearned(_) => "take what was learned".to_owned(),
            Self::SetProcess(_) => "change process".to_owned(),
            Self::TakeTying(_) => "tie as wished".to_owned(),
            Self::Ties(change) => change.label(layout),
            Self::InTie(number, command) => command.label(layout.ties().get(*number).unwrap_or(layout)),
        }
    }

    /// What is to be told when it was done, as a sentence without a full stop: what a preset changed besides the gaps. Other commands
    /// do what they say.
    #[must_use]
    pub fn told(&self, before: &Layout, after: &Layout, lengths: LengthStyle) -> Option<String> {
        if let Self::InTie(number, command) = self {
            return command.told(before.ties().get(*number)?, after.ties().get(*number)?, lengths);
        }
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
            Self::SetOutline(ref outline) => raw = other_outline(raw, outline)?,
            Self::SetSize(size) => raw.garment.size = size,
            Self::SetMeasure(measure, value_mm) => raw.garment.measures.set(measure, value_mm),
            Self::SetGarmentColour(colour) => raw.garment.colour = colour.map(Swatch::unmixed),
            Self::SetDischargedColour(colour) => raw.garment.discharged = colour.map(Swatch::unmixed),
            Self::SetCloth(cloth) => raw.garment.cloth = cloth,
            Self::SetFibres(fibres) => raw.garment.fibres = fibres,
            Self::SetWash(wash) => raw.garment.wash = wash,
            Self::SetThread(thread) => raw.thread = thread,
            Self::SetProcess(process) => raw.process = with_source(&raw.process, process),
            Self::TakeLearned(learned) => raw.tune(&learned),
            Self::SetColours(colours) => set_colours(&mut raw, colours),
            Self::TakeTying(tying) => take_tying(&mut raw, *tying),
            Self::Ties(change) => return Ok(change.apply(layout)),
            Self::InTie(number, command) => return in_tie(layout, number, &command),
            Self::SetComponents(dye, components) => set_components(&mut raw.colours, &dye, components),
            Self::SetSectionColour(section, colour) => set_section_colour(&mut raw.colours, section, colour),
            Self::LeaveBare(section) => leave_bare(&mut raw.colours, section),
            Self::SetFold(start) => return folded(raw, start),
            Self::SetLine(line) => on_line(&mut raw, |of| of.line = line),
            Self::SetLineGuide(guide_mm) => on_line(&mut raw, |of| of.guide_mm = guide_mm),
            Self::SetGather(gather) => on_line(&mut raw, |of| of.gather = gather),
            Self::SetFlat(flat) => set_flat(&mut raw.fold, *flat),
            Self::SetSpiral(spiral) => set_spiral(&mut raw, spiral),
            Self::SetBlocks(blocks) => raw.blocks = blocks,
            Self::SetWrap(wrap) => raw.wrap = wrap,
            Self::SetDips(dips) => raw.dips = dips,
            Self::SetCentring(centring) => lay(&mut raw.fold, centring),
            Self::MoveCentre(to) => {
                move_middle(&mut raw.fold, |middle| middle.put(to, layout.panels()));
                on_line(&mut raw, |of| of.line = carried(&of.line, layout, to));
            }
            Self::MeasureCentreFromMiddle(from_middle) => measure_middle(&mut raw.fold, layout, from_middle),
            Self::SetGuideRadius(along_mm) => set_guide(&mut raw.fold, layout, along_mm),
            Self::SetReferences(along_mm) => set_references(&mut raw.fold, layout, &along_mm),
            Self::SetPleats(pleats) => set_pleats(&mut raw.fold, pleats),
            Self::SetProgression(Side::Inward, progression) => raw.binds.inward = progression,
            Self::SetProgression(Side::Outward, progression) => raw.binds.outward = progression,
            Self::GiveSpacing(side, known, values, order) => return giving::give(layout, side, known, values, &order),
            Self::SetBindCount(count) => return giving::give_bind_count(layout, count),
            Self::Tighten(share) => raw.binds = tightened(&raw.binds, layout.binds(), share),
            Self::SetMarks(marks) => raw.binds.marks = marks,
            Self::PutBind(bind, at_mm, _) if raw.fold.spiral().is_some() => turn_bands(&mut raw.fold, layout, bind, at_mm),
            Self::PutBind(bind, at_mm, neighbours) => binds::put(&mut raw.binds.edits, bind, given_mm(layout, at_mm), neighbours),
            Self::AddBind(at_mm) => raw.binds.edits.push(BindEdit::Add { at_mm: given_mm(layout, at_mm) }),
            Self::RemoveBind(bind) => binds::remove(&mut raw.binds.edits, bind),
            Self::ReleaseBind(bind) => binds::release(&mut raw.binds.edits, bind),
            Self::ReleaseAllBinds => raw.binds.edits.clear(),
            Self::ApplyPreset(preset, fit) => raw = with_preset(layout, &preset, fit)?,
        }
        if was_untyped && raw.name == layout.raw().name {
            raw.name = starter_name(raw.garment.kind, raw.garment.size.as_deref());
        }
        Ok(raw)
    }
}

/// Lays a preset's spacing.
fn with_preset(layout: &Layout, preset: &SpacingPreset, fit: Fit) -> Result<LayoutSpec, LayoutError> {
    let laid = PresetUse { fit, ..PresetUse::default() }.lay(preset, layout);
    laid.map_err(|error| LayoutError { field: Field::from("binds"), problem: error.into() })
}

/// Does something to one of several ties.
fn in_tie(layout: &Layout, number: usize, command: &EditCommand) -> Result<LayoutSpec, LayoutError> {
    let Some(tie) = layout.ties().get(number).filter(|_| layout.is_of_several()) else { return command.apply(layout) };
    if let EditCommand::SetFold(start) = command
        && let Some(own) = ties::refolded(tie, start)
    {
        return Ok(ties::settled(layout.raw(), number, own));
    }
    let own = command.apply(tie)?;
    // Another garment is another layout: the other ties may lie beside it.
    if matches!(command, EditCommand::SetKind(_) | EditCommand::SetOutline(_)) {
        return Ok(own);
    }
    Ok(ties::settled(layout.raw(), number, own))
}

/// A place along the bundle as a layout's file gives it, mm: from the zero of its maker's rule, without the last digits' errors of the
/// difference.
fn given_mm(layout: &Layout, along_mm: f64) -> f64 {
    let zero_mm = layout.zero_mm();
    if zero_mm == 0.0 { along_mm } else { ((along_mm - zero_mm) * PER_MM).round() / PER_MM }
}

/// Steps in a millimetre that such a place is rounded to: a nanometre.
const PER_MM: f64 = 1e6;

/// Whether the maker has typed no name yet: it is still what kind and size give.
fn has_starter_name(raw: &LayoutSpec) -> bool {
    raw.name == starter_name(raw.garment.kind, raw.garment.size.as_deref())
}

/// Lays the garment another way. Wedges on its own fold get a half fold of their own where it is laid open.
fn lay(fold: &mut FoldSpec, centring: Centring) {
    if let Some(of) = fold.line_mut() {
        of.line = laid_otherwise(&of.line, [of.centring, centring]);
    }
    if let Some(FlatFoldSpec { pattern: FlatPattern::Wedges { first, .. }, .. }) = fold.flat_mut()
        && !centring.is_folded()
        && *first == WedgesFirst::OnTheFold
    {
        *first = WedgesFirst::HalfFold { angle_deg: 0.0 };
    }
    *fold.centring_mut() = centring;
}

/// A line on a garment that was laid one way and is laid another: of one's own, a folded garment needs half, an open one the whole.
fn laid_otherwise(line: &DrawnLine, [from, to]: [Centring; 2]) -> DrawnLine {
    let DrawnLine::Path { kind, path } = line else { return line.clone() };
    let turned = match [from, to].map(Centring::is_folded) {
        [false, true] => half_at_fold(path),
        [true, false] => whole_at_fold(path),
        _ => None,
    };
    DrawnLine::Path { kind: *kind, path: turned.unwrap_or_else(|| path.clone()) }
}

/// Changes the line; another fold has nothing that a change of a line could change, and stays as it is.
fn on_line(raw: &mut LayoutSpec, change: impl FnOnce(&mut LineFoldSpec)) {
    if let Some(line) = raw.fold.line_mut() {
        change(line);
    }
}

/// Moves the burst centre, or the middle of a shape. A path has none.
fn move_middle(fold: &mut FoldSpec, to: impl FnOnce(Centre) -> Centre) {
    match fold {
        FoldSpec::Burst(burst) => burst.centre = to(burst.centre),
        FoldSpec::Line(line) => {
            if let DrawnLine::Shape { middle, .. } = &mut line.line {
                *middle = to(*middle);
            }
        }
        FoldSpec::Flat(flat) => {
            if let FlatPattern::Wedges { centre, .. } = &mut flat.pattern {
                *centre = to(*centre);
            }
        }
        FoldSpec::Spiral(spiral) => spiral.centre = to(spiral.centre),
    }
}

/// Measures the middle from that of the garment, or from its top; it stays where it is.
fn measure_middle(fold: &mut FoldSpec, layout: &Layout, from_middle: bool) {
    let like = if from_middle { FROM_MIDDLE } else { FROM_SHOULDER };
    if let Some(middle) = layout.middle() {
        move_middle(fold, |_| like.put(middle, layout.panels()));
    }
}

/// Describes the creases of a flat bundle; another fold stays as it is.
fn set_flat(fold: &mut FoldSpec, flat: FlatFoldSpec) {
    if let Some(own) = fold.flat_mut() {
        *own = flat;
    }
}

/// A process whose calibration says where it comes from: what is changed by hand is no longer what was learned.
fn with_source(before: &Process, mut process: Process) -> Process {
    let (old, new) = (&before.calibration, &mut process.calibration);
    if old.learned == new.learned && !old.has_values_of(new) {
        new.learned = None;
    }
    process
}

/// Sets the pleats of a fold that is pleated.
fn set_pleats(fold: &mut FoldSpec, pleats: Pleats) {
    if let Some(own) = fold.pleats_mut() {
        *own = pleats;
    }
}

/// Ties as was found for a wish.
fn take_tying(raw: &mut LayoutSpec, Tying { fold, binds, colours }: Tying) {
    (raw.fold, raw.binds) = (fold, binds);
    set_colours(raw, colours);
}

/// Takes other colours. Dips go with a colour's new name; those of a colour that is taken away go too.
fn set_colours(raw: &mut LayoutSpec, colours: Colours) {
    let old = std::mem::replace(&mut raw.colours, colours);
    let new = &raw.colours.rotation;
    let named = |name: &str| new.iter().any(|swatch| swatch.name == name);
    let renamed = |name: &str| {
        let at = old.rotation.iter().position(|swatch| swatch.name == name)?;
        Some(&new.get(at).filter(|_| new.len() == old.rotation.len())?.name)
    };
    raw.dips.iter_mut().filter(|dip| !named(&dip.colour)).for_each(|dip| {
        if let Some(name) = renamed(&dip.colour) {
            dip.colour.clone_from(name);
        }
    });
    raw.dips.retain(|dip| named(&dip.colour));
}

/// Says what a dye of the rotation is mixed of; where there is none of this name nothing changes.
fn set_components(colours: &mut Colours, dye: &str, components: Vec<Component>) {
    if let Some(swatch) = colours.rotation.iter_mut().find(|swatch| swatch.name == dye) {
        swatch.components = components;
    }
}

/// Gives a section a colour of its own, or its turn.
fn set_section_colour(colours: &mut Colours, section: u32, colour: Option<String>) {
    colours.bare.remove(&section);
    match colour {
        Some(colour) => drop(colours.single.insert(section, colour)),
        None => drop(colours.single.remove(&section)),
    }
}

/// Leaves a section without dye; a colour of its own goes.
fn leave_bare(colours: &mut Colours, section: u32) {
    colours.single.remove(&section);
    colours.bare.insert(section);
}

/// Describes a spiral; colours of single wedges that it no longer has go.
fn set_spiral(raw: &mut LayoutSpec, spiral: SpiralSpec) {
    if let Some(own) = raw.fold.spiral_mut() {
        *own = spiral;
        raw.colours.keep_sections(spiral.bands.saturating_mul(2) as usize);
    }
}

/// Turns all bands of a puck so that one of their crossings lies at a distance along the rim.
fn turn_bands(fold: &mut FoldSpec, layout: &Layout, crossing: BindId, at_mm: f64) {
    if let (Some(own), Some(spiral)) = (fold.spiral_mut(), layout.spiral()) {
        let number = f64::from(crossing.edit_number().unwrap_or_default());
        let turn = at_mm / spiral.rim_mm() - number / f64::from(2 * spiral.spec().bands);
        own.first_band_deg = (360.0 * turn.rem_euclid(1.0) * PER_DEGREE).round() / PER_DEGREE;
    }
}

/// Steps in a degree that such a turn is rounded to: half a millimetre on the rim of a large puck.
const PER_DEGREE: f64 = 10.0;

/// A path of the maker's own with its middle somewhere else; one that the fold line mirrors stays on it.
fn carried(line: &DrawnLine, layout: &Layout, to: Point) -> DrawnLine {
    match (line, layout.middle()) {
        (DrawnLine::Path { kind, path }, Some(from)) => {
            let by = to - from;
            let is_mirrored = layout.lay().is_folded() && from.x == 0.0;
            let by = if is_mirrored { Vec2::new(0.0, by.y) } else { by };
            DrawnLine::Path { kind: *kind, path: Affine::translate(by) * path.clone() }
        }
        (line, _) => line.clone(),
    }
}

/// Puts reference lines somewhere along the bundle; a fold that takes none stays as it is.
fn set_references(fold: &mut FoldSpec, layout: &Layout, along_mm: &[f64]) {
    if let Some(own) = fold.further_mm_mut() {
        *own = along_mm.iter().map(|&along_mm| given_mm(layout, along_mm)).collect();
    }
}

/// Puts the guide arc at a radius; of a line that nothing lies within, the guide. Other lines are where they are drawn.
fn set_guide(fold: &mut FoldSpec, layout: &Layout, along_mm: f64) {
    match (fold, layout.line()) {
        (FoldSpec::Burst(burst), _) => burst.guide_radius_mm = along_mm,
        (FoldSpec::Line(of), Some(line)) if line.kind().has_no_inside() => of.guide_mm = along_mm,
        (FoldSpec::Flat(of), _) => of.first_bind_mm = Some(along_mm),
        (fold @ FoldSpec::Spiral(_), _) => turn_bands(fold, layout, BindId::GUIDE, along_mm),
        (FoldSpec::Line(_), _) => {}
    }
}

/// The same garment with another fold and first binds for it.
fn folded(raw: LayoutSpec, start: FoldStart) -> Result<LayoutSpec, LayoutError> {
    let first = starter_on(start, &raw.garment, raw.binds.marks)?;
    let colours = raw.colours.in_turn();
    Ok(LayoutSpec { fold: first.fold, binds: first.binds, blocks: first.blocks, wrap: first.wrap, colours, ..raw })
}

const FROM_MIDDLE: Centre = Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: 0.0 };
const FROM_SHOULDER: Centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.0 };

fn other_kind(raw: LayoutSpec, kind: GarmentKind) -> Result<LayoutSpec, LayoutError> {
    let usual = kind.sizes().iter().map(|size| size.name.to_string()).find(|name| raw.garment.size.as_ref() == Some(name));
    let size = usual.or_else(|| kind.usual_size().map(|size| size.to_string()));
    other_garment(raw, &GarmentSpec { size, ..GarmentSpec::of(kind) })
}

/// The maker's own outline in place of the garment, or of the outline that it had.
fn other_outline(mut raw: LayoutSpec, outline: &OwnOutline) -> Result<LayoutSpec, LayoutError> {
    let is_cut_alike =
        raw.garment.outline.as_ref().is_some_and(|before| (&before.front, &before.back) == (&outline.front, &outline.back));
    let outline = Some(outline.clone());
    if raw.garment.kind != GarmentKind::Own {
        return other_garment(raw, &GarmentSpec { outline, ..GarmentSpec::of(GarmentKind::Own) });
    }
    raw.garment.outline = outline;
    if !is_cut_alike {
        // What it measured belongs to the outline before.
        raw.garment.measures = RawMeasures::default();
    }
    Ok(raw)
}

/// Another garment, with a first layout for it; what the cloth is made of, thread, colours and process stay.
fn other_garment(raw: LayoutSpec, garment: &GarmentSpec) -> Result<LayoutSpec, LayoutError> {
    let begin = |start| starter_on(start, garment, raw.binds.marks);
    // A line of the maker's own may not fit the garment.
    let first = begin(FoldStart::of(&raw.fold, raw.blocks.as_ref(), raw.wrap.as_ref()))
        .or_else(|_too_large| begin(FoldStart::default()))?;
    let GarmentSpec { colour, discharged, fibres, cloth, .. } = raw.garment;
    let garment = GarmentSpec { colour, discharged, fibres, cloth, ..first.garment };
    let colours = raw.colours.in_turn();
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
