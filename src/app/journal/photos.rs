//! Photographs and drawn designs as textures of bounded size, made on another thread; those that are not looked at any more are let
//! go.

use crate::app::design;
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, PictureMap, RevealOptions, Texture, picture_of, reveal_doses};
use crate::store::journal::{JournalEntry, SmallPicture};
use crate::store::parse_layout;
use crate::telling::{AnyRefusal, Told};
use egui::{ColorImage, Context, TextureHandle, TextureOptions};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};

/// Most pixels along a side, on a card and when an entry is open.
pub(super) const SMALL: u32 = 192;
pub(super) const LARGE: u32 = 768;
/// Most pixels of photographs that are held at a time: 64 large ones, 150 MB of texture.
const MOST_PIXELS: usize = 64 * 768 * 768;

/// What a picture is of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Of {
    /// The photograph in a file.
    Photograph(PathBuf),
    /// The design of the entry of that name.
    Design(String),
    /// The front of the reveal of the entry of that name.
    Reveal(String),
}

/// What it is of, and the most pixels along a side.
type Key = (Of, u32);
type Done = (Key, Result<ColorImage, AnyRefusal>);
/// A picture to be made; a design's layout comes with it.
type Wanted = (Key, Option<String>);
/// To and from the thread that makes them.
type Ends = (Sender<Wanted>, Receiver<Done>);

/// A photograph, as far as it is there.
pub(super) enum Seen<'a> {
    Coming,
    Shown(&'a TextureHandle),
    /// Why it can't be shown here.
    Refused(&'a AnyRefusal),
}

enum Slot {
    Coming,
    Shown { texture: TextureHandle, looked_at: u64 },
    Refused(AnyRefusal),
}

/// The photographs that are shown.
#[derive(Default)]
pub(super) struct Photos {
    slots: BTreeMap<Key, Slot>,
    thread: Option<Ends>,
}

impl std::fmt::Debug for Photos {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Photos").field("held", &self.slots.len()).finish_non_exhaustive()
    }
}

impl Photos {
    /// A photograph with at most so many pixels along a side.
    pub(super) fn photograph(&mut self, path: &Path, most: u32, ctx: &Context) -> Seen<'_> {
        self.get((Of::Photograph(path.to_owned()), most), || None, ctx)
    }

    /// The front of an entry's layout in its colours; what an entry without a photograph is known by.
    pub(super) fn design(&mut self, entry: &JournalEntry, most: u32, ctx: &Context) -> Seen<'_> {
        self.get((Of::Design(entry.raw().id.clone()), most), || Some(entry.raw().layout.clone()), ctx)
    }

    /// The front of an entry's reveal, upright: an estimate.
    pub(super) fn reveal(&mut self, entry: &JournalEntry, ctx: &Context) -> Seen<'_> {
        self.get((Of::Reveal(entry.raw().id.clone()), LARGE), || Some(entry.raw().layout.clone()), ctx)
    }

    fn get(&mut self, key: Key, layout: impl FnOnce() -> Option<String>, ctx: &Context) -> Seen<'_> {
        if !self.slots.contains_key(&key) {
            let sent = self.thread.get_or_insert_with(|| maker(ctx.clone())).0.send((key.clone(), layout()));
            let slot = sent.map_or_else(
                |_gone| Slot::Refused(Told::new("it couldn't be read", "close other programs, then try again").into()),
                |()| Slot::Coming,
            );
            self.slots.insert(key.clone(), slot);
        }
        match self.slots.get_mut(&key) {
            Some(Slot::Shown { texture, looked_at }) => {
                *looked_at = ctx.cumulative_pass_nr();
                Seen::Shown(texture)
            }
            Some(Slot::Refused(words)) => Seen::Refused(words),
            Some(Slot::Coming) | None => Seen::Coming,
        }
    }

    /// Takes over what was made, and lets go of what was not looked at for longest when there is too much.
    pub(super) fn take_done(&mut self, ctx: &Context) {
        let Some((_, receiver)) = &self.thread else { return };
        for (key, made) in receiver.try_iter() {
            let slot = match made {
                Ok(image) => {
                    let texture = ctx.load_texture("photograph", image, TextureOptions::LINEAR);
                    Slot::Shown { texture, looked_at: ctx.cumulative_pass_nr() }
                }
                Err(words) => Slot::Refused(words),
            };
            self.slots.insert(key, slot);
        }
        let mut shown: Vec<(u64, usize, Key)> = self.slots.iter().filter_map(|(key, slot)| shown(key, slot)).collect();
        shown.sort();
        let mut held: usize = shown.iter().map(|(_, pixels, _)| pixels).sum();
        for (_, pixels, key) in shown {
            if held <= MOST_PIXELS {
                break;
            }
            held -= pixels;
            self.slots.remove(&key);
        }
    }
}

