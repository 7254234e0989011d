//! The size tables, and reading a size's name.

use std::str::FromStr;

use super::measure::Measure::{BagHeight, BagWidth, ClothHeight, ClothWidth, HalfChest, Length};
use super::{GarmentError, GarmentKind, Measure, Panels, SizeName, SourceStatus};

/// Reads a size's name, in capitals or not, with spaces around it or not.
impl FromStr for SizeName {
    type Err = GarmentError;

    fn from_str(text: &str) -> Result<Self, GarmentError> {
        let wanted = text.trim();
        let found = Self::ALL.into_iter().find(|size| size.as_str().eq_ignore_ascii_case(wanted));
        found.ok_or_else(|| GarmentError::UnknownSize { given: text.to_owned() })
    }
}

/// One row of a kind's size table: the two measurements that make the size; the kind's rules give the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// The size's name.
    pub name: SizeName,
    /// The measurements of the size, in mm.
    pub values_mm: [(Measure, f64); 2],
    /// Where those come from.
    pub status: SourceStatus,
    /// How many layers of cloth lie on the table.
    pub panels: Panels,
}

/// Half chest and length in mm of a crew-neck tee, and where they come from.
type TopRow = (SizeName, f64, f64, SourceStatus);

const fn inches(name: SizeName, half_chest_in: f64, length_in: f64) -> TopRow {
    // 254 tenths of a millimetre are an inch: a whole factor keeps the decimals exact.
    (name, half_chest_in * 254.0 / 10.0, length_in * 254.0 / 10.0, SourceStatus::Practice)
}

const fn recalled(name: SizeName, half_chest_mm: f64, length_mm: f64) -> TopRow {
    (name, half_chest_mm, length_mm, SourceStatus::Memory)
}

/// The crew-neck tee: adult sizes step by 2 in across and 1 in down (S to 3XL common practice, no source; XS and 4XL by the
/// same step); the smaller ones are from memory.
const TEE: [TopRow; 20] = [
    recalled(SizeName::Months0To3, 205.0, 280.0),
    recalled(SizeName::Months3To6, 218.0, 302.0),
    recalled(SizeName::Months6To12, 232.0, 325.0),
    recalled(SizeName::Months12To18, 246.0, 348.0),
    recalled(SizeName::Months18To24, 260.0, 370.0),
    recalled(SizeName::Age2, 280.0, 395.0),
    recalled(SizeName::Age4, 305.0, 430.0),
    recalled(SizeName::Age6, 330.0, 470.0),
    recalled(SizeName::Age8, 355.0, 510.0),
    recalled(SizeName::Age10, 380.0, 550.0),
    recalled(SizeName::Age12, 405.0, 590.0),
    recalled(SizeName::Age14, 430.0, 630.0),
    inches(SizeName::Xs, 16.0, 27.0),
    inches(SizeName::S, 18.0, 28.0),
    inches(SizeName::M, 20.0, 29.0),
    inches(SizeName::L, 22.0, 30.0),
    inches(SizeName::Xl, 24.0, 31.0),
    inches(SizeName::Xl2, 26.0, 32.0),
    inches(SizeName::Xl3, 28.0, 33.0),
    inches(SizeName::Xl4, 30.0, 34.0),
];

/// How many of the first rows of [`TEE`] are infants'.
const INFANT_ROWS: usize = 5;

/// Length of an infant bodysuit over that of the tee of its size: to the crotch instead of the hip (memory).
const BODYSUIT_LENGTH_RATIO: f64 = 1.38;
/// Half chest of a hooded top over that of the tee of its size: worn over another layer (memory).
const HOODED_CHEST_RATIO: f64 = 1.06;
/// Length of a hooded top over that of the tee of its size: its hem is drawn in at the hip (memory).
const HOODED_LENGTH_RATIO: f64 = 0.98;
/// Length of a T-shirt dress over that of the tee of its size: to just above the knee (memory).
const DRESS_LENGTH_RATIO: f64 = 1.28;

impl GarmentKind {
    /// The sizes the kind is made in, from small to large.
    pub fn sizes(self) -> Vec<Size> {
        table(self)
    }

