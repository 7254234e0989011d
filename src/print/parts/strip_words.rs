//! Words that both strips carry.

use crate::layout::Figures;

/// How far beyond the last cloth a bind may lie and still count as on it, mm.
const SLACK_MM: f64 = 1e-6;

/// Whether a distance along the rod is still on cloth.
pub(super) fn is_on_cloth(figures: &Figures, radius_mm: f64) -> bool {
    radius_mm <= figures.fold.length_mm + SLACK_MM
}

/// Which binds and arcs a strip leaves out because no cloth is there.
pub(super) fn beyond_cloth(figures: &Figures) -> Option<String> {
    let off: Vec<u32> =
        figures.binds.iter().filter(|bind| !is_on_cloth(figures, bind.radius_mm)).map(|bind| bind.number).collect();
    let arcs = figures.fold.references_mm.iter().filter(|&&radius_mm| !is_on_cloth(figures, radius_mm)).count();
    let binds = match off[..] {
        [] => None,
        [only] => Some(format!("no. {only}")),
        [first, .., last] => Some(format!("no. {first} to {last}")),
    };
    let arcs = match arcs {
        0 => None,
        1 => Some("1 arc".to_owned()),
        more => Some(format!("{more} arcs")),
    };
    let left_out: Vec<String> = binds.into_iter().chain(arcs).collect();
    (!left_out.is_empty()).then(|| format!("off the cloth: {}", left_out.join(", ")))
}
