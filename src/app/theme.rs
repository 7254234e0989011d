//! Every colour, stroke and size of the window: slate and chalk by dark theme, pattern paper and pencil by light.

use crate::layout::Srgb;
use egui::{Color32, Context, CornerRadius, FontFamily, FontId, Margin, Rgba, Stroke, Style, TextStyle, Theme, Visuals, vec2};

/// The colours of the table and what lies on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Palette {
    /// The table.
    pub(super) table: Color32,
    /// Cloth whose colour is not known.
    pub(super) plain_cloth: Color32,
    /// The cloth's edge.
    pub(super) edge: Color32,
    /// The shadow beside cloth and folds.
    pub(super) shadow: Color32,
    /// Chalk or pencil, for further arcs and creases.
    pub(super) chalk: Color32,
    /// The guide arc.
    pub(super) guide: Color32,
    /// The thread's dark and light strand.
    pub(super) thread: [Color32; 2],
    /// Paper tags and the words on them.
    pub(super) tag: [Color32; 2],
    /// What is being handled.
    pub(super) accent: Color32,
    /// Words.
    pub(super) ink: Color32,
    /// Words of less weight.
    pub(super) faint: Color32,
    /// Something to look out for.
    pub(super) warn: Color32,
    /// Something refused.
    pub(super) refused: Color32,
    /// Panels round the table.
    pub(super) panel: Color32,
    /// Fields to write in.
    pub(super) field: Color32,
}

const DARK: Palette = Palette {
    table: Color32::from_rgb(43, 50, 54),
    plain_cloth: Color32::from_rgb(205, 202, 194),
    edge: Color32::from_rgb(236, 233, 224),
    shadow: Color32::from_rgba_premultiplied(0, 0, 0, 70),
    chalk: Color32::from_rgb(222, 222, 214),
    guide: Color32::from_rgb(255, 255, 250),
    thread: [Color32::from_rgb(60, 44, 28), Color32::from_rgb(224, 193, 140)],
    tag: [Color32::from_rgb(243, 236, 218), Color32::from_rgb(40, 36, 30)],
    accent: Color32::from_rgb(255, 176, 66),
    ink: Color32::from_rgb(234, 232, 224),
    faint: Color32::from_rgb(176, 178, 174),
    warn: Color32::from_rgb(255, 205, 110),
    refused: Color32::from_rgb(255, 142, 122),
    panel: Color32::from_rgb(31, 36, 39),
    field: Color32::from_rgb(22, 26, 28),
};

const LIGHT: Palette = Palette {
    table: Color32::from_rgb(211, 190, 158),
    plain_cloth: Color32::from_rgb(243, 240, 232),
    edge: Color32::from_rgb(66, 56, 44),
    shadow: Color32::from_rgba_premultiplied(30, 20, 8, 60),
    chalk: Color32::from_rgb(84, 74, 62),
    guide: Color32::from_rgb(28, 24, 20),
    thread: [Color32::from_rgb(74, 52, 30), Color32::from_rgb(240, 214, 168)],
    tag: [Color32::from_rgb(255, 251, 240), Color32::from_rgb(40, 34, 26)],
    accent: Color32::from_rgb(160, 62, 12),
    ink: Color32::from_rgb(42, 36, 28),
    faint: Color32::from_rgb(84, 73, 58),
    warn: Color32::from_rgb(112, 62, 0),
    refused: Color32::from_rgb(150, 28, 16),
    panel: Color32::from_rgb(238, 226, 205),
    field: Color32::from_rgb(252, 247, 236),
};

impl Palette {
    /// The palette of the theme in force.
    pub(super) fn of(ctx: &Context) -> &'static Self {
        match ctx.theme() {
            Theme::Dark => &DARK,
            Theme::Light => &LIGHT,
        }
    }
}

/// A swatch's colour on the screen.
pub(super) fn tone(srgb: Srgb) -> Color32 {
    Color32::from_rgb(srgb.red, srgb.green, srgb.blue)
}

