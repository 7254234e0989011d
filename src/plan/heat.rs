//! Heat of a bath: what water, goods and vessel come to when they meet, how the bath cools, and what heating it takes.
//!
//! Temperatures are in C, masses in g, heat in kJ, power in W, areas in mm2, times in minutes.

use super::heat_loss::open_w_per_m2;

/// Specific heat of water, kJ/(kg K): 4.19 from 20 to 90 C within 0.5 % (published handbook value).
pub const WATER_KJ_PER_KG_K: f64 = 4.19;
/// Specific heat of dry cotton, kJ/(kg K): 1.3 (handbook value, unverified: handbooks give 1.2 to 1.4).
pub const COTTON_KJ_PER_KG_K: f64 = 1.3;

/// Something warm or cold that goes into a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Its heat capacity, kJ/K.
    pub capacity_kj_per_k: f64,
    /// Its temperature, C.
    pub temperature_c: f64,
}

impl Body {
    /// So much of a material, from its specific heat in kJ/(kg K).
    #[must_use]
    pub const fn new(mass_g: f64, specific_kj_per_kg_k: f64, temperature_c: f64) -> Self {
        Self { capacity_kj_per_k: mass_g / 1000.0 * specific_kj_per_kg_k, temperature_c }
    }

    /// So much water; a litre is taken as a kilogram.
    #[must_use]
    pub const fn water(mass_g: f64, temperature_c: f64) -> Self {
        Self::new(mass_g, WATER_KJ_PER_KG_K, temperature_c)
    }
}

/// What bodies come to when they meet and none of their heat is lost, C: the mean of their temperatures, weighted by their heat
/// capacities (conservation of energy). `None` without any heat capacity.
///
/// # Limits
/// No losses while they are brought together, no melting or boiling, no heat of solution.
#[must_use]
pub fn mixing_temperature_c(bodies: &[Body]) -> Option<f64> {
    let capacity: f64 = bodies.iter().map(|body| body.capacity_kj_per_k).sum();
    let heat: f64 = bodies.iter().map(|body| body.capacity_kj_per_k * body.temperature_c).sum();
    (capacity > 0.0).then(|| heat / capacity)
}

/// A bath that gives heat to the room, and may be heated: `capacity dT/dt = power - loss (T - room) - open x w(T)`. Covered it follows
/// Newton's law of cooling; what an open surface loses, `w`, is [`open_w_per_m2`]'s.
///
/// # Limits
/// One temperature throughout: the bath is stirred. Still air; wind multiplies what an open surface loses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatedBath {
    /// Heat capacity of water, goods and vessel, kJ/K.
    pub capacity_kj_per_k: f64,
    /// Heat lost through walls and cover, W for each K of difference: area times its coefficient.
    pub loss_w_per_k: f64,
    /// Open surface of hot water, mm2; 0 when covered.
    pub open_mm2: f64,
    /// Temperature of the room, C.
    pub room_c: f64,
    /// Power that heats it, W; 0 for one that cools.
    pub power_w: f64,
}

/// Step of the integration of an open bath, min: a hundredth of the time in which a small one halves its excess.
const STEP_MIN: f64 = 0.1;
/// Longest time that an open bath is followed for, min: two days, beyond any discharge.
const LONGEST_MIN: f64 = 2880.0;

impl HeatedBath {
    /// Rate of change at a temperature, K/min; negative while it cools.
    #[must_use]
    pub fn rate_k_per_min(&self, at_c: f64) -> f64 {
        let open_w = if self.open_mm2 == 0.0 { 0.0 } else { self.open_mm2 * 1e-6 * open_w_per_m2(at_c) };
        let gain_w = self.power_w - self.loss_w_per_k * (at_c - self.room_c) - open_w;
        gain_w * 60.0 / (self.capacity_kj_per_k * 1000.0)
    }

