//! `figures`: every computed number.

use super::arguments::{FiguresArguments, Units};
use super::{CliError, area};
use pleatwright::geometry::Panel;
use pleatwright::layout::{
    BindFigures, ColourFigures, Figures, FlatFigures, FoldFigures, GarmentFigures, HandPart, Handwork, Layout, LineFigures,
    SectionFigures, SeveralFigures, SpiralFigures, Warning, warning_runs,
};
use pleatwright::measure::{LengthStyle, RuleMarks, counted, grams_number};
use pleatwright::store::read_layout;
use pleatwright::telling::{Voice, Warned as _};
use serde::Serialize;
use std::io::Write;

pub(crate) fn run(arguments: &FiguresArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let other = [(Units::Cm, "--units cm"), (Units::In, "--units in")];
    if let Some((_, argument)) = other.into_iter().find(|(units, _)| arguments.json && arguments.units.units == Some(*units)) {
        return Err(CliError::argument(argument, "--json gives every length in mm", "leave it out"));
    }
    let layout = read_layout(&arguments.layout)?;
    let figures = Figures::of(&layout);
    if arguments.json {
        match SeveralJson::of(&figures) {
            Some(several) => serde_json::to_writer_pretty(&mut *output, &several),
            None => serde_json::to_writer_pretty(&mut *output, &figures),
        }
        .map_err(std::io::Error::from)?;
        writeln!(output)?;
        return Ok(());
    }
    let style = arguments.units.style(layout.marks())?;
    garment(&layout, &figures, style, output)?;
    for (number, (tie, of_tie)) in (1..).zip(layout.ties().iter().zip(figures.ties())) {
        if let Some(name) = tie.tie_name() {
            writeln!(output, "\nTie {number}: {name}")?;
        }
        fold(tie, of_tie, style, output)?;
        binds(tie, of_tie, style, output)?;
        sections(tie, of_tie, style, output)?;
    }
    if let Some(several) = &figures.several {
        all_ties(&layout, &figures, several, style, output)?;
    }
    for run in warning_runs(&figures.warnings) {
        writeln!(output, "Warning: {}", run.say(Voice::window(style)))?;
    }
    Ok(())
}

/// The figures of several ties.
#[derive(Serialize)]
struct SeveralJson<'a> {
    name: &'a str,
    garment: &'a GarmentFigures,
    #[serde(flatten)]
    several: &'a SeveralFigures,
    colours: &'a [ColourFigures],
    thread_mm: f64,
    warnings: &'a [Warning],
}

impl<'a> SeveralJson<'a> {
    fn of(figures: &'a Figures) -> Option<Self> {
        let Figures { name, garment, colours, thread_mm, warnings, .. } = figures;
        Some(Self { name, garment, several: figures.several.as_deref()?, colours, thread_mm: *thread_mm, warnings })
    }
}

/// What all ties come to, and the cloth about them.
fn all_ties(
    layout: &Layout,
    figures: &Figures,
    several: &SeveralFigures,
    style: LengthStyle,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    writeln!(output, "\n{:<24}{:>10}", "tie", "cloth")?;
    for tie in &several.ties {
        let area = on_each(layout, |panel| style.format_area(*tie.area_mm2.of(panel)));
        writeln!(output, "{:<24}{:>8} g  {area}", tie.name, grams_number(tie.mass_g, 1))?;
    }
    let loose = &several.loose;
    let area = on_each(layout, |panel| style.format_area(*loose.area_mm2.of(panel)));
    let colour = loose.colour.as_deref().unwrap_or("no dye");
    writeln!(output, "{:<24}{:>8} g  {area}; {colour}", "loose cloth", grams_number(loose.mass_g, 1))?;
    for colour in &figures.colours {
        writeln!(output, "{}: {} g of cloth in {}", colour.name, grams_number(colour.mass_g, 1), colour.goes_on("section"))?;
    }
    writeln!(output, "thread, all ties: {}", style.format_long(figures.thread_mm))?;
    Ok(())
}

fn garment(layout: &Layout, figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let garment = &figures.garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    writeln!(output, "{}\n{}{size}; dry cloth {:.0} g", figures.name, garment.kind, garment.cloth.mass_g)?;
    writeln!(output, "\n{:<24}{:>14}{:>14}  from", "measurement", "now", "washed")?;
    for m in &garment.measures {
        let status = m.status.map_or_else(String::new, |status| format!(" ({status})"));
        let style = m.lengths(layout.marks(), style);
        let name = Voice::window(style).key(m.name);
        writeln!(output, "{name:<24}{:>14}{:>14}  {}{status}", style.format(m.now_mm), style.format(m.washed_mm), m.origin)?;
    }
    Ok(())
}

