//! Figures of the examples, by their paths in the JSON that the command line gives.

use crate::layout::{Figures, Layout};
use crate::measure::{LengthStyle, RuleMarks};
use crate::plan::{Plan, Unit, When};
use crate::store::{EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, OfLayout, order_of_layout, parse_layout, parse_order};
use jiff::civil::date;
use serde_json::Value;
use std::sync::LazyLock;

/// What the names of all example layouts begin with, which pages leave out.
const OURS: &str = "harbour-row-";

/// An example layout by its short name, such as `tee-m`.
pub(in crate::handbook) fn example(name: &str) -> Option<Layout> {
    let found = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().strip_prefix(OURS) == Some(name))?;
    parse_layout(found.text).ok()
}

/// A figure of an example layout.
pub(super) fn of_layout(name: &str, path: &str) -> Option<String> {
    // The two that pages speak of most.
    static KEPT: LazyLock<[(&str, Option<Value>); 2]> =
        LazyLock::new(|| ["tee-m", "heart-tee-m"].map(|name| (name, figures(name))));
    let kept = KEPT.iter().find(|(kept, _)| *kept == name);
    kept.map_or_else(|| figures(name), |(_, value)| value.clone()).and_then(|value| said(&value, path))
}

fn figures(name: &str) -> Option<Value> {
    serde_json::to_value(Figures::of(&example(name)?)).ok()
}

/// The plan of one garment of the first example, by the usual recipe and process in the usual workshop. Any start serves: pages say nothing of days.
pub(super) fn plan() -> Option<&'static Plan> {
    static PLAN: LazyLock<Option<Plan>> = LazyLock::new(|| {
        let order = order_of_layout(example("tee-m")?, OfLayout { count: 1, ..OfLayout::default() }).ok()?;
        Plan::new(&order, When::Start(date(2027, 6, 7).at(8, 0, 0, 0))).ok()
    });
    PLAN.as_ref()
}

/// A figure of that plan.
pub(super) fn of_plan(path: &str) -> Option<String> {
    static VALUE: LazyLock<Option<Value>> = LazyLock::new(|| serde_json::to_value(plan()?).ok());
    said(VALUE.as_ref()?, path)
}

/// What there is to say of the example order.
pub(super) fn of_order(what: &str) -> Option<String> {
    let order = parse_order(EXAMPLE_ORDERS[0].text).ok()?;
    match what {
        "garments" => Some(order.lines.iter().map(|line| line.count).sum::<u32>().to_string()),
        "rows" => Some(order.lines.len().to_string()),
        _ => None,
    }
}

/// The value at a path, in words: lengths, masses and areas by the unit in the nearest name that has one.
fn said(value: &Value, path: &str) -> Option<String> {
    let (mut found, mut unit) = (value, None);
    for part in path.split('.') {
        if part == "count" {
            return found.as_array().map(|items| items.len().to_string());
        }
        found = step(found, part)?;
        unit = ["_mm2", "_mm", "_g"].into_iter().find(|unit| part.ends_with(unit)).or(unit);
    }
    let number = found.as_f64();
    match (number, unit) {
        (Some(mm), Some("_mm")) if path == "thread_mm" => Some(RuleMarks::Millimetres1.lengths().format_long(mm)),
        (Some(mm), Some("_mm")) => Some(LengthStyle::MILLIMETRES.format(mm)),
        (Some(mm2), Some("_mm2")) => Some(LengthStyle::MILLIMETRES.format_area(mm2)),
        (Some(g), Some("_g")) => Some(Unit::Gram.say(g)),
        (Some(number), _) => Some(crate::measure::neat(number)),
        (None, _) => found.as_str().map(str::to_owned).or_else(|| amount(found)),
    }
}

/// A field; or an item of a list by the name or the number that it bears, else by its place from 0.
fn step<'a>(value: &'a Value, part: &str) -> Option<&'a Value> {
    let Some(items) = value.as_array() else { return value.get(part) };
    let number = part.parse::<usize>().ok();
    let bears = |item: &&Value| {
        item.get("name").is_some_and(|name| name == part)
            || number.is_some_and(|number| item.get("number").and_then(Value::as_u64) == u64::try_from(number).ok())
    };
    items.iter().find(bears).or_else(|| items.get(number?))
}

/// An amount with its unit.
fn amount(value: &Value) -> Option<String> {
    const UNITS: [Unit; 9] = [
        Unit::Gram,
        Unit::Litre,
        Unit::Metre,
        Unit::Millilitre,
        Unit::Millimetre,
        Unit::Celsius,
        Unit::Minute,
        Unit::Hour,
        Unit::Ph,
    ];
    let sign = value.get("unit")?;
    let unit = UNITS.into_iter().find(|unit| serde_json::to_value(unit).is_ok_and(|own| own == *sign))?;
    Some(unit.say(value.get("value")?.as_f64()?))
}
