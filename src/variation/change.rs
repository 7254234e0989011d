//! One thing that a variation has otherwise.

use super::round;
use crate::edit::EditCommand;
use crate::geometry::{Centring, DrawnLine, FlatPattern, Pleats, SpiralSpec, Thread, ThreadKind, Twist};
use crate::layout::{Colours, FoldWords, IceLayers, Layout, Process, RotationStart};
use crate::measure::LengthStyle;
use kurbo::{Size, Vec2};

/// One thing that a variation has otherwise than the layout that it varies.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Change {
    /// The gap at the centre is this share of the one at the edge; 1 for even gaps.
    Gaps(f64),
    /// So many binds.
    Binds(u32),
    /// So many bands over a puck.
    Bands(u32),
    /// The rotation begins at the other end.
    Start(RotationStart),
    /// The rotation begins with this of its colours, by name.
    FirstColour(String),
    /// The rotation runs the other way round.
    Reversed,
    /// The garment is laid another way.
    Centring(Centring),
    /// The middle of the fold lies so much lower, mm; below 0 higher.
    Lower(f64),
    /// The pleats are so deep, mm.
    PleatDepth(f64),
    /// Another thread.
    Thread(ThreadKind),
    /// So many layers of ice.
    IceLayers(u32),
    /// The strips or stripes of a flat bundle are so wide, mm.
    StripWidth(f64),
    /// Stripes run in this direction, degrees.
    StripAngle(f64),
    /// So many wedges.
    Wedges(u32),
    /// A spiral is turned so often.
    Turns(f64),
    /// A spiral is turned the other way.
    Twist(Twist),
    /// A shape that is folded along is so wide, mm, and as much higher.
    ShapeWidth(f64),
}

/// What of a layout a change touches: two changes that are made together touch different things.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Touches {
    Binds,
    Colours,
    Fold,
    Thread,
    Ice,
}

impl Change {
    pub(super) const fn touches(&self) -> Touches {
        match self {
            Self::Gaps(_) | Self::Binds(_) | Self::Bands(_) => Touches::Binds,
            Self::Start(_) | Self::FirstColour(_) | Self::Reversed => Touches::Colours,
            Self::Thread(_) => Touches::Thread,
            Self::IceLayers(_) => Touches::Ice,
            Self::Centring(_)
            | Self::Lower(_)
            | Self::PleatDepth(_)
            | Self::StripWidth(_)
            | Self::StripAngle(_)
            | Self::Wedges(_)
            | Self::Turns(_)
            | Self::Twist(_)
            | Self::ShapeWidth(_) => Touches::Fold,
        }
    }

    /// What makes it of a layout; none where the layout has nothing of the kind.
    #[must_use]
    pub fn command(&self, layout: &Layout) -> Option<EditCommand> {
        match *self {
            Self::Gaps(share) => Some(EditCommand::Tighten(share)),
            Self::Binds(count) => Some(EditCommand::SetBindCount(count)),
            Self::Bands(bands) => on_spiral(layout, |spiral| spiral.bands = bands),
            Self::Start(start) => Some(EditCommand::SetColours(Colours { start, ..layout.raw().colours.clone() })),
            Self::FirstColour(ref name) => {
                let mut colours = layout.raw().colours.clone();
                let first = colours.rotation.iter().position(|swatch| swatch.name == *name)?;
                colours.rotation.rotate_left(first);
                Some(EditCommand::SetColours(colours))
            }
            Self::Reversed => {
                let mut colours = layout.raw().colours.clone();
                // The first stays the first.
                colours.rotation.get_mut(1..)?.reverse();
                Some(EditCommand::SetColours(colours))
            }
            Self::Centring(centring) => Some(EditCommand::SetCentring(centring)),
            Self::Lower(by_mm) => Some(EditCommand::MoveCentre(layout.middle()? + Vec2::new(0.0, by_mm))),
            Self::PleatDepth(depth_mm) => Some(EditCommand::SetPleats(Pleats::Depth { depth_mm })),
            Self::Thread(kind) => {
                let thread = *layout.thread();
                Some(EditCommand::SetThread(Thread { kind, ..thread }))
            }
            Self::IceLayers(layers) => {
                Some(EditCommand::SetProcess(Process { ice_layers: IceLayers(layers), ..*layout.process() }))
            }
            Self::StripWidth(wanted_mm) => on_pattern(layout, |pattern| strip_width(pattern, wanted_mm)),
            Self::StripAngle(wanted_deg) => on_pattern(layout, |pattern| strip_angle(pattern, wanted_deg)),
            Self::Wedges(count) => on_pattern(layout, |pattern| wedges_of(pattern, count)),
            Self::Turns(turns) => on_spiral(layout, |spiral| spiral.turns = turns),
            Self::Twist(twist) => on_spiral(layout, |spiral| spiral.twist = twist),
            Self::ShapeWidth(width_mm) => wider(layout, width_mm),
        }
    }

