//! Twisted thread: a dark strand with light turns on it, as a picture of one turn that is laid along a line. So a thread has as many corners as
//! its line, however many turns show.

use egui::epaint::Vertex;
use egui::{Color32, ColorImage, Context, Id, Mesh, Pos2, TextureHandle, TextureId, TextureOptions, Vec2, pos2, vec2};

/// Breadth of the strand and of its light turns, points.
const STRAND: f32 = 2.6;
const LIGHT: f32 = 2.0;
/// Length of thread from one turn to the next, points, and the share of it that is light.
const TURN: f32 = 5.0;
const LIGHT_SHARE: f32 = 0.66;
/// Over how much an edge fades, points.
const FADE: f32 = 1.0;
/// Half of what is painted across: the strand, and what its edge fades over.
const HALF: f32 = 0.5 * (STRAND + FADE);
/// Pixels of the picture along a turn and across: two to a point, so that light turns stay light where a screen has one.
const PIXELS: [u16; 2] = [10, 7];
/// Farthest that a thread's edge goes out at a bend, in its half breadths.
const FARTHEST: f32 = 2.0;

/// The picture of one turn in these colours, dark and light.
pub(super) fn texture(ctx: &Context, colours: [Color32; 2]) -> TextureId {
    let id = Id::unique("twisted thread");
    let kept = ctx.data(|data| data.get_temp::<([Color32; 2], TextureHandle)>(id));
    if let Some((_, texture)) = kept.filter(|(of, _)| *of == colours) {
        return texture.id();
    }
    let texture = ctx.load_texture("twisted thread", picture(colours), TextureOptions::LINEAR_REPEAT);
    let number = texture.id();
    ctx.data_mut(|data| data.insert_temp(id, (colours, texture)));
    number
}

fn picture([dark, light]: [Color32; 2]) -> ColorImage {
    // How much of a pixel lies within an edge that is so far beyond it.
    let within = |beyond: f32| (beyond / FADE + 0.5).clamp(0.0, 1.0);
    let [along, across] = PIXELS;
    let pixel = |row: u16, column: u16| {
        let x = (f32::from(column) + 0.5) / f32::from(along) * TURN;
        let y = (HALF * (2.0 * (f32::from(row) + 0.5) / f32::from(across) - 1.0)).abs();
        let end = LIGHT_SHARE * TURN;
        let into_light = if x < end { x.min(end - x) } else { -(x - end).min(TURN - x) };
        let is_light = within(0.5 * LIGHT - y) * within(into_light);
        dark.lerp_to_gamma(light, is_light).gamma_multiply(within(0.5 * STRAND - y))
    };
    let pixels = (0..across).flat_map(|row| (0..along).map(move |column| pixel(row, column))).collect();
    ColorImage::new([along.into(), across.into()], pixels)
}

/// Thread along a line, as a shape with the picture of a turn.
pub(super) fn thread(line: &[Pos2], texture: TextureId) -> Mesh {
    let mut mesh = Mesh::with_texture(texture);
    let (mut along, mut before) = (0.0, None);
    for (index, &at) in line.iter().enumerate() {
        let on = line.get(index + 1).map_or(Vec2::ZERO, |&next| next - at);
        let after = (on != Vec2::ZERO).then(|| on.normalized());
        let out = HALF * outward(before, after);
        for (edge, v) in [(at - out, 0.0), (at + out, 1.0)] {
            mesh.vertices.push(Vertex { pos: edge, uv: pos2(along / TURN, v), color: Color32::WHITE });
        }
        along += on.length();
        before = after.or(before);
    }
    let quads = u32::try_from(line.len().saturating_sub(1)).unwrap_or(0);
    for first in (0..quads).map(|quad| 2 * quad) {
        mesh.add_triangle(first, first + 1, first + 2);
        mesh.add_triangle(first + 1, first + 2, first + 3);
    }
    mesh
}

/// Which way the edge of a thread lies from its middle, in half breadths, between what comes before and after.
fn outward(before: Option<Vec2>, after: Option<Vec2>) -> Vec2 {
    let (before, after) = (before.or(after).unwrap_or_default(), after.or(before).unwrap_or_default());
    let middle = (before + after).normalized();
    // At a bend the edges meet farther out.
    let farther = 1.0 / middle.dot(after).max(1.0 / FARTHEST);
    farther * vec2(-middle.y, middle.x)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Along a straight line the edges lie half the breadth from it, and the turns follow its length; at a right angle they meet on its
    /// bisector, a root of two farther out.
    #[test]
    fn a_thread_is_as_broad_all_along() {
        let line = [pos2(0.0, 0.0), pos2(30.0, 0.0), pos2(30.0, 20.0)];
        let mesh = thread(&line, TextureId::default());
        assert!(mesh.is_valid() && mesh.vertices.len() == 6 && mesh.indices.len() == 12);
        let apart = |corner: usize| mesh.vertices[2 * corner].pos.distance(mesh.vertices[2 * corner + 1].pos);
        assert!((apart(0) - 2.0 * HALF).abs() < 1e-5 && (apart(2) - 2.0 * HALF).abs() < 1e-5);
        assert!((apart(1) - 2.0 * HALF * 2.0_f32.sqrt()).abs() < 1e-5, "{}", apart(1));
        let turns: Vec<f32> = mesh.vertices.iter().step_by(2).map(|vertex| vertex.uv.x * TURN).collect();
        assert_eq!(turns, [0.0, 30.0, 50.0]);
    }

    #[test]
    fn a_point_alone_and_a_line_back_on_itself_are_finite() {
        for line in [&[][..], &[pos2(1.0, 1.0)], &[pos2(1.0, 1.0); 2], &[pos2(0.0, 0.0), pos2(9.0, 0.0), pos2(0.0, 0.0)]] {
            let mesh = thread(line, TextureId::default());
            assert!(mesh.is_valid());
            assert!(mesh.vertices.iter().all(|vertex| vertex.pos.is_finite()), "{line:?}");
        }
    }

    /// Light in the middle of a turn, dark between two, nothing at the edges.
    #[test]
    fn the_picture_is_a_light_turn_on_a_dark_strand() {
        let [dark, light] = [Color32::from_rgb(60, 44, 28), Color32::from_rgb(224, 193, 140)];
        let picture = picture([dark, light]);
        let at = |along: usize, across: usize| picture.pixels[across * picture.size[0] + along];
        assert_eq!((at(2, 3), at(8, 3)), (light, dark));
        assert!((0..10).all(|along| at(along, 0).a() < 80 && at(along, 6).a() < 80));
    }
}
