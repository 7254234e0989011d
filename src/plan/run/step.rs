//! One step of a run with everything that belongs to it.

use super::{RunCaution, RunNeed, RunShare};
use crate::plan::needs::{For, each};
use crate::plan::{Hazard, Place, Temperature, Wait};
use jiff::civil::DateTime;

/// A step, as a maker needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct RunStep<'a> {
    /// Its number, from 1.
    pub number: u32,
    /// The load's number; none for a step done once.
    pub load: Option<u32>,
    /// Its name.
    pub name: &'a str,
    /// Its name as it is shown: with its process', where another has a step of that name that is done once too.
    pub shown: &'a str,
    /// What to do.
    pub what: &'a str,
    /// Garments that it is done to.
    pub garments: u32,
    /// Where.
    pub place: Option<Place>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// How long it has to and may wait when hands are done.
    pub wait: Option<Wait>,
    /// Why its least wait is longer than the process says, in words that end a sentence; none where it is not.
    pub wait_reason: Option<&'a str>,
    /// What to have weighed out, for all its garments.
    pub needs: &'a [RunNeed],
    /// What of it each garment gets; nothing where there is one garment, or only a bath.
    pub shares: &'a [RunShare],
    /// What may hurt, the last deferring to the product's own sheet.
    pub cautions: Vec<&'a RunCaution>,
    /// Planned: hands begin.
    pub from: DateTime,
    /// Planned: hands are done.
    pub to: DateTime,
    /// Hands-on time, min.
    pub hands_min: u32,
    /// When hands began, if that was ticked.
    pub begun: Option<DateTime>,
    /// When hands were done, if they are; for a step left out, when it was.
    pub finished: Option<DateTime>,
    /// Whether it was left out.
    pub left_out: bool,
    /// What the maker noted.
    pub note: &'a str,
}

impl RunStep<'_> {
    /// Its name with its load: `soda ash soak, load 2`.
    #[must_use]
    pub fn title(&self) -> String {
        title(self.shown, self.load)
    }

    /// What may hurt, in a few words; none where nothing may.
    #[must_use]
    pub fn marks(&self) -> Option<String> {
        Hazard::marks(self.cautions.iter().map(|caution| caution.hazard))
    }

    /// What to have ready, a line each: for one garment every amount, for several what each gets and then their sum, told as such.
    #[must_use]
    pub fn needs_words(&self) -> Vec<String> {
        if self.garments < 2 {
            return self.needs.iter().map(|need| format!("{}: {}", need.what, need.amount)).collect();
        }
        let shares = self.shares.iter().map(|share| each(share.count, &share.of, &listed(&share.needs)));
        shares.chain(self.sum_words()).collect()
    }
}

/// Up to so many equal garments, each gets a line of its own.
const MOST_LINES: u32 = 12;

impl RunStep<'_> {
    /// What every single garment gets, a line each: `Harbour Row tee, M, 2 of 3: dye, teal: 1.09 g; ...`. More than a dozen equal ones
    /// share a line. Nothing where nothing is portioned.
    #[must_use]
    pub fn portions(&self) -> Vec<String> {
        if self.garments < 2 {
            return Vec::new();
        }
        let of_share = |share: &RunShare| {
            let (of, count, listed) = (&share.of, share.count, listed(&share.needs));
            if count == 1 || count > MOST_LINES {
                return vec![each(count, of, &listed)];
            }
            (1..=count).map(|turn| format!("{of}, {turn} of {count}: {listed}")).collect()
        };
        self.shares.iter().flat_map(of_share).collect()
    }

    /// What all its garments take together, told as a sum where it was portioned before; nothing where nothing is needed, or for one garment.
    #[must_use]
    pub fn sum_words(&self) -> Option<String> {
        let of = For { garments: self.garments, once: self.load.is_none() };
        let has_sum = of.words().is_some() && !self.needs.is_empty();
        has_sum.then(|| of.sentence(&listed(self.needs), !self.shares.is_empty()))
    }
}

fn listed(needs: &[RunNeed]) -> String {
    needs.iter().map(|need| format!("{}: {}", need.what, need.amount)).collect::<Vec<_>>().join("; ")
}

pub(super) fn title(name: &str, load: Option<u32>) -> String {
    load.map_or_else(|| name.to_owned(), |load| format!("{name}, load {load}"))
}