    /// It in a maker's words, without a full stop: `11 binds`, `even gaps`.
    #[must_use]
    pub fn words(&self, words: FoldWords, lengths: LengthStyle) -> String {
        match *self {
            Self::Gaps(1.0) => "even gaps".to_owned(),
            Self::Gaps(share) => format!("gaps tighten to {:.0} %", 100.0 * share),
            Self::Binds(1) => "1 bind".to_owned(),
            Self::Binds(count) => format!("{count} binds"),
            Self::Bands(1) => "1 band".to_owned(),
            Self::Bands(count) => format!("{count} bands"),
            Self::Start(RotationStart::Centre) => format!("colours begin at {}", words.tip),
            Self::Start(RotationStart::Edge) => "colours begin at the edge".to_owned(),
            Self::FirstColour(ref name) => format!("{name} first"),
            Self::Reversed => "colours the other way round".to_owned(),
            Self::Centring(Centring::Open) => "laid open".to_owned(),
            Self::Centring(Centring::Nested) => "nested half fold".to_owned(),
            Self::Centring(Centring::PlainHalf) => "plain half fold".to_owned(),
            Self::Lower(mm) if mm < 0.0 => format!("{} {} higher", words.middle, lengths.format(-mm)),
            Self::Lower(mm) => format!("{} {} lower", words.middle, lengths.format(mm)),
            Self::PleatDepth(mm) => format!("pleats {} deep", lengths.format(mm)),
            Self::Thread(kind) => kind.name().to_owned(),
            Self::IceLayers(1) => "1 layer of ice".to_owned(),
            Self::IceLayers(layers) => format!("{layers} layers of ice"),
            Self::StripWidth(mm) => format!("creases {} apart", lengths.format(mm)),
            Self::StripAngle(deg) => format!("creases at {deg}°"),
            Self::Wedges(count) => format!("{count} wedges"),
            Self::Turns(turns) => format!("{} turns", crate::measure::neat(turns)),
            Self::Twist(twist) => format!("twisted {}", twist.name()),
            Self::ShapeWidth(mm) => format!("shape {} wide", lengths.format(mm)),
        }
    }
}

fn on_spiral(layout: &Layout, change: impl FnOnce(&mut SpiralSpec)) -> Option<EditCommand> {
    let mut spiral = *layout.raw().fold.spiral()?;
    change(&mut spiral);
    Some(EditCommand::SetSpiral(spiral))
}

/// Changes the pattern of a flat bundle; the change says whether the pattern has what it changes.
fn on_pattern(layout: &Layout, change: impl FnOnce(&mut FlatPattern) -> bool) -> Option<EditCommand> {
    let mut flat = layout.raw().fold.flat()?.clone();
    change(&mut flat.pattern).then(|| EditCommand::SetFlat(Box::new(flat)))
}

fn strip_width(pattern: &mut FlatPattern, wanted_mm: f64) -> bool {
    match pattern {
        FlatPattern::Stripes { width_mm, .. } | FlatPattern::Triangles { width_mm, .. } => *width_mm = wanted_mm,
        FlatPattern::Squares { width_mm, height_mm, .. } => {
            *height_mm *= wanted_mm / *width_mm;
            *width_mm = wanted_mm;
        }
        FlatPattern::Halves { .. } | FlatPattern::Wedges { .. } => return false,
    }
    true
}

fn strip_angle(pattern: &mut FlatPattern, wanted_deg: f64) -> bool {
    match pattern {
        FlatPattern::Stripes { angle_deg, .. }
        | FlatPattern::Triangles { angle_deg, .. }
        | FlatPattern::Squares { angle_deg, .. } => *angle_deg = wanted_deg,
        FlatPattern::Halves { .. } | FlatPattern::Wedges { .. } => return false,
    }
    true
}

fn wedges_of(pattern: &mut FlatPattern, count: u32) -> bool {
    let FlatPattern::Wedges { wedges, .. } = pattern else { return false };
    *wedges = count;
    true
}

/// A shape as wide as this, in its proportions.
fn wider(layout: &Layout, width_mm: f64) -> Option<EditCommand> {
    let DrawnLine::Shape { shape, middle, size } = &layout.raw().fold.line()?.line else { return None };
    let height_mm = round::length_mm(size.height * width_mm / size.width, layout.marks());
    let size = Size::new(width_mm, height_mm);
    Some(EditCommand::SetLine(DrawnLine::Shape { shape: *shape, middle: *middle, size }))
}
