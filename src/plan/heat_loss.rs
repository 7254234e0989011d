//! Heat that a bath loses to the room.

/// Loss of a bare wall, or of a covered surface, to still air, W/(m2 K): 12 (published: 160 Btu/(h ft2) at 140 F and 320 at 200 F in air of
/// 60 F are 11.4 and 13.0 W/(m2 K), "Heat loss from open water tanks", handbook table; radiation and convection together).
pub const COVERED_W_PER_M2_K: f64 = 12.0;

/// Temperature of the air for which [`OPEN_W_PER_M2`] holds, C: 60 F.
pub const OPEN_AIR_C: f64 = 15.56;

/// Loss of an open surface of hot water to still air of 60 F, evaporation and radiation together: temperature in C and W/m2 (published, the
/// same handbook table: 820, 1040, 1310, 1615, 2000, 2450, 3000 and 3600 Btu/(h ft2) at 140 to 210 F by 10 F, its own words "rough
/// estimates"). Formulas for evaporation into still air agree within about a quarter.
pub const OPEN_W_PER_M2: [(f64, f64); 8] = [
    (60.0, 2587.0),
    (65.56, 3281.0),
    (71.11, 4133.0),
    (76.67, 5095.0),
    (82.22, 6309.0),
    (87.78, 7729.0),
    (93.33, 9464.0),
    (98.89, 11_357.0),
];

/// Loss of an open surface of water at a temperature, W/m2, in air of [`OPEN_AIR_C`]: the table, straight between its rows; below its first
/// row in proportion to the difference from the air, above its last as the last slope goes on.
#[must_use]
pub fn open_w_per_m2(water_c: f64) -> f64 {
    let (first_c, first_w) = OPEN_W_PER_M2[0];
    if water_c <= first_c {
        return (first_w * (water_c - OPEN_AIR_C) / (first_c - OPEN_AIR_C)).max(0.0);
    }
    let rows = OPEN_W_PER_M2.windows(2);
    let row = rows.clone().find(|row| water_c <= row[1].0).or_else(|| rows.last());
    row.map_or(first_w, |row| row[0].1 + (row[1].1 - row[0].1) * (water_c - row[0].0) / (row[1].0 - row[0].0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// W/m2 in a Btu/(h ft2): 1055.056 J, 3600 s, 0.3048 m (NIST SP 811).
    const W_PER_M2: f64 = 1055.056 / 3600.0 / (0.3048 * 0.3048);

    /// The handbook table as published.
    #[test]
    fn the_table_is_the_handbooks() {
        let published = [(140.0, 820.0), (150.0, 1040.0), (160.0, 1310.0), (170.0, 1615.0), (180.0, 2000.0), (190.0, 2450.0)];
        for (fahrenheit, btu) in published.into_iter().chain([(200.0, 3000.0), (210.0, 3600.0)]) {
            let got = open_w_per_m2((fahrenheit - 32.0) / 1.8);
            assert!((got - btu * W_PER_M2).abs() < 2e-3 * got, "{fahrenheit} F: {got}");
        }
    }

    /// Its worked example: 10 square feet of open water at 150 F lose 10 400 Btu/h.
    #[test]
    fn the_worked_example_comes_out() {
        let btu_per_h = open_w_per_m2((150.0 - 32.0) / 1.8) / W_PER_M2 * 10.0;
        assert!((btu_per_h - 10_400.0).abs() < 20.0, "{btu_per_h}");
    }

    #[test]
    fn cool_water_loses_little_and_cold_water_nothing() {
        assert_eq!(open_w_per_m2(OPEN_AIR_C), 0.0);
        assert_eq!(open_w_per_m2(5.0), 0.0);
        assert!(open_w_per_m2(40.0) < open_w_per_m2(59.9) && open_w_per_m2(99.9) > open_w_per_m2(98.0));
    }
}