    /// The size to begin with: M of garments and bags, a bandana of flat cloth; none of a kind without sizes.
    #[must_use]
    pub fn usual_size(self) -> Option<SizeName> {
        let sizes = self.sizes();
        let is_usual = |name: &SizeName| matches!(name, SizeName::M | SizeName::Medium | SizeName::Bandana);
        let mut names = sizes.iter().map(|size| size.name);
        names.clone().find(is_usual).or_else(|| names.nth(sizes.len() / 2))
    }

    /// The kind's size of this name, in capitals or not.
    ///
    /// # Errors
    /// [`GarmentError::NoSizeOfKind`], which lists the kind's own sizes.
    pub fn size_named(self, name: &str) -> Result<SizeName, GarmentError> {
        let given = || GarmentError::NoSizeOfKind { kind: self, given: name.trim().to_owned() };
        let size = name.parse::<SizeName>().map_err(|_unknown| given())?;
        if self.sizes().iter().any(|own| own.name == size) { Ok(size) } else { Err(given()) }
    }
}

/// The size table of a kind, from small to large.
fn table(kind: GarmentKind) -> Vec<Size> {
    match kind {
        GarmentKind::CrewTee | GarmentKind::VNeckTee | GarmentKind::LongSleeveTee | GarmentKind::Tank => tees(&TEE),
        GarmentKind::InfantBodysuit => scaled(tees(&TEE[..INFANT_ROWS]), 1.0, BODYSUIT_LENGTH_RATIO),
        GarmentKind::HoodedTop => scaled(tees(&TEE), HOODED_CHEST_RATIO, HOODED_LENGTH_RATIO),
        GarmentKind::ShirtDress => scaled(tees(&TEE[INFANT_ROWS..]), 1.0, DRESS_LENGTH_RATIO),
        GarmentKind::ToteBag => BAGS.to_vec(),
        GarmentKind::FlatCloth => CLOTHS.to_vec(),
        GarmentKind::Own => Vec::new(),
    }
}

fn tees(rows: &[TopRow]) -> Vec<Size> {
    let size = |&(name, half_chest_mm, length_mm, status): &TopRow| Size {
        name,
        values_mm: [(HalfChest, half_chest_mm), (Length, length_mm)],
        status,
        panels: Panels::Two,
    };
    rows.iter().map(size).collect()
}

/// Another top's sizes from the tee's, to the nearest millimetre; the ratios are recalled, and so is what they give.
fn scaled(mut sizes: Vec<Size>, chest_ratio: f64, length_ratio: f64) -> Vec<Size> {
    for size in &mut sizes {
        size.values_mm[0].1 = (size.values_mm[0].1 * chest_ratio).round();
        size.values_mm[1].1 = (size.values_mm[1].1 * length_ratio).round();
        size.status = SourceStatus::Memory;
    }
    sizes
}

/// Cotton shopping bags (memory).
const BAGS: [Size; 3] =
    [bag(SizeName::Small, 260.0, 300.0), bag(SizeName::Medium, 380.0, 420.0), bag(SizeName::Large, 450.0, 500.0)];

/// Household cloths in round sizes (memory). A pillowcase is two layers, the others one.
const CLOTHS: [Size; 6] = [
    cloth(SizeName::Handkerchief, 400.0, 400.0, Panels::One),
    cloth(SizeName::Bandana, 550.0, 550.0, Panels::One),
    cloth(SizeName::TeaTowel, 500.0, 700.0, Panels::One),
    cloth(SizeName::Pillowcase, 500.0, 750.0, Panels::Two),
    cloth(SizeName::Scarf, 700.0, 1800.0, Panels::One),
    cloth(SizeName::Hanging, 1000.0, 1500.0, Panels::One),
];

const fn bag(name: SizeName, width_mm: f64, height_mm: f64) -> Size {
    let values_mm = [(BagWidth, width_mm), (BagHeight, height_mm)];
    Size { name, values_mm, status: SourceStatus::Memory, panels: Panels::Two }
}

const fn cloth(name: SizeName, width_mm: f64, height_mm: f64, panels: Panels) -> Size {
    let values_mm = [(ClothWidth, width_mm), (ClothHeight, height_mm)];
    Size { name, values_mm, status: SourceStatus::Memory, panels }
}
