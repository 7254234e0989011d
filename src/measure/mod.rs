//! Lengths and their units: parsing what a maker types, printing what a maker reads.
//!
//! Everything inside the program is in millimetres; this module is the only one that knows inches. It must not know garments.
