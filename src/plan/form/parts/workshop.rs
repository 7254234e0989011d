//! Where an order is made.

use crate::form::{FileForm, stands_for};
use crate::plan::{Heating, Hours, Region, Ring, Vessel, VesselMaterial, Weekday, WorkPlace, Workshop};
use serde::{Deserialize, Serialize};

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "the days' names say it all")]
pub enum WeekdayForm {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

stands_for!(enum WeekdayForm for Weekday {
    Monday {}, Tuesday {}, Wednesday {}, Thursday {}, Friday {}, Saturday {}, Sunday {}
});

/// A stretch of working hours.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoursForm {
    /// From, such as `08:00`.
    pub from: String,
    /// To, such as `12:30`.
    pub to: String,
}

stands_for!(struct HoursForm for Hours { from, to });

/// Where the discharge is done.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum WorkPlaceForm {
    /// Outdoors.
    Outdoors,
    /// Under extraction that carries the fumes out.
    Extraction,
    /// In a room without extraction.
    Indoors {
        /// The room's volume, m3.
        room_m3: f64,
    },
}

stands_for!(enum WorkPlaceForm for WorkPlace { Outdoors {}, Extraction {}, Indoors { room_m3 } });

/// Whose limits and terms a plan uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum RegionForm {
    /// The European Union's.
    Europe,
    /// Those of the United States.
    UnitedStates,
}

stands_for!(enum RegionForm for Region { Europe {}, UnitedStates {} });

/// What a hob heats with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum RingForm {
    /// A gas flame.
    Gas,
    /// An electric ring or a glass top.
    #[default]
    Electric,
    /// Induction.
    Induction,
}

stands_for!(enum RingForm for Ring { Gas {}, Electric {}, Induction {} });

/// Where the hot water of a discharge comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum HeatingForm {
    /// The vessel stands on the heat.
    Hob {
        /// Its rated power, W.
        power_w: f64,
        /// What it heats with: an electric ring.
        #[serde(default)]
        ring: RingForm,
    },
    /// Boiled elsewhere and poured in.
    Kettle {
        /// What it boils at a time, L.
        litres: f64,
        /// Its power, W.
        power_w: f64,
    },
}

stands_for!(enum HeatingForm for Heating { Hob { power_w, ring }, Kettle { litres, power_w } });

/// What the vessel is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum VesselMaterialForm {
    /// Stainless steel, or enamel on steel.
    Steel,
    /// Polypropylene.
    Polypropylene,
}

stands_for!(enum VesselMaterialForm for VesselMaterial { Steel {}, Polypropylene {} });

/// The vessel of the discharge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct VesselForm {
    /// What it holds to the brim, L: 20.
    pub litres: f64,
    /// Area of its floor, cm2: 700.
    pub floor_cm2: f64,
    /// Its mass, g: 2500.
    pub mass_g: f64,
    /// What it is made of: steel.
    pub material: VesselMaterialForm,
    /// Where its hot water comes from: it stands on an electric ring of 2000 W.
    pub heating: HeatingForm,
    /// Whether it is covered while the rods are in it: yes.
    pub covered: bool,
    /// Water from the tap, C: 15.
    pub tap_c: f64,
}

impl Default for VesselForm {
    fn default() -> Self {
        Self {
            litres: 20.0,
            floor_cm2: 700.0,
            mass_g: 2500.0,
            material: VesselMaterialForm::Steel,
            heating: HeatingForm::Hob { power_w: 2000.0, ring: RingForm::Electric },
            covered: true,
            tap_c: 15.0,
        }
    }
}

stands_for!(struct VesselForm for Vessel { litres, floor_cm2, mass_g, material, heating, covered, tap_c });

