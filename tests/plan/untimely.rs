//! Deadlines that can't be met and beginnings that are past: every cure that is named is planned again by itself.

use crate::{layout, process, recipe, regatta, tested_tee};
use jiff::civil::DateTime;
use pleatwright::plan::*;
use pleatwright::print::parts::{PlanOptions, plan_sheets};
use pleatwright::print::{Drawing, Shape};
use pleatwright::reveal::Cancel;
use pleatwright::store::{parse_run, run_text};

fn when(text: &str) -> DateTime {
    text.parse().unwrap()
}

fn at(order: &Order, asked: When, now: &str) -> Plan {
    Plan::at(order, asked, when(now), &WallClock::unchanged(), &Cancel::new()).unwrap()
}

fn tees(count: u32, change: impl FnOnce(&mut Workshop)) -> Order {
    let mut workshop = Workshop::default();
    change(&mut workshop);
    let of = OfGarments { count, workshop, scrap_tested: true };
    Order::of_garments(layout("harbour-row-tee-m.ron"), of, recipe("powder-under-ice"), process("discharge-and-dye")).unwrap()
}

/// When everything is over, begun at a time.
fn ends(order: &Order, from: &str) -> DateTime {
    Plan::new(order, When::Start(when(from))).unwrap().timeline.ends
}

const NOW: &str = "2027-05-03T08:00";

/// It once gave a plan that began eight months ago, without a word.
#[test]
fn a_deadline_that_is_past_is_said_with_the_earliest_end() {
    let order = tested_tee();
    let plan = at(&order, When::Deadline(when("2026-09-04T17:00")), NOW);
    assert_eq!(plan.timeline.begins, when(NOW), "what can't begin in the past begins now");
    let untimely = plan.untimely.unwrap();
    assert_eq!((untimely.ends, untimely.past), (ends(&order, NOW), None));
    let missed = untimely.missed.as_ref().unwrap();
    assert!(missed.cures.is_empty());
    assert_eq!(missed.by_min, when("2026-09-04T17:00").duration_until(untimely.ends).as_mins());
    let said = untimely.sentences();
    assert!(
        said[0].starts_with("The deadline has passed: Friday 4 September 2026, 17:00. Starting now, the work ends "),
        "{said:?}"
    );
}

/// As many garments as are named meet it, and one more does not; so with the hour of closing.
#[test]
fn what_would_meet_a_deadline_is_planned_and_not_guessed() {
    let order = tees(40, |_| ());
    // An hour before the end of all 40: some fewer would do, or a longer day.
    let deadline = ends(&order, NOW).checked_sub(jiff::SignedDuration::from_hours(1)).unwrap();
    let plan = at(&order, When::Deadline(deadline), NOW);
    let untimely = plan.untimely.unwrap();
    let missed = untimely.missed.as_ref().unwrap();
    assert_eq!((untimely.from, untimely.ends, missed.by_min), (when(NOW), ends(&order, NOW), 60));
    let count =
        missed.cures.iter().find_map(|cure| if let Cure::Garments { count, of: 40 } = cure { Some(*count) } else { None });
    let count = count.unwrap();
    assert!(ends(&tees(count, |_| ()), NOW) <= deadline && ends(&tees(count + 1, |_| ()), NOW) > deadline, "{count}");
    let hours: Vec<_> = missed
        .cures
        .iter()
        .filter_map(|cure| if let Cure::Hours { until, days } = cure { Some((until, days)) } else { None })
        .collect();
    assert!(!hours.is_empty(), "{:?}", missed.cures);
    for (until, days) in hours {
        let longer = tees(40, |shop| {
            shop.days_off.retain(|day| !days.contains(day));
            if let Some(until) = until {
                shop.hours.last_mut().unwrap().to.clone_from(until);
            }
        });
        assert!(ends(&longer, NOW) <= deadline, "{until:?} {days:?}");
    }
    let said = untimely.sentences();
    assert!(said[0].starts_with("The deadline can't be met: ") && said[0].ends_with(": 1 h late."), "{said:?}");
    assert!(said[1].contains(&format!("make the first {count} of the 40 garments")), "{said:?}");
}

