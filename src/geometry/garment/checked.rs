//! The checked garment.

use super::draft::Draft;
use super::kind::Rule;
use super::{
    GarmentError, GarmentKind, Measure, Measurements, OwnOutline, Panels, RawMeasures, Size, SizeName, SourceStatus, check,
    figure_line,
};
use kurbo::Point;

/// How a garment's measurement was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Origin {
    /// From the size table.
    SizeTable,
    /// From other measurements, by the kind's rule: see [`GarmentKind::derivation`].
    Derived,
    /// From the outline that the maker drew.
    Drawn,
    /// Given by the maker.
    Overridden,
}

impl Origin {
    /// The words that stand for it in print.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SizeTable => "size table",
            Self::Derived => "derived",
            Self::Drawn => "as drawn",
            Self::Overridden => "measured",
        }
    }
}

/// One measurement of a garment, and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measurement {
    /// What is measured.
    pub measure: Measure,
    /// Its value in mm.
    pub value_mm: f64,
    /// How it was found.
    pub origin: Origin,
    /// How far it can be trusted; `None` if the maker measured it.
    pub status: Option<SourceStatus>,
}

/// A garment whose measurements fit together, with the outlines drafted from them.
///
/// ```
/// use pleatwright::geometry::{Garment, GarmentKind, Measure, RawMeasures, SizeName};
///
/// let measured = RawMeasures { neck_width_mm: Some(172.0), ..RawMeasures::default() };
/// let garment = Garment::new(GarmentKind::CrewTee, Some(SizeName::M), &measured)?;
/// assert_eq!(garment.value_mm(Measure::HalfChest), Some(508.0));
/// assert_eq!(garment.draft().front.centre_line_mm().start, garment.value_mm(Measure::FrontNeckDrop).unwrap());
/// # Ok::<(), pleatwright::geometry::GarmentError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Garment {
    kind: GarmentKind,
    size: Option<SizeName>,
    panels: Panels,
    measurements: Vec<Measurement>,
    values: Measurements,
    draft: Draft,
}

impl Garment {
    /// Finds, checks and drafts a garment.
    ///
    /// A measurement in `overrides` wins over the size table; what neither gives is derived by the kind's rules from those
    /// found before it, so that a garment measured wider than its size also gets wider shoulders, unless these are given too.
    ///
    /// # Errors
    /// A size or measurement that the kind does not have, a required one that is missing, a value that is no length or
    /// implausible, two that do not fit together, or an outline that would cross itself.
    pub fn new(kind: GarmentKind, size: Option<SizeName>, overrides: &RawMeasures) -> Result<Self, GarmentError> {
        let given = Measurements::from(overrides);
        check::is_of_kind(kind, &given)?;
        let row = size.map(|name| size_row(kind, name)).transpose()?;
        let measurements = find(kind, row.as_ref(), &given)?;
        let values = measurements.iter().map(|m| (m.measure, m.value_mm)).collect();
        check::fit_together(kind, &values, &given)?;
        let draft = Draft::new(kind, &values)?;
        let panels = match (kind, row) {
            (_, Some(row)) => row.panels,
            (GarmentKind::FlatCloth, None) => Panels::One,
            (_, None) => Panels::Two,
        };
        Ok(Self { kind, size, panels, measurements, values, draft })
    }

    /// The garment of a kind, by size and measurements, or of one's own outline.
    ///
    /// # Errors
    /// As for [`Self::new`] and [`Self::own`]; and where an outline is missing, or given for another kind.
    pub fn of(
        kind: GarmentKind,
        size: Option<SizeName>,
        outline: Option<&OwnOutline>,
        overrides: &RawMeasures,
    ) -> Result<Self, GarmentError> {
        match (kind, outline, size) {
            (GarmentKind::Own, None, _) => Err(GarmentError::NoOutline),
            (GarmentKind::Own, Some(_), Some(size)) => Err(GarmentError::NotASizeOfKind { kind, size }),
            (GarmentKind::Own, Some(outline), None) => Self::own(outline, overrides),
            (_, Some(_), _) => Err(GarmentError::OutlineOfKind { kind }),
            (_, None, _) => Self::new(kind, size, overrides),
        }
    }

