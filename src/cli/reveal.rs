//! `reveal`: the opened garment as it may come out, as a picture.

use super::CliError;
use super::arguments::RevealArguments;
use pleatwright::layout::Srgb;
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, Picture, RevealOptions, picture, reveal_doses};
use pleatwright::store::{read_layout, save};
use std::io::Write;

/// What most coloured cotton becomes when discharged, where the maker does not say: a pale sand (our own guess, no source).
const DISCHARGED: Srgb = Srgb { red: 226, green: 196, blue: 160 };

pub(crate) fn run(arguments: &RevealArguments, output: &mut dyn Write) -> Result<(), CliError> {
    if arguments.output.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("png")) {
        return Err(CliError::Argument(format!("{}: the name must end in .png", arguments.output.display())));
    }
    let layout = read_layout(&arguments.layout)?;
    let options = RevealOptions { pixel_mm: arguments.pixel, ..RevealOptions::default() };
    let refused = |error: &dyn std::fmt::Display| CliError::Argument(error.to_string());
    let reveal = reveal_doses(&layout, &options, &Cancel::new()).map_err(|error| refused(&error))?;
    let discharged = arguments.discharged.unwrap_or(DISCHARGED);
    let picture = picture(&reveal, &DyeSet::of_layout(&layout, Some(discharged)));
    let png = png_bytes(&picture, options.pixel_mm).map_err(|error| refused(&error))?;
    save(&arguments.output, &png)?;
    writeln!(output, "{}: {} x {} pixels, front and back", arguments.output.display(), picture.width, picture.height)?;
    if layout.process().discharge.is_some() {
        let whose = if arguments.discharged.is_some() { "as given" } else { "a guess; --discharged says what yours becomes" };
        writeln!(output, "Discharged, the garment's colour is taken to become {discharged} ({whose}).")?;
    }
    writeln!(output, "This is an estimate: how far dye reaches is a calibration, in the layout's process.")?;
    for section in &reveal.summary {
        for fix in &section.fixes {
            writeln!(output, "Section {}: {}", section.number, fix.sentence())?;
        }
    }
    Ok(())
}

/// The picture as a PNG that knows its size on the cloth.
fn png_bytes(picture: &Picture, pixel_mm: f64) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let size = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
    let mut encoder = png::Encoder::new(&mut bytes, size(picture.width), size(picture.height));
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels are between 0.05 and 50 mm")]
    let per_metre = (1000.0 / pixel_mm).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&picture.rgba)?;
    writer.finish()?;
    Ok(bytes)
}
