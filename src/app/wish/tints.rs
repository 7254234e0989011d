//! The colour of a ring that is wished for: one, or a gradient between two.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::picker::{Picker, Taken};
use crate::layout::Srgb;
use crate::wish::{Tint, WishColour};
use egui::Ui;

/// Another colour to begin with.
const BEGUN: Srgb = Srgb { red: 60, green: 110, blue: 90 };

pub(super) fn show(colour: &mut WishColour, name: &str, dyes: &[String], ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let mut is_ramp = matches!(colour, WishColour::Ramp(..));
    match colour {
        WishColour::Even(even) => tint(even, &format!("{name} colour"), dyes, ctx, asks, ui),
        WishColour::Ramp(from, to) => {
            tint(from, &format!("{name} colour inward"), dyes, ctx, asks, ui);
            tint(to, &format!("{name} colour outward"), dyes, ctx, asks, ui);
        }
    }
    if ui.checkbox(&mut is_ramp, format!("{name} gradient")).on_hover_text("From one colour to another across it").changed() {
        *colour = match std::mem::replace(colour, WishColour::Even(Tint::Ground)) {
            WishColour::Even(even) => WishColour::Ramp(even.clone(), other(&even, dyes)),
            WishColour::Ramp(from, _) => WishColour::Even(from),
        };
    }
}

/// What a gradient goes to at first: the next dye.
fn other(tint: &Tint, dyes: &[String]) -> Tint {
    let own = dyes.iter().position(|dye| *tint == Tint::Dye(dye.clone()));
    let next = dyes.get(own.map_or(0, |own| (own + 1) % dyes.len()));
    next.map_or(Tint::Ground, |dye| Tint::Dye(dye.clone()))
}

fn tint(tint: &mut Tint, label: &str, dyes: &[String], ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let own = match tint {
        Tint::Srgb(srgb) => Some(*srgb),
        Tint::Lab(lab) => Some(lab.to_srgb()),
        _ => None,
    };
    let dyes = dyes.iter().map(|name| Tint::Dye(name.clone()));
    let seen = Some(&*tint).filter(|tint| matches!(tint, Tint::Lab(_))).cloned();
    let any = Tint::Srgb(own.unwrap_or(BEGUN));
    let offered: Vec<Tint> = dyes.chain([Tint::Garment, Tint::Ground]).chain(seen).chain([any]).collect();
    field::pick(ui, label, words(tint), |ui| {
        for offered in offered {
            if ui.selectable_label(offered == *tint, words(&offered)).clicked() {
                *tint = offered;
            }
        }
    });
    if let Some(now) = own {
        let picker = Picker { label, now, offered: &|| Vec::new(), mixes: false };
        match ui.horizontal(|ui| picker.show(ctx, asks, ui).1).inner {
            Some(Taken::Colour(srgb)) => *tint = Tint::Srgb(srgb),
            Some(Taken::Swatch(swatch)) => *tint = Tint::Srgb(swatch.srgb),
            Some(Taken::Mixture) => {}
            None => {}
        }
    }
}

fn words(tint: &Tint) -> String {
    match tint {
        Tint::Dye(name) => name.clone(),
        Tint::Garment => "garment colour".to_owned(),
        Tint::Ground => "bare ground".to_owned(),
        Tint::Srgb(_) => "another colour".to_owned(),
        Tint::Lab(_) => "a seen colour".to_owned(),
    }
}
