//! A spiral, as files of format 2 have it.

use crate::form::stands_for;
use crate::geometry::Twist;
use serde::{Deserialize, Serialize};

/// Which way a pinch is turned, seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TwistForm {
    /// As the hands of a clock.
    Clockwise,
    /// Against them.
    Anticlockwise,
}

stands_for!(enum TwistForm for Twist { Clockwise {}, Anticlockwise {} });