fn shown(key: &Key, slot: &Slot) -> Option<(u64, usize, Key)> {
    match slot {
        Slot::Shown { texture, looked_at } => Some((*looked_at, texture.size().iter().product(), key.clone())),
        _ => None,
    }
}

/// The thread that makes pictures, one after the other.
fn maker(ctx: Context) -> Ends {
    let (wanted, wants) = channel::<Wanted>();
    let (done, made) = channel::<Done>();
    // Without a thread the receiver is gone, and the first picture asked for says so.
    let _spawned = std::thread::Builder::new().name("photographs".to_owned()).spawn(move || {
        while let Ok((key, layout)) = wants.recv() {
            let layout = layout.unwrap_or_default();
            let image = match &key.0 {
                Of::Photograph(path) => read(path, key.1),
                Of::Design(_) => draw(&layout, key.1),
                // It takes seconds, for which photographs need not wait.
                Of::Reveal(_) => {
                    let (done, egui) = (done.clone(), ctx.clone());
                    let compute = move || {
                        let _gone = done.send((key, compute(&layout)));
                        egui.request_repaint();
                    };
                    let _spawned = std::thread::Builder::new().name("reveal of an entry".to_owned()).spawn(compute);
                    continue;
                }
            };
            if done.send((key, image)).is_err() {
                return;
            }
            ctx.request_repaint();
        }
    });
    (wanted, made)
}

/// Draws a layout's front.
fn draw(layout: &str, most: u32) -> Result<ColorImage, AnyRefusal> {
    let layout = parse_layout(layout).map_err(|(_, error)| error)?;
    let bounds = design::bounds(&design::outlines(&layout));
    Ok(design::picture(&layout, bounds, u16::try_from(most).unwrap_or(u16::MAX)))
}

/// Edge of a pixel of an entry's reveal, mm: a garment is then some 400 pixels high, as it is shown.
const REVEAL_PIXEL_MM: f64 = 2.0;

/// Computes the front of a layout's reveal.
fn compute(layout: &str) -> Result<ColorImage, AnyRefusal> {
    let layout = parse_layout(layout).map_err(|(_, error)| error)?;
    let options = RevealOptions { pixel_mm: REVEAL_PIXEL_MM, ..RevealOptions::default() };
    let reveal = reveal_doses(&layout, &options, &Cancel::new())?;
    let picture = picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::Cloth, Texture::Faint);
    let whole = ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
    let front = reveal.panels().first().map_or(picture.width, |(_, frame)| frame.width);
    Ok(whole.region_by_pixels([0, 0], [front, picture.height]))
}

/// Reads a photograph, turned as the camera was held, with at most so many pixels along a side.
fn read(path: &Path, most: u32) -> Result<ColorImage, AnyRefusal> {
    let small = SmallPicture::read(path, most).map_err(AnyRefusal::from)?;
    Ok(ColorImage::from_rgba_unmultiplied([small.width, small.height], &small.rgba))
}
