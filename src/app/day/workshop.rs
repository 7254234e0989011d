//! The workshop in the window: chosen once, kept for the next start.

use crate::app::field::{self, choice};
use crate::app::heading::section;
use crate::form::{FileForm as _, WrittenForm as _};
use crate::measure::{LengthStyle, LengthUnit};
use crate::plan::form::parts::WorkshopForm;
use crate::plan::{Heating, Region, Ring, Vessel, VesselMaterial, WorkPlace, Workshop};
use crate::store::save;
use egui::Ui;
use std::fs;
use std::path::Path;

/// A room without extraction to begin with, m3: 3 m by 4 m by 2.5 m.
const ROOM_M3: f64 = 30.0;
/// A kettle to begin with: 1.7 L and 2200 W (practice).
const KETTLE: Heating = Heating::Kettle { litres: 1.7, power_w: 2200.0 };
/// A hob to begin with, W (practice).
const HOB: Heating = Heating::Hob { power_w: 2000.0, ring: Ring::Electric };

/// The workshop that is kept; where it is missing or unreadable, the usual one.
pub(super) fn read(path: &Path) -> Workshop {
    fs::read_to_string(path).ok().and_then(|text| ron::from_str(&text).ok()).map(WorkshopForm::live).unwrap_or_default()
}

/// Keeps it. A failure is no reason to disturb the work: the next start has the usual one.
pub(super) fn write(workshop: &Workshop, path: &Path) {
    let folder = path.parent().map_or(Ok(()), fs::create_dir_all);
    let text = ron::ser::to_string_pretty(&WorkshopForm::of(workshop.clone()), ron::ser::PrettyConfig::new());
    if let (Ok(()), Ok(text)) = (folder, text) {
        let _written = save(path, text.as_bytes());
    }
}

/// Its fields.
pub(super) fn show(workshop: &mut Workshop, lengths: LengthStyle, ui: &mut Ui) {
    section(ui, "Workshop", |ui| {
        place(workshop, ui);
        if let Some(region) = choice(ui, "Region", workshop.region, &Region::ALL, |region| region.name().to_owned()) {
            workshop.region = region;
        }
        if let Some(room_c) = field::number(ui, "Room, °C", workshop.room_c) {
            workshop.room_c = room_c;
        }
        curing(workshop, ui);
        vessel(&mut workshop.vessel, lengths, ui);
    });
}

fn place(workshop: &mut Workshop, ui: &mut Ui) {
    let indoors = WorkPlace::Indoors { room_m3: ROOM_M3 };
    let kinds = [WorkPlace::Outdoors, WorkPlace::Extraction, indoors];
    let now = match workshop.place {
        WorkPlace::Indoors { .. } => indoors,
        other => other,
    };
    let name = |place| match place {
        WorkPlace::Outdoors => "outdoors".to_owned(),
        WorkPlace::Extraction => "under extraction".to_owned(),
        WorkPlace::Indoors { .. } => "in a room".to_owned(),
    };
    if let Some(place) = choice(ui, "Where you discharge", now, &kinds, name) {
        workshop.place = place;
    }
    if let WorkPlace::Indoors { room_m3 } = workshop.place
        && let Some(room_m3) = field::number(ui, "Room, m³", room_m3)
    {
        workshop.place = WorkPlace::Indoors { room_m3 };
    }
}

fn curing(workshop: &mut Workshop, ui: &mut Ui) {
    let mut warmer = workshop.cure_c.is_some();
    let words = "While the dye fixes, keep the rods warmer or cooler than the room";
    if ui.checkbox(&mut warmer, "Other cure temperature").on_hover_text(words).changed() {
        workshop.cure_c = warmer.then_some(workshop.room_c);
    }
    if let Some(cure_c) = workshop.cure_c
        && let Some(cure_c) = field::number(ui, "Cure at, °C", cure_c)
    {
        workshop.cure_c = Some(cure_c);
    }
}

fn vessel(vessel: &mut Vessel, lengths: LengthStyle, ui: &mut Ui) {
    let is_kettle = matches!(vessel.heating, Heating::Kettle { .. });
    let name = |kettle: bool| if kettle { "kettle" } else { "pot on a hob" }.to_owned();
    if let Some(kettle) = choice(ui, "Heating", is_kettle, &[false, true], name) {
        vessel.heating = if kettle { KETTLE } else { HOB };
        vessel.material = VesselMaterial::Steel;
    }
    if let Some(litres) = field::litres(ui, "Discharge vessel, L", vessel.litres) {
        vessel.litres = litres;
    }
    let (unit, sign) = lengths.area_unit();
    let unit_cm2 = (unit.in_mm() / LengthUnit::Centimetre.in_mm()).powi(2);
    if let Some(floor) = field::number(ui, &format!("Vessel base, {sign}"), vessel.floor_cm2 / unit_cm2) {
        vessel.floor_cm2 = floor * unit_cm2;
    }
    match vessel.heating {
        Heating::Hob { power_w, ring } => {
            if let Some(ring) = choice(ui, "Hob", ring, &Ring::ALL, |ring| ring.name().to_owned()) {
                vessel.heating = Heating::Hob { power_w, ring };
            }
            if let Some(power_w) = field::number(ui, "Rated power, W", power_w) {
                vessel.heating = Heating::Hob { power_w, ring };
            }
        }
        Heating::Kettle { litres, power_w } => {
            let materials = [VesselMaterial::Steel, VesselMaterial::Polypropylene];
            if let Some(material) = choice(ui, "Vessel material", vessel.material, &materials, |of| of.name().to_owned()) {
                vessel.material = material;
            }
            if let Some(litres) = field::litres(ui, "Kettle, L", litres) {
                vessel.heating = Heating::Kettle { litres, power_w };
            }
            if let Some(power_w) = field::number(ui, "Kettle, W", power_w) {
                vessel.heating = Heating::Kettle { litres, power_w };
            }
        }
    }
    ui.checkbox(&mut vessel.covered, "Covered")
        .on_hover_text("Uncovered, the bath loses several times as much heat, and gives off its gases");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_workshop_comes_back_and_a_bad_one_does_not_matter() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/workshop.ron");
        assert_eq!(read(&path), Workshop::default());
        let own = Workshop {
            region: Region::UnitedStates,
            room_c: 14.0,
            cure_c: Some(30.0),
            vessel: Vessel { heating: KETTLE, ..Vessel::default() },
            ..Workshop::default()
        };
        write(&own, &path);
        assert_eq!(read(&path), own);
        fs::write(&path, "(room_c: warm").unwrap();
        assert_eq!(read(&path), Workshop::default());
    }
}
