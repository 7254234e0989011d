//! Limits for gases in the air of a workplace, and the respirators that serve, by region.

use serde::Serialize;
use std::fmt;

/// Whose limits and terms a plan uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub enum Region {
    /// The European Union's: the stricter ones, so the default.
    #[default]
    Europe,
    /// Those of the United States.
    UnitedStates,
}

impl Region {
    /// Every region.
    pub const ALL: [Self; 2] = [Self::Europe, Self::UnitedStates];

    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Europe => "Europe",
            Self::UnitedStates => "United States",
        }
    }
}

impl fmt::Display for Region {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A gas that a discharge gives off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gas {
    /// Sulfur dioxide.
    SulfurDioxide,
    /// Ammonia, from the spent thiourea dioxide in alkali.
    Ammonia,
}

/// Limits of a gas in workplace air, ppm by volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirLimits {
    /// Mean over a working day: eight hours in Europe, ten for the limit recommended in the United States.
    pub day_ppm: f64,
    /// Over how many hours the first is a mean.
    pub day_h: u32,
    /// Mean over 15 minutes.
    pub short_ppm: f64,
    /// Who says so.
    pub source: &'static str,
}

/// Sulfur dioxide at once dangerous to life or health, ppm (NIOSH, IDLH for sulfur dioxide, 1994; read 2026-11-26).
pub const SO2_DANGER_PPM: f64 = 100.0;
/// How many times the day's limit a half mask with gas cartridges serves to: 10, the protection factor that the NIOSH Pocket Guide reckons
/// with (20 ppm of sulfur dioxide, of its 2 ppm; read 2026-11-26 in a copy).
const HALF_MASK_FACTOR: f64 = 10.0;

/// Most that a half mask with gas cartridges serves to in sulfur dioxide, ppm: ten times the region's limit for a day.
#[must_use]
pub const fn so2_mask_ppm(region: Region) -> f64 {
    HALF_MASK_FACTOR * air_limits(Gas::SulfurDioxide, region).day_ppm
}

/// Sulfur dioxide that some people with asthma feel within ten minutes of work, ppm (EPA, Integrated Science Assessment for Sulfur Oxides,
/// 2008, as quoted; 0.2 to 1.0 ppm in Inhalation Toxicology 2010, abstract; both read 2026-11-26). Below every limit.
pub const SO2_ASTHMA_PPM: f64 = 0.2;

/// The limits of a gas in a region.
///
/// - Sulfur dioxide, Europe: Commission Directive (EU) 2017/164, Annex, as listed by ECHA: 0.5 and 1 ppm; indicative, national law may differ
///   (read 2026-11-26).
/// - Sulfur dioxide, United States: NIOSH, IDLH page of sulfur dioxide: recommended 2 and 5 ppm (read 2026-11-26).
/// - The legal limits of the United States, OSHA, 29 CFR 1910.1000 table Z-1: sulfur dioxide 5 ppm; ammonia 50 ppm from memory, unverified.
/// - Ammonia, Europe: Directive 2000/39/EC, 20 and 50 ppm: from memory, unverified.
/// - Ammonia, United States: NIOSH recommended 25 and 35 ppm, as a state's department of agriculture quotes them (read 2026-11-26).
#[must_use]
pub const fn air_limits(gas: Gas, region: Region) -> AirLimits {
    match (gas, region) {
        (Gas::SulfurDioxide, Region::Europe) => {
            AirLimits { day_ppm: 0.5, day_h: 8, short_ppm: 1.0, source: "Directive (EU) 2017/164, indicative limits" }
        }
        (Gas::SulfurDioxide, Region::UnitedStates) => AirLimits {
            day_ppm: 2.0,
            day_h: 10,
            short_ppm: 5.0,
            source: "NIOSH, recommended; the legal limit, OSHA's, is 5 ppm over 8 h",
        },
        (Gas::Ammonia, Region::Europe) => {
            AirLimits { day_ppm: 20.0, day_h: 8, short_ppm: 50.0, source: "Directive 2000/39/EC, unverified" }
        }
        (Gas::Ammonia, Region::UnitedStates) => AirLimits {
            day_ppm: 25.0,
            day_h: 10,
            short_ppm: 35.0,
            source: "NIOSH, recommended; the legal limit, OSHA's, is 50 ppm over 8 h, unverified",
        },
    }
}

/// The respirator against the gases of a discharge, in the terms of the region's standard; against ammonia only where the agent gives it off.
#[must_use]
pub const fn gas_respirator(region: Region, ammonia: bool) -> &'static str {
    match (region, ammonia) {
        (Region::Europe, true) => {
            "a half mask (EN 140) with gas filters of types E and K (EN 14387): E stops sulfur dioxide, K ammonia; with P2 or P3 as well \
             while you handle the powder"
        }
        (Region::Europe, false) => {
            "a half mask (EN 140) with gas filters of type E (EN 14387), which stops sulfur dioxide; with P2 or P3 as well while you handle \
             the powder"
        }
        (Region::UnitedStates, true) => {
            "a NIOSH-approved half mask whose cartridges are approved for sulfur dioxide and for ammonia; with P100 as well while you handle \
             the powder"
        }
        (Region::UnitedStates, false) => {
            "a NIOSH-approved half mask whose cartridges are approved for sulfur dioxide; with P100 as well while you handle the powder"
        }
    }
}

/// The mask against dye powder, in the terms of the region's standard.
#[must_use]
pub const fn dust_mask(region: Region) -> &'static str {
    match region {
        Region::Europe => "FFP2 (EN 149) or better",
        Region::UnitedStates => "N95 (NIOSH-approved) or better",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What people with asthma feel lies below every limit: keeping a limit is not enough for them.
    #[test]
    fn no_limit_protects_people_with_asthma() {
        for region in Region::ALL {
            let limits = air_limits(Gas::SulfurDioxide, region);
            assert!(SO2_ASTHMA_PPM < limits.day_ppm && limits.day_ppm < limits.short_ppm, "{region}");
            assert!(limits.short_ppm < so2_mask_ppm(region) && so2_mask_ppm(region) < SO2_DANGER_PPM);
        }
    }

    /// 0.5 ppm are 1.3 mg/m3 and 1 ppm 2.7 mg/m3, as the directive gives both (molar mass 64.066 g/mol, 20 C).
    #[test]
    fn parts_per_million_are_the_directives_milligrams() {
        let limits = air_limits(Gas::SulfurDioxide, Region::Europe);
        let mg_per_m3 = |ppm: f64| ppm * 64.066 / (8.314_463 * 293.15 / 101.325);
        assert!((mg_per_m3(limits.day_ppm) - 1.3).abs() < 0.05 && (mg_per_m3(limits.short_ppm) - 2.7).abs() < 0.05);
    }
}
