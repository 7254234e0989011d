//! One unit at a time: a layout by an inch rule shows no metric length anywhere in the window, and the other way round.

use crate::harness::{SIZE, TEE, Window, click, press, wait, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Shape};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use std::collections::{BTreeMap, BTreeSet};

/// What may not stand in the window.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Unwanted {
    Metric,
    Inches,
}

/// Words that name a unit by themselves.
const METRIC_WORDS: [&str; 10] =
    ["mm", "cm", "mm²", "cm²", "millimetre", "millimetres", "centimetre", "centimetres", "metre", "metres"];
const INCH_WORDS: [&str; 8] = ["inch", "inches", "yd", "yard", "yards", "ft", "feet", "in²"];
/// Signs that are lengths only behind a number: "m" and the word "in".
const METRIC_SIGN: &str = "m";
const INCH_SIGN: &str = "in";

impl Unwanted {
    /// Whether a text has such a length in it: "12.5 m" but not "5 min", "9 1/4 in" but not "19 in all".
    fn is_in(self, text: &str) -> bool {
        let (words, sign) = match self {
            Self::Metric => (&METRIC_WORDS[..], METRIC_SIGN),
            Self::Inches => (&INCH_WORDS[..], INCH_SIGN),
        };
        let parts: Vec<&str> =
            text.split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | ',' | ';' | ':' | '·')).collect();
        let parts: Vec<&str> = parts.into_iter().map(|part| part.trim_end_matches('.')).filter(|part| !part.is_empty()).collect();
        let is_number =
            |part: &str| part.starts_with(|c: char| c.is_ascii_digit()) && part.ends_with(|c: char| c.is_ascii_digit());
        // "100mm", as a number and a unit in one.
        let tail = |part: &str| part.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | '-')).to_owned();
        let names_unit = |part: &&str| words.contains(part) || (tail(part) != **part && words.contains(&tail(part).as_str()));
        let counts = |pair: &[&str]| is_number(pair[0]) && pair[1] == sign;
        parts.iter().any(names_unit) || parts.windows(2).any(counts)
    }
}

/// What names units because they are what it is about.
const ABOUT_UNITS: [&str; 16] = [
    // Which unit, and the marks of which rule.
    "Millimetres",
    "Centimetres",
    "Inches",
    "Show lengths in millimetres, whatever the layout's marks",
    "Show lengths in centimetres, whatever the layout's marks",
    "Show lengths in inches and sixteenths, and start new layouts in them",
    "every 1 mm",
    "every 5 mm",
    "every 1/8 in",
    "every 1/16 in",
    // Paper: either bar is printed on every sheet.
    "100 mm",
    "4 in",
    "Print at 100 % (actual size), not fit to page. Measure the bar below before cutting: 100 mm, 4 in.",
    // Cloth is sold by its grams a square metre.
    "Mass of a square metre of dry cloth; T-shirt jersey has 140 to 200",
    // What may be typed anywhere.
    "Not a unit of length: \"furlongs\"; use mm, cm, m, in, ft or yd",
    // The example's own note.
    "Laid with an inch rule: radii fall on eighths. One bind is held on the hem's stitching, one added over the sleeve.",
];

/// Every text that there is now, said or painted.
fn texts(window: &Window) -> Vec<String> {
    fn painted(shape: &Shape, texts: &mut Vec<String>) {
        match shape {
            Shape::Text(text) => texts.push(text.galley.text().to_owned()),
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| painted(shape, texts)),
            _ => {}
        }
    }
    let mut texts = Vec::new();
    for node in window.query_all(egui_kittest::kittest::by()) {
        let node = node.accesskit_node();
        // A line of a text that is broken over several is no text of its own.
        if node.role() == Role::TextRun {
            continue;
        }
        texts.extend(
            [node.label(), node.value(), node.description(), node.placeholder().map(str::to_owned)].into_iter().flatten(),
        );
    }
    window.output().shapes.iter().for_each(|clipped| painted(&clipped.shape, &mut texts));
    texts
}

/// On so many words of a view the pointer rests.
const MOST_WORDS: usize = 8;

/// What was looked at, and what was found that should not be there.
struct Look {
    unwanted: Unwanted,
    closely: bool,
    seen: BTreeSet<String>,
    /// Names and values of what the pointer rested on.
    rested_on: BTreeSet<String>,
    found: BTreeMap<String, String>,
}

