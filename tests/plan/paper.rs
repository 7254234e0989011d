//! Card and plan on paper: everything is there, nothing leaves its page or stands on something else; read back by lopdf, and with
//! `PLEATWRIGHT_PRINT_DIR` set to a folder left there for `tests/reference/read_plan.py`.

use crate::{layout, process, recipe, regatta};
use kurbo::{Rect, Shape as _};
use pleatwright::layout::{Figures, Layout, Swatch, fingerprint};
use pleatwright::measure::{InchFraction, LengthStyle};
use pleatwright::plan::*;
use pleatwright::print::parts::*;
use pleatwright::print::*;
use pleatwright::reveal::Picture;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout, read_process, read_recipe};
use std::path::Path;

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn plan_of(name: &str) -> Plan {
    let layout = layout(name);
    let process = read_process(Path::new(usual_process(&layout))).unwrap();
    let recipe = read_recipe(Path::new(usual_recipe([&process]))).unwrap();
    Plan::new(&Order::of_layout(layout, recipe, process, Workshop::default()).unwrap(), start()).unwrap()
}

/// A picture of two halves: red and see-through.
fn picture() -> Picture {
    let row = [[[200, 30, 30, 255]; 300], [[0, 0, 0, 0]; 300]].concat();
    Picture { width: 600, height: 400, rgba: row.repeat(400).concat() }
}

fn texts(page: &Drawing) -> Vec<Text> {
    let text = |item: &Item| if let Shape::Text(text) = &item.shape { Some(text.clone()) } else { None };
    page.items.iter().filter_map(text).collect()
}

/// All words, line ends as spaces.
fn words(pages: &[Drawing]) -> String {
    pages.iter().flat_map(texts).map(|text| text.text).collect::<Vec<_>>().join(" ")
}

/// Capitals' heads to descenders' feet.
fn body(text: &Text) -> Rect {
    let body = Rect::new(0.0, -text.cap_height_mm, text.width_mm(), 0.25 * text.cap_height_mm);
    (text.drawing_from_text() * body.to_path(0.01)).bounding_box()
}

/// Nothing leaves the page, no words stand on others, on a line or on a picture, and all can be read at arm's length.
fn check_pages(name: &str, pages: &[Drawing]) {
    for (number, page) in pages.iter().enumerate() {
        let at = format!("{name}, page {}", number + 1);
        for item in &page.items {
            let reach = item.shape.bounding_box();
            assert!(
                page.bounds.inflate(0.6, 1.6).union(reach) == page.bounds.inflate(0.6, 1.6),
                "{at}: {item:?} leaves the page"
            );
        }
        let texts = texts(page);
        for (index, text) in texts.iter().enumerate() {
            // Cautions used to be set in nine points, the chart in eight.
            assert!(text.cap_height_mm >= TEN_POINTS_MM - 1e-9, "{at}: {text:?} is too small");
            for other in &texts[..index] {
                let common = body(text).intersect(body(other));
                assert!(common.width() <= 0.0 || common.height() <= 0.0, "{at}: {:?} stands on {:?}", text.text, other.text);
            }
        }
        let lines = page.items.iter().filter_map(|item| if let Shape::Line(line) = item.shape { Some(line) } else { None });
        for line in lines {
            // A line may touch a capital's head, not run through a word.
            let through =
                |text: &&Text| body(text).inflate(-0.2, -0.3).intersect(line.bounding_box().inflate(0.01, 0.01)).area() > 0.0;
            let struck = texts.iter().find(through);
            assert!(struck.is_none(), "{at}: {line:?} through {:?}", struck.map(|text| &text.text));
        }
        for image in page.items.iter().filter(|item| matches!(item.shape, Shape::Image(_))) {
            let reach = image.shape.bounding_box();
            assert!(texts.iter().all(|text| body(text).intersect(reach).area() <= 0.0), "{at}: words on the picture");
        }
    }
}

