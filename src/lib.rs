//! Pleatwright: design a fold-and-dye burst on a real garment, from measuring tape to chalk line.
//!
//! The modules depend downward only:
//!
//! | module | what it knows |
//! |---|---|
//! | [`app`] | the window |
//! | [`test_day`] | the day of the test cloth that calibration is learned from, as files |
//! | [`handbook`] | its pages as blocks and runs, searched, set as a PDF |
//! | [`mod@print`] | sheets, tiling, strips; PDF, SVG and DXF |
//! | [`edit`] | the document being worked on: commands, undo, recovery |
//! | [`store`] | files: reading, placing errors in them, saving without loss |
//! | [`plan`] | orders, recipes, what to weigh, the timetable, cautions |
//! | [`wish`] | rings wished on the opened garment, and the binds and dyes that come nearest |
//! | [`learn`] | calibration learned from photographs |
//! | [`photo`] | a photograph of the opened garment, held against its plan |
//! | [`mod@reveal`] | what comes out: doses in the rod, solved and unfolded onto the opened cloth, and its colour |
//! | [`projection`] | the layout thrown onto the table: its alignment, placement, what is drawn |
//! | [`layout`] | the document: garment, burst, binds, sections; raw file form to checked form; all its figures |
//! | [`geometry`] | outlines, garments, burst, spacing progressions, the fold map, rod and sections |
//! | [`import`] | lines from drawings: SVG and DXF files as paths |
//! | [`telling`] | how refusals and warnings are said: fields, voices |
//! | [`mod@form`] | what the frozen forms of files are made of |
//! | [`measure`] | lengths: units, parsing and printing of them |
//!
//! All lengths are in millimetres, angles in radians, masses in grams, unless a name says otherwise.
//! The library never prints, exits or panics on input.

pub mod app;
pub mod edit;
pub mod form;
pub mod geometry;
pub mod handbook;
pub mod import;
pub mod layout;
pub mod learn;
pub mod measure;
pub mod photo;
pub mod plan;
pub mod print;
pub mod projection;
pub mod reveal;
mod srgb;
pub mod store;
pub mod telling;
#[cfg(test)]
mod telling_tests;
pub mod test_day;
pub mod variation;
mod vector;
pub mod wish;

#[cfg(test)]
#[path = "../tests/common/reference.rs"]
mod reference;
#[cfg(test)]
#[path = "../tests/common/seeded.rs"]
mod seeded;