    /// Checks a garment of the maker's own outline.
    ///
    /// It measures what it is drawn with; a width or height in `overrides` stretches the outline to that.
    ///
    /// # Errors
    /// A measurement other than [`Measure::ClothWidth`] and [`Measure::ClothHeight`], one that is no length or implausible, or an outline
    /// that encloses nothing, crosses itself or the centre line.
    pub fn own(outline: &OwnOutline, overrides: &RawMeasures) -> Result<Self, GarmentError> {
        let kind = GarmentKind::Own;
        let given = Measurements::from(overrides);
        check::is_of_kind(kind, &given)?;
        let drawn = outline.drawn();
        let found = |(measure, drawn_mm): (Measure, f64)| {
            let own_mm = given.value(measure);
            let origin = if own_mm.is_some() { Origin::Overridden } else { Origin::Drawn };
            let value_mm = own_mm.unwrap_or(drawn_mm);
            check::is_plausible(measure, value_mm).map(|()| Measurement { measure, value_mm, origin, status: None })
        };
        let measurements = drawn.iter().map(found).collect::<Result<Vec<_>, _>>()?;
        let values = measurements.iter().map(|m| (m.measure, m.value_mm)).collect();
        let draft = outline.draft(&values)?;
        Ok(Self { kind, size: None, panels: outline.panels, measurements, values, draft })
    }

    /// The kind of garment.
    pub const fn kind(&self) -> GarmentKind {
        self.kind
    }

    /// The size it was named by, if any.
    pub const fn size(&self) -> Option<SizeName> {
        self.size
    }

    /// How many layers of cloth lie on the table: one for a flat cloth (a pillowcase excepted), two for all else.
    pub const fn panels(&self) -> Panels {
        self.panels
    }

    /// Every measurement of the garment and where it comes from, in the order of [`GarmentKind::measures`].
    pub fn measurements(&self) -> &[Measurement] {
        &self.measurements
    }

    /// The values of all its measurements.
    pub const fn values(&self) -> &Measurements {
        &self.values
    }

    /// The value of one measurement in mm; `None` if the kind does not have it.
    pub const fn value_mm(&self, measure: Measure) -> Option<f64> {
        self.values.value(measure)
    }

    /// The outlines.
    pub const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// Where a measurement is taken: see [`figure_line`].
    pub fn figure_line(&self, measure: Measure) -> Option<[Point; 2]> {
        figure_line(self.kind, &self.values, measure)
    }
}

fn size_row(kind: GarmentKind, size: SizeName) -> Result<Size, GarmentError> {
    kind.sizes().into_iter().find(|row| row.name == size).ok_or(GarmentError::NotASizeOfKind { kind, size })
}

fn find(kind: GarmentKind, row: Option<&Size>, given: &Measurements) -> Result<Vec<Measurement>, GarmentError> {
    let mut known = Measurements::default();
    let mut found = Vec::new();
    for &(measure, rule) in kind.specs() {
        let in_row = row.and_then(|row| Some((row, row.values_mm.iter().find(|(m, _)| *m == measure)?.1)));
        let (value_mm, origin, status) = match (given.value(measure), in_row) {
            (Some(value_mm), _) => (value_mm, Origin::Overridden, None),
            (None, Some((row, value_mm))) => (value_mm, Origin::SizeTable, Some(row.status)),
            (None, None) => {
                let (value_mm, status) = derive(rule, &known).ok_or(GarmentError::Missing { kind, measure })?;
                (value_mm, Origin::Derived, Some(status))
            }
        };
        check::is_plausible(measure, value_mm)?;
        known.insert(measure, value_mm);
        found.push(Measurement { measure, value_mm, origin, status });
    }
    Ok(found)
}

/// The value of a rule in mm, to a tenth of a millimetre: finer than cloth is made, and short to write.
fn derive(rule: Rule, known: &Measurements) -> Option<(f64, SourceStatus)> {
    let to_tenth = |value_mm: f64| (value_mm * 10.0).round() / 10.0;
    match rule {
        Rule::Required => None,
        Rule::Graded(grade) => Some((to_tenth(grade.at(known.of(Measure::HalfChest))), SourceStatus::Memory)),
        Rule::From(value_mm, _, status) => Some((to_tenth(value_mm(known)), status)),
        Rule::Fixed(value_mm, status) => Some((value_mm, status)),
    }
}
