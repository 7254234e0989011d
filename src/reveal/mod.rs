//! The reveal: from the folded, bound and dyed rod to the doses of dye on the opened cloth.
//!
//! Dye moves in the wet rod and is fixed at first order, so the dose `G`, the concentration summed over time, obeys
//! `div(D grad G) - v . grad G - k G + S = 0`: linear, one operator for all dyes and one for the discharge bath. It is solved on a
//! grid along the rod, through the stack and across the pleats, and carried to the opened cloth by the fold.
//!
//! The layout's [`Process`](crate::layout::Process) says how the rod is dyed; what no source gives is a calibration value there,
//! and whatever is shown of the result is to be called an estimate.
//!
//! This module must not know the window, paper or files, nor which fold it serves.
//!
//! # Limits
//! Every place of the stack is a layer of even thickness; dye does not go along the cloth round a crease but where the picture is
//! read (there the doses of the two pleats meet over the reach along the cloth; where creases that are no sides of the grid meet in a
//! corner, each counts by itself). One reach serves all dyes, and a factor on it each component of a mixture. Edges of single layers inside the rod are
//! not fed, its two ends and the sides of a flat bundle excepted.
//!
//! What a wound thread presses on one face fades evenly into what it presses on the other; it makes no sections, so that one dye lies on both sides
//! of its turns.
//!
//! A puck is a ring of cells, full everywhere, whose layers lie evenly from its middle to its rim; what lies at one place of it comes out
//! alike, front or back. Bands over it narrow towards its middle as its wedges do.

mod advice;
mod assemble;
mod assembler;
mod binds;
mod cancel;
mod clamp;
mod clear;
mod cloth_shares;
pub mod colour;
mod columns;
mod comparison;
mod dose;
mod error;
mod faces;
mod feed;
mod grid;
mod laid;
mod loose;
mod lying;
mod map;
mod mask;
mod mates;
mod noise;
mod parted;
mod peel;
mod picture;
mod probe;
mod reading;
mod relief;
#[expect(clippy::module_inception, reason = "the file that makes a reveal of all the others")]
mod reveal;
mod rod_section;
mod several;
pub mod solver;
mod summary;
mod table;
mod texture;
mod unfold;
mod widths;
mod wound;

pub use advice::Advice;
pub use assemble::System;
pub use binds::{RodBind, roundness};
pub use cancel::Cancel;
pub use clamp::Clamp;
pub use comparison::{Comparison, DIFFERS_ABOVE, comparison};
pub use dose::{DoseField, RodDoses, dip_system, dip_system_reaching, discharge_system, dye_system, dye_system_reaching};
pub use error::{RevealError, RevealLength};
pub use faces::CreaseFaces;
pub use grid::{GridSpec, MOST_CELLS, RodGrid};
pub use laid::LaidFold;
pub use loose::LooseCloth;
pub use lying::rod_area_from_above_mm2;
pub use map::PictureMap;
pub use mask::{PixelFrame, coverage};
pub use mates::Mates;
pub use peel::{ClothStrip, LayerFrame};
pub use picture::{Picture, bare_picture, picture, picture_of, picture_until};
pub use probe::{DyeDose, Probe};
pub use reading::{ReadDoses, Reading};
pub use reveal::{
    Cells, MOST_PIXELS, Reveal, RevealOptions, Standing, fine_grid, frames as panel_frames, reveal_doses, reveal_doses_after,
    reveal_doses_standing, rod_binds, rod_doses, rod_doses_bound, rod_doses_kept_as, wound,
};
pub use rod_section::RodSection;
pub use summary::{Fix, SectionReveal};
pub use texture::Texture;
pub use unfold::{DoseMap, opened};
pub use wound::Wound;