fn fold(layout: &Layout, figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let (fold, burst) = (&figures.fold, figures.burst.as_ref());
    writeln!(output, "\nhalf fold               {}. {}", fold.centring, fold.matching)?;
    if let Some(burst) = burst {
        writeln!(
            output,
            "burst centre            {}, {} from the centre line, {} the middle",
            fold.top.height(burst.centre_below_shoulder_mm, style),
            style.format(burst.centre_from_centre_line_mm),
            sided(style, burst.centre_above_middle_mm, ["above", "below"])
        )?;
    }
    if let Some(line) = &figures.line {
        return along_line(line, fold, style, output);
    }
    if let Some(flat) = &figures.flat {
        bundle(layout, figures, flat, style, output)?;
        return dips(figures, style, output);
    }
    if let Some(spiral) = &figures.spiral {
        return puck(layout, figures, spiral, style, output);
    }
    let rounding = fold.guide_rounding(style).map_or_else(String::new, |words| format!(", {words}"));
    write!(output, "guide arc               {}{rounding}", style.format(fold.guide_mm))?;
    if let Some(burst) = burst {
        let share = |panel| format!("{:.0} %", 100.0 * burst.guide_share.of(panel).unwrap_or_default());
        let whole = |panel| style.format(*burst.whole_ring_to_mm.of(panel));
        write!(output, "; {}\nrings are whole up to   {}", on_each(layout, share), on_each(layout, whole))?;
    }
    let angle = burst.map_or_else(String::new, |burst| format!(", {:.2} degrees each", burst.pleat_angle_deg));
    writeln!(
        output,
        "\npleats                  {} of {} at the guide arc{angle}, {} in each",
        fold.pleats,
        style.format(fold.pleat_depth_mm),
        counted(fold.layers, "layer")
    )?;
    for (number, &radius_mm) in (1..).zip(&fold.references_mm) {
        let name = format!("extra arc {number}");
        writeln!(output, "{name:<24}{} from the centre", style.format(radius_mm))?;
    }
    Ok(())
}

fn puck(
    layout: &Layout,
    figures: &Figures,
    spiral: &SpiralFigures,
    style: LengthStyle,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    if let Some(place) = Handwork::of(layout, figures).puck {
        writeln!(output, "{}", place.pinch_words(style))?;
    }
    let number = |value: f64| (100.0 * value).round() / 100.0;
    writeln!(
        output,
        "twist                   {} turns {}; the cloth allows {}",
        number(spiral.turns),
        spiral.twist,
        spiral.told_most_turns()
    )?;
    let (diameter, height) = (style.format(spiral.puck_diameter_mm), style.format(spiral.puck_height_mm));
    writeln!(output, "puck                    {diameter} across, {height} high, {:.0} % of it cloth", 100.0 * spiral.packing)?;
    let (bands, girth) = (counted(spiral.bands, "band"), style.format(spiral.band_girth_mm));
    writeln!(output, "bands                   {bands} of {girth} girth over it, {} round its rim", style.format(spiral.rim_mm))?;
    let [least, most] = spiral.wedge_shares.map(|share| 100.0 * share);
    writeln!(output, "wedges                  {} of {least:.1} to {most:.1} % of the cloth", spiral.wedges)?;
    Ok(())
}