/// Contrast ratio of two colours (W3C, Web Content Accessibility Guidelines 2.2, "contrast ratio" and "relative luminance").
pub(super) fn contrast(one: Color32, other: Color32) -> f32 {
    let luminance = |colour: Color32| {
        let linear = Rgba::from(colour);
        0.2126 * linear.r() + 0.7152 * linear.g() + 0.0722 * linear.b()
    };
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// Least contrast of lines and marks with what they stand on (the same guidelines, success criterion 1.4.11).
pub(super) const LINE_CONTRAST: f32 = 3.0;
/// Wood of blocks.
pub(super) const WOOD: Color32 = Color32::from_rgb(196, 154, 104);

/// Gives both themes their look; type large enough to read from a step back.
pub(super) fn install(ctx: &Context) {
    for (theme, palette) in [(Theme::Dark, &DARK), (Theme::Light, &LIGHT)] {
        ctx.style_mut_of(theme, |style| dress(style, theme, palette));
    }
}

fn dress(style: &mut Style, theme: Theme, palette: &Palette) {
    style.visuals = visuals(theme, palette);
    style.spacing.item_spacing = vec2(8.0, 7.0);
    style.spacing.button_padding = vec2(9.0, 5.0);
    style.spacing.interact_size.y = 26.0;
    // Room beside what scrolls, so that the bar covers nothing.
    style.spacing.scroll.floating_allocated_width = 10.0;
    style.spacing.window_margin = Margin::same(16);
    let sizes = [
        (TextStyle::Small, 13.0),
        (TextStyle::Body, 15.5),
        (TextStyle::Button, 15.5),
        (TextStyle::Monospace, 14.5),
        (TextStyle::Heading, 21.0),
    ];
    for (text, size) in sizes {
        let family = if text == TextStyle::Monospace { FontFamily::Monospace } else { FontFamily::Proportional };
        style.text_styles.insert(text, FontId::new(size, family));
    }
}

fn visuals(theme: Theme, palette: &Palette) -> Visuals {
    let mut visuals = match theme {
        Theme::Dark => Visuals::dark(),
        Theme::Light => Visuals::light(),
    };
    visuals.override_text_color = Some(palette.ink);
    visuals.weak_text_color = Some(palette.faint);
    visuals.panel_fill = palette.panel;
    visuals.window_fill = palette.panel;
    visuals.extreme_bg_color = palette.field;
    visuals.text_edit_bg_color = Some(palette.field);
    visuals.faint_bg_color = palette.panel.lerp_to_gamma(palette.ink, 0.04);
    visuals.warn_fg_color = palette.warn;
    visuals.error_fg_color = palette.refused;
    visuals.hyperlink_color = palette.accent;
    visuals.selection.bg_fill = palette.panel.lerp_to_gamma(palette.accent, 0.42);
    visuals.selection.stroke = Stroke::new(2.0, palette.ink);
    visuals.window_stroke = Stroke::new(1.0, palette.panel.lerp_to_gamma(palette.ink, 0.25));
    for widget in [
        &mut visuals.widgets.inactive,
        &mut visuals.widgets.hovered,
        &mut visuals.widgets.active,
        &mut visuals.widgets.open,
        &mut visuals.widgets.noninteractive,
    ] {
        widget.corner_radius = CornerRadius::same(5);
    }
    visuals.widgets.inactive.bg_fill = palette.panel.lerp_to_gamma(palette.ink, 0.12);
    visuals.widgets.inactive.weak_bg_fill = palette.panel.lerp_to_gamma(palette.ink, 0.10);
    visuals.widgets.inactive.bg_stroke = Stroke::new(1.0, palette.panel.lerp_to_gamma(palette.ink, 0.30));
    visuals.widgets.hovered.weak_bg_fill = palette.panel.lerp_to_gamma(palette.accent, 0.22);
    // Weaker than the edge of the field that is written in, which must not be taken for another.
    visuals.widgets.hovered.bg_stroke = Stroke::new(1.0, palette.panel.lerp_to_gamma(palette.ink, 0.55));
    visuals.widgets.active.weak_bg_fill = palette.panel.lerp_to_gamma(palette.accent, 0.40);
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_on_white_has_the_contrast_of_the_guidelines() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-4);
        // The lightest grey that may stand on white (from memory, unverified): 4.54.
        assert!((contrast(Color32::from_gray(0x76), Color32::WHITE) - 4.54).abs() < 0.01);
    }

    /// Success criterion 1.4.3 of the same: 4.5 for text. Lines and marks, 1.4.11: 3.
    #[test]
    fn words_are_read_on_whatever_they_stand_on() {
        for (theme, palette) in [(Theme::Dark, &DARK), (Theme::Light, &LIGHT)] {
            let visuals = visuals(theme, palette);
            let grounds = [palette.table, palette.panel, palette.field, visuals.faint_bg_color];
            for (name, words) in
                [("ink", palette.ink), ("faint", palette.faint), ("warn", palette.warn), ("refused", palette.refused)]
            {
                for ground in grounds {
                    let ratio = contrast(words, ground);
                    assert!(ratio >= 4.5, "{theme:?}: {name} on {ground:?} has {ratio}");
                }
            }
            let widgets = &visuals.widgets;
            let fills = [&widgets.inactive, &widgets.hovered, &widgets.active].map(|widget| widget.weak_bg_fill);
            for ground in fills.into_iter().chain([visuals.selection.bg_fill]) {
                let ratio = contrast(palette.ink, ground);
                assert!(ratio >= 4.5, "{theme:?}: ink on {ground:?} has {ratio}");
            }
            assert!(contrast(palette.tag[0], palette.tag[1]) >= 4.5);
            assert!(contrast(palette.accent, palette.panel) >= 4.5 && contrast(palette.accent, palette.table) >= 3.0);
            for mark in [palette.chalk, palette.guide, palette.edge] {
                assert!(contrast(mark, palette.table) >= 3.0, "{theme:?}: {mark:?}");
            }
        }
    }
}
