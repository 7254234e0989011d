//! The faces of the rod's cells that look out of it: how well each conducts, and the dose at the creases.
//!
//! A cell's dose is that of its middle. At its crease, half a cell further out, it is the more the wider the cell, so there it is
//! worked out from what flows over the crease.

use super::assembler::{Assembler, to_f32};
use super::binds::Piece;
use super::feed::Face;
use super::noise;
use super::solver::Fields;
use super::wound::Region;
use kurbo::Vec2;

/// Length along the rod over which a crease sticks out evenly, mm (our own judgement).
const CREASE_NOISE_MM: f64 = 60.0;

/// A face of a cell that looks out of the rod. Resistances are those in an unbound rod, 1/mm in units in which fixing has the rate 1.
struct Outside {
    area_mm2: f64,
    /// From the middle of the cell to its end.
    within: f64,
    /// From there to the face.
    beyond: f64,
    /// How many times its own area the face has to what feeds it.
    exposure: f64,
    /// Reach in the direction of the face, mm.
    reach_mm: f64,
    /// How well it is fed, 0 to 1.
    feed: f64,
    /// The share of it that lies in what feeds it.
    wet: f64,
    /// What blocks leave of the cell's conductance towards it, and of the face: 1 without.
    left: f64,
    free: f64,
    /// What a wound thread leaves of both, part by part.
    regions: [Region; 3],
}

impl Outside {
    /// Resistance from the cell's end to what lies on the rod, over a piece of it; `None` where nothing gets in.
    ///
    /// A deep rod whose face is fully fed takes up `reach` for a dose of 1, and one that is fed worse takes up its `feed` of that:
    /// so a face has the resistance `(1 / feed - 1) / reach`, however fine the cells are. Where thread presses the reach is shorter
    /// by the root of the conductance left.
    fn out(&self, piece: &Piece, region: &Region) -> Option<f64> {
        let (feed, conductance) = (self.feed * piece.free * self.free * region.free, piece.conductance * self.left * region.left);
        let film = (1.0 / feed - 1.0) / (conductance.sqrt() * self.reach_mm);
        (feed > 0.0).then(|| (self.beyond / conductance + film) / self.exposure)
    }

    /// Conductance from what lies on the rod into the cell, over the part of it that is in a piece of the rod.
    fn conductance(&self, piece: &Piece) -> f64 {
        let over = |region: &Region| {
            let within = self.within / (piece.conductance * self.left * region.left);
            let area_mm2 = piece.share * self.wet * self.area_mm2 * region.share;
            self.out(piece, region).map_or(0.0, |out| area_mm2 / (within + out))
        };
        self.parts().map(over).sum()
    }

    /// Its parts that are there.
    fn parts(&self) -> impl Iterator<Item = &Region> {
        self.regions.iter().filter(|region| region.share > 0.0)
    }

    /// How far the dose at the cell's end is on the way from the cell's own to that of what lies on the rod, 0 to 1: what flows out of
    /// the one flows into the other.
    fn on_the_way(&self, piece: &Piece) -> f64 {
        let over = |region: &Region| {
            let within = self.within / (piece.conductance * self.left * region.left);
            self.out(piece, region).map_or(0.0, |out| region.share * (self.wet * within / (within + out)))
        };
        self.parts().map(over).sum()
    }
}

/// What the cells of a slab have with what lies on the rod.
pub(super) struct SlabFaces {
    /// Conductances into each cell over all its faces, for each piece of the slab.
    pub(super) conductances: Vec<f64>,
    /// What both creases of each place have of the dose that lies on each piece, as a share.
    creases: Vec<f64>,
}

/// How the doses at the creases follow from those of the cells beside them: the dose at a crease is a share of the cell's and a
/// share of what lies on the rod.
#[derive(Debug, Clone)]
pub struct CreaseFaces {
    /// Share of the cell's own dose at a place's two creases, where `across` is 0 and where it is 1; slab by slab.
    own: Vec<f32>,
    /// What is added to it, for each field.
    fed: Fields,
}

impl CreaseFaces {
    /// The doses at both creases of every place, on a grid with two cells across.
    pub(super) fn doses(&self, cells: &Fields) -> Fields {
        let (shape, mut doses) = (cells.shape(), self.fed.clone());
        for slab in 0..shape.slabs() {
            for place in 0..shape.places() {
                let own = &self.own[2 * (slab * shape.places() + place)..][..2];
                for field in 0..cells.count() {
                    let row = doses.row(place, field);
                    for (end, across) in [(0, 0), (1, shape.across() - 1)] {
                        doses.slab_mut(slab)[row + end] += own[end] * cells.value(field, slab, place, across);
                    }
                }
            }
        }
        doses
    }
}

