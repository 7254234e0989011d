//! Arguments about the line that a garment is folded along.

use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use pleatwright::geometry::{GarmentEdge, LineKind, LineShape};
use pleatwright::import::FileUnit;
use std::path::PathBuf;

/// What the line is, for `--fold line`.
#[derive(Debug, Args)]
pub(crate) struct LineArguments {
    /// The shape of the line, for --fold line.
    #[arg(long, value_parser = shapes(), value_name = "SHAPE")]
    pub(crate) line: Option<LineShape>,
    /// How many points, sides, crests or teeth the shape has, for star, polygon, wave and zigzag.
    #[arg(long, value_name = "COUNT")]
    pub(crate) points: Option<u32>,
    /// The letter, for --line letter.
    #[arg(long, value_name = "LETTER")]
    pub(crate) letter: Option<char>,
    /// Take the line from a drawing, an SVG or DXF file, instead of a shape.
    #[arg(long, value_name = "FILE", value_hint = clap::ValueHint::FilePath)]
    pub(crate) line_from: Option<PathBuf>,
    /// What the drawing's numbers measure, where it does not say.
    #[arg(long, value_parser = units(), value_name = "UNIT")]
    pub(crate) line_unit: Option<FileUnit>,
    /// Which of several lines in the drawing: its number, name or layer.
    #[arg(long, value_name = "LINE")]
    pub(crate) line_which: Option<String>,
    /// Width to scale the drawing's line to. Default: as it is drawn.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) line_width: Option<String>,
    /// What the drawing's line is to the cloth: a ring round some of it, across from edge to edge, a stroke within. Default: what it looks
    /// like.
    #[arg(long, value_parser = kinds(), value_name = "KIND")]
    pub(crate) line_kind: Option<LineKind>,
    /// Fold along a parallel to the garment's own edge instead of a shape.
    #[arg(long, value_parser = edges(), value_name = "EDGE")]
    pub(crate) line_along: Option<GarmentEdge>,
    /// How far within the edge that parallel runs. Default: 60 mm.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) line_inset: Option<String>,
    /// Lay the pleats by a running stitch that is drawn up, instead of folding them by hand.
    #[arg(long)]
    pub(crate) stitched: bool,
}

/// How a line runs, by the names that it is asked for.
const KINDS: [(&str, LineKind); 3] = [("ring", LineKind::Ring), ("across", LineKind::Across), ("stroke", LineKind::Stroke)];

/// A choice among names of a table; only names of it come through.
pub(super) fn named<T: Clone + Send + Sync + 'static>(
    names: Vec<&'static str>,
    of: fn(&str) -> Option<T>,
    otherwise: T,
) -> impl TypedValueParser<Value = T> {
    PossibleValuesParser::new(names.into_iter().map(PossibleValue::new)).map(move |name| of(&name).unwrap_or(otherwise.clone()))
}

fn shapes() -> impl TypedValueParser<Value = LineShape> {
    named(LineShape::ALL.map(LineShape::name).to_vec(), LineShape::named, LineShape::Heart)
}

pub(super) fn units() -> impl TypedValueParser<Value = FileUnit> {
    named(FileUnit::ALL.map(FileUnit::name).to_vec(), FileUnit::named, FileUnit::Millimetre)
}

fn kinds() -> impl TypedValueParser<Value = LineKind> {
    let of = |name: &str| KINDS.into_iter().find(|(known, _)| *known == name).map(|(_, kind)| kind);
    named(KINDS.map(|(name, _)| name).to_vec(), of, LineKind::Ring)
}

fn edges() -> impl TypedValueParser<Value = GarmentEdge> {
    named(GarmentEdge::ALL.map(GarmentEdge::name).to_vec(), GarmentEdge::named, GarmentEdge::Hem)
}
