//! `figures`: every computed number.

use super::arguments::{FiguresArguments, Units};
use super::{CliError, counted, cut};
use pleatwright::layout::{BindFigures, Figures, SectionFigures};
use pleatwright::measure::LengthStyle;
use pleatwright::store::read_layout;
use std::io::Write;

pub(crate) fn run(arguments: &FiguresArguments, output: &mut dyn Write) -> Result<(), CliError> {
    if arguments.json && arguments.units.units == Units::In {
        return Err(CliError::Argument("--json gives every length in mm; leave out --units in".to_owned()));
    }
    let figures = Figures::of(&read_layout(&arguments.layout)?);
    if arguments.json {
        serde_json::to_writer_pretty(&mut *output, &figures).map_err(std::io::Error::from)?;
        writeln!(output)?;
        return Ok(());
    }
    let style = arguments.units.style();
    garment(&figures, style, output)?;
    burst(&figures, style, output)?;
    binds(&figures, style, output)?;
    sections(&figures, style, output)?;
    for warning in &figures.warnings {
        writeln!(output, "Look out: {}", warning.sentence(style))?;
    }
    Ok(())
}

fn garment(figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let garment = &figures.garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    writeln!(output, "{}\n{}{size}; dry cloth {:.0} g", figures.name, garment.kind, garment.cloth.mass_g)?;
    writeln!(output, "\n{:<24}{:>14}{:>14}  from", "measurement", "now", "washed")?;
    for m in &garment.measures {
        let status = m.status.map_or_else(String::new, |status| format!(" ({status})"));
        let name = m.name.trim_end_matches("_mm").replace('_', " ");
        writeln!(output, "{name:<24}{:>14}{:>14}  {}{status}", style.format(m.now_mm), style.format(m.washed_mm), m.origin)?;
    }
    Ok(())
}

fn burst(figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let burst = &figures.burst;
    writeln!(output, "\ncentring                {}. {}", burst.centring, burst.matching)?;
    writeln!(
        output,
        "burst centre            {}, {} from the centre line, {} the middle",
        burst.top.height(burst.centre_below_shoulder_mm, style),
        style.format(burst.centre_from_centre_line_mm),
        sided(style, burst.centre_above_middle_mm, ["above", "below"])
    )?;
    writeln!(
        output,
        "guide arc               {}; {:.0} % of it on the front, {:.0} % on the back",
        style.format(burst.guide_radius_mm),
        100.0 * burst.guide_share.front,
        100.0 * burst.guide_share.back
    )?;
    writeln!(
        output,
        "rings are whole up to   {} on the front, {} on the back",
        style.format(burst.whole_ring_to_mm.front),
        style.format(burst.whole_ring_to_mm.back)
    )?;
    writeln!(
        output,
        "pleats                  {} of {} at the guide arc, {:.2} degrees each, {} layers in each",
        burst.pleats,
        style.format(burst.pleat_depth_mm),
        burst.pleat_angle_deg,
        burst.layers
    )?;
    for (number, &radius_mm) in (1..).zip(&burst.further_arcs_mm) {
        let name = format!("further arc {number}");
        writeln!(output, "{name:<24}string of {} from pin to chalk", style.format(radius_mm))?;
    }
    Ok(())
}

/// A distance with the side that it lies on: the first word if it is positive.
fn sided(style: LengthStyle, mm: f64, [positive, negative]: [&str; 2]) -> String {
    format!("{} {}", style.format(mm.abs()), if mm < 0.0 { negative } else { positive })
}

fn binds(figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    writeln!(
        output,
        "\n{:>4}{:>6}{:>6}{:>12}{:>12}{:>12}{:>12}{:>12}{:>7}{:>12}",
        "bind", "edit", "tied", "radius", "gap inside", "pleat", "thick", "girth", "wraps", "thread"
    )?;
    for bind in &figures.binds {
        writeln!(output, "{}", bind_row(bind, style))?;
    }
    writeln!(output, "edit: the bind's number in edits, counted from the guide arc")?;
    writeln!(output, "thread in all {}", cut::thread_in_all(figures.binds.iter().map(|bind| bind.thread_mm), style))?;
    Ok(())
}

fn bind_row(bind: &BindFigures, style: LengthStyle) -> String {
    let mark = match (bind.on_guide_arc, bind.by_hand) {
        (true, _) => "  guide arc",
        (false, true) => "  by hand",
        (false, false) => "",
    };
    format!(
        "{:>4}{:>6}{:>6}{:>12}{:>12}{:>12}{:>12}{:>12}{:>7}{:>12}{mark}",
        bind.number,
        bind.edit_number.map_or_else(|| "added".to_owned(), |number| number.to_string()),
        bind.tied,
        style.format(bind.radius_mm),
        style.format(bind.gap_inside_mm),
        style.format(bind.pleat_depth_mm),
        style.format(bind.rod.bound_diameter_mm),
        style.format(bind.rod.bound_girth_mm),
        bind.wraps,
        style.format(cut::thread_to_cut_mm(bind.thread_mm, style))
    )
}

fn sections(figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let unit = cut::area_unit(style);
    let area_head = |panel: &str| format!("{panel} {unit}");
    writeln!(
        output,
        "\n{:>7}{:>12}{:>12}{:>12}{:>12}{:>10}  colour",
        "section",
        "from",
        "to",
        area_head("front"),
        area_head("back"),
        "cloth"
    )?;
    for section in &figures.sections {
        writeln!(output, "{}", section_row(section, style))?;
    }
    for colour in &figures.colours {
        writeln!(output, "{}: {:.1} g of cloth in {}", colour.name, colour.mass_g, counted(colour.sections.len(), "section"))?;
    }
    Ok(())
}

fn section_row(section: &SectionFigures, style: LengthStyle) -> String {
    let area = section.area_mm2.map(|mm2| cut::area(*mm2, style));
    format!(
        "{:>7}{:>12}{:>12}{:>12.1}{:>12.1}{:>8.1} g  {}",
        section.number,
        style.format(section.inner_mm),
        style.format(section.outer_mm),
        area.front,
        area.back,
        section.mass_g,
        section.colour.as_deref().unwrap_or("")
    )
}
