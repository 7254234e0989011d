//! The rod, side on and to scale, and the cloth's way to it in a few drawn steps.

mod bound;
mod bundle;
mod bundle_hand;
mod dips;
mod drawing;
mod guide;
mod pen;
mod printed;
mod puck;

use self::bound::Bound;
use self::bundle::BundleView;
use self::bundle_hand::{BundleHand, Handle};
use self::pen::Pen;
use super::canvas::{Scene, Showing};
use super::context::{Ask, Context};
use super::heading;
use super::theme::Palette;
use crate::layout::{Layout, RodProfile};
use crate::measure::LengthStyle;
use crate::print::parts::FoldPictures;
use egui::{Frame, Margin, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use std::sync::Arc;

/// What is drawn of a layout.
#[derive(Debug)]
struct Drawn {
    layout: Arc<Layout>,
    /// The cloth as it lies.
    scene: Scene,
    profile: RodProfile,
    /// In what its lengths are told.
    lengths: LengthStyle,
    /// The way to a bundle, as its folding card has it.
    way: Option<FoldPictures>,
}

/// The rod's view.
#[derive(Debug, Default)]
pub(crate) struct RodView {
    /// The step of the way there that shows where there is room for one only.
    step: usize,
    /// Made anew when the layout changes.
    drawn: Option<Drawn>,
    /// What moves blocks and wound thread on a flat bundle.
    hand: BundleHand,
}

/// Room round what is drawn, points.
const MARGIN: Margin = Margin::symmetric(26, 12);

impl RodView {
    /// Lets go of what is dragged on the bundle. Whether anything was.
    pub(crate) fn let_go(&mut self) -> bool {
        self.hand.let_go()
    }

    /// Draws the bound rod with its strip beneath, and the way there.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        let drawn = self.drawn.take().filter(|drawn| Arc::ptr_eq(&drawn.layout, ctx.layout) && drawn.lengths == ctx.lengths);
        let drawn = drawn.unwrap_or_else(|| Drawn {
            layout: ctx.layout.clone(),
            scene: Scene::new(ctx.layout, Showing::AsLaid),
            profile: RodProfile::of(ctx.layout, ctx.figures),
            lengths: ctx.lengths,
            way: ctx.layout.flat().and_then(|_| FoldPictures::of(ctx.layout, ctx.figures, ctx.lengths)),
        });
        ScrollArea::vertical().id_salt("rod").auto_shrink(false).show(ui, |ui| {
            Frame::NONE.inner_margin(MARGIN).show(ui, |ui| {
                whole(ctx, &drawn, &mut self.hand, asks, ui);
                ui.add_space(14.0);
                guide::show(ctx, &drawn, &mut self.step, ui);
            });
        });
        self.drawn = Some(drawn);
    }
}

/// Share of the window's height that a bundle or a puck takes, and the least, points.
const SHARE_OF_HEIGHT: f32 = 0.34;
const LEAST_HEIGHT: f32 = 150.0;

/// What is tied, as a whole: the bound rod from its side; a bundle or a puck, which would show nothing from there, from above.
fn whole(ctx: &Context<'_>, drawn: &Drawn, hand: &mut BundleHand, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (title, label) = match (ctx.layout.flat(), ctx.layout.spiral()) {
        (Some(_), _) => ("The bundle", "The bundle from above, with all that holds it"),
        (None, Some(_)) => ("The puck", "The puck from above, with its bands and wedges"),
        (None, None) => return Bound::show(ctx, &drawn.profile, ui),
    };
    heading::on_table(title, ui);
    let height = (SHARE_OF_HEIGHT * ui.ctx().content_rect().height()).max(LEAST_HEIGHT);
    let is_held = ctx.layout.blocks().is_some() || ctx.layout.wrap().is_some();
    let sense = if is_held { Sense::click_and_drag() } else { Sense::hover() };
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width(), height), sense);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
    let palette = Palette::of(ui.ctx());
    let pen = Pen { ctx, scene: &drawn.scene, profile: &drawn.profile, painter: &painter, palette };
    let Some(fold) = ctx.layout.flat() else { return pen.puck(response.rect) };
    let view = BundleView::fitting(fold, response.rect);
    pen.bundle_in(fold, &view);
    if is_held {
        let marked = hand.follow(ctx, &view, &response, asks, ui);
        let of_blocks = marked.and_then(|handle| if let Handle::Blocks(handle) = handle { Some(handle) } else { None });
        pen.block_handles(&view, of_blocks);
        let of_wrap = marked.and_then(|handle| if let Handle::Wrap(end) = handle { Some(end) } else { None });
        pen.wrap_ends(&view, of_wrap);
    }
}
