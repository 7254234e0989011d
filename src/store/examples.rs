//! The examples that come with the program: layouts, spacing presets, swatches, recipes, processes, orders and wishes, as they stand under
//! `layouts/`.

/// A file that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Example {
    /// Its name, without folder.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

impl Example {
    /// The name that an order gives it: its file's, without ending.
    #[must_use]
    pub fn short_name(&self) -> &'static str {
        self.name.strip_suffix(".ron").unwrap_or(self.name)
    }
}

macro_rules! example {
    ($folder:literal, $name:literal) => {
        Example { name: $name, text: include_str!(concat!("../../layouts/", $folder, $name)) }
    };
}

/// Harbour Row: the rowing club's regatta order. The first is what the program shows when nothing is asked for.
pub const EXAMPLE_LAYOUTS: [Example; 22] = [
    example!("", "harbour-row-tee-m.ron"),
    example!("", "harbour-row-tee-s.ron"),
    example!("", "harbour-row-tee-2xl.ron"),
    example!("", "harbour-row-long-sleeve-l.ron"),
    example!("", "harbour-row-bodysuit.ron"),
    example!("", "harbour-row-hooded-top-l.ron"),
    example!("", "harbour-row-tote.ron"),
    example!("", "harbour-row-bandana.ron"),
    example!("", "harbour-row-heart-tee-m.ron"),
    example!("", "harbour-row-star-bandana.ron"),
    example!("", "harbour-row-wave-long-sleeve-l.ron"),
    example!("", "harbour-row-initial-tote.ron"),
    example!("", "harbour-row-smock.ron"),
    example!("", "harbour-row-chevron-long-sleeve-l.ron"),
    example!("", "harbour-row-wheel-bandana.ron"),
    example!("", "harbour-row-triangle-pillowcase.ron"),
    example!("", "harbour-row-striped-tee-m.ron"),
    example!("", "harbour-row-reverse-tote.ron"),
    example!("", "harbour-row-spiral-tee-m.ron"),
    example!("", "harbour-row-slate-tee-m.ron"),
    example!("", "harbour-row-four-ties-tee-m.ron"),
    example!("", "harbour-row-wound-bandana.ron"),
];

/// Spacing presets.
pub const EXAMPLE_PRESETS: [Example; 5] = [
    example!("spacing/", "tight-heart.ron"),
    example!("spacing/", "even-rings.ron"),
    example!("spacing/", "steady-steps.ron"),
    example!("spacing/", "equal-cloth.ron"),
    example!("spacing/", "wide-water.ron"),
];

/// Swatches to begin with.
pub const EXAMPLE_SWATCHES: [Example; 1] = [example!("swatches/", "harbour-row.ron")];
/// Recipes. An order names one by its file's name without ending.
pub const EXAMPLE_RECIPES: [Example; 3] = [
    example!("recipes/", "powder-under-ice.ron"),
    example!("recipes/", "powder-on-white.ron"),
    example!("recipes/", "solution-by-hand.ron"),
];

/// Processes. An order names one by its file's name without ending.
pub const EXAMPLE_PROCESSES: [Example; 4] = [
    example!("processes/", "discharge-and-dye.ron"),
    example!("processes/", "plain-dye.ron"),
    example!("processes/", "discharge-and-paint.ron"),
    example!("processes/", "plain-paint.ron"),
];

/// Orders.
pub const EXAMPLE_ORDERS: [Example; 1] = [example!("orders/", "harbour-row-regatta.ron")];

/// Wishes.
pub const EXAMPLE_WISHES: [Example; 1] = [example!("wishes/", "harbour-row-rings.ron")];
