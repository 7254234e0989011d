//! The flat bundle that `new` begins with.

use super::CliError;
use super::arguments::FlatArguments;
use super::given::given_mm;
use pleatwright::geometry::{FlatKind, Pack};
use pleatwright::layout::FlatStart;
use pleatwright::measure::LengthUnit;

/// The first argument about flat bundles that is given.
pub(super) fn first_given(flat: &FlatArguments) -> Option<&'static str> {
    let given = [
        ("--fold-width", flat.fold_width.is_some()),
        ("--fold-angle", flat.fold_angle.is_some()),
        ("--wedges", flat.wedges.is_some()),
        ("--rolled", flat.rolled),
        ("--block", flat.block.is_some()),
        ("--block-size", flat.block_size.is_some()),
        ("--wrap", flat.wrap.is_some()),
        ("--dip", !flat.dip.is_empty()),
    ];
    given.into_iter().find(|(_, is_given)| *is_given).map(|(name, _)| name)
}

/// The bundle that is asked for; lengths without a unit are in this one.
pub(super) fn start(kind: FlatKind, flat: &FlatArguments, unit: LengthUnit) -> Result<FlatStart, CliError> {
    let is_strip = !matches!(kind, FlatKind::Wedges | FlatKind::Halves);
    let needless = [
        ("--fold-width", flat.fold_width.is_some() && !is_strip),
        ("--fold-angle", flat.fold_angle.is_some() && !is_strip),
        ("--wedges", flat.wedges.is_some() && kind != FlatKind::Wedges),
        ("--rolled", flat.rolled && kind == FlatKind::Halves),
    ];
    if let Some((name, _)) = needless.into_iter().find(|(_, is_needless)| *is_needless) {
        return Err(CliError::argument(name, format!("{} have none", kind.name()), "leave it out"));
    }
    let length_mm = |name: &str, text: &Option<String>| given_mm(name, text.as_deref(), unit);
    let begun = FlatStart::of(kind);
    let wrap_gap_mm = length_mm("--wrap", &flat.wrap)?;
    // Wound thread holds a bundle by itself.
    let usual = if wrap_gap_mm.is_some() { None } else { begun.block.clone() };
    let block = flat.block.as_ref().map_or(usual, |choice| choice.0.clone());
    let block = match (block, length_mm("--block-size", &flat.block_size)?) {
        (Some(shape), Some(size_mm)) => {
            let ([(_, own_mm), (_, other_mm)], _) = shape.dimensions();
            Some(shape.sized([size_mm, other_mm * size_mm / own_mm]))
        }
        (None, Some(_)) => return Err(CliError::argument("--block-size", "there are no blocks", "add --block, or leave it out")),
        (block, None) => block,
    };
    Ok(FlatStart {
        width_mm: length_mm("--fold-width", &flat.fold_width)?,
        angle_deg: flat.fold_angle,
        wedges: flat.wedges,
        pack: if flat.rolled { Pack::Rolled } else { Pack::Zigzag },
        block,
        wrap_gap_mm,
        ..begun
    })
}
