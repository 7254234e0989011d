//! A burst: its centre on the garment, its arcs and pleats.

use super::{Centring, Panel, PanelSet, Top};
use crate::measure::RuleMarks;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use kurbo::{Line, ParamCurve as _, Point};
use std::f64::consts::PI;
use std::ops::Range;

/// Where the burst centre sits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Centre {
    /// Measured down from the high point of the shoulder.
    BelowShoulder {
        /// Distance from the centre line, mm; positive to the wearer's left.
        from_centre_line_mm: f64,
        /// Distance below the shoulder point, mm.
        below_shoulder_mm: f64,
    },
    /// Measured up from the middle between shoulder point and hem.
    AboveMiddle {
        /// Distance from the centre line, mm; positive to the wearer's left.
        from_centre_line_mm: f64,
        /// Rise above the middle, mm; negative below it.
        above_middle_mm: f64,
    },
}

impl Centre {
    /// The same on the other side of the centre line.
    #[must_use]
    pub fn mirrored(self) -> Self {
        match self {
            Self::BelowShoulder { from_centre_line_mm, below_shoulder_mm } => {
                Self::BelowShoulder { from_centre_line_mm: 0.0 - from_centre_line_mm, below_shoulder_mm }
            }
            Self::AboveMiddle { from_centre_line_mm, above_middle_mm } => {
                Self::AboveMiddle { from_centre_line_mm: 0.0 - from_centre_line_mm, above_middle_mm }
            }
        }
    }

    /// The same way of measuring, for another place of the garment's frame, mm.
    #[must_use]
    pub fn put(self, at: Point, panels: &PanelSet) -> Self {
        match self {
            Self::BelowShoulder { .. } => Self::BelowShoulder { from_centre_line_mm: at.x, below_shoulder_mm: at.y },
            Self::AboveMiddle { .. } => {
                Self::AboveMiddle { from_centre_line_mm: at.x, above_middle_mm: middle_mm(panels) - at.y }
            }
        }
    }
}

/// How deep the pleats are, or how many.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pleats {
    /// As deep as this at the guide arc; the nearest whole number of pleats is taken.
    Depth {
        /// Crease to crease at the guide arc, mm.
        depth_mm: f64,
    },
    /// This many over the whole turn.
    Count {
        /// Number of pleats.
        count: u32,
    },
}

/// A burst as a maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct BurstSpec {
    /// How the garment is laid.
    pub centring: Centring,
    /// Where the centre sits.
    pub centre: Centre,
    /// Radius of the arc that the cloth is fan folded along, mm.
    pub guide_radius_mm: f64,
    /// Radii of further arcs, for orientation, mm.
    pub further_arcs_mm: Vec<f64>,
    /// Pleat depth or count.
    pub pleats: Pleats,
}

impl BurstSpec {
    /// The same burst with its guide arc and its further arcs on the nearest marks of a rule: what is chalked can be found on it. Radii
    /// that can't be used stay as they are.
    #[must_use]
    pub fn on_marks(&self, marks: RuleMarks) -> Self {
        let nearest_mm = |radius_mm: f64| match marks.nearest_mm(radius_mm) {
            // The last mark before what is too far.
            mark_mm if mark_mm > LARGEST_RADIUS_MM && radius_mm <= LARGEST_RADIUS_MM => {
                mark_mm - marks.step_mm().unwrap_or_default()
            }
            mark_mm => mark_mm,
        };
        Self {
            guide_radius_mm: nearest_mm(self.guide_radius_mm),
            further_arcs_mm: self.further_arcs_mm.iter().copied().map(nearest_mm).collect(),
            ..self.clone()
        }
    }
}

/// Most pleats that a burst may have. More than a few dozen can't be folded by hand (practice); the bound keeps the numbers sane.
pub const MOST_PLEATS: u32 = 400;
/// A centre nearer to the centre line than this counts as on it, mm: half the breadth of a chalk line (practice).
pub const ON_THE_FOLD_MM: f64 = 0.5;
/// Largest radius taken for an arc, mm: beyond any garment.
pub const LARGEST_RADIUS_MM: f64 = 5000.0;

