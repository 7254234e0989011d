//! What is wished: parts of the opened garment and their colours.

use super::error::{WishError, WishProblem};
use super::shelf::Shelf;
use crate::layout::{DyeBy, Layout, LayoutError, Srgb, Swatch, check_components, check_name};
use crate::reveal::colour::Lab;
use crate::telling::Field;

/// Most parts of a wish: one every few mm of the largest garment. Own choice.
pub const MOST_PARTS: usize = 200;
/// Most binds that a wish may allow: more than any rod has room for. Own choice.
pub const MOST_WISHED_BINDS: u32 = 400;
/// Least and greatest weight of a part: a thousand times apart is as good as never or always. Own choice.
pub const WEIGHTS: [f64; 2] = [0.01, 10.0];
/// Narrowest part, mm: of what is narrower a row of a millimetre holds nothing.
const NARROWEST_MM: f64 = 1.0;
/// Farthest from the centre or the line, mm: beyond any garment.
const FARTHEST_MM: f64 = 5000.0;

/// Rounding of lengths, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Rings wished on an opened garment, or bands along a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Wish {
    /// Its name, which the layout takes.
    pub name: String,
    /// The file of the layout to begin with, beside the wish's own: garment, fold, thread, marks of the rule, process.
    pub layout: String,
    /// The dyes on the shelf, to choose among; none for those of the layout.
    pub dyes: Vec<Swatch>,
    /// Most binds that are to be tied; as many as it takes where it is not given.
    pub most_binds: Option<u32>,
    /// What is wished from where to where. Two parts that meet share an edge, where a bind is wished; beyond any other edge the garment's own
    /// colour is, as under thread.
    pub parts: Vec<WishPart>,
}

/// A ring, or a band along a line.
#[derive(Debug, Clone, PartialEq)]
pub struct WishPart {
    /// Where it begins, mm from the burst centre, or from the line: within it below 0.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// Its colour.
    pub colour: WishColour,
    /// How much it matters beside others: 1.
    pub weight: f64,
}

/// The colour of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum WishColour {
    /// One all over.
    Even(Tint),
    /// From the first, where the part begins, to the second, where it ends, evenly in CIE L\*a\*b\*.
    Ramp(Tint, Tint),
}

/// A colour, however it is given.
#[derive(Debug, Clone, PartialEq)]
pub enum Tint {
    /// As a screen shows it.
    Srgb(Srgb),
    /// As the eye sees it.
    Lab(Lab),
    /// That of a dye on the shelf, at its swatch's strength on the ground that it goes onto.
    Dye(String),
    /// The garment's own.
    Garment,
    /// The ground that dye goes onto: what a full discharge leaves of the garment's colour, or that colour where nothing is discharged.
    Ground,
}

impl WishColour {
    /// Its tints, with the step to each from the colour's own field.
    pub(super) fn tints(&self) -> Vec<(Option<&'static str>, &Tint)> {
        match self {
            Self::Even(tint) => vec![(None, tint)],
            Self::Ramp(from, to) => vec![(Some("from"), from), (Some("to"), to)],
        }
    }
}

/// A part's field.
fn field(index: usize) -> Field {
    Field::from("wished").item(index + 1)
}

fn refused<T>(field: Field, problem: WishProblem) -> Result<T, WishError> {
    Err(WishError { field, problem })
}

impl Wish {
    /// Refuses what can't be wished of any layout.
    ///
    /// # Errors
    /// [`WishError`].
    pub fn check(&self) -> Result<(), WishError> {
        let named = |field: Field, name: &str| {
            check_name(field, name).map_err(|LayoutError { field, problem }| WishError { field, problem: problem.into() })
        };
        named("name".into(), &self.name)?;
        if self.layout.trim().is_empty() {
            return refused("layout".into(), WishProblem::NoLayout);
        }
        if let Some(count) = self.most_binds.filter(|count| !(1..=MOST_WISHED_BINDS).contains(count)) {
            return refused("most_binds".into(), WishProblem::Binds { count, most: MOST_WISHED_BINDS });
        }
        for (index, dye) in self.dyes.iter().enumerate() {
            let field = || Field::from("dyes").item(index + 1).then("name");
            named(field(), &dye.name)?;
            if self.dyes[..index].iter().any(|earlier| earlier.name == dye.name) {
                return refused(field(), WishProblem::DyeTwice { name: dye.name.clone() });
            }
            let within = Field::from("dyes").item(index + 1);
            if let Err((field, problem)) = check_components(&dye.components) {
                return refused(within.then(field), WishProblem::Mixture(problem));
            }
        }
        if !(1..=MOST_PARTS).contains(&self.parts.len()) {
            return refused("wished".into(), WishProblem::Parts { count: self.parts.len(), most: MOST_PARTS });
        }
        self.parts.iter().enumerate().try_for_each(|(index, part)| check_part(part, &field(index)))?;
        self.check_apart()
    }

