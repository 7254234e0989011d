//! Plan and sheets for an order of a hundred garments in three sizes, and plans for one of sixteen hundred.

#![allow(clippy::unwrap_used, reason = "a benchmark that can't begin should stop")]

use pleatwright::plan::{Order, OrderParts, OrderSpec, Plan, Process, Recipe, When, calendar_text};
use pleatwright::print::TilingOptions;
use pleatwright::print::parts::{OrderPrint, OrderPrintOptions, PartKind, PrintOptions, TemplateOptions};
use pleatwright::reveal::Cancel;
use pleatwright::store::{
    EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, parse_layout, parse_order, parse_process, parse_recipe,
};
use std::path::Path;

fn main() {
    divan::main();
}

/// The example's workshop with a hundred tees in S, M and 2XL, all from files already read.
fn hundred() -> (OrderSpec, OrderParts) {
    tees([30, 50, 20])
}

/// The same workshop with so many tees in S, M and 2XL.
fn tees(counts: [u32; 3]) -> (OrderSpec, OrderParts) {
    let mut raw = parse_order(EXAMPLE_ORDERS[0].text).unwrap();
    raw.lines.retain(|line| line.size.is_none() && line.process.is_none());
    for (line, count) in raw.lines.iter_mut().zip(counts) {
        line.count = count;
    }
    let layout = |name: &str| {
        let example = EXAMPLE_LAYOUTS.iter().find(|example| name.ends_with(example.name)).unwrap();
        parse_layout(example.text).unwrap()
    };
    let layouts = raw.lines.iter().map(|line| layout(&line.layout)).collect();
    let recipe: Recipe = parse_recipe(EXAMPLE_RECIPES[0].text).unwrap();
    let process: Process = parse_process(EXAMPLE_PROCESSES[0].text).unwrap();
    (raw, OrderParts { recipes: vec![recipe], processes: vec![("discharge-and-dye".to_owned(), process)], layouts })
}

/// Template, strips and job card with its day, a PDF a size, and the plan: made, not written.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn hundred_garments_printed(bencher: divan::Bencher<'_, '_>) {
    let (raw, parts) = hundred();
    let order = Order::new(raw, parts).unwrap();
    let plan = Plan::new(&order, start()).unwrap();
    let print =
        PrintOptions { paper: "A4".parse().unwrap(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    let options = OrderPrintOptions { print, kinds: PartKind::ALL.to_vec(), formulas: false, pictures: false };
    let job = OrderPrint { order: &order, plan: &plan, folder: Path::new("."), options: &options };
    bencher.bench_local(|| {
        let files = job.files(&Cancel::new(), &|_| {}).unwrap();
        assert_eq!(files.len(), 4);
        files.iter().map(|file| file.bytes.len()).sum::<usize>()
    });
}

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

/// Figures, masses, loads, timetable, shopping, costs and calendar file.
#[divan::bench]
fn hundred_garments_forward(bencher: divan::Bencher<'_, '_>) {
    let (raw, parts) = hundred();
    bencher.bench_local(|| {
        let order = Order::new(raw.clone(), parts.clone()).unwrap();
        assert_eq!(order.garments(), 100);
        calendar_text(&Plan::new(&order, start()).unwrap(), None).len()
    });
}

#[divan::bench]
fn hundred_garments_backward(bencher: divan::Bencher<'_, '_>) {
    let (raw, parts) = hundred();
    let deadline = When::Deadline("2027-07-03T18:00".parse().unwrap());
    bencher.bench_local(|| {
        let order = Order::new(raw.clone(), parts.clone()).unwrap();
        calendar_text(&Plan::new(&order, deadline).unwrap(), None).len()
    });
}

/// As large an order as there is room for: in about proportion to the hundred's.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn sixteen_hundred_garments_forward(bencher: divan::Bencher<'_, '_>) {
    let (raw, parts) = tees([480, 800, 320]);
    bencher.bench_local(|| {
        let order = Order::new(raw.clone(), parts.clone()).unwrap();
        assert_eq!(order.garments(), 1600);
        calendar_text(&Plan::new(&order, start()).unwrap(), None).len()
    });
}

/// The same on a rack for one rod: sixteen hundred loads.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn sixteen_hundred_loads_forward(bencher: divan::Bencher<'_, '_>) {
    let (mut raw, parts) = tees([480, 800, 320]);
    raw.workshop.rack_rods = 1;
    bencher.bench_local(|| {
        let order = Order::new(raw.clone(), parts.clone()).unwrap();
        calendar_text(&Plan::new(&order, start()).unwrap(), None).len()
    });
}