/// Why a burst can't be laid on a garment.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BurstError {
    /// No cloth at the centre, on either panel.
    CentreOutsideCloth {
        /// From the centre line, mm.
        x_mm: f64,
        /// What heights are counted from.
        top: Top,
        /// Below that, mm.
        y_mm: f64,
        /// Where the cloth begins, mm.
        top_mm: f64,
        /// Where it ends, mm.
        foot_mm: f64,
        /// From where to where on either side of the centre line it reaches at that height, mm; none where there is none.
        reach_mm: Option<Range<f64>>,
    },
    /// A radius, distance or depth that is no usable length.
    Length {
        /// Field of [`BurstSpec`].
        field: Field,
        /// Given value, mm.
        value_mm: f64,
        /// Exclusive lower bound, mm.
        above_mm: f64,
        /// Upper bound, mm.
        most_mm: f64,
    },
    /// Too few or too many pleats.
    PleatCount {
        /// The number asked for, or that the depth comes to.
        pleats: f64,
    },
}

displayed_as_in_files!(BurstError);

/// A burst laid on a garment: the centre is on the cloth and the pleats are a whole number.
#[derive(Debug, Clone, PartialEq)]
pub struct Burst {
    centring: Centring,
    centre: Point,
    guide_radius_mm: f64,
    further_arcs_mm: Vec<f64>,
    pleats: u32,
    full_turn: bool,
}

impl BurstError {
    /// The field of [`BurstSpec`] that is wrong.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::CentreOutsideCloth { .. } => Field::from("centre"),
            Self::PleatCount { .. } => Field::from("pleats"),
            Self::Length { field, .. } => field.clone(),
        }
    }
}

impl Refused for BurstError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::CentreOutsideCloth { x_mm, top, y_mm, top_mm, foot_mm, reach_mm } => Told::new(
                format!(
                    "{} from the centre line and {} is off the cloth",
                    voice.length(x_mm.abs()),
                    top.height(*y_mm, voice.lengths)
                ),
                where_it_could_lie(voice, *top, [*top_mm, *foot_mm], reach_mm.as_ref()),
            ),
            Self::Length { value_mm, above_mm, most_mm, .. } => {
                let value = voice.length(*value_mm);
                let above = if *above_mm == 0.0 { "0".to_owned() } else { voice.length(*above_mm) };
                Told::new(
                    if value_mm.is_finite() { format!("{value} is out of range") } else { format!("{value} is not a length") },
                    format!("give more than {above} and at most {}", voice.most(*most_mm)),
                )
            }
            Self::PleatCount { pleats } => Told::new(
                format!("{} pleats can't be folded", voice.number(*pleats)),
                if *pleats > 1.0 {
                    format!("make them deeper or fewer, at most {MOST_PLEATS}")
                } else {
                    format!("give 1 to {MOST_PLEATS}")
                },
            ),
        };
        told.at(self.field().said(voice))
    }
}

impl Burst {
    /// Lays a burst on a garment.
    ///
    /// A centre within [`ON_THE_FOLD_MM`] of the centre line of a folded garment is moved onto it. Round a full turn the number of
    /// pleats is made even, for a fan that closes on itself has as many ridges as valleys.
    ///
    /// # Errors
    /// [`BurstError`] when a number is unusable or the centre lies on neither panel.
    pub fn new(spec: &BurstSpec, panels: &PanelSet) -> Result<Self, BurstError> {
        let radius = |what, value_mm| length(what, value_mm, 0.0, LARGEST_RADIUS_MM);
        let guide_radius_mm = radius("guide_radius_mm", spec.guide_radius_mm)?;
        for &arc_mm in &spec.further_arcs_mm {
            radius("further_arcs_mm", arc_mm)?;
        }
        let mut centre = centre_point(spec.centre, panels)?;
        let folded = spec.centring.is_folded();
        if folded && centre.x.abs() <= ON_THE_FOLD_MM {
            centre.x = 0.0;
        }
        check_on_cloth(centre, panels)?;
        let full_turn = !folded || centre.x != 0.0;
        Ok(Self {
            centring: spec.centring,
            centre,
            guide_radius_mm,
            further_arcs_mm: spec.further_arcs_mm.clone(),
            pleats: pleat_count(spec.pleats, guide_radius_mm, full_turn)?,
            full_turn,
        })
    }

