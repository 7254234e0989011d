//! The reveal: what comes out when the rod is opened.

pub mod colour;
