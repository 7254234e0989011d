//! Colours of a file's own space as sRGB. The only place that names the library for profiles.

use super::PhotographProblem;
use moxcms::{ColorProfile, DataColorSpace, Layout, TransformOptions};

/// Turns red, green and blue, in 16 bits, from an embedded profile's space (ICC.1:2022) into sRGB. A profile for grey or for inks says nothing of
/// them and changes nothing.
pub(super) fn to_srgb(rgb: &mut Vec<u16>, profile: &[u8]) -> Result<(), PhotographProblem> {
    let damaged = |_malformed| PhotographProblem::Profile { bytes: profile.len() };
    let own = ColorProfile::new_from_slice(profile).map_err(damaged)?;
    if own.color_space != DataColorSpace::Rgb {
        return Ok(());
    }
    let srgb = ColorProfile::new_srgb();
    let options = TransformOptions::default();
    let transform = own.create_transform_16bit(Layout::Rgb, &srgb, Layout::Rgb, options).map_err(damaged)?;
    let mut shown = vec![0; rgb.len()];
    transform.transform(rgb, &mut shown).map_err(damaged)?;
    *rgb = shown;
    Ok(())
}
