//! Arguments about a flat bundle.

use super::line::named;
use clap::Args;
use clap::builder::TypedValueParser;
use pleatwright::geometry::BlockShape;

/// How a flat bundle is folded and held, for the folds that make one.
#[derive(Debug, Args)]
pub(crate) struct FlatArguments {
    /// Width of stripes, or of the strip that squares and triangles are folded of. Default: the cloth's breadth in equal parts of about
    /// 90 mm.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) fold_width: Option<String>,
    /// The direction in which stripes, or the strip, run: degrees clockwise from straight up. 45 gives chevrons on a garment folded in
    /// half. Default: 0.
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    pub(crate) fold_angle: Option<f64>,
    /// How many wedges in the whole turn, for --fold wedges. Default: 8.
    #[arg(long, value_name = "COUNT")]
    pub(crate) wedges: Option<u32>,
    /// Roll the pieces up instead of folding them to and fro.
    #[arg(long)]
    pub(crate) rolled: bool,
    /// Hold the bundle between two equal blocks of this shape; none ties it instead. Default: what suits the fold.
    #[arg(long, value_parser = blocks(), value_name = "SHAPE")]
    pub(crate) block: Option<BlockChoice>,
    /// Size of the blocks: a disc's diameter, a side, a bar's length. Default: what suits the fold.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) block_size: Option<String>,
    /// Wind one thread round the bundle, turn after turn aslant, so far from turn to turn, in place of binds and blocks.
    #[arg(long, value_name = "GAP")]
    pub(crate) wrap: Option<String>,
    /// Dip a part of the bundle so deep, and dye nothing else: an edge or a corner with its number, top, or underside; then minutes and one
    /// of the layout's colours. Can be given several times. Default: 2 minutes, the first colour.
    #[arg(long, value_name = "PART:DEPTH[:MINUTES[:COLOUR]]")]
    pub(crate) dip: Vec<String>,
}

/// Blocks, or none.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BlockChoice(pub(crate) Option<BlockShape>);

const NO_BLOCKS: &str = "none";

fn blocks() -> impl TypedValueParser<Value = BlockChoice> {
    let of = |name: &str| {
        let shape = BlockShape::BEGUN.into_iter().find(|shape| shape.name() == name);
        (shape.is_some() || name == NO_BLOCKS).then_some(BlockChoice(shape))
    };
    let names = [NO_BLOCKS].into_iter().chain(BlockShape::BEGUN.iter().map(BlockShape::name)).collect();
    named(names, of, BlockChoice(None))
}
