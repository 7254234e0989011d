//! Bands along a line: the same wish, counted from the line.

use crate::radial::{dyes, options};
use crate::rings::{dye, ring, wish};
use pleatwright::layout::Layout;
use pleatwright::reveal::Cancel;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use pleatwright::wish::{Wish, fulfil};

/// Along the line itself the cloth is pleated: its bind stays, and bands lie on either side of it.
#[test]
fn bands_are_wished_along_a_line() {
    let star = EXAMPLE_LAYOUTS.iter().find(|example| example.name == "harbour-row-star-bandana.ron").unwrap();
    let mut spec = parse_layout(star.text).unwrap().raw().clone();
    spec.colours.rotation = dyes();
    spec.colours.single.clear();
    let star = Layout::try_from(spec).unwrap();
    let parts = vec![ring(-28.0, -10.0, dye("amber")), ring(20.0, 45.0, dye("teal"))];
    let found = fulfil(&Wish { name: "Star".to_owned(), ..wish(parts) }, &star, &options(), &Cancel::new()).unwrap();
    let layout = &found.layout;
    let at: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm - layout.zero_mm()).collect();
    assert!(at.iter().any(|at_mm| at_mm.abs() < 1e-9), "{at:?}");
    let near = |wished_mm: f64| at.iter().any(|at_mm| (at_mm - wished_mm).abs() < 5.0);
    assert!([-28.0, -10.0, 20.0, 45.0].into_iter().all(near), "{at:?}");
    let section = |at_mm: f64| at.iter().filter(|bind_mm| **bind_mm < at_mm).count();
    let rotation = &layout.raw().colours.rotation;
    let dye_at = |at_mm: f64| rotation[layout.section_colours()[section(at_mm)].unwrap()].name.as_str();
    assert_eq!([-20.0, 30.0].map(dye_at), ["amber", "teal"]);
    assert_eq!(layout.raw().fold.line(), star.raw().fold.line(), "it is folded as before");
    assert_eq!(layout.name(), "Star");
    for part in found.parts.iter().flatten() {
        for (edge, wished_mm) in part.edges_mm.into_iter().zip(part.wished_mm) {
            let edge_mm = edge.unwrap();
            assert!((edge_mm - wished_mm).abs() < 1.5, "{wished_mm} comes out at {edge_mm}");
        }
    }
}
