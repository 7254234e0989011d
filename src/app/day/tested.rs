//! What a test of a scrap holds for.

use crate::layout::{FibreShare, Layout, Swatch};

/// What a scrap stands for: the cloth and the dyes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tested {
    colour: Option<Swatch>,
    fibres: Vec<FibreShare>,
    dyes: Vec<Swatch>,
}

impl Tested {
    pub(super) fn of(layout: &Layout) -> Self {
        let raw = layout.raw();
        // What a dye is mixed of is a guess of the same powder.
        let dyes = raw.colours.rotation.iter().map(|dye| dye.clone().unmixed()).collect();
        Self { colour: raw.garment.colour.clone(), fibres: raw.garment.fibres.clone(), dyes }
    }
}
