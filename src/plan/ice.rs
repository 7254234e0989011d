//! Ice: how much lies on a rod, what its melting takes, and how long that may last.

/// Heat that melting takes, kJ/kg, at 0 C: computed from IAPWS-95 and IAPWS-06 (handbooks round it to 334).
pub const FUSION_KJ_PER_KG: f64 = 333.43;
/// Density of ice at 0 C, kg/m3: published (IAPWS-06, rounded).
pub const ICE_KG_PER_M3: f64 = 917.0;

/// Heat to melt ice at 0 C, kJ: `mass x 333.43 kJ/kg`.
#[must_use]
pub fn melting_heat_kj(ice_g: f64) -> f64 {
    ice_g / 1000.0 * FUSION_KJ_PER_KG
}

/// The ice that gives so much water, g: as much as the water, for melting keeps mass.
#[must_use]
pub const fn ice_for_water_g(water_g: f64) -> f64 {
    water_g
}

/// The ice that cools water from one temperature to another above freezing, melting in it, g:
/// `m = water x c (from - to) / (fusion + c to)` with c = 4.19 kJ/(kg K). 0 where there is nothing to cool.
///
/// # Limits
/// The heat of the vessel, the cloth and the room is left out.
#[must_use]
pub fn ice_to_cool_g(water_g: f64, from_c: f64, to_c: f64) -> f64 {
    /// Specific heat of water near room temperature, kJ/(kg K): published handbook value.
    const WATER_KJ_PER_KG_K: f64 = 4.19;
    if from_c <= to_c || to_c < 0.0 {
        return 0.0;
    }
    water_g * WATER_KJ_PER_KG_K * (from_c - to_c) / (FUSION_KJ_PER_KG + WATER_KJ_PER_KG_K * to_c)
}

/// One layer of crushed ice, g: `area x depth x density x packing`.
#[must_use]
pub fn layer_g(area_mm2: f64, depth_mm: f64, packing: f64) -> f64 {
    // mm3 to m3, kg to g.
    area_mm2 * depth_mm * 1e-9 * ICE_KG_PER_M3 * packing * 1000.0
}

/// How long a layer takes to melt in still air, h: `heat / (transfer x area x room temperature)`, the heat coming from above only.
///
/// # Limits
/// An estimate: wind, sun and the cloth beneath shorten it, a cover lengthens it. Infinite in a room at or below freezing.
#[must_use]
pub fn melting_h(ice_g: f64, area_mm2: f64, room_c: f64, transfer_w_per_m2_k: f64) -> f64 {
    let watts = transfer_w_per_m2_k * area_mm2 * 1e-6 * room_c.max(0.0);
    melting_heat_kj(ice_g) * 1000.0 / watts / 3600.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cooling_balances_heat() {
        let (water_g, from_c, to_c) = (5000.0, 20.0, 5.0);
        let ice_g = ice_to_cool_g(water_g, from_c, to_c);
        let given_kj = water_g / 1000.0 * 4.19 * (from_c - to_c);
        let taken_kj = melting_heat_kj(ice_g) + ice_g / 1000.0 * 4.19 * to_c;
        assert!((given_kj - taken_kj).abs() < 1e-9);
        assert_eq!(ice_to_cool_g(1.0, 5.0, 20.0), 0.0);
    }

    #[test]
    fn a_layer_is_area_times_depth() {
        // A litre of solid ice: 100 x 100 x 100 mm.
        assert!((layer_g(1e4, 100.0, 1.0) - 917.0).abs() < 1e-9);
        // 10 W/(m2 K), 20 K and 1 m2 give 0.2 kW: 333.43 kJ take 1667 s.
        assert!((melting_h(1000.0, 1e6, 20.0, 10.0) * 3600.0 - 1667.15).abs() < 0.01);
        assert!(melting_h(1000.0, 1e6, 0.0, 10.0).is_infinite());
    }
}