fn bundle(
    layout: &Layout,
    figures: &Figures,
    flat: &FlatFigures,
    style: LengthStyle,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    if let Some(place) = Handwork::of(layout, figures).bundle {
        writeln!(output, "folded into             {}", place.pattern_words(style))?;
    }
    let way = if flat.is_rolled { "rolled" } else { "to and fro" };
    writeln!(
        output,
        "creases                 {}, {way}: {} of {}, {} where most lie",
        counted(flat.folds, "fold"),
        counted(flat.pieces, "piece"),
        counted(flat.layers, "layer"),
        flat.most_layers
    )?;
    let size = [flat.bundle_length_mm, flat.bundle_width_mm, flat.bundle_height_mm].map(|mm| style.format(mm)).join(" x ");
    writeln!(output, "bundle                  {size} high")?;
    writeln!(output, "falls short at creases  {}", style.format(flat.creep_mm))?;
    if let Some(wrap) = flat.wrap {
        let [from, to, gap] = [wrap.from_mm, wrap.to_mm, wrap.gap_mm].map(|mm| style.format(mm));
        let [turns, slant] = [wrap.turns, wrap.angle_deg].map(|value| Voice::FILE.number((10.0 * value).round() / 10.0));
        let ways = if wrap.crossed { " there and back" } else { "" };
        writeln!(
            output,
            "wound thread            {from} to {to}, {turns} turns{ways}, {gap} apart, {slant} degrees from straight across"
        )?;
        writeln!(output, "wound thread to cut     {}", style.format_long(wrap.thread_mm))?;
    }
    if let Some(blocks) = flat.blocks {
        let under = on_each(layout, |panel| style.format_area(*blocks.cloth_mm2.of(panel)));
        let opening = style.format(blocks.opening_mm);
        writeln!(
            output,
            "blocks                  {}, {} each; cloth under them: {under}",
            blocks.shape,
            style.format_area(blocks.area_mm2)
        )?;
        writeln!(output, "clamp                   {opening} of pressed cloth, up to {}", counted(blocks.most_layers, "layer"))?;
    }
    Ok(())
}

/// What is dipped, dip by dip.
fn dips(figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    for dip in &figures.dips {
        let (depth, minutes, area) =
            (style.format(dip.depth_mm), Voice::FILE.number(dip.minutes), style.format_area(dip.area_mm2.sum()));
        let (part, colour) = (&dip.part, &dip.colour);
        let number = dip.number;
        let of = format!("{depth} deep for {minutes} min in {colour}; {area} of cloth in dye");
        writeln!(output, "dip {number:<3}                 {part}, {of}")?;
    }
    Ok(())
}

fn along_line(line: &LineFigures, fold: &FoldFigures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let shape = line.shape.unwrap_or("of your own drawing");
    let size = [line.width_mm, line.height_mm].map(|mm| style.format(mm)).join(" x ");
    writeln!(output, "line                    {shape}, {size}; {} long as laid", style.format(line.length_mm))?;
    if let Some((below_mm, aside_mm)) = line.middle_below_shoulder_mm.zip(line.middle_from_centre_line_mm) {
        let (below, aside) = (fold.top.height(below_mm, style), style.format(aside_mm));
        writeln!(output, "middle of the line      {below}, {aside} from the centre line")?;
    }
    let reach = [line.inside_mm, line.outside_mm].map(|mm| style.format(mm));
    writeln!(output, "cloth reaches           {} inside the line, {} outside", reach[0], reach[1])?;
    writeln!(output, "fold guide              {}", fold.words.place(line.guide_mm, style))?;
    let [least, most] = line.pleat_depths_mm.map(|mm| style.format(mm));
    match line.stitches {
        Some(stitches) => {
            let [stitch, thread] = [stitches.stitch_mm, stitches.thread_mm].map(|mm| style.format(mm));
            let through = counted(fold.layers, "layer");
            writeln!(
                output,
                "stitched                {} dots, about {stitch} apart, through {through}; {thread} of thread",
                stitches.holes
            )?;
        }
        None => {
            writeln!(
                output,
                "pleats                  {} of {least} to {most} there, {} in each",
                fold.pleats,
                counted(fold.layers, "layer")
            )?;
        }
    }
    writeln!(output, "the stack leans by      {}", style.format(line.lean_mm))?;
    let bunched = style.format_area(line.unflat.bunched_mm2);
    writeln!(output, "creases that end alone  {}; about {bunched} of cloth can't lie flat", line.unflat.lone_ends_mm.len())?;
    for (number, &from_line_mm) in (1..).zip(&line.further_mm) {
        let name = format!("{} {number}", fold.words.further);
        writeln!(output, "{name:<24}{}", fold.words.place(from_line_mm, style))?;
    }
    Ok(())
}

/// What there is of each panel of a garment, in words; cloth of one panel has no front to tell from a back.
fn on_each(layout: &Layout, of: impl Fn(Panel) -> String) -> String {
    let panels: Vec<Panel> = layout.panels().iter().map(|(panel, _)| panel).collect();
    match panels[..] {
        [only] => format!("{} on the cloth", of(only)),
        _ => panels.iter().map(|&panel| format!("{} on the {panel}", of(panel))).collect::<Vec<_>>().join(", "),
    }
}

/// A distance with the side that it lies on: the first word if it is positive.
fn sided(style: LengthStyle, mm: f64, [positive, negative]: [&str; 2]) -> String {
    format!("{} {}", style.format(mm.abs()), if mm < 0.0 { negative } else { positive })
}