#[test]
fn an_earlier_start_is_named_where_it_is_still_to_come() {
    let order = tested_tee();
    let (start, deadline) = (when("2027-05-10T08:00"), when("2027-05-10T20:00"));
    let plan = at(&order, When::Between { start, deadline }, NOW);
    let missed = plan.untimely.unwrap().missed.unwrap();
    let Some(Cure::Begin { by }) = missed.cures.first() else { panic!("{:?}", missed.cures) };
    assert!(*by >= when(NOW) && *by < start);
    assert!(Plan::new(&order, When::Start(*by)).unwrap().timeline.ends <= deadline);
    // On the day itself there is no time left to begin earlier.
    let late = at(&order, When::Between { start, deadline }, "2027-05-10T08:00").untimely.unwrap().missed.unwrap();
    assert!(!late.cures.iter().any(|cure| matches!(cure, Cure::Begin { .. })), "{:?}", late.cures);
}

#[test]
fn a_plan_that_begins_in_the_past_says_so() {
    let order = tested_tee();
    let plan = at(&order, When::Start(when("2027-05-02T08:00")), "2027-05-04T09:30");
    let untimely = plan.untimely.as_ref().unwrap();
    assert_eq!(untimely.past, Some(plan.timeline.begins));
    assert_eq!(untimely.ends, ends(&order, "2027-05-04T09:30"));
    assert!(
        untimely.sentences()[0].starts_with("The plan starts in the past: Sunday 2 May 2027, 08:00."),
        "{:?}",
        untimely.sentences()
    );
    // What lies ahead is no matter.
    assert_eq!(at(&order, When::Start(when("2027-05-05T08:00")), "2027-05-04T09:30").untimely, None);
    // Still in time, though the latest start is not.
    let deadline = ends(&order, "2027-05-04T09:30").checked_add(jiff::SignedDuration::from_mins(1)).unwrap();
    let tight = at(&order, When::Deadline(deadline), "2027-05-04T09:30");
    assert!(tight.untimely.is_none() && tight.timeline.begins >= when("2027-05-04T09:30") && tight.timeline.ends <= deadline);
}

fn words(pages: &[Drawing]) -> String {
    let text = |item: &pleatwright::print::Item| if let Shape::Text(text) = &item.shape { Some(text.text.clone()) } else { None };
    pages.iter().flat_map(|page| page.items.iter().filter_map(text)).collect::<Vec<_>>().join(" ")
}

/// In the text and on the sheets it stands before anything else of the plan.
#[test]
fn text_and_sheets_say_it_first() {
    let order = regatta();
    let plan = at(&order, When::Between { start: when(NOW), deadline: when("2027-05-06T08:00") }, NOW);
    let text = plan_text(&plan, false);
    assert!(text.lines().nth(2).unwrap().starts_with("! The deadline can't be met: Thursday 6 May 2027, 08:00."), "{text}");
    let first = words(&plan_sheets(&plan, PlanOptions::default())[..1]);
    let place = |words: &str| first.find(words).unwrap_or_else(|| panic!("{words}: {first}"));
    assert!(place("The deadline can't be met") < place("of dry cloth"));
    assert!(!first.contains("after the deadline"), "said once");
}

/// Left alone, a run that was to be in time says at once that it no longer is.
#[test]
fn a_run_says_that_its_deadline_is_missed() {
    let order = tested_tee();
    let deadline = when("2027-05-07T18:00");
    let plan = at(&order, When::Deadline(deadline), NOW);
    assert_eq!(plan.untimely, None);
    let run = parse_run(&run_text(&Run::of(&plan).unwrap())).unwrap();
    assert_eq!(run.raw().deadline, Some(deadline), "its file keeps it");
    assert!(run.replan(plan.timeline.begins).unwrap().endangered.is_empty());
    let late = run.replan(when("2027-05-07T17:00")).unwrap();
    let Some(Endangered::Deadline { ends, by_min, .. }) = late.endangered.first() else { panic!("{:?}", late.endangered) };
    assert_eq!((*ends, *by_min), (late.ends, deadline.duration_until(late.ends).as_mins()));
    let said = late.endangered[0].to_string();
    assert!(said.starts_with("the deadline, Friday 7 May, 18:00, can't be met: the work ends "), "{said}");
}