fn leave(name: &str, bytes: &[u8]) {
    if let Some(folder) = std::env::var_os("PLEATWRIGHT_PRINT_DIR") {
        let folder = Path::new(&folder).join("plan");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(name), bytes).unwrap();
    }
}

/// Type of ten points, by its capitals: 10/72 in, of which the font's capitals take 1456 of 2048 parts (the font's own table).
const TEN_POINTS_MM: f64 = 10.0 / 72.0 * 25.4 * 1456.0 / 2048.0;
const INCHES: LengthStyle = LengthStyle::Inches { nearest: InchFraction::Sixteenth };

/// The card of one garment with its day used to take three pages, its numbers in type of less than nine points.
#[test]
fn every_example_has_a_short_card_with_the_day_on_it() {
    let picture = picture();
    for (example, lengths) in EXAMPLE_LAYOUTS.iter().flat_map(|example| [(example, LengthStyle::default()), (example, INCHES)]) {
        let layout = parse_layout(example.text).unwrap();
        let (figures, plan) = (Figures::of(&layout), plan_of(example.name));
        let options = CardOptions { plan: Some(&plan), reveal: Some(&picture), ..CardOptions::default() };
        let pages = job_card_with(&layout, &figures, lengths, &options);
        // A discharge has a page of cautions of its own.
        let discharged = usize::from(plan.loads.iter().any(|load| load.discharge.is_some()));
        let most = 2 + discharged + (layout.ties().len() - 1) / 2;
        assert!(pages.len() <= most, "{}, {lengths:?}: {} pages", example.name, pages.len());
        check_card(example.name, &pages, &layout, &figures, lengths, &plan);
        let mark = format!("Layout {}, 2027-05-03.", fingerprint(layout.raw()));
        assert_eq!(words(&pages).matches(&mark).count(), 2, "{}", example.name);
    }
}

/// Everything a maker needs is on the card, and every number in type that is read at arm's length.
fn check_card(name: &str, pages: &[Drawing], layout: &Layout, figures: &Figures, lengths: LengthStyle, plan: &Plan) {
    check_pages(name, pages);
    let said = words(pages);
    for bind in &figures.binds {
        let from_mm = layout.from_zero_mm(bind.radius_mm);
        assert!(said.contains(&lengths.number(from_mm)), "{name}: bind {}", bind.number);
    }
    for dye in &plan.lines[0].each.dyes {
        assert!(said.contains(&dye.dye.to_string()), "{name}: {}", dye.colour);
    }
    for entry in &plan.timeline.entries {
        assert!(said.contains(&entry.step), "{name}: {}", entry.step);
    }
    for PlanCaution { caution, .. } in plan.cautions() {
        assert!(said.contains(&caution.text) && said.contains(caution.source), "{name}: {}", caution.text);
    }
    assert!(said.contains(DEFER) && said.contains(layout.name()));
    let mut in_box = false;
    for text in pages.iter().flat_map(texts) {
        in_box = (in_box || text.text == "Cautions") && text.text != "Notes";
        let is_number = !in_box && text.text.contains(|c: char| c.is_ascii_digit());
        assert!(!is_number || text.cap_height_mm >= TEN_POINTS_MM, "{name}: {text:?}");
    }
}

/// Many binds, many colours of long names, a long title and note: the card flows on and loses nothing.
#[test]
fn the_card_of_much_flows_on_and_loses_nothing() {
    let mut raw = layout("harbour-row-tee-2xl.ron").raw().clone();
    raw.name = "Harbour Row, the long and much amended name of a shirt for the club's oldest one".to_owned();
    raw.note = "A note of some length. ".repeat(12);
    let first = raw.colours.rotation[0].clone();
    raw.colours.rotation =
        (1..=9).map(|n| Swatch { name: format!("the {n}th blue of the club's boat house door"), ..first.clone() }).collect();
    let layout = Layout::try_from(raw).unwrap();
    let process = read_process(Path::new(usual_process(&layout))).unwrap();
    let recipe = read_recipe(Path::new(usual_recipe([&process]))).unwrap();
    let plan = Plan::new(&Order::of_layout(layout.clone(), recipe, process, Workshop::default()).unwrap(), start()).unwrap();
    let (figures, picture) = (Figures::of(&layout), picture());
    for lengths in [LengthStyle::default(), INCHES] {
        let options = CardOptions { plan: Some(&plan), reveal: Some(&picture), ..CardOptions::default() };
        let pages = job_card_with(&layout, &figures, lengths, &options);
        assert!((3..=4).contains(&pages.len()), "{} pages", pages.len());
        check_card("much", &pages, &layout, &figures, lengths, &plan);
    }
}

