//! Pictures beside each other, each saying what it is: the reveal beside a photograph, and two entries.

use super::photos::{LARGE, Photos, Seen};
use super::words;
use crate::app::theme::Palette;
use crate::measure::LengthStyle;
use crate::store::journal::{Journal, JournalEntry};
use crate::telling::Voice;
use egui::{
    Color32, FontId, Label, Mesh, Pos2, Rect, RichText, Role, Sense, Shape, TextureHandle, Ui, Vec2, WidgetInfo, pos2, vec2,
};

/// The front of an entry's reveal in the room of a photograph, upright, and turned by quarters as the maker likes: a photograph may lie
/// on its side.
pub(super) fn reveal(entry: &JournalEntry, side: f32, photos: &mut Photos, ui: &mut Ui) {
    let turned = ui.scope_id().with(("turned", &entry.raw().id));
    let quarters: u8 = ui.data(|data| data.get_temp(turned)).unwrap_or_default();
    ui.vertical(|ui| {
        ui.set_max_width(side);
        let label = format!("Reveal of {}", words::title(entry));
        let seen = photos.reveal(entry, ui.ctx());
        picture(&seen, quarters, vec2(side, 0.75 * side), &label, ui);
        ui.label(RichText::new("As computed, an estimate").weak());
        let turn = ui.small_button("Turn");
        turn.widget_info(|| WidgetInfo::labeled(Role::Button, true, "Turn the reveal"));
        if turn.on_hover_text("By a quarter, to lie as the photograph does").clicked() {
            ui.data_mut(|data| data.insert_temp(turned, (quarters + 1) % 4));
        }
    });
}

/// What an entry looks like, by its first photograph or else its design, under its name.
pub(super) fn entry(entry: &JournalEntry, side: f32, journal: &Journal, photos: &mut Photos, ui: &mut Ui) {
    ui.vertical(|ui| {
        ui.set_max_width(side);
        ui.add(Label::new(RichText::new(words::title(entry)).strong()).wrap());
        let (seen, what) = match entry.raw().photos.first() {
            Some(photo) => (photos.photograph(&journal.photo_path(photo), LARGE, ui.ctx()), "As photographed"),
            None => (photos.design(entry, LARGE, ui.ctx()), "As designed"),
        };
        picture(&seen, 0, vec2(side, 0.75 * side), &format!("{what}: {}", words::title(entry)), ui);
        ui.label(RichText::new(what).weak());
    });
}

/// A picture within so much room, turned by quarters; what keeps it from being shown stands in its place.
fn picture(seen: &Seen<'_>, quarters: u8, room: Vec2, label: &str, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let refused = match seen {
        Seen::Refused(words) => Some(format!("Not shown here: {}", words.say(Voice::window(LengthStyle::default())))),
        Seen::Coming | Seen::Shown(_) => None,
    };
    let size = match seen {
        Seen::Shown(texture) => {
            let size = texture.size_vec2();
            let size = if quarters % 2 == 1 { vec2(size.y, size.x) } else { size };
            size * (room.x / size.x).min(room.y / size.y)
        }
        _ => 0.5 * room,
    };
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let label = refused.as_ref().map_or_else(|| label.to_owned(), |words| format!("{label}. {words}"));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &label));
    if let Seen::Shown(texture) = seen {
        ui.painter().add(turned(texture, rect, quarters));
        return;
    }
    ui.painter().rect_filled(rect, 4.0, palette.table);
    let words = refused.unwrap_or_else(|| "…".to_owned());
    let galley = ui.painter().layout(words, FontId::proportional(13.0), palette.ink, rect.width() - 12.0);
    ui.painter().galley(rect.min + vec2(6.0, 6.0), galley, palette.ink);
}

/// A texture within `rect`, turned clockwise by quarters.
fn turned(texture: &TextureHandle, rect: Rect, quarters: u8) -> Shape {
    let corners: [Pos2; 4] = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
    let mut uvs = [pos2(0.0, 0.0), pos2(1.0, 0.0), pos2(1.0, 1.0), pos2(0.0, 1.0)];
    uvs.rotate_right(usize::from(quarters % 4));
    let mut mesh = Mesh::with_texture(texture.id());
    for (pos, uv) in corners.into_iter().zip(uvs) {
        mesh.vertices.push(egui::epaint::Vertex { pos, uv, color: Color32::WHITE });
    }
    mesh.add_triangle(0, 1, 2);
    mesh.add_triangle(0, 2, 3);
    Shape::mesh(mesh)
}
