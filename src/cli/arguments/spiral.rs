//! Arguments about a spiral.

use super::line::named;
use clap::Args;
use clap::builder::TypedValueParser;
use pleatwright::geometry::Twist;

/// How a spiral is twisted and banded, for --fold spiral.
#[derive(Debug, Args)]
pub(crate) struct SpiralArguments {
    /// Diameter of the puck. Default: what makes one that is six times as wide as high.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) puck_diameter: Option<String>,
    /// How often the pinch is turned. Default: nearly as often as the cloth allows.
    #[arg(long, value_name = "COUNT")]
    pub(crate) turns: Option<f64>,
    /// Which way the pinch is turned, seen from above. Default: clockwise.
    #[arg(long, value_parser = twists())]
    pub(crate) twist: Option<Twist>,
    /// Bands over the puck: they part it into twice as many wedges. Default: 3.
    #[arg(long, value_name = "COUNT")]
    pub(crate) bands: Option<u32>,
}

fn twists() -> impl TypedValueParser<Value = Twist> {
    let of = |name: &str| Twist::ALL.into_iter().find(|twist| twist.name() == name);
    named(Twist::ALL.iter().map(|twist| twist.name()).collect(), of, Twist::Clockwise)
}