    /// How the garment is laid.
    #[must_use]
    pub fn centring(&self) -> Centring {
        self.centring
    }

    /// The centre as given, in the garment's frame, mm.
    #[must_use]
    pub fn centre(&self) -> Point {
        self.centre
    }

    /// The centre on the garment as it is laid: a folded garment lies at `x >= 0` only. mm.
    #[must_use]
    pub fn centre_as_laid(&self) -> Point {
        Point::new(self.centring.x_as_laid_mm(self.centre.x), self.centre.y)
    }

    /// Whether the burst comes out twice, mirrored at the centre line.
    #[must_use]
    pub fn is_mirrored_pair(&self) -> bool {
        self.centring.is_folded() && self.centre.x != 0.0
    }

    /// Radius of the guide arc, mm.
    #[must_use]
    pub fn guide_radius_mm(&self) -> f64 {
        self.guide_radius_mm
    }

    /// Radii of the further arcs, mm, as given.
    #[must_use]
    pub fn further_arcs_mm(&self) -> &[f64] {
        &self.further_arcs_mm
    }

    /// Number of pleats.
    #[must_use]
    pub fn pleats(&self) -> u32 {
        self.pleats
    }

    /// The angle that the pleats fill, rad: half a turn about a centre on the fold, a full turn elsewhere.
    #[must_use]
    pub fn turn_rad(&self) -> f64 {
        turn_rad(self.full_turn)
    }

    /// The angle of one pleat, rad.
    #[must_use]
    pub fn pleat_angle_rad(&self) -> f64 {
        self.turn_rad() / f64::from(self.pleats)
    }

    /// Directions of all creases, rad from straight up, turning towards the wearer's left. A half turn has one more crease than
    /// pleats (its first and last are the fold line); a full turn has as many.
    #[must_use]
    pub fn creases_rad(&self) -> Vec<f64> {
        let last = if self.full_turn { self.pleats - 1 } else { self.pleats };
        (0..=last).map(|j| f64::from(j) * self.pleat_angle_rad()).collect()
    }

    /// The longest that a ring of this radius can be on one panel, both halves together, mm.
    #[must_use]
    pub fn ring_capacity_mm(&self, radius_mm: f64) -> f64 {
        self.centring.halves() * self.turn_rad() * radius_mm
    }
}

fn turn_rad(full_turn: bool) -> f64 {
    if full_turn { 2.0 * PI } else { PI }
}

fn length(field: &'static str, value_mm: f64, above_mm: f64, most_mm: f64) -> Result<f64, BurstError> {
    // Written so that a NaN is refused too.
    if value_mm > above_mm && value_mm <= most_mm {
        // A zero that was typed as -0 is a zero.
        Ok(value_mm + 0.0)
    } else {
        Err(BurstError::Length { field: field.into(), value_mm, above_mm, most_mm })
    }
}

fn centre_point(centre: Centre, panels: &PanelSet) -> Result<Point, BurstError> {
    let (aside, height) = match centre {
        Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm } => {
            (from_centre_line_mm, ("centre.below_shoulder_mm", below_shoulder_mm))
        }
        Centre::AboveMiddle { from_centre_line_mm, above_middle_mm } => {
            (from_centre_line_mm, ("centre.above_middle_mm", above_middle_mm))
        }
    };
    for (what, value_mm) in [("centre.from_centre_line_mm", aside), height] {
        length(what, value_mm, -LARGEST_RADIUS_MM, LARGEST_RADIUS_MM)?;
    }
    let at = centre_at(centre, panels);
    // A zero that was typed as -0 is a zero.
    Ok(Point::new(at.x + 0.0, at.y + 0.0))
}