/// The workshop, as files of format 1 have it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WorkshopV1 {
    /// Tubs: 1.
    pub tubs: u32,
    /// Water that a tub takes with the cloth in it, L: 30.
    pub tub_l: f64,
    /// Sinks: 1.
    pub sinks: u32,
    /// Washing machines: 1.
    pub washers: u32,
    /// Tables: 1.
    pub tables: u32,
    /// Rods that the rack takes: 8.
    pub rack_rods: u32,
    /// Where the discharge is done: outdoors.
    pub place: WorkPlaceForm,
    /// The vessel of the discharge.
    pub vessel: VesselForm,
    /// Temperature of the room, C: 20.
    pub room_c: f64,
    /// Temperature that the wrapped rods are kept at while the dye fixes, C; the room's unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cure_c: Option<f64>,
    /// Whose limits and terms the cautions use: Europe's.
    pub region: RegionForm,
    /// Hours of hands-on work on a working day: 08:00 to 20:00.
    pub hours: Vec<HoursForm>,
    /// Days without hands-on work: none.
    pub days_off: Vec<WeekdayForm>,
}

impl Default for WorkshopV1 {
    fn default() -> Self {
        Self {
            tubs: 1,
            tub_l: 30.0,
            sinks: 1,
            washers: 1,
            tables: 1,
            rack_rods: 8,
            place: WorkPlaceForm::Outdoors,
            vessel: VesselForm::default(),
            room_c: 20.0,
            cure_c: None,
            region: RegionForm::Europe,
            hours: vec![HoursForm { from: "08:00".to_owned(), to: "20:00".to_owned() }],
            days_off: Vec::new(),
        }
    }
}

impl FileForm for WorkshopV1 {
    type Live = Workshop;

    fn live(self) -> Workshop {
        let Self { tubs, tub_l, sinks, washers, tables, rack_rods, room_c, cure_c, .. } = self;
        let (place, vessel, region) = (self.place.live(), self.vessel.live(), self.region.live());
        let (hours, days_off) = (self.hours.live(), self.days_off.live());
        // Files of this format have one vessel.
        let vessels = 1;
        Workshop {
            tubs,
            tub_l,
            sinks,
            washers,
            tables,
            rack_rods,
            place,
            vessel,
            vessels,
            room_c,
            cure_c,
            region,
            hours,
            days_off,
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde passes a reference")]
const fn is_one(count: &u32) -> bool {
    *count == 1
}

/// The workshop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WorkshopForm {
    /// Tubs: 1.
    pub tubs: u32,
    /// Water that a tub takes with the cloth in it, L: 30.
    pub tub_l: f64,
    /// Sinks: 1.
    pub sinks: u32,
    /// Washing machines: 1.
    pub washers: u32,
    /// Tables: 1.
    pub tables: u32,
    /// Rods that the rack takes: 8.
    pub rack_rods: u32,
    /// Where the discharge is done: outdoors.
    pub place: WorkPlaceForm,
    /// The vessel of the discharge.
    pub vessel: VesselForm,
    /// How many such vessels there are: 1.
    #[serde(skip_serializing_if = "is_one")]
    pub vessels: u32,
    /// Temperature of the room, C: 20.
    pub room_c: f64,
    /// Temperature that the wrapped rods are kept at while the dye fixes, C; the room's unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cure_c: Option<f64>,
    /// Whose limits and terms the cautions use: Europe's.
    pub region: RegionForm,
    /// Hours of hands-on work on a working day: 08:00 to 20:00.
    pub hours: Vec<HoursForm>,
    /// Days without hands-on work: none.
    pub days_off: Vec<WeekdayForm>,
}

impl Default for WorkshopForm {
    fn default() -> Self {
        Self {
            tubs: 1,
            tub_l: 30.0,
            sinks: 1,
            washers: 1,
            tables: 1,
            rack_rods: 8,
            place: WorkPlaceForm::Outdoors,
            vessel: VesselForm::default(),
            vessels: 1,
            room_c: 20.0,
            cure_c: None,
            region: RegionForm::Europe,
            hours: vec![HoursForm { from: "08:00".to_owned(), to: "20:00".to_owned() }],
            days_off: Vec::new(),
        }
    }
}

stands_for!(struct WorkshopForm for Workshop {
    tubs, tub_l, sinks, washers, tables, rack_rods, place, vessel, vessels, room_c, cure_c, region, hours, days_off
});
