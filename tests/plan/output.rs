//! What is written: calendar and text, and the program that writes them.

use crate::{regatta, regatta_path};
use icalendar::parser::{read_calendar, unfold};
use pleatwright::plan::*;
use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

fn plan() -> Plan {
    Plan::new(&regatta(), When::Start("2027-05-03T08:00".parse().unwrap())).unwrap()
}

/// RFC 5545, read back by the crate icalendar: lines of at most 75 octets that end in CRLF, unique identifiers, stamps, texts as meant.
#[test]
fn the_calendar_reads_back() {
    let plan = plan();
    let text = calendar_text(&plan, None);
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    assert!(text.split("\r\n").all(|line| line.len() <= 75));
    let unfolded = unfold(&text);
    let calendar = read_calendar(&unfolded).unwrap();
    let events: Vec<_> = calendar.components.iter().filter(|part| part.name == "VEVENT").collect();
    let stretches: usize = plan.timeline.entries.iter().map(|entry| entry.stretches.len()).sum();
    assert_eq!(events.len(), stretches);
    let property = |event: &icalendar::parser::Component<'_>, name: &str| {
        event.find_prop(name).map(|property| property.val.to_string()).unwrap_or_else(|| panic!("no {name}"))
    };
    let uids: BTreeSet<String> = events.iter().map(|event| property(event, "UID")).collect();
    assert_eq!(uids.len(), events.len());
    for event in &events {
        assert_eq!(property(event, "DTSTAMP"), "20270503T080000Z");
        assert!(property(event, "DTSTART") < property(event, "DTEND"));
    }
    let unescaped = |text: String| text.replace("\\n", "\n").replace("\\,", ",").replace("\\;", ";").replace("\\\\", "\\");
    let discharge = events.iter().find(|event| property(event, "SUMMARY").contains("discharge")).unwrap();
    let description = unescaped(property(discharge, "DESCRIPTION"));
    assert!(unescaped(unfolded.clone()).contains(" °C") && !unfolded.contains("0 C"));
    assert!(description.ends_with(DEFER) && description.contains("near-boiling water"), "{description}");
}

#[test]
fn the_same_plan_gives_the_same_bytes_and_a_later_one_the_same_identifiers() {
    let (first, second) = (plan(), plan());
    assert_eq!(calendar_text(&first, None), calendar_text(&second, None));
    assert_eq!(plan_text(&first, true), plan_text(&second, true));
    let later = Plan::new(&regatta(), When::Start("2027-05-10T08:00".parse().unwrap())).unwrap();
    let uids = |plan: &Plan| -> Vec<String> {
        let text = calendar_text(plan, None).replace("\r\n ", "");
        text.lines().filter(|line| line.starts_with("UID:")).map(str::to_owned).collect()
    };
    assert_eq!(uids(&first), uids(&later));
}

/// A maker can follow it: every load, colour, step and caution is named; a line fits the sheet; formulas are there on request.
#[test]
fn the_text_says_it_all() {
    let plan = plan();
    let text = plan_text(&plan, false);
    for needle in [
        "Load 4:",
        "teal",
        "soda ash soak",
        "Shopping list",
        "EUR",
        "sulfur dioxide",
        "at 25 °C",
        DEFER.split(" and ").next().unwrap(),
    ] {
        assert!(text.contains(needle), "{needle}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 130));
    assert!(!text.contains("% (full) / 100") && plan_text(&plan, true).contains("% (full) / 100 x 1.5 for the method"));
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_pleatwright")).arg("plan").args(arguments).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn the_command_line_plans_orders_and_layouts() {
    let folder = tempfile::tempdir().unwrap();
    let order = regatta_path();
    let order = order.to_str().unwrap();
    let ics = folder.path().join("regatta.ics");
    let (status, said, _) = run(&[order, "--start", "2027-05-03T08:00", "-o", ics.to_str().unwrap()]);
    assert_eq!(status, 0);
    assert!(said.contains("Harbour Row regatta"), "{said}");
    assert_eq!(std::fs::read_to_string(&ics).unwrap(), calendar_text(&plan(), None));
    let (status, json, _) = run(&[order, "--deadline", "2027-06-12", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((status, json["garments"].as_u64()), (0, Some(33)));
    let layout = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/harbour-row-tee-m.ron");
    let layout = layout.to_str().unwrap();
    let (status, said, _) = run(&[layout, "--start", "2027-05-03 09:00", "--formulas"]);
    assert!(status == 0 && said.contains("1 garment,") && said.contains("discharge"), "{said}");
    let (pdf, svg) = (folder.path().join("plan.pdf"), folder.path().join("plan.svg"));
    let (status, said, _) = run(&[order, "--start", "2027-05-03T08:00", "--paper", "letter", "-o", pdf.to_str().unwrap()]);
    assert!(status == 0 && said.contains("steps") && std::fs::read(&pdf).unwrap().starts_with(b"%PDF"), "{said}");
    let (status, said, _) = run(&["--list"]);
    assert_eq!(status, 0);
    for name in
        ["powder-under-ice: Powder under ice.", "powder-on-white: ", "discharge-and-dye: ", "plain-dye: Plain dye on white."]
    {
        assert!(said.contains(name), "{name} in {said}");
    }
    let missing = folder.path().join("no/folder/plan.txt");
    let recipe = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/recipes/powder-on-white.ron");
    let refusals: [(&[&str], i32, &str); 10] = [
        (&[layout, "--start", "2027-05-03", "--recipe", "ice"], 2, "are powder-under-ice, powder-on-white"),
        (&["--start", "2027-05-03"], 2, "FILE"),
        (&[recipe.to_str().unwrap(), "--start", "2027-05-03"], 2, "this is a recipe; name a layout or an order"),
        (
            &[order, "--start", "2027-05-03", "-o", svg.to_str().unwrap()],
            2,
            "not the name of a plan; end it in .pdf, .ics or .txt",
        ),
        (&[order, "--start", "2027-05-03", "--paper", "A4"], 2, "--paper: it applies to PDF only"),
        (&[order, "--start", "2027-05-03", "-o", missing.to_str().unwrap()], 1, "could not be written"),
        (&[order, "--start", "soon"], 2, "2027-05-03T09:00"),
        (&[order], 2, "--start"),
        (&[layout, "--start", "2027-05-03", "--place", "indoors:30"], 2, "sulfur dioxide"),
        (
            &[order, "--start", "2027-05-03", "--place", "outdoors"],
            2,
            "--place: it applies to a layout; an order has its own; write ",
        ),
    ];
    for (arguments, expected, words) in refusals {
        let (status, _, complaint) = run(arguments);
        assert!(status == expected && complaint.contains(words), "{arguments:?}: {status} {complaint}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
}
