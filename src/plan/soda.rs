//! pH of a soda ash bath, from carbonate chemistry.
//!
//! Soda ash dissolves to sodium and carbonate ions; a little of the carbonate takes a proton from water,
//! `CO3-- + H2O = HCO3- + OH-` with `K = Kw / K2`, and the hydroxide left over makes the bath alkaline. In a dye bath the ions
//! stand so close that concentrations alone give a pH some 0.4 too high, and the usual short corrections (Davies) fail beyond
//! 0.5 mol/kg. So the activities are Pitzer's.
//!
//! # Limits
//! At 25 C, in pure water, from soda ash without water of crystallisation, without salt or carbon dioxide from the air. A hot bath
//! reads lower. The higher-order electrostatic mixing terms are left out: against full Pitzer calculations (PHREEQC,
//! `pitzer.dat`) the result is at most 0.08 too low from 1 to 60 g per kg of water.

/// Molar mass of sodium carbonate, g/mol: published, atomic weights.
pub const SODA_ASH_G_PER_MOL: f64 = 105.989;
/// Mass of decahydrate (washing soda) that does the work of 1 g of soda ash: 286.142 / 105.989, computed.
pub const DECAHYDRATE_PER_SODA_ASH: f64 = 286.142 / SODA_ASH_G_PER_MOL;
/// Most soda ash that dissolves at 20 C, g per kg of water: 17.7 % of the solution's mass, published.
pub const SOLUBLE_G_PER_KG: f64 = 1000.0 * 0.177 / (1.0 - 0.177);

/// Second dissociation constant of carbonic acid at 25 C, as -log10: published (Plummer & Busenberg 1982).
const P_K2: f64 = 10.329;
/// Ion product of water at 25 C, as -log10: published (IAPWS).
const P_KW: f64 = 13.997;
/// Debye-Hückel slope of the osmotic coefficient of water at 25 C, (kg/mol)^0.5: published (Pitzer).
const A_PHI: f64 = 0.3915;
/// Pitzer's b and alpha for salts with a univalent ion, (kg/mol)^0.5: published (Pitzer 1973).
const PITZER_B: f64 = 1.2;
const ALPHA: f64 = 2.0;
/// Mass of a mole of water, kg.
const WATER_KG_PER_MOL: f64 = 0.018_015_28;

/// An anion beside sodium: charge and Pitzer's parameters of its sodium salt at 25 C, kg/mol (Harvie, Møller & Weare 1984, from
/// memory; the results are tested against PHREEQC).
struct Anion {
    charge: f64,
    beta0: f64,
    beta1: f64,
    c_phi: f64,
}

const CARBONATE: usize = 0;
const BICARBONATE: usize = 1;
const HYDROXIDE: usize = 2;
const ANIONS: [Anion; 3] = [
    Anion { charge: 2.0, beta0: 0.0399, beta1: 1.389, c_phi: 0.0044 },
    Anion { charge: 1.0, beta0: 0.0277, beta1: 0.0411, c_phi: 0.0 },
    Anion { charge: 1.0, beta0: 0.0864, beta1: 0.253, c_phi: 0.0044 },
];
/// Mixing of two anions (theta, kg/mol) and of two anions with sodium (psi, kg2/mol2); same source.
const THETA: [[f64; 3]; 3] = [[0.0, -0.04, 0.1], [-0.04, 0.0, 0.0], [0.1, 0.0, 0.0]];
const PSI: [[f64; 3]; 3] = [[0.0, 0.002, -0.017], [0.002, 0.0, 0.0], [-0.017, 0.0, 0.0]];

/// Natural logarithms of the anions' activity coefficients and of water's activity.
struct Activities {
    ln_gamma: [f64; 3],
    ln_water: f64,
}

