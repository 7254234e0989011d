//! What is told of a fold on one size, besides its binds: a name and what stands beside it, the same names on every size.

use crate::geometry::{Centring, FlatFold, Top};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;

/// A name, and what is told; nothing of what lies where nothing needs telling.
pub(super) type Cell = (String, Option<String>);

/// The cells of whichever fold it is.
pub(super) fn fold_cells(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Cell> {
    let length = |mm: f64| lengths.number(mm);
    let below = match layout.panels().top {
        Top::ShoulderPoint => "below shoulder",
        Top::UpperEdge => "below edge",
    };
    burst(figures, below, &length)
        .or_else(|| line(figures, below, &length))
        .or_else(|| flat(layout, figures, below, &length))
        .or_else(|| spiral(figures, below, &length))
        .unwrap_or_default()
}

fn told(name: &str, value: impl Into<String>) -> Cell {
    (name.to_owned(), Some(value.into()))
}

/// A distance from the centre line, and to which side where only one has it; not told of what lies on it.
fn aside(name: &str, mm: Option<f64>, figures: &Figures, length: &dyn Fn(f64) -> String) -> Cell {
    let mm = mm.filter(|mm| *mm != 0.0);
    let name = match mm {
        Some(mm) if mm < 0.0 => format!("{name}, to the wearer's right"),
        Some(_) if figures.fold.centring == Centring::Open.name() => format!("{name}, to the wearer's left"),
        _ => format!("{name} aside"),
    };
    (name, mm.map(|mm| length(mm.abs())))
}

fn burst(figures: &Figures, below: &str, length: &dyn Fn(f64) -> String) -> Option<Vec<Cell>> {
    let burst = figures.burst.as_ref()?;
    Some(vec![
        told(&format!("Centre {below}"), length(burst.centre_below_shoulder_mm)),
        aside("Centre", Some(burst.centre_from_centre_line_mm), figures, length),
        told("Guide arc", length(burst.guide_radius_mm)),
        told("Pleats", burst.pleats.to_string()),
    ])
}

fn line(figures: &Figures, below: &str, length: &dyn Fn(f64) -> String) -> Option<Vec<Cell>> {
    let line = figures.line.as_ref()?;
    Some(vec![
        (format!("Middle {below}"), line.middle_below_shoulder_mm.map(length)),
        aside("Middle", line.middle_from_centre_line_mm, figures, length),
        told("Line, width", length(line.width_mm)),
        told("Line, height", length(line.height_mm)),
        told("Fold guide", length(line.guide_mm)),
        told("Pleats", line.pleats.to_string()),
    ])
}

fn flat(layout: &Layout, figures: &Figures, below: &str, length: &dyn Fn(f64) -> String) -> Option<Vec<Cell>> {
    let flat = figures.flat.as_ref()?;
    let block = layout.raw().blocks.as_ref().map(|blocks| {
        let [long_mm, across_mm] = blocks.shape.sizes_mm();
        let is_square = (long_mm - across_mm).abs() < f64::EPSILON;
        if is_square { length(long_mm) } else { format!("{} x {}", length(long_mm), length(across_mm)) }
    });
    let dips = figures.dips.iter().map(|dip| told(&format!("Dip {}, {}", dip.number, dip.part), length(dip.depth_mm)));
    let cells = vec![
        ("First crease".to_owned(), layout.flat().and_then(FlatFold::first_crease_mm).map(length)),
        ("Width folded".to_owned(), flat.width_mm.map(length)),
        ("Height folded".to_owned(), flat.height_mm.map(length)),
        ("Wedges".to_owned(), flat.wedges.map(|wedges| wedges.to_string())),
        (format!("Centre {below}"), flat.centre_below_shoulder_mm.map(length)),
        aside("Centre", flat.centre_from_centre_line_mm, figures, length),
        told("Folds", flat.folds.to_string()),
        told("Bundle, length", length(flat.bundle_length_mm)),
        told("Bundle, width", length(flat.bundle_width_mm)),
        ("Block".to_owned(), block),
        ("Wound from".to_owned(), flat.wrap.map(|wrap| length(wrap.from_mm))),
        ("Wound to".to_owned(), flat.wrap.map(|wrap| length(wrap.to_mm))),
        ("Gap of turns".to_owned(), flat.wrap.map(|wrap| length(wrap.gap_mm))),
    ];
    Some(cells.into_iter().chain(dips).collect())
}

fn spiral(figures: &Figures, below: &str, length: &dyn Fn(f64) -> String) -> Option<Vec<Cell>> {
    let spiral = figures.spiral.as_ref()?;
    Some(vec![
        told(&format!("Pinch {below}"), length(spiral.pinch_below_shoulder_mm)),
        aside("Pinch", Some(spiral.pinch_from_centre_line_mm), figures, length),
        told("Pinch, radius", length(spiral.pinch_radius_mm)),
        told("Puck, across", length(spiral.puck_diameter_mm)),
        told("Puck, height", length(spiral.puck_height_mm)),
        told("Turns", ((100.0 * spiral.turns).round() / 100.0).to_string()),
        told("Bands", spiral.bands.to_string()),
        told("Girth of a band", length(spiral.band_girth_mm)),
    ])
}