    /// Temperature so many minutes after it was `from_c`, C.
    ///
    /// Covered: `limit + (from - limit) exp(-t / tau)`, `limit = room + power / loss`, `tau = capacity / loss`; without any loss a straight
    /// line. Open: integrated in steps of 0.1 min (Heun's method), for two days at most.
    #[must_use]
    pub fn after_c(&self, from_c: f64, minutes: f64) -> f64 {
        if self.open_mm2 == 0.0 {
            return self.covered_after_c(from_c, minutes);
        }
        let (mut at_c, mut left) = (from_c, minutes.min(LONGEST_MIN));
        while left > 0.0 {
            let step = left.min(STEP_MIN);
            at_c = self.stepped_c(at_c, step);
            left -= step;
        }
        at_c
    }

    /// Minutes from one temperature to another, heating or cooling; `None` where it never gets there.
    #[must_use]
    pub fn minutes(&self, from_c: f64, to_c: f64) -> Option<f64> {
        if from_c == to_c {
            return Some(0.0);
        }
        if self.open_mm2 == 0.0 {
            return self.covered_minutes(from_c, to_c);
        }
        let (mut at_c, mut minutes) = (from_c, 0.0);
        while minutes < LONGEST_MIN {
            let next_c = self.stepped_c(at_c, STEP_MIN);
            if (next_c - to_c) * (at_c - to_c) <= 0.0 {
                return Some(minutes + STEP_MIN * (to_c - at_c) / (next_c - at_c));
            }
            if (next_c - to_c).abs() >= (at_c - to_c).abs() {
                return None;
            }
            (at_c, minutes) = (next_c, minutes + STEP_MIN);
        }
        None
    }

    fn stepped_c(&self, at_c: f64, step: f64) -> f64 {
        let first = self.rate_k_per_min(at_c);
        let second = self.rate_k_per_min(at_c + step * first);
        at_c + 0.5 * step * (first + second)
    }

    fn limit_c(&self) -> f64 {
        self.room_c + self.power_w / self.loss_w_per_k
    }

    fn time_constant_min(&self) -> f64 {
        self.capacity_kj_per_k * 1000.0 / self.loss_w_per_k / 60.0
    }

    fn covered_after_c(&self, from_c: f64, minutes: f64) -> f64 {
        if self.loss_w_per_k == 0.0 {
            return from_c + self.rate_k_per_min(from_c) * minutes;
        }
        let limit_c = self.limit_c();
        limit_c + (from_c - limit_c) * (-minutes / self.time_constant_min()).exp()
    }