/// Without a plan the card is what it was, but for the layout's mark.
#[test]
fn without_a_plan_there_is_one_page() {
    let layout = layout("harbour-row-tee-m.ron");
    let figures = Figures::of(&layout);
    let pages = job_card_with(&layout, &figures, LengthStyle::default(), &CardOptions::default());
    assert_eq!(pages, job_card(&layout, &figures, LengthStyle::default()));
    assert!(pages.len() == 1 && words(&pages).contains(&format!("Layout {}.", fingerprint(layout.raw()))));
}

/// In an order a card shows its own garments' loads and steps, and no others'.
#[test]
fn a_card_in_an_order_is_about_its_own_garments() {
    let order = regatta();
    let plan = Plan::new(&order, start()).unwrap();
    for (line, own) in order.lines().iter().enumerate() {
        let options = CardOptions { plan: Some(&plan), line, ..CardOptions::default() };
        let pages = job_card_with(&own.layout, &own.figures, LengthStyle::default(), &options);
        check_pages(own.layout.name(), &pages);
        assert!(pages.len() <= 4, "{}: {} pages", own.layout.name(), pages.len());
        let said = words(&pages);
        assert!(said.contains(&format!("{} of it in \"Harbour Row regatta\".", own.count)));
        for load in &plan.loads {
            let is_own = load.items.iter().any(|item| item.line == line);
            assert_eq!(said.contains(&format!("load {}", load.number)), is_own, "{} in load {}", own.layout.name(), load.number);
        }
        // The tote is dyed plain: no discharge, no sulfur dioxide on its card.
        assert_eq!(said.contains("sulfur dioxide"), own.layout.name() != "Harbour Row tote", "{}", own.layout.name());
    }
}

#[test]
fn the_plans_sheets_say_it_all() {
    let plan = Plan::new(&regatta(), start()).unwrap();
    let pages = plan_sheets(&plan, PlanOptions::default());
    check_pages("regatta", &pages);
    let said = words(&pages);
    for needle in
        ["Shopping list", "60 g", "1 x 50 g", "Costs and asking price of one garment", "US teaspoons", "Cautions", "hands"]
    {
        assert!(said.contains(needle), "{needle}");
    }
    let costs = plan.costs.as_ref().unwrap();
    assert!(said.contains(&format!("{:.2} {}", costs.price, costs.currency)));
    for line in &plan.shopping {
        assert!(said.contains(&line.needed.to_string()), "{}", line.material);
    }
    // Every stretch of work has a row with a box, and every day a panel in the chart and a heading in the table.
    let stretches: usize = plan.timeline.entries.iter().map(|entry| entry.stretches.len()).sum();
    assert_eq!(said.matches('–').count(), stretches);
    for day in ["Monday 3 May 2027", "Friday 14 May 2027"] {
        assert_eq!(said.matches(day).count(), if day.starts_with("Mon") { 3 } else { 2 }, "{day}");
    }
    assert!(!said.contains("Sunday 9 May 2027") && !said.contains("for the method ="));
    let reckoned = plan_sheets(&plan, PlanOptions { formulas: true });
    check_pages("regatta with formulas", &reckoned);
    assert!(words(&reckoned).contains("x 1.5 for the method = "));
}

