//! The layout thrown onto the table: a second window for the projector, and the panel that controls it beside the work.

mod keys;
mod paint;
mod panel;
mod picture;
mod screens;
mod stages;

pub(crate) use self::keys::PROJECTING;
use self::screens::{Screen, screens};
use super::context::Context;
use crate::layout::Layout;
use crate::projection::{CheckFigure, Placement, ProjectedLayer, Projector, ProjectorProblem, Projectors, TableScene};
use crate::store::{read_projectors, save_projectors};
use crate::telling::AnyRefusal;
use kurbo::Point;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How far the maker has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Stage {
    /// Choosing the rectangle that lies on the table.
    #[default]
    Rectangle,
    /// Dragging the marks onto it.
    Marks,
    /// Measuring what the picture shows.
    Check,
    /// The layout.
    Show,
}

impl Stage {
    const ALL: [Self; 4] = [Self::Rectangle, Self::Marks, Self::Check, Self::Show];

    const fn name(self) -> &'static str {
        match self {
            Self::Rectangle => "Rectangle",
            Self::Marks => "Corners",
            Self::Check => "Check",
            Self::Show => "Layout",
        }
    }
}

/// What the rules on the table said of the cross, from end to end, mm.
#[derive(Debug, Clone, Copy, Default)]
struct Measured {
    across_mm: Option<f64>,
    down_mm: Option<f64>,
}

/// The projection: what shows, where it lies, and the projector that it goes through.
#[derive(Debug, Default)]
pub(crate) struct Projection {
    is_open: bool,
    /// Where alignments are kept; without a file they last as long as the window.
    file: Option<PathBuf>,
    /// What is kept; nothing before the first look into the file.
    kept: Option<Projectors>,
    /// Why nothing can be kept or read.
    refused: Option<AnyRefusal>,
    /// The projector at hand, with the name that it is kept by.
    projector: Option<Projector>,
    kept_as: Option<String>,
    stage: Stage,
    /// The mark that the keys move.
    mark: usize,
    measured: Measured,
    layer: ProjectedLayer,
    edge_hidden: bool,
    numbers_hidden: bool,
    placement: Option<Placement>,
    /// Width and height of the picture as it was last, px; nothing before it shows.
    picture: Option<[u32; 2]>,
    screens: Vec<Screen>,
    /// The screen that is filled; none for a window.
    screen: Option<usize>,
    scene: Option<(Arc<Layout>, Arc<TableScene>)>,
}

/// The picture of a projector that has not shown itself yet, px.
const PICTURE_TO_BEGIN_WITH: [u32; 2] = [1280, 720];
/// What a new projector is called where its screen has no name.
const NAME: &str = "Projector";

impl Projection {
    /// Alignments are kept in `home`.
    pub(crate) fn new(home: Option<&Path>) -> Self {
        Self { file: home.map(|home| home.join("projectors.ron")), ..Self::default() }
    }

    /// Looks at which screens there are.
    pub(crate) fn look_at_screens(&mut self, frame: &eframe::Frame) {
        self.screens = screens(frame);
    }

    /// Opens it, or ends it.
    pub(crate) fn turn(&mut self) {
        if self.is_open {
            return self.close();
        }
        self.is_open = true;
        if self.kept.is_none() {
            self.read();
        }
        if self.screen.is_none() && self.screens.len() > 1 {
            self.screen = self.screens.iter().position(|screen| !screen.is_own);
        }
        if self.projector.is_none() {
            self.begin();
        }
    }

    /// Ends it; what was aligned and where the layout lies stays for the next time.
    pub(crate) fn close(&mut self) {
        self.is_open = false;
    }

    fn read(&mut self) {
        match self.file.as_deref().map(read_projectors).unwrap_or(Ok(Projectors::default())) {
            Ok(projectors) => (self.kept, self.refused) = (Some(projectors), None),
            Err(error) => self.refused = Some(error.into()),
        }
    }

    /// Takes up the projector of the screen's name, or the one that was kept first, or a new one.
    fn begin(&mut self) {
        let screen = self.screen.and_then(|index| self.screens.get(index)).map(|screen| screen.name.clone());
        let kept = self.kept.as_ref();
        let known = screen.as_deref().and_then(|name| kept?.named(name)).or_else(|| kept?.all().first()).cloned();
        match known {
            Some(projector) => self.take_up(projector),
            None => self.begin_new(screen.filter(|name| !name.is_empty())),
        }
    }

    fn take_up(&mut self, projector: Projector) {
        self.kept_as = Some(projector.name.clone());
        self.projector = Some(projector);
        (self.stage, self.mark, self.measured, self.placement) = (Stage::Show, 0, Measured::default(), None);
    }

