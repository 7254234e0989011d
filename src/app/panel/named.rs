//! A colour with its name.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::picker::{Offered, Picker, Taken};
use crate::app::theme::Palette;
use crate::layout::{Srgb, Swatch, first_components};
use egui::{Response, RichText, Ui};

/// A name and a colour, which is chosen among swatches or freely; the button that it is chosen with. A dye that is not mixed yet may be said to be.
pub(super) fn swatch<'a>(
    ctx: &Context<'_>,
    ui: &mut Ui,
    label: &'a str,
    now: &Swatch,
    offered: &'a dyn Fn() -> Offered<'a>,
    mixes: bool,
    asks: &mut Vec<Ask>,
) -> (Response, Option<Swatch>) {
    let unknown = ui.make_persistent_id(("unknown name", label));
    let shown = ui.horizontal(|ui| {
        let picker = Picker { label, now: now.srgb, offered, mixes };
        let (button, taken) = picker.show(ctx, asks, ui);
        let used = button.rect.width() + ui.spacing().item_spacing.x;
        let named = field::words_after(ui, used, label, &now.name).map(|name| {
            let known = picker.known(&name);
            ui.data_mut(|data| data.insert_temp(unknown, known.is_none().then(|| (name.clone(), now.srgb))));
            Swatch { name, srgb: known.unwrap_or(now.srgb), ..now.clone() }
        });
        let changed = match taken {
            Some(Taken::Swatch(swatch)) => Some(swatch),
            Some(Taken::Colour(srgb)) => Some(Swatch { srgb, ..now.clone() }),
            Some(Taken::Mixture) => Some(Swatch { components: first_components(now.srgb), ..now.clone() }),
            None => named,
        };
        (button, changed)
    });
    let noted = ui.data(|data| data.get_temp::<Option<(String, Srgb)>>(unknown)).flatten();
    if noted.is_some_and(|(name, srgb)| (name.as_str(), srgb) == (now.name.as_str(), now.srgb)) {
        let words = format!(
            "No colour is known by the name \"{}\", so it stays as it is. Press its patch to choose one, or write a name such as navy, \
             mustard or dark red.",
            now.name
        );
        ui.add(egui::Label::new(RichText::new(words).color(Palette::of(ui.ctx()).warn)).wrap());
    }
    shown.inner
}
