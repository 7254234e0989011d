//! Property tests draw from a seed of their own: a failure comes again on any machine, and nothing is written beside the tests.

use proptest::test_runner::{Config, RngSeed};

/// The configuration of a property test that tries so many cases from this seed.
pub(crate) fn seeded(seed: u64, cases: u32) -> Config {
    Config { cases, rng_seed: RngSeed::Fixed(seed), failure_persistence: None, ..Config::default() }
}