    /// A new projector, with a name that none has yet.
    fn begin_new(&mut self, name: Option<String>) {
        let name = name.unwrap_or_else(|| NAME.to_owned());
        let is_taken = |name: &str| self.kept.as_ref().is_some_and(|kept| kept.named(name).is_some());
        let numbered = (2..).map(|number| format!("{name} {number}"));
        let free = std::iter::once(name.clone()).chain(numbered).find(|name| !is_taken(name)).unwrap_or(name);
        self.projector = Some(Projector::new(free, self.picture.unwrap_or(PICTURE_TO_BEGIN_WITH)));
        self.kept_as = None;
        (self.stage, self.mark, self.measured, self.placement) = (Stage::default(), 0, Measured::default(), None);
    }

    /// Keeps the projector at hand, if it is aligned and not kept as it is.
    fn keep(&mut self) {
        let (Some(projector), Some(kept)) = (&self.projector, &self.kept) else { return };
        if self.stage != Stage::Show || kept.named(&projector.name) == Some(projector) {
            return;
        }
        let old = self.kept_as.as_ref().filter(|name| **name != projector.name);
        let without = old.map(|name| kept.without(name));
        let result = without.as_ref().unwrap_or(kept).with(projector.clone());
        match result {
            Ok(projectors) => {
                let saved = self.file.as_deref().map_or(Ok(()), |file| save_projectors(file, &projectors));
                self.refused = saved.err().map(AnyRefusal::from);
                self.kept_as = Some(projector.name.clone());
                self.kept = Some(projectors);
            }
            Err(error) => self.refused = Some(error.into()),
        }
    }

    /// Forgets the projector at hand.
    fn forget(&mut self) {
        if let (Some(kept), Some(name)) = (&self.kept, &self.kept_as) {
            let projectors = kept.without(name);
            let saved = self.file.as_deref().map_or(Ok(()), |file| save_projectors(file, &projectors));
            self.refused = saved.err().map(AnyRefusal::from);
            self.kept = Some(projectors);
        }
        self.projector = None;
        self.begin();
    }

    /// Goes to a stage. Whoever comes to the marks with another picture than before begins them anew.
    fn go(&mut self, stage: Stage) {
        self.stage = stage;
        if let (Stage::Marks, Some(projector), Some(picture)) = (stage, &mut self.projector, self.picture)
            && projector.check_picture(picture).is_err()
        {
            projector.begin_anew(picture);
        }
        if stage == Stage::Marks {
            (self.mark, self.measured) = (0, Measured::default());
        }
    }

    /// The projector at hand as the picture is now, or what is wrong with it.
    fn aligned(&self) -> Result<Aligned<'_>, ProjectorProblem> {
        let projector = self.projector.as_ref().ok_or(ProjectorProblem::Unsettled { marks: 0 })?;
        if let Some(picture) = self.picture {
            projector.check_picture(picture)?;
        }
        Ok(Aligned { projector, alignment: projector.alignment()? })
    }

    /// What is drawn of the layout, made anew when that changed.
    fn scene(&mut self, ctx: &Context<'_>) -> Arc<TableScene> {
        if let Some((layout, scene)) = &self.scene
            && Arc::ptr_eq(layout, ctx.layout)
        {
            return scene.clone();
        }
        let scene = Arc::new(TableScene::of(ctx.layout));
        self.scene = Some((ctx.layout.clone(), scene.clone()));
        scene
    }

    /// Where the garment lies; before it was moved, its middle in the middle of the picture.
    fn placed(&mut self, scene: &TableScene) -> Option<Placement> {
        if self.placement.is_none() {
            let middle = self.aligned().ok()?.middle()?;
            self.placement = Some(Placement::of(scene.bounds().center(), middle, 0.0));
        }
        self.placement
    }

    /// The figure to measure, as long as the picture holds.
    fn figure(&self, ctx: &Context<'_>) -> Option<CheckFigure> {
        let Aligned { projector, alignment } = self.aligned().ok()?;
        CheckFigure::of(&alignment, projector.picture, ctx.lengths)
    }
}

/// A projector and what follows from its marks.
struct Aligned<'a> {
    projector: &'a Projector,
    alignment: crate::projection::Alignment,
}

impl Aligned<'_> {
    /// The point of the table in the middle of the picture, mm.
    fn middle(&self) -> Option<Point> {
        let [width, height] = self.projector.picture.map(f64::from);
        self.alignment.table_from_picture().apply(Point::new(0.5 * width, 0.5 * height))
    }
}
