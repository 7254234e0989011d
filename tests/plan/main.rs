//! The day: masses, orders, timetables, cautions, calendar files; each against something outside the project, named beside it.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

#[path = "../common/mod.rs"]
mod common;

mod alarm;
mod chemistry;
mod discharge;
mod edited;
mod files;
mod hand;
mod hot_soak;
mod ice;
mod journal;
mod masses;
mod melting;
mod order_print;
mod orders;
mod output;
mod paper;
mod portions;
mod refusals;
mod replan;
mod run;
mod salvage;
mod shelf;
mod spoken;
mod timetable;
mod untimely;

use pleatwright::layout::Layout;
use pleatwright::plan::{OfGarments, Order, Process, Recipe};
use pleatwright::store::*;
use pleatwright::telling::{Voice, Warned};
use std::path::{Path, PathBuf};

/// A warning as the command line says it.
fn warned(warning: &impl Warned) -> String {
    warning.say(Voice::FILE)
}

/// A layout that comes with the program.
fn layout(name: &str) -> Layout {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap();
    parse_layout(example.text).unwrap()
}

fn recipe(name: &str) -> Recipe {
    read_recipe(Path::new(name)).unwrap()
}

fn process(name: &str) -> Process {
    read_process(Path::new(name)).unwrap()
}

fn regatta_path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/orders/harbour-row-regatta.ron")
}

fn regatta() -> Order {
    read_order(&regatta_path()).unwrap()
}

/// One medium tee, discharged and dyed under ice, its scrap tested before.
fn tested_tee() -> Order {
    let of = OfGarments { scrap_tested: true, ..OfGarments::default() };
    Order::of_garments(layout("harbour-row-tee-m.ron"), of, recipe("powder-under-ice"), process("discharge-and-dye")).unwrap()
}