impl Look {
    fn at(&mut self, window: &Window, place: &str) {
        for text in texts(window) {
            if !self.seen.contains(&text) && self.unwanted.is_in(&text) && !ABOUT_UNITS.contains(&text.as_str()) {
                self.found.entry(text.clone()).or_insert_with(|| place.to_owned());
            }
            self.seen.insert(text);
        }
    }

    /// The pointer rests on every control that it has not rested on, and on some of the words, so that hints show.
    fn hints(&mut self, window: &mut Window, place: &str) {
        self.at(window, place);
        if !self.closely {
            return;
        }
        let room = egui::Rect::from_min_size(egui::Pos2::ZERO, SIZE);
        let mut words = 0;
        let spots: Vec<egui::Pos2> = window
            .query_all(egui_kittest::kittest::by())
            .filter(|node| node.accesskit_node().raw_bounds().is_some() && room.contains(node.rect().center()))
            .filter(|node| match node.accesskit_node().role() {
                Role::TextInput | Role::ComboBox | Role::CheckBox | Role::Button | Role::Tab | Role::Slider => true,
                Role::Label => {
                    words += 1;
                    words < MOST_WORDS
                }
                _ => false,
            })
            .filter(|node| {
                self.rested_on.insert(format!("{:?} {:?}", node.accesskit_node().label(), node.accesskit_node().value()))
            })
            .map(|node| node.rect().center())
            .collect();
        for spot in spots {
            window.hover_at(spot);
            window.step();
            window.step();
            self.at(window, place);
        }
        window.hover_at(egui::Pos2::ZERO);
        window.step();
    }

    /// What each control opens, which is then put away again.
    fn opened(&mut self, window: &mut Window, role: Role, place: &str) {
        if !self.closely {
            return;
        }
        let names: Vec<String> = window.query_all_by_role(role).filter_map(|node| node.accesskit_node().label()).collect();
        for name in names {
            let Some(node) = window.query_all_by_role(role).find(|node| node.accesskit_node().label().as_ref() == Some(&name))
            else {
                continue;
            };
            node.scroll_to_me();
            window.run_ok();
            window.query_all_by_role(role).find(|node| node.accesskit_node().label().as_ref() == Some(&name)).unwrap().click();
            window.run_ok();
            self.at(window, &format!("{place}, {name}"));
            press(window, Modifiers::NONE, Key::Escape);
        }
    }
}

/// Goes through every step and every view of the window, with the pointer on every control and every choice opened, or in short; what is
/// in the unwanted unit, and where it stood.
fn looked_through(layout: &str, units: Option<&str>, unwanted: Unwanted) -> BTreeMap<String, String> {
    let home = tempfile::tempdir().unwrap();
    let mut window = window_with(home.path(), None, SIZE);
    window.ctx.all_styles_mut(|style| style.interaction.tooltip_delay = 0.0);
    // What is only chosen in the window goes the same ways: there the hints are known.
    let closely = units.is_none();
    let mut look = Look { unwanted, closely, seen: BTreeSet::new(), rested_on: BTreeSet::new(), found: BTreeMap::new() };
    click(&mut window, layout);
    if let Some(units) = units {
        find(&mut window, units);
    }
    for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
        click(&mut window, &format!("View {step}"));
        views(&mut window, step, &mut look);
    }
    click(&mut window, "View Fold");
    for menu in ["File", "Edit", "View", "Help"] {
        click(&mut window, menu);
        look.hints(&mut window, menu);
        press(&mut window, Modifiers::NONE, Key::Escape);
    }
    dialogs(&mut window, &mut look);
    refusals(&mut window, &mut look);
    look.found
}

