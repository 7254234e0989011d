//! From the number of cells across, known when a grid is made, to code compiled for it.

/// Runs generic code for the number of cells across that a grid has.
macro_rules! for_across {
    ($across:expr, $U:ident => $body:expr) => {
        match $across {
            1 => {
                const $U: usize = 1;
                $body
            }
            2 => {
                const $U: usize = 2;
                $body
            }
            4 => {
                const $U: usize = 4;
                $body
            }
            8 => {
                const $U: usize = 8;
                $body
            }
            16 => {
                const $U: usize = 16;
                $body
            }
            32 => {
                const $U: usize = 32;
                $body
            }
            _ => {
                const $U: usize = 64;
                $body
            }
        }
    };
}
pub(super) use for_across;

/// Runs generic code for the numbers of cells across of a grid and the coarser one.
macro_rules! for_pair {
    ($fine:expr, $coarse:expr, $U:ident, $C:ident => $body:expr) => {
        $crate::reveal::solver::across::for_across!($fine, $U => if $fine == $coarse {
            const $C: usize = $U;
            $body
        } else {
            const $C: usize = if $U > 1 { $U / 2 } else { 1 };
            $body
        })
    };
}
pub(super) use for_pair;
