//! Code compiled for the vector registers of the processor that it runs on.

use fearless_simd::{Level, dispatch};

/// What is done in vector registers: a loop over rows of numbers that the compiler turns into vector instructions. Everything that
/// it calls is inlined, and nothing fuses multiply and add, so that every processor gives the same bytes.
pub(crate) trait Kernel {
    /// What comes out of it.
    type Output;

    /// Does it. To be marked `#[inline(always)]`, or it is compiled for the least of all processors.
    fn call(self) -> Self::Output;
}

/// What the processor can do, found out once.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Vectors(Level);

impl Vectors {
    /// Asks the processor.
    pub(crate) fn new() -> Self {
        Self(Level::new())
    }

    /// Runs a kernel, compiled for this processor.
    #[inline]
    pub(crate) fn run<K: Kernel>(self, kernel: K) -> K::Output {
        dispatch!(self.0, _simd => kernel.call())
    }
}