    /// Refuses parts that overlap.
    fn check_apart(&self) -> Result<(), WishError> {
        let mut order: Vec<usize> = (0..self.parts.len()).collect();
        order.sort_by(|a, b| self.parts[*a].from_mm.total_cmp(&self.parts[*b].from_mm));
        for pair in order.windows(2) {
            let (inner, outer) = (&self.parts[pair[0]], &self.parts[pair[1]]);
            if outer.from_mm < inner.to_mm {
                let problem = WishProblem::Overlap { from_mm: outer.from_mm, other: pair[0] + 1, to_mm: inner.to_mm };
                return refused(field(pair[1]).then("from_mm"), problem);
            }
        }
        Ok(())
    }

    /// Refuses a layout of which nothing can be wished.
    ///
    /// # Errors
    /// [`WishError`].
    pub fn check_layout(layout: &Layout) -> Result<(), WishError> {
        if layout.burst().is_none() && layout.line().is_none() {
            return refused("layout".into(), WishProblem::Fold { fold: layout.raw().fold.kind().name() });
        }
        if layout.is_of_several() {
            return refused("layout".into(), WishProblem::SeveralTies { ties: layout.ties().len() });
        }
        if layout.process().dye == DyeBy::Dipped {
            return refused("layout".into(), WishProblem::Dipped);
        }
        Ok(())
    }

    /// Refuses what can't be wished of this layout.
    ///
    /// # Errors
    /// [`WishError`].
    pub fn check_on(&self, layout: &Layout) -> Result<(), WishError> {
        self.check()?;
        Self::check_layout(layout)?;
        let shelf = Shelf::of(&self.dyes, layout)?;
        let zero_mm = layout.zero_mm();
        let [least_mm, most_mm] = [-zero_mm, layout.fold().length_mm() - zero_mm];
        for (index, part) in self.parts.iter().enumerate() {
            // Beyond the far edge a part may end where cloth does; before the near one there never is any.
            if part.from_mm < least_mm - ROUNDING_MM || part.from_mm >= most_mm {
                let problem = WishProblem::OffCloth { from_mm: part.from_mm, to_mm: part.to_mm, least_mm, most_mm };
                return refused(field(index).then("from_mm"), problem);
            }
            for (step, tint) in part.colour.tints() {
                if let Tint::Dye(name) = tint
                    && !shelf.has(name)
                {
                    let colour = field(index).then("colour");
                    let problem = WishProblem::UnknownDye { name: name.clone(), known: shelf.names() };
                    return refused(step.map_or(colour.clone(), |step| colour.then(step)), problem);
                }
            }
        }
        Ok(())
    }
}

fn check_part(part: &WishPart, field: &Field) -> Result<(), WishError> {
    let at = |key: &'static str| field.clone().then(key);
    for (key, value_mm) in [("from_mm", part.from_mm), ("to_mm", part.to_mm)] {
        if !(-FARTHEST_MM..=FARTHEST_MM).contains(&value_mm) {
            return refused(at(key), WishProblem::Length { value_mm, least_mm: -FARTHEST_MM, most_mm: FARTHEST_MM });
        }
    }
    if part.to_mm - part.from_mm < NARROWEST_MM {
        let problem = WishProblem::NoBreadth { from_mm: part.from_mm, to_mm: part.to_mm, least_mm: NARROWEST_MM };
        return refused(at("to_mm"), problem);
    }
    let [least, most] = WEIGHTS;
    if !(least..=most).contains(&part.weight) {
        return refused(at("weight"), WishProblem::Weight { value: part.weight, least, most });
    }
    for (step, tint) in part.colour.tints() {
        let Tint::Lab(lab) = tint else { continue };
        for (key, value, [least, most]) in [("l", lab.l, LIGHTNESS), ("a", lab.a, OPPONENT), ("b", lab.b, OPPONENT)] {
            if !(least..=most).contains(&value) {
                let colour = at("colour");
                let colour = step.map_or(colour.clone(), |step| colour.then(step));
                return refused(colour.then(key), WishProblem::Lab { value, least, most });
            }
        }
    }
    Ok(())
}

/// L\* of CIE L\*a\*b\*, by its definition.
const LIGHTNESS: [f64; 2] = [0.0, 100.0];
/// a\* and b\*: beyond any colour of a surface (own choice).
const OPPONENT: [f64; 2] = [-150.0, 150.0];
