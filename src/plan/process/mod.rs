//! The process: steps in their order, what each needs, takes and forbids.

mod caution;
mod safety;
mod sequence;
mod step;

pub use caution::{Caution, CautionContext, DEFER, Hazard, cautions};
pub use safety::check_safety;
pub use sequence::{OutOfOrder, out_of_order};
pub(in crate::plan) use step::LONGEST_MIN;
pub use step::{AgentGoes, Chemistry, Hands, Need, Place, Process, Step, Temperature, Until, Wait};