fn find(window: &mut Window, words: &str) {
    press(window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text(words);
    window.run_ok();
    press(window, Modifiers::NONE, Key::Enter);
}

/// A step with all that can be looked at in it.
fn views(window: &mut Window, step: &str, look: &mut Look) {
    match step {
        "Fold" => {
            for showing in ["Front, opened", "Back, opened", "As laid"] {
                click(window, showing);
                look.at(window, showing);
            }
        }
        "Reveal" => {
            click(window, "Hand wander");
            click(window, "Calibration");
            wait(window, "the table of sections", |window| window.query_by_label("Reached").is_some());
        }
        "Sheets" => {
            wait(window, "the sheets", |window| window.query_by_label_contains("sheets on").is_some());
            click(window, "day on the job card");
            for _ in 0..60 {
                std::thread::sleep(std::time::Duration::from_millis(20));
                window.run_ok();
            }
            look.at(window, "sheets");
            click(window, "Assembled");
            look.at(window, "sheets, assembled");
            click(window, "Single sheets");
        }
        "Day" => {
            write(window, "Date and time", "2055-05-03 08:00");
            wait(window, "the plan", |window| window.query_by_label("Shopping list").is_some());
            click(window, "Formulas");
            for view in ["Times", "Cautions", "Run", "To weigh"] {
                click(window, view);
                look.hints(window, view);
            }
            click(window, "Start the run");
            look.hints(window, "the run");
        }
        "Journal" => {
            write(window, "Made on", "2027-05-06");
            click(window, "Add to the journal");
            look.hints(window, "an entry");
        }
        _ => {}
    }
    look.at(window, step);
    look.hints(window, step);
    look.opened(window, Role::ComboBox, step);
}

fn dialogs(window: &mut Window, look: &mut Look) {
    for words in ["Keys and pointer", "Print to file", "Save as", "Save the day's plan", "Compare with a file"] {
        find(window, words);
        look.at(window, words);
        press(window, Modifiers::NONE, Key::Escape);
        press(window, Modifiers::NONE, Key::Escape);
    }
    for letters in ["", "show", "go"] {
        press(window, Modifiers::COMMAND, Key::K);
        if !letters.is_empty() {
            window.get_by_role_and_label(Role::TextInput, "Find a command").type_text(letters);
        }
        window.run_ok();
        look.at(window, "the finder");
        press(window, Modifiers::NONE, Key::Escape);
    }
}

/// What is said of values that can't be, and of those that were moved to a mark.
fn refusals(window: &mut Window, look: &mut Look) {
    for (step, field, texts) in [
        ("View Garment", "Half chest", &["9999", "12 furlongs", "e", "1/0"][..]),
        ("View Garment", "Thickness, free", &["900", "0"]),
        ("View Fold", "Guide arc", &["99999", "8.2"]),
        ("View Fold", "Pleat depth", &["9999", "0"]),
        ("View Rod", "Thickness", &["9999", "0"]),
        ("View Sheets", "Printer's margin", &["9999", "-1"]),
        ("View Sheets", "Or size", &["1x1", "a bed sheet", "30x40"]),
    ] {
        click(window, step);
        for text in texts {
            write(window, field, text);
            look.at(window, &format!("{field} {text}"));
            look.hints(window, &format!("{field} {text}"));
            press(window, Modifiers::COMMAND, Key::Z);
        }
    }
}

fn listed(found: &BTreeMap<String, String>) -> String {
    found.iter().map(|(text, place)| format!("{place}: {text:?}")).collect::<Vec<_>>().join("\n")
}

/// The printer's bar, thicknesses, thread and the plan's formulas were in millimetres beside inches.
#[test]
fn inches_leave_no_millimetres_behind() {
    let found = looked_through("Harbour Row tee, 2XL", None, Unwanted::Metric);
    assert!(found.is_empty(), "{}", listed(&found));
}

/// The same where inches were chosen for a layout with a metric rule: its plan stayed in metres.
#[test]
fn chosen_inches_leave_no_millimetres_behind() {
    let found = looked_through(TEE, Some("Inches"), Unwanted::Metric);
    assert!(found.is_empty(), "{}", listed(&found));
}

#[test]
fn a_metric_layout_shows_no_inches() {
    let found = looked_through(TEE, None, Unwanted::Inches);
    assert!(found.is_empty(), "{}", listed(&found));
}

/// Centimetres, chosen for a layout with an inch rule.
#[test]
fn chosen_centimetres_leave_no_inches_behind() {
    let found = looked_through("Harbour Row tee, 2XL", Some("Centimetres"), Unwanted::Inches);
    assert!(found.is_empty(), "{}", listed(&found));
}

#[test]
fn lengths_are_told_from_other_words() {
    for text in ["12.345 m of thread", "100 mm bar", "x cm²", "up to 30mm", "Seeping, per mm", "(25.4 mm)"] {
        assert!(Unwanted::Metric.is_in(text), "{text}");
    }
    for text in ["5 min", "3 mL", "140 g/m²", "12 months", "M", "917 kg/m³", "1/4 in", "in 4 m² of"] {
        assert!(!Unwanted::Metric.is_in(text), "{text}");
    }
    for text in ["9 1/4 in", "13 yd", "2 inches", "0.016 in of cloth"] {
        assert!(Unwanted::Inches.is_in(text), "{text}");
    }
    for text in ["binds in all", "in the shade", "12 min", "Rod inside"] {
        assert!(!Unwanted::Inches.is_in(text), "{text}");
    }
}
