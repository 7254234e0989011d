//! What the binds do along the rod: where they press, what they cover, which section lies between them.

use crate::layout::BindEffect;

/// A bind as the rod feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodBind {
    /// Its distance along the rod, mm.
    pub along_mm: f64,
    /// Breadth of its thread on the rod, mm.
    pub breadth_mm: f64,
    /// Diameter of the rod under it, mm.
    pub diameter_mm: f64,
    /// What it does there.
    pub effect: BindEffect,
}

/// Length of the part of `from..to` that lies within `half` of `middle`, all mm.
fn overlap(from: f64, to: f64, middle: f64, half: f64) -> f64 {
    (to.min(middle + half) - from.max(middle - half)).max(0.0)
}

/// Share of the stretch that thread covers, times what the thread keeps dry, 0 to 1.
pub(super) fn cover(binds: &[RodBind], from_mm: f64, to_mm: f64) -> f64 {
    let covered = |bind: &RodBind| bind.effect.cover * overlap(from_mm, to_mm, bind.along_mm, 0.5 * bind.breadth_mm);
    (binds.iter().map(covered).sum::<f64>() / (to_mm - from_mm)).min(1.0)
}

/// Conductance of the stretch along the rod as a share of the unbound rod's: pressed and free parts in series.
pub(super) fn conductance_along(binds: &[RodBind], from_mm: f64, to_mm: f64) -> f64 {
    let length_mm = to_mm - from_mm;
    let pressed = |bind: &RodBind| {
        let pressed_mm = overlap(from_mm, to_mm, bind.along_mm, 0.5 * bind.breadth_mm + bind.effect.beyond_mm);
        pressed_mm * (1.0 / bind.effect.conductance - 1.0)
    };
    length_mm / (length_mm + binds.iter().map(pressed).sum::<f64>())
}

/// The same across the rod: pressed and free parts side by side.
pub(super) fn conductance_across(binds: &[RodBind], from_mm: f64, to_mm: f64) -> f64 {
    let barred = |bind: &RodBind| {
        let pressed_mm = overlap(from_mm, to_mm, bind.along_mm, 0.5 * bind.breadth_mm + bind.effect.beyond_mm);
        pressed_mm * (1.0 - bind.effect.conductance)
    };
    let least = binds.iter().map(|bind| bind.effect.conductance).fold(1.0, f64::min);
    (1.0 - binds.iter().map(barred).sum::<f64>() / (to_mm - from_mm)).max(least)
}

/// How round the rod is there: 1 under a bind, falling to 0 where it has sprung back flat.
pub(super) fn roundness(binds: &[RodBind], along_mm: f64, flat_after_diameters: f64) -> f64 {
    let near = |bind: &RodBind| {
        let away = (along_mm - bind.along_mm) / (flat_after_diameters * bind.diameter_mm).max(f64::MIN_POSITIVE);
        (-away * away).exp()
    };
    binds.iter().map(near).fold(0.0, f64::max)
}

/// Index of the section that a place along the rod lies in, from the tip outward.
pub(super) fn section(binds: &[RodBind], along_mm: f64) -> usize {
    binds.partition_point(|bind| bind.along_mm <= along_mm)
}

/// For each section that touches the stretch, its index and the share of the stretch that is its and lies free of thread.
pub(super) fn sections_free(binds: &[RodBind], from_mm: f64, to_mm: f64) -> impl Iterator<Item = (usize, f64)> + '_ {
    let (first, last) = (section(binds, from_mm), section(binds, to_mm));
    (first..=last).map(move |index| {
        let inner = if index == 0 { f64::NEG_INFINITY } else { binds[index - 1].along_mm + 0.5 * binds[index - 1].breadth_mm };
        let outer = binds.get(index).map_or(f64::INFINITY, |bind| bind.along_mm - 0.5 * bind.breadth_mm);
        (index, ((to_mm.min(outer) - from_mm.max(inner)) / (to_mm - from_mm)).max(0.0))
    })
}