/// Pitzer's equations for sodium with three anions of these molalities, mol/kg.
fn activities(molal: [f64; 3]) -> Activities {
    let over = |term: &dyn Fn(usize) -> f64| (0..3).map(term).sum::<f64>();
    let sodium = over(&|a| molal[a] * ANIONS[a].charge);
    let strength = 0.5 * (sodium + over(&|a| molal[a] * ANIONS[a].charge.powi(2)));
    let root = strength.sqrt();
    let x = ALPHA * root;
    let falling = (-x).exp();
    let g = 2.0 * (1.0 - (1.0 + x) * falling) / (x * x);
    let g_prime = -2.0 * (1.0 - (1.0 + x + 0.5 * x * x) * falling) / (x * x);
    let c = |a: usize| ANIONS[a].c_phi / (2.0 * ANIONS[a].charge.sqrt());
    let debye = -A_PHI * (root / (1.0 + PITZER_B * root) + 2.0 / PITZER_B * (1.0 + PITZER_B * root).ln());
    let long_range = debye + over(&|a| sodium * molal[a] * ANIONS[a].beta1 * g_prime / strength);
    let charge = 2.0 * sodium;
    let triple = sodium * over(&|a| molal[a] * c(a));
    let ln_gamma = |x: usize| {
        let own = &ANIONS[x];
        own.charge.powi(2) * long_range
            + sodium * (2.0 * (own.beta0 + own.beta1 * g) + charge * c(x))
            + over(&|a| molal[a] * (2.0 * THETA[x][a] + sodium * PSI[x][a]))
            + own.charge * triple
    };
    let pairs = over(&|a| sodium * molal[a] * (ANIONS[a].beta0 + ANIONS[a].beta1 * falling + charge * c(a)));
    let solutes = sodium + over(&|a| molal[a]);
    let osmotic = 1.0 + 2.0 / solutes * (pairs - A_PHI * strength * root / (1.0 + PITZER_B * root));
    Activities {
        ln_gamma: [ln_gamma(CARBONATE), ln_gamma(BICARBONATE), ln_gamma(HYDROXIDE)],
        ln_water: -WATER_KG_PER_MOL * solutes * osmotic,
    }
}

/// Halvings of the search: beyond the resolution of an `f64`.
const HALVINGS: u32 = 80;

/// The pH at 25 C of `grams_per_kg` of soda ash in a kilogram of water: see the module's limits. `None` outside 0.1 g/kg to what
/// dissolves ([`SOLUBLE_G_PER_KG`]).
///
/// `pH = pKw + log10 a(OH-) - log10 a(H2O)`, where hydroxide and bicarbonate, formed in equal parts, satisfy
/// `a(HCO3-) a(OH-) = Kw / K2 a(CO3--) a(H2O)`.
///
/// ```
/// let ph = pleatwright::plan::soda_ash_ph(20.0).unwrap();
/// assert!((ph - 11.43).abs() < 0.15);
/// ```
#[must_use]
pub fn soda_ash_ph(grams_per_kg: f64) -> Option<f64> {
    if !(0.1..=SOLUBLE_G_PER_KG).contains(&grams_per_kg) {
        return None;
    }
    let total = grams_per_kg / SODA_ASH_G_PER_MOL;
    let ln_k = (P_K2 - P_KW) * std::f64::consts::LN_10;
    let (mut low, mut high) = (0.0, total);
    for _ in 0..HALVINGS {
        let formed = 0.5 * (low + high);
        let act = activities([total - formed, formed, formed]);
        let quotient = (formed * formed / (total - formed)).ln() + act.ln_gamma[BICARBONATE] + act.ln_gamma[HYDROXIDE]
            - act.ln_gamma[CARBONATE]
            - act.ln_water;
        if quotient > ln_k { high = formed } else { low = formed }
    }
    let hydroxide = 0.5 * (low + high);
    let act = activities([total - hydroxide, hydroxide, hydroxide]);
    Some(P_KW + (hydroxide.ln() + act.ln_gamma[HYDROXIDE] - act.ln_water) / std::f64::consts::LN_10)
}