impl Assembler<'_> {
    /// What a slab's cells have with what lies on the rod.
    pub(super) fn slab_faces(&self, slab: usize) -> SlabFaces {
        let (across, pieces) = (self.shape.across(), &self.facts[slab].pieces);
        let cells = self.shape.plane() * pieces.len();
        let mut faces = SlabFaces { conductances: vec![0.0; cells], creases: vec![0.0; 2 * cells / across] };
        for cell in 0..self.shape.plane() {
            let conductances = &mut faces.conductances[cell * pieces.len()..][..pieces.len()];
            let creases = &mut faces.creases[2 * (cell / across) * pieces.len()..][..2 * pieces.len()];
            self.each_outside(slab, cell, |crease, outside| {
                for (conductance, piece) in conductances.iter_mut().zip(pieces) {
                    *conductance += outside.conductance(piece);
                }
                if let Some(end) = crease {
                    let shares = creases[end * pieces.len()..].iter_mut().zip(pieces);
                    shares.for_each(|(share, piece)| *share = piece.share * outside.on_the_way(piece));
                }
            });
        }
        faces
    }

    /// How the doses at the creases follow from the cells', for the fields of a right-hand side.
    pub(super) fn crease_faces<'b>(&self, slabs: impl Iterator<Item = &'b SlabFaces>, source: &Fields) -> CreaseFaces {
        let mut faces = CreaseFaces { own: Vec::new(), fed: source.zero_on(self.shape.creases()) };
        for (slab, of_slab) in slabs.enumerate() {
            let pieces = &self.facts[slab].pieces;
            for (crease, shares) in of_slab.creases.chunks_exact(pieces.len().max(1)).enumerate() {
                faces.own.push(to_f32(1.0 - shares.iter().sum::<f64>()));
                for (piece, &share) in pieces.iter().zip(shares) {
                    if let Some(field) = self.field_on(piece) {
                        let row = faces.fed.row(crease / 2, field);
                        faces.fed.slab_mut(slab)[row + crease % 2] += to_f32(share);
                    }
                }
            }
        }
        faces
    }

    /// The field that lies on a piece of the rod.
    pub(super) fn field_on(&self, piece: &Piece) -> Option<usize> {
        (self.medium.field_on)(piece.section).filter(|&field| field < self.medium.fields)
    }

    /// Shows the faces of a cell that look out of the rod: its flats, its creases, the tip and the end; its flats under blocks, and its sides
    /// where the bundle's outline runs through the grid. Most cells have none. A crease comes with its end of the layer: 0 where `across` is 0,
    /// 1 where it is 1.
    fn each_outside(&self, slab: usize, cell: usize, mut see: impl FnMut(Option<usize>, &Outside)) {
        let (place, across) = (cell / self.shape.across(), cell % self.shape.across());
        let (open, is_cloth) = (self.grid.open(), self.cloth_share(slab, cell) > 0.0);
        let mut wet = None;
        let mut show = |crease: Option<usize>, outside: Outside| {
            let share = || self.medium.zone.map_or(1.0, |zone| self.grid.share_in(zone, slab, place, across));
            let wet = *wet.get_or_insert_with(share);
            if wet > 0.0 {
                see(crease, &Outside { wet, ..outside });
            }
        };
        let is_flat = [open.flats[0] && place == 0, open.flats[1] && place + 1 == self.shape.places()];
        let has_flat = is_flat.contains(&true) && self.grid.column_has_cloth(slab, across);
        let flats =
            || [-1.0, 1.0].into_iter().zip(is_flat).filter(|&(_, is_flat)| is_flat && has_flat).map(|(through, _)| through);
        flats().for_each(|through| show(None, self.flat(slab, cell, through)));
        for (end, at) in [0, self.shape.across() - 1].into_iter().enumerate() {
            if is_cloth && across == at && open.edges[end] {
                show(Some(end), self.crease_at(slab, cell, end));
            }
        }
        for (end, at) in [0, self.shape.slabs() - 1].into_iter().enumerate() {
            if is_cloth && slab == at && open.ends[end] {
                show(None, self.end(slab, cell));
            }
        }
        if self.column(slab, cell).covered > 0.0 {
            flats().for_each(|through| show(None, self.covered_flat(slab, cell, through)));
        }
        if open.sides && is_cloth {
            self.each_side(slab, cell, |side| show(None, side));
        }
    }

    /// Shows the sides of a cell where the bundle's outline runs through the grid; what is at the grid's own edges, its creases and ends are.
    fn each_side(&self, slab: usize, cell: usize, mut show: impl FnMut(Outside)) {
        let across = cell % self.shape.across();
        let beside = [
            (slab.checked_sub(1), Some(across), Vec2::new(-1.0, 0.0)),
            (Some(slab + 1), Some(across), Vec2::new(1.0, 0.0)),
            (Some(slab), across.checked_sub(1), Vec2::new(0.0, -1.0)),
            (Some(slab), Some(across + 1), Vec2::new(0.0, 1.0)),
        ];
        let is_within = |&(beside, column, _): &(Option<usize>, Option<usize>, Vec2)| {
            beside.is_some_and(|slab| slab < self.shape.slabs()) && column.is_some_and(|at| at < self.shape.across())
        };
        for (slab_beside, across_beside, towards) in beside.into_iter().filter(is_within) {
            let beyond = self.grid.columns().beyond(slab_beside, across_beside);
            self.side(slab, cell, beyond, towards).into_iter().for_each(&mut show);
        }
    }

    fn face(&self, slab: usize) -> Face {
        let section = self.grid.section(slab);
        let (width_mm, height_mm) = (section.width_mm, section.height_mm);
        Face { across: 0.0, through: 0.0, width_mm, height_mm, roundness: section.roundness, looks: None }
    }

    /// Which way a face looks where that is known exactly: on a flat bundle or a ring.
    fn looks(&self, across: f64, through: f64) -> Option<(f64, f64)> {
        (self.grid.columns().has_sides() || self.grid.ring().is_some()).then_some((across, through))
    }

    /// The flat side of the first place (`through` is -1) or the last (1), as far as no block lies on it.
    fn flat(&self, slab: usize, cell: usize, through: f64) -> Outside {
        let across = 2.0 * ((cell % self.shape.across()) as f64 + 0.5) / self.shape.across() as f64 - 1.0;
        Outside {
            area_mm2: self.length_mm(cell) * self.held_width_mm(slab, cell) * (1.0 - self.column(slab, cell).covered),
            within: 0.5 * self.thickness_mm(slab, cell) / self.through_reach2(),
            beyond: 0.0,
            exposure: 1.0,
            wet: 1.0,
            reach_mm: self.medium.reach.through_mm,
            feed: (self.medium.feed)(&Face { across, through, looks: self.looks(0.0, through), ..self.face(slab) }),
            left: 1.0,
            free: 1.0,
            regions: self.grid.wound_columns().map_or(Region::ALL, |wound| wound.flat(slab, cell % self.shape.across(), through)),
        }
    }

    /// What of the same lies under a block.
    fn covered_flat(&self, slab: usize, cell: usize, through: f64) -> Outside {
        let (left, free) = self.grid.columns().under;
        let area_mm2 = self.length_mm(cell) * self.held_width_mm(slab, cell) * self.column(slab, cell).covered;
        Outside { area_mm2, left, free, ..self.flat(slab, cell, through) }
    }

    /// A side of a cell where the bundle's outline runs through the grid: as far as the column beside it is farther out. On the way lies what
    /// is wrapped round it, as round a crease.
    fn side(&self, slab: usize, cell: usize, beyond: f64, towards: Vec2) -> Option<Outside> {
        let (facts, column, place) = (&self.facts[slab], self.column(slab, cell), cell / self.shape.across());
        let opening = column.opening(beyond, column.outward.dot(towards));
        if opening <= 0.0 {
            return None;
        }
        let (is_along, width_mm) = (towards.x != 0.0, self.width_mm(slab, cell));
        let (face_mm, deep_mm, left) = if is_along {
            (width_mm, self.length_mm(cell), column.along)
        } else {
            (self.length_mm(cell), width_mm, column.across)
        };
        let outward = if column.outward == Vec2::ZERO { towards } else { column.outward };
        let layers = f64::from(self.grid.columns().wrapped(place, outward)) + 0.5;
        Some(Outside {
            area_mm2: opening * (self.cloth_share(slab, cell) / column.footprint).min(1.0) * face_mm * facts.layer_mm,
            within: 0.5 * deep_mm / self.across_reach2(),
            beyond: layers * facts.layer_mm / self.through_reach2(),
            exposure: 1.0,
            wet: 1.0,
            reach_mm: self.medium.reach.along_mm,
            feed: (self.medium.feed)(&Face { looks: self.looks(outward.y, 0.0), ..self.face(slab) }),
            left,
            free: 1.0,
            regions: self.side_regions(slab, cell),
        })
    }

    /// What a wound thread leaves of a cell's faces at the bundle's edges.
    fn side_regions(&self, slab: usize, cell: usize) -> [Region; 3] {
        self.grid.wound_columns().map_or(Region::ALL, |wound| wound.side(slab, cell))
    }

    /// How much of a cell's cloth is open at the grid's own edge, as a share of its face.
    fn opening_share(&self, slab: usize, cell: usize, towards: Vec2) -> f64 {
        let column = self.column(slab, cell);
        let opening = column.opening(0.0, column.outward.dot(towards));
        self.cloth_share(slab, cell) * if column.footprint > 0.0 { opening / column.footprint } else { 0.0 }
    }

    /// A place's crease where `across` is 0 or where it is 1: through half a cell, then through the cloth that is wrapped round it and
    /// half its own layer.
    fn crease_at(&self, slab: usize, cell: usize, end: usize) -> Outside {
        let (facts, place, mates) = (&self.facts[slab], cell / self.shape.across(), self.grid.mates());
        let (mate, side) = if end == 0 { (mates.at_start(place), -1.0) } else { (mates.at_end(place), 1.0) };
        let layers = mates.wrapped_over(place)[end] as f64 + 0.5;
        let through = 2.0 * (place as f64 + 0.5) / self.shape.places() as f64 - 1.0;
        Outside {
            area_mm2: self.opening_share(slab, cell, Vec2::new(0.0, side)) * self.length_mm(cell) * facts.layer_mm,
            within: 0.5 * self.width_mm(slab, cell) / self.across_reach2(),
            beyond: layers * self.sheet_mm(slab) / self.through_reach2(),
            exposure: self.sticks_out(slab, place, mate, side),
            wet: 1.0,
            reach_mm: self.medium.reach.along_mm,
            feed: (self.medium.feed)(&Face { across: side, through, looks: self.looks(side, 0.0), ..self.face(slab) }),
            left: self.column(slab, cell).across,
            free: 1.0,
            regions: self.side_regions(slab, cell),
        }
    }

    /// The bundle's tip or its end: of a rod where cloth ends, of a flat bundle a side like its others.
    fn end(&self, slab: usize, cell: usize) -> Outside {
        let (facts, towards) = (&self.facts[slab], if slab == 0 { -1.0 } else { 1.0 });
        let (columns, place) = (self.grid.columns(), cell / self.shape.across());
        let over = columns.has_sides().then(|| f64::from(columns.wrapped(place, Vec2::new(towards, 0.0))) + 0.5);
        Outside {
            area_mm2: self.opening_share(slab, cell, Vec2::new(towards, 0.0)) * self.width_mm(slab, cell) * facts.layer_mm,
            within: 0.5 * self.length_mm(cell) / self.across_reach2(),
            beyond: over.map_or(0.0, |layers| layers * facts.layer_mm / self.through_reach2()),
            exposure: 1.0,
            wet: 1.0,
            reach_mm: self.medium.reach.along_mm,
            feed: (self.medium.feed)(&Face { across: 0.0, through: 0.0, ..self.face(slab) }),
            left: self.column(slab, cell).along,
            free: 1.0,
            regions: self.side_regions(slab, cell),
        }
    }

    fn sticks_out(&self, slab: usize, place: usize, mate: Option<usize>, side: f64) -> f64 {
        if self.medium.uneven_creases == 0.0 {
            return 1.0;
        }
        if let Some(ring) = self.grid.ring() {
            // In the plane of the face, so that it closes on itself.
            let at_mm = ring.radius_mm * self.grid.length_mm(place) / self.grid.cell_mm();
            let at = at_mm / CREASE_NOISE_MM * Vec2::from_angle(self.grid.along_mm(slab) / ring.radius_mm);
            let noise = noise::in_plane(self.medium.seed.wrapping_add(u64::from(side > 0.0)), at.x, at.y);
            return (self.medium.uneven_creases * noise).exp();
        }
        let pleat = place.min(mate.unwrap_or(place)) / self.grid.layers().max(1);
        let line = i64::try_from(2 * pleat).unwrap_or(0) + i64::from(side > 0.0);
        let noise = noise::on_line(self.medium.seed, line, self.grid.along_mm(slab) / CREASE_NOISE_MM);
        (self.medium.uneven_creases * noise).exp()
    }
}