/// A deadline that can't be met stands framed on the first page.
#[test]
fn a_missed_deadline_stands_on_the_first_page() {
    let order = regatta();
    let (start, deadline) = ("2027-05-03T08:00".parse().unwrap(), "2027-05-06T08:00".parse().unwrap());
    let plan = Plan::new(&order, When::Between { start, deadline }).unwrap();
    let pages = plan_sheets(&plan, PlanOptions::default());
    check_pages("late regatta", &pages);
    let first = words(&pages[..1]);
    assert!(first.contains("Deadline") && first.contains("can't be met"), "{first}");
    // Long orders and long names.
    let mut process = process("plain-dye");
    process.steps[0].what = "word ".repeat(190);
    let order =
        Order::of_layout(layout("harbour-row-tote.ron"), recipe("powder-on-white"), process, Workshop::default()).unwrap();
    check_pages("long words", &plan_sheets(&Plan::new(&order, When::Start(start)).unwrap(), PlanOptions::default()));
}

/// Independent reader: lopdf. Pages, their names, words as words, and the picture as pixels.
#[test]
fn card_and_plan_are_read_back() {
    let (layout, plan, picture) = (layout("harbour-row-tee-m.ron"), plan_of("harbour-row-tee-m.ron"), picture());
    let figures = Figures::of(&layout);
    let card = CardOptions { plan: Some(&plan), reveal: Some(&picture), ..CardOptions::default() };
    let options =
        PrintOptions { paper: "A4".parse().unwrap(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    let document = print_parts_with(&layout, &figures, &[PartKind::JobCard], &options, &card).unwrap();
    let bytes = write_pdf(&document).unwrap();
    assert!(bytes == write_pdf(&document).unwrap() && bytes.len() < 250_000, "{} bytes", bytes.len());
    leave("card.pdf", &bytes);
    let file = lopdf::Document::load_mem(&bytes).unwrap();
    assert_eq!(file.get_pages().len(), 3);
    let said = file.extract_text(&[1, 2, 3]).unwrap().replace('\n', " ");
    for needle in ["soda ash soak", "4.21 L of water", "Cautions", "Have ready: soda ash", "Card 2", "at 25 °C"] {
        assert!(said.contains(needle), "{needle} in {said}");
    }
    let size = |object: &lopdf::Object| {
        let dictionary = &object.as_stream().ok()?.dict;
        let is_image = dictionary.get(b"Subtype").and_then(lopdf::Object::as_name).is_ok_and(|name| name == b"Image");
        let side = |key| dictionary.get(key).and_then(lopdf::Object::as_i64).ok();
        if is_image { Some((side(b"Width")?, side(b"Height")?)) } else { None }
    };
    assert_eq!(file.objects.values().filter_map(size).collect::<Vec<_>>(), [(600, 400)]);
    let regatta = Plan::new(&regatta(), start()).unwrap();
    let part = plan_part(&regatta, PlanOptions::default(), &options.paper, &options.tiling).unwrap();
    let bytes = write_pdf(&PdfDocument { title: part.title.clone(), parts: vec![part] }).unwrap();
    leave("plan.pdf", &bytes);
    let said = lopdf::Document::load_mem(&bytes).unwrap().extract_text(&[1]).unwrap().replace('\n', " ");
    assert!(said.contains("Harbour Row regatta") && said.contains("33 garments"), "{said}");
    // In a drawing for other programs the picture goes with it, or its edge.
    let [weighing, _, _] = &job_card_with(&layout, &figures, LengthStyle::default(), &card)[..] else { panic!("three pages") };
    let svg = write_svg(weighing).unwrap();
    let tree = roxmltree::Document::parse(&svg).unwrap();
    let image = tree.descendants().find(|node| node.has_tag_name("image")).unwrap();
    assert!(image.attribute("href").unwrap().starts_with("data:image/png;base64,iVBORw0KGgo"));
    assert!(write_dxf(weighing).is_ok());
}