    fn covered_minutes(&self, from_c: f64, to_c: f64) -> Option<f64> {
        let minutes = if self.loss_w_per_k == 0.0 {
            (to_c - from_c) / self.rate_k_per_min(from_c)
        } else {
            let limit_c = self.limit_c();
            self.time_constant_min() * ((from_c - limit_c) / (to_c - limit_c)).ln()
        };
        (minutes.is_finite() && minutes >= 0.0).then_some(minutes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn covered(capacity_kj_per_k: f64, loss_w_per_k: f64, room_c: f64, power_w: f64) -> HeatedBath {
        HeatedBath { capacity_kj_per_k, loss_w_per_k, open_mm2: 0.0, room_c, power_w }
    }

    /// `OpenStax`, College Physics, "Pouring Cold Water in a Hot Pan": 0.250 kg of water at 20.0 C into 0.500 kg of aluminium
    /// (0.900 kJ/(kg K)) at 150 C come to 59.1 C; water is taken at 4.186 kJ/(kg K) there.
    #[test]
    fn cold_water_in_a_hot_pan() {
        let together = [Body::new(250.0, 4.186, 20.0), Body::new(500.0, 0.900, 150.0)];
        assert!((mixing_temperature_c(&together).unwrap() - 59.1).abs() < 0.05);
        let ours = [Body::water(250.0, 20.0), Body::new(500.0, 0.900, 150.0)];
        assert!((mixing_temperature_c(&ours).unwrap() - 59.1).abs() < 0.1);
        assert_eq!(mixing_temperature_c(&[]), None);
    }

    /// `OpenStax`, College Physics, "Heating Water in an Aluminum Pan": 0.250 L from 20.0 to 80.0 C in 0.500 kg of aluminium take 89.8 kJ.
    #[test]
    fn a_pan_is_heated_with_its_water() {
        let capacity = Body::new(250.0, 4.186, 20.0).capacity_kj_per_k + Body::new(500.0, 0.900, 20.0).capacity_kj_per_k;
        let minutes = covered(capacity, 0.0, 20.0, 2000.0).minutes(20.0, 80.0).unwrap();
        assert!((minutes * 60.0 * 2.0 - 89.8).abs() < 0.05, "{minutes}");
    }

    /// `OpenStax`, Calculus, volume 2, "Newton's Law of Cooling": 200 F in a room of 70 F, 180 F after 2 min; then 175 F at 2.56 and
    /// 155 F at 5.09 min.
    #[test]
    fn coffee_cools_by_newtons_law() {
        let celsius = |fahrenheit: f64| (fahrenheit - 32.0) / 1.8;
        // The loss for which two minutes take it to 180 F, with a capacity of 1 kJ/K.
        let loss_w_per_k = (130.0_f64 / 110.0).ln() / 2.0 / 60.0 * 1000.0;
        let cup = covered(1.0, loss_w_per_k, celsius(70.0), 0.0);
        assert!((cup.minutes(celsius(200.0), celsius(175.0)).unwrap() - 2.56).abs() < 0.005);
        assert!((cup.minutes(celsius(200.0), celsius(155.0)).unwrap() - 5.09).abs() < 0.005);
        assert!((cup.after_c(celsius(200.0), 2.0) - celsius(180.0)).abs() < 1e-9);
    }

    /// Without losses a power heats in a straight line: 21 L from 15 to 95 C at 2 kW take `21 x 4.19 x 80 / 2` s, just under an hour.
    #[test]
    fn heating_without_losses_is_heat_over_power() {
        let bath = covered(Body::water(21_000.0, 15.0).capacity_kj_per_k, 0.0, 20.0, 2000.0);
        let minutes = bath.minutes(15.0, 95.0).unwrap();
        assert!((minutes - 21.0 * 4.19 * 80.0 / 2.0 / 60.0).abs() < 1e-9, "{minutes}");
        assert!((bath.after_c(15.0, minutes) - 95.0).abs() < 1e-9);
    }

    #[test]
    fn times_and_temperatures_are_each_others_inverse() {
        for open_mm2 in [0.0, 70_000.0] {
            for (power_w, from_c, to_c) in [(0.0, 90.0, 60.0), (2500.0, 15.0, 80.0), (100.0, 90.0, 70.0)] {
                let bath = HeatedBath { open_mm2, ..covered(12.0, 3.0, 18.0, power_w) };
                let minutes = bath.minutes(from_c, to_c).unwrap();
                assert!((bath.after_c(from_c, minutes) - to_c).abs() < 0.01, "{power_w} W, {open_mm2} mm2");
            }
        }
    }

    /// With hardly any open surface the steps are Newton's law.
    #[test]
    fn the_steps_are_fine_enough() {
        let bath = covered(5.0, 6.0, 18.0, 0.0);
        let stepped = HeatedBath { open_mm2: 1e-9, ..bath };
        for minutes in [0.05, 3.0, 17.3, 60.0] {
            assert!((bath.after_c(95.0, minutes) - stepped.after_c(95.0, minutes)).abs() < 1e-3, "{minutes}");
        }
    }

    #[test]
    fn what_is_never_reached_has_no_time() {
        let cooling = covered(12.0, 3.0, 18.0, 0.0);
        assert_eq!(cooling.minutes(60.0, 80.0), None);
        assert_eq!(cooling.minutes(60.0, 10.0), None);
        assert_eq!(cooling.minutes(60.0, 18.0), None);
        // 100 W hold 33 K over the room and no more.
        assert_eq!(covered(12.0, 3.0, 18.0, 100.0).minutes(20.0, 60.0), None);
        assert_eq!(covered(12.0, 0.0, 18.0, 0.0).minutes(60.0, 50.0), None);
        let open = HeatedBath { open_mm2: 120_000.0, ..covered(12.0, 3.0, 18.0, 500.0) };
        assert_eq!(open.minutes(20.0, 95.0), None);
    }
}
