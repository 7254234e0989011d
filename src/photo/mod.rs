//! A photograph of the opened garment, held against its plan.
//!
//! The maker lays the garment flat on a plain table, a sheet of white paper beside it, and marks a few points, or looks over those that
//! [`find_points`] proposes. [`register`] finds where each point
//! of the plan is seen: a homography with the lens's bend ([`Lens`]), then a smooth field of shifts ([`LayField`]) from the marks and from the edge
//! of the cloth. [`measure`] then finds the rings, takes the light out of the colours, and holds both against the [`Plan`], the reveal of the
//! layout with an exact hand. [`findings`] says what to change, never more than can be measured. Of several ties the picture is registered once, and
//! each is measured within the cloth that it took ([`Plan::ties`]).
//!
//! Three planes, each with its own points: the *picture*, px from its upper left corner; the *plan as it is seen*, mm in the garment's frame, for the
//! back mirrored at the centre line; and the *garment* itself (`geometry`).
//!
//! # Limits
//! All error bars come from photographs drawn by the program's own estimate. Shrinkage is not told (the sheet gives scale to 1.6 %), one ring's
//! shift below 2 mm neither, nor unevenness below a colour difference of 3, nor whether folding, binding or laying moved a place. A camera's own
//! contrast curve is not known: colours are as its file says.
//!
//! This module must not know the window, files or paper.

mod difference;
mod find;
mod finding;
mod kriging;
mod lattice;
mod lens;
mod light;
mod marks;
mod measure;
mod neck;
mod off_point;
mod outline;
mod photograph;
mod plan;
mod points;
mod problem;
mod profile;
mod registration;
mod ring_lines;
mod rings;
mod sections;
mod snap;
mod straight;
mod stray;
mod swatches;
mod traced;
mod track;
mod width;

pub use difference::{DIFFERENCE_STOPS, difference, difference_colour, planned};
pub use find::{FoundPoint, FoundPoints, find_points, guessed_sheet};
pub use finding::{About, Finding, Findings, findings, measured_length, nothing_differs};
pub use kriging::{Covariance, LayField, Seen};
pub use lens::{Lens, LensPrior};
pub use light::Light;
pub use marks::{MarkedPoint, Marks, Sheet, SheetPaper};
pub use measure::{PhotoMeasure, Scale, TieMeasure, measure, register};
pub use photograph::{KeptPixels, Photograph};
pub use plan::Plan;
pub use points::{NamedPoint, check_names, named_points};
pub use problem::{MarksError, MarksProblem, PhotoError};
pub use profile::{SeenProfile, SeenRow, profile};
pub use registration::{Registration, RegistrationOptions};
pub use ring_lines::{RingLine, ring_lines, seen_outline};
pub use rings::{Ring, Rings};
pub use sections::{Colours, LooseColour, SectionColour};
pub use straight::straightened;
pub use stray::Stray;
pub use swatches::{FoundSquares, SquareColour, SquaresError, SquaresProblem, White, find_squares, square_colours};
pub use traced::{FoundOutline, Halves, TraceError, TracedHalf, find_outline, half_of};
