//! The ridge: where the cloth of one stretch of a line meets that of another, and every normal ends.
//!
//! A normal is followed to the centre of the largest circle that touches the line at its foot and holds no other point of it: the medial
//! axis (H. Blum, A transformation for extracting new descriptors of shape, 1967; from memory). The circle is shrunk from one that is too
//! large: it is made to pass through the nearest foot of its centre, until that is the normal's own (J. Ma, S. W. Bae and S. Choi, 3D medial
//! axis point approximation using nearest neighbors and the normal field, The Visual Computer 28, 2012; from memory). Where neighbouring
//! pieces are as good as one circle that step loses its digits; there the length is halved, for a normal's own foot is the nearest up to
//! the ridge and never after.

use super::chain::{Chain, Foot};
use super::piece::Piece;

/// Steps of shrinking before halving: five are usual.
const SHRINKINGS: u32 = 12;
/// Halvings: to a millionth of a millimetre.
const HALVINGS: u32 = 44;
/// How much farther than beside it a normal's reach is looked for at first (found by trial).
const BESIDE: f64 = 1.25;
/// By how much another foot may be nearer, mm: rounding.
const NEARER_MM: f64 = 1e-9;

/// To which side of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// Distances above 0.
    Out,
    /// Distances below 0.
    In,
}

impl Way {
    pub(crate) const BOTH: [Self; 2] = [Self::Out, Self::In];

    pub(crate) fn sign(self) -> f64 {
        match self {
            Self::Out => 1.0,
            Self::In => -1.0,
        }
    }
}

/// How far the normal at a share of a piece is its points' shortest way to the line, mm, above 0 on either side; `most_mm` where it is
/// farther than that.
pub(crate) fn reach_mm(chain: &Chain, piece: usize, share: f64, way: Way, most_mm: f64) -> f64 {
    let sign = way.sign();
    if !chain.has_inside() && way == Way::In {
        return 0.0;
    }
    let most_mm = match chain.pieces()[piece] {
        // No farther than the centre of a bend, and on the inner side of a corner nowhere.
        Piece::Fan(fan) if fan.turn_rad * sign < 0.0 => most_mm.min(fan.radius_mm.abs()),
        _ => most_mm,
    };
    let at = |away_mm: f64| Foot { piece, share, distance_mm: sign * away_mm };
    let root = chain.point(at(0.0));
    let normal = sign * chain.pieces()[piece].normal(share);
    let mut reach_mm = most_mm;
    for _ in 0..SHRINKINGS {
        let centre = chain.point(at(reach_mm));
        let foot = chain.foot(centre);
        let away_mm = foot.distance_mm.abs();
        if reach_mm <= 0.0 || away_mm >= reach_mm - NEARER_MM {
            return reach_mm.max(0.0);
        }
        let other = chain.point(Foot { distance_mm: 0.0, ..foot });
        let chord = other - root;
        // The circle that touches at the root and passes through the other foot.
        let next_mm = chord.hypot2() / (2.0 * chord.dot(normal));
        if !(next_mm > 0.0 && next_mm < reach_mm && chord.hypot() > 1e-3 * reach_mm) {
            break;
        }
        reach_mm = next_mm;
    }
    halved_mm(chain, at, reach_mm)
}

/// The same, looked for from about as far out as it was found beside.
pub(crate) fn reach_beside_mm(chain: &Chain, (piece, share): (usize, f64), way: Way, most_mm: f64, beside_mm: f64) -> f64 {
    let about_mm = BESIDE * beside_mm;
    if about_mm < most_mm {
        let found_mm = reach_mm(chain, piece, share, way, about_mm);
        if found_mm < about_mm - NEARER_MM {
            return found_mm;
        }
    }
    reach_mm(chain, piece, share, way, most_mm)
}

fn halved_mm(chain: &Chain, at: impl Fn(f64) -> Foot, most_mm: f64) -> f64 {
    let (mut held_mm, mut lost_mm) = (0.0, most_mm);
    for _ in 0..HALVINGS {
        let middle_mm = 0.5 * (held_mm + lost_mm);
        if chain.nearest(chain.point(at(middle_mm))).1.abs() >= middle_mm - NEARER_MM {
            held_mm = middle_mm;
        } else {
            lost_mm = middle_mm;
        }
    }
    held_mm
}