fn binds(layout: &Layout, figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    if layout.spiral().is_some() {
        return bands(layout, figures, style, output);
    }
    if figures.binds.is_empty() {
        return Ok(());
    }
    writeln!(
        output,
        "\n{:>4}{:>6}{:>6}{:>12}{:>12}{:>12}{:>12}{:>12}{:>7}{:>12}",
        "bind",
        "edit",
        "tied",
        from(layout),
        "gap inside",
        "pleat",
        "thickness",
        "girth",
        "wraps",
        "thread"
    )?;
    for bind in &figures.binds {
        writeln!(output, "{}", bind_row(bind, &figures.fold, layout.marks(), style))?;
    }
    writeln!(output, "edit: the bind's number under edits, counted from the {}", figures.fold.words.guide)?;
    below_zero(layout, &figures.fold, output)?;
    writeln!(output, "thread, total: {}", style.format_long(figures.thread_mm))?;
    Ok(())
}

/// The bands over a puck, each with where it goes.
fn bands(layout: &Layout, figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let work = Handwork::of(layout, figures);
    writeln!(output)?;
    for part in work.parts().filter(|part| matches!(part, HandPart::Tie(_))) {
        writeln!(output, "{:<24}{}", work.title(part), work.words(part, style))?;
    }
    writeln!(output, "thread, total: {}", style.format_long(figures.thread_mm))?;
    Ok(())
}

/// What places are measured from.
fn from(layout: &Layout) -> String {
    format!("from {}", layout.words().from())
}

/// What a minus before a place means.
fn below_zero(layout: &Layout, fold: &FoldFigures, output: &mut dyn Write) -> Result<(), CliError> {
    if layout.words().has_sides() {
        writeln!(output, "from line: below 0 is {}", fold.words.sides[0])?;
    }
    Ok(())
}

fn bind_row(bind: &BindFigures, fold: &FoldFigures, marks: RuleMarks, style: LengthStyle) -> String {
    let mark = match (bind.on_guide_arc, bind.by_hand) {
        (true, _) => format!("  {}", fold.words.guide),
        (false, true) => "  moved by hand".to_owned(),
        (false, false) => String::new(),
    };
    let rounding = bind.rounding(marks, style).map_or_else(String::new, |words| format!("  {words} to a mark"));
    format!(
        "{:>4}{:>6}{:>6}{:>12}{:>12}{:>12}{:>12}{:>12}{:>7}{:>12}{mark}{rounding}",
        bind.number,
        bind.edit_number.map_or_else(|| "added".to_owned(), |number| number.to_string()),
        bind.tied,
        style.format(bind.radius_mm - fold.zero_mm),
        style.format(bind.gap_inside_mm),
        style.format(bind.pleat_depth_mm),
        style.format(bind.rod.bound_diameter_mm),
        style.format(bind.rod.bound_girth_mm),
        bind.wraps,
        style.format(bind.thread_mm)
    )
}

fn sections(layout: &Layout, figures: &Figures, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let unit = area::unit(style);
    let panels: Vec<Panel> = layout.panels().iter().map(|(panel, _)| panel).collect();
    let heads = match panels[..] {
        [_] => format!("{:>12}", format!("area {unit}")),
        _ => panels.iter().map(|panel| format!("{:>12}", format!("{panel} {unit}"))).collect(),
    };
    let what = figures.fold.words.section;
    writeln!(output, "\n{what:>7}{:>12}{:>12}{heads}{:>10}  colour", "from", "to", "cloth")?;
    for section in &figures.sections {
        writeln!(output, "{}", section_row(section, figures.fold.zero_mm, &panels, style))?;
    }
    for colour in &figures.colours {
        writeln!(output, "{}: {} g of cloth in {}", colour.name, grams_number(colour.mass_g, 1), colour.goes_on(what))?;
    }
    Ok(())
}

fn section_row(section: &SectionFigures, zero_mm: f64, panels: &[Panel], style: LengthStyle) -> String {
    let area = |panel: &Panel| format!("{:>12.1}", area::area(*section.area_mm2.of(*panel), style));
    format!(
        "{:>7}{:>12}{:>12}{}{:>8} g  {}",
        section.number,
        style.format(section.inner_mm - zero_mm),
        style.format(section.outer_mm - zero_mm),
        panels.iter().map(area).collect::<String>(),
        grams_number(section.mass_g, 1),
        section.colour_words()
    )
}