/// Where a place given from the centre line and from the shoulder or the middle lies in the garment's frame, mm.
#[must_use]
pub fn centre_at(centre: Centre, panels: &PanelSet) -> Point {
    match centre {
        Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm } => Point::new(from_centre_line_mm, below_shoulder_mm),
        Centre::AboveMiddle { from_centre_line_mm, above_middle_mm } => {
            Point::new(from_centre_line_mm, middle_mm(panels) - above_middle_mm)
        }
    }
}

/// The middle of the garment's length: halfway between the shoulder point and the lowest hem, mm below the shoulder point.
#[must_use]
pub fn middle_mm(panels: &PanelSet) -> f64 {
    0.5 * panels.iter().map(|(_, panel)| panel.half().bounds().y1).fold(0.0, f64::max)
}

fn check_on_cloth(centre: Point, panels: &PanelSet) -> Result<(), BurstError> {
    if panels.iter().any(|(_, panel)| panel.contains(centre)) {
        return Ok(());
    }
    let line = panels.centre_line_mm(&Panel::BOTH);
    let (top_mm, foot_mm, reach_mm) = (line.start, line.end, reach_mm(centre.y, panels));
    Err(BurstError::CentreOutsideCloth { x_mm: centre.x, top: panels.top, y_mm: centre.y, top_mm, foot_mm, reach_mm })
}

/// The nearest and the farthest cloth from the centre line at a height, on any panel, mm.
fn reach_mm(y_mm: f64, panels: &PanelSet) -> Option<Range<f64>> {
    let level = Line::new((-LARGEST_RADIUS_MM, y_mm), (LARGEST_RADIUS_MM, y_mm));
    let crossings = panels.iter().flat_map(|(_, panel)| panel.half().segments().collect::<Vec<_>>());
    let at: Vec<f64> = crossings.flat_map(|segment| segment.intersect_line(level)).map(|hit| level.eval(hit.line_t).x).collect();
    let (nearest, farthest) = (at.iter().copied().reduce(f64::min)?, at.iter().copied().reduce(f64::max)?);
    (farthest > nearest).then_some(nearest.max(0.0)..farthest)
}

/// Where a centre could lie: at its own height if there is cloth, else along the centre line.
fn where_it_could_lie(voice: Voice, top: Top, line_mm: [f64; 2], reach_mm: Option<&Range<f64>>) -> String {
    let line = format!("{} below {top} on the centre line", voice.range(line_mm[0], line_mm[1]));
    match reach_mm {
        Some(reach) if reach.start < 0.5 => {
            format!("place it at most {} from the centre line at that height", voice.most(reach.end))
        }
        Some(reach) => {
            format!("place it {} from the centre line at that height, or {line}", voice.range(reach.start, reach.end))
        }
        None => format!("place it {line}"),
    }
}

fn pleat_count(pleats: Pleats, guide_radius_mm: f64, full_turn: bool) -> Result<u32, BurstError> {
    // A closed fan is counted in pairs of pleats.
    let step = if full_turn { 2.0 } else { 1.0 };
    let wanted = match pleats {
        Pleats::Depth { depth_mm } => {
            turn_rad(full_turn) * guide_radius_mm / length("pleats.depth_mm", depth_mm, 0.0, LARGEST_RADIUS_MM)?
        }
        Pleats::Count { count } => f64::from(count),
    };
    let whole = (wanted / step).round().max(if wanted > 0.0 { 1.0 } else { 0.0 }) * step;
    if whole < step || whole > f64::from(MOST_PLEATS) {
        return Err(BurstError::PleatCount { pleats: wanted });
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between 1 and MOST_PLEATS")]
    Ok(whole as u32)
}
