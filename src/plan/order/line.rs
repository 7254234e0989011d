//! One line of an order, graded and weighed out.

use crate::layout::{Figures, Layout};
use crate::plan::GarmentMasses;

/// So many equal garments.
#[derive(Debug, Clone)]
pub struct OrderLine {
    /// The layout, graded.
    pub layout: Layout,
    /// Its figures.
    pub figures: Figures,
    /// What one of them takes.
    pub masses: GarmentMasses,
    /// How many.
    pub count: u32,
    /// Which of the order's processes they go through.
    pub process: usize,
    /// What one costs undyed.
    pub blank_price: Option<f64>,
}
