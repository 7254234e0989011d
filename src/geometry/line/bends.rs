//! Whether a line bends too tightly for its pleats.

use super::chain::{Chain, Foot};
use super::error::LineError;
use super::pleating::{Pleating, is_corner};
use crate::geometry::Lay;
use std::f64::consts::FRAC_PI_2;

/// Most that a line may bend within one pleat without a corner, rad (own choice): a pleat of a quarter turn bows by a fifth of its width.
const TIGHTEST_RAD: f64 = FRAC_PI_2;

/// Refuses a line that bends too tightly within a pleat.
pub(super) fn check_bends(chain: &Chain, pleating: &Pleating, lay: &Lay) -> Result<(), LineError> {
    for pleat_mm in pleating.creases_mm().windows(2) {
        let bends = pleating.shares(pleat_mm[0]..pleat_mm[1]).map(|(piece, share)| (chain.pieces()[piece], share));
        let (turn_rad, length_mm) =
            bends.filter(|(piece, _)| !is_corner(piece)).fold((0.0, 0.0), |(turn, length), (piece, share)| {
                (turn + share * piece.turn_rad(), length + share * piece.length_mm())
            });
        if turn_rad.abs() > TIGHTEST_RAD {
            let (piece, share) = pleating.piece_at(0.5 * (pleat_mm[0] + pleat_mm[1]));
            let at = chain.point(Foot { piece, share, distance_mm: 0.0 });
            let radius_mm = length_mm / turn_rad.abs();
            return Err(LineError::TooTight { at, top: lay.panels().top, radius_mm, pleat_mm: length_mm });
        }
    }
    Ok(())
}
