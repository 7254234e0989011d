//! Garments: kinds, finished measurements, sizes, and the outlines drafted from them.
