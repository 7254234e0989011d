//! `plan`: what to weigh, buy and ask, and when to do what.

use super::CliError;
use super::arguments::{PartArgument, PlanArguments, RegionArgument, Units};
use super::paper::paper;
use super::progress::watched;
use super::terminal::{self, Content};
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use pleatwright::measure::counted;
use pleatwright::plan::{Order, Plan, Shelf, Untimely, When, Workshop, calendar_text, plan_text};
use pleatwright::print::TilingOptions;
use pleatwright::print::parts::{
    OrderPrint, OrderPrintOptions, OrderProgress, PlanOptions, PrintOptions, PrintedFile, TemplateOptions, plan_pdf,
};
use pleatwright::reveal::Cancel;
use pleatwright::store::journal::Journal;
use pleatwright::store::{
    EXAMPLE_PROCESSES, EXAMPLE_RECIPES, FileKind, OfLayout, file_kind, order_of_layout, planning_time, read_layout, read_order,
    read_process, read_recipe, save_each_in,
};
use pleatwright::telling::{Names, Voice, Warned as _};
use std::ffi::OsStr;
use std::io::Write;
use std::path::Path;

/// The format of a plan's file.
#[derive(Clone, Copy)]
enum Form {
    Calendar,
    Pdf,
    Text,
}

pub(crate) fn run(arguments: &PlanArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let Some(file) = &arguments.file else { return list(output) };
    let form = arguments.output.as_deref().map(form).transpose()?;
    if arguments.paper.is_some() && !matches!(form, Some(Form::Pdf)) && arguments.print.is_none() {
        return Err(CliError::argument("--paper", "it applies to PDF only", "leave it out, or write one with -o or --print"));
    }
    let order = order(file, arguments)?.with_shelf(shelf(arguments)?);
    let when = when(arguments, order.raw().deadline)?;
    let asked = arguments.units.map(Units::style).filter(|asked| asked.unit() != order.lengths().unit());
    let order = match asked {
        Some(lengths) => order.written_in(lengths),
        None => order,
    };
    let clock = arguments.zone.clone().unwrap_or_else(|| TimeZone::system().into());
    let now = planning_time(&clock);
    let plan = watched("planning", |cancel| Plan::at(&order, when, now, &clock, cancel))?;
    if let Some(folder) = &arguments.print {
        return print_all(&order, &plan, folder, arguments, output);
    }
    match (form, &arguments.output) {
        (Some(form), Some(path)) => write_file(&plan, form, arguments, path, output),
        _ if arguments.json => {
            serde_json::to_writer_pretty(&mut *output, &plan).map_err(std::io::Error::from)?;
            writeln!(output)?;
            Ok(())
        }
        _ => Ok(write!(output, "{}", plan_text(&plan, arguments.formulas))?),
    }
}

/// When it is asked for: the deadline is the option's, or else the order's own.
fn when(arguments: &PlanArguments, of_order: Option<DateTime>) -> Result<When, CliError> {
    match (arguments.start, arguments.deadline.or(of_order)) {
        (Some(start), Some(deadline)) if deadline <= start => {
            let what = if arguments.deadline.is_some() { "--deadline" } else { "the order's deadline" };
            let cure =
                if arguments.deadline.is_some() { "give a later one" } else { "give an earlier start, or another --deadline" };
            Err(CliError::argument(format!("{what} {deadline}"), format!("not after --start {start}"), cure))
        }
        (Some(start), Some(deadline)) => Ok(When::Between { start, deadline }),
        (Some(start), None) => Ok(When::Start(start)),
        (None, Some(deadline)) => Ok(When::Deadline(deadline)),
        (None, None) => Err(CliError::argument(
            "--start",
            "a plan needs a time",
            "give --start TIME or --deadline TIME, or an order with a deadline",
        )),
    }
}

/// The shelf that the shopping list reads.
fn shelf(arguments: &PlanArguments) -> Result<Shelf, CliError> {
    let journal = arguments.journal.clone().map(Journal::at).or_else(Journal::own).filter(|_| !arguments.without_shelf);
    Ok(journal.map(|journal| journal.shelf()).transpose()?.unwrap_or_default())
}

/// What comes with the program, by name.
fn list(output: &mut dyn Write) -> Result<(), CliError> {
    writeln!(output, "Recipes:")?;
    for example in &EXAMPLE_RECIPES {
        let recipe = read_recipe(Path::new(example.short_name()))?;
        writeln!(output, "  {}: {}. {}", example.short_name(), recipe.name, recipe.note)?;
    }
    writeln!(output, "Processes:")?;
    for example in &EXAMPLE_PROCESSES {
        let process = read_process(Path::new(example.short_name()))?;
        writeln!(output, "  {}: {}. {}", example.short_name(), process.name, process.note)?;
    }
    Ok(())
}

fn form(path: &Path) -> Result<Form, CliError> {
    match path.extension().and_then(OsStr::to_str).map(str::to_lowercase).as_deref() {
        _ if terminal::is_output(path) => Ok(Form::Text),
        Some("ics") => Ok(Form::Calendar),
        Some("txt") => Ok(Form::Text),
        Some("pdf") => Ok(Form::Pdf),
        _ => Err(CliError::argument(path.display().to_string(), "not the name of a plan", "end it in .pdf, .ics or .txt")),
    }
}

fn write_file(plan: &Plan, form: Form, arguments: &PlanArguments, path: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let (bytes, content) = match form {
        Form::Calendar => (calendar_text(plan, None).into_bytes(), Content::Text),
        Form::Text => (plan_text(plan, arguments.formulas).into_bytes(), Content::Text),
        Form::Pdf => (pdf(plan, arguments)?, Content::Binary),
    };
    terminal::deliver(path, &bytes, content)?;
    let output = &mut *terminal::beside(path, output);
    tell_untimely(plan, output)?;
    let times = &plan.timeline;
    let clock = |time: DateTime| time.strftime("%Y-%m-%d %H:%M").to_string();
    let (from, to, steps) = (clock(times.begins), clock(times.ends), counted(times.entries.len(), "step"));
    writeln!(output, "{}: \"{}\", {from} to {to}, {steps}", terminal::called(path), plan.name)?;
    tell_conflicts(plan, output)
}

/// Everything is made before the folder is, and before anything is written into it.
fn print_all(
    order: &Order,
    plan: &Plan,
    folder: &Path,
    arguments: &PlanArguments,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let lengths = arguments.units.map(Units::style);
    let paper = paper(arguments.paper.as_deref().unwrap_or("A4"))?;
    let template = TemplateOptions { lengths, ..TemplateOptions::default() };
    let options = OrderPrintOptions {
        print: PrintOptions { paper, tiling: TilingOptions::default(), template },
        kinds: PartArgument::kinds(&arguments.part),
        formulas: arguments.formulas,
        pictures: arguments.pictures,
    };
    let progress = |progress: OrderProgress<'_>| {
        let name = progress.file.path.file_name().unwrap_or_default().to_string_lossy();
        // Progress that nobody hears is no reason to stop.
        let _told = writeln!(terminal::errors(), "{} of {}: {name}", progress.done, progress.of);
    };
    let files = OrderPrint { order, plan, folder, options: &options }.files(&Cancel::new(), &progress)?;
    save_each_in(folder, &files, PrintedFile::content)?;
    tell_untimely(plan, output)?;
    for file in &files {
        writeln!(output, "{}: {}", file.path.display(), file.words)?;
    }
    writeln!(
        output,
        "On {}. Print at 100 % (actual size) and measure the 100 mm or 4 in bar before cutting.",
        options.print.paper
    )?;
    tell_conflicts(plan, output)
}

/// What time does not hold is said first.
fn tell_untimely(plan: &Plan, output: &mut dyn Write) -> Result<(), CliError> {
    for sentence in plan.untimely.iter().flat_map(Untimely::sentences) {
        writeln!(output, "{sentence}")?;
    }
    Ok(())
}

fn tell_conflicts(plan: &Plan, output: &mut dyn Write) -> Result<(), CliError> {
    let voice = Voice { lengths: plan.lengths, names: Names::Keys };
    for warning in &plan.warnings {
        writeln!(output, "Warning: {}", warning.say(voice))?;
    }
    for conflict in &plan.timeline.conflicts {
        writeln!(output, "Conflict: {conflict}.")?;
    }
    Ok(())
}

fn pdf(plan: &Plan, arguments: &PlanArguments) -> Result<Vec<u8>, CliError> {
    let paper = paper(arguments.paper.as_deref().unwrap_or("A4"))?;
    Ok(plan_pdf(plan, PlanOptions { formulas: arguments.formulas }, &paper, &TilingOptions::default())?)
}

/// The usual workshop, but for what was said of it.
fn workshop(arguments: &PlanArguments) -> Workshop {
    let usual = Workshop::default();
    Workshop {
        place: arguments.place.unwrap_or(usual.place),
        region: arguments.region.map_or(usual.region, RegionArgument::region),
        room_c: arguments.room.unwrap_or(usual.room_c),
        cure_c: arguments.keep_at.or(usual.cure_c),
        ..usual
    }
}

/// Where an order says what an option says for a layout.
fn order_field(option: &str) -> &'static str {
    match option {
        "--recipe" => "recipe",
        "--process" => "process",
        "--place" => "workshop.place",
        "--region" => "workshop.region",
        "--room" => "workshop.room_c",
        "--keep-at" => "workshop.cure_c",
        _ => "scrap_tested",
    }
}

/// The order in the file, or one of a single garment from the layout in it.
fn order(path: &Path, arguments: &PlanArguments) -> Result<Order, CliError> {
    let kind = file_kind(path)?;
    let other = match kind {
        FileKind::Order | FileKind::Layout | FileKind::Bundle => None,
        FileKind::SpacingPreset => Some("spacing preset"),
        FileKind::Recipe => Some("recipe"),
        FileKind::Process => Some("process"),
        FileKind::Swatches => Some("book of swatches"),
        FileKind::Run => Some("run"),
        FileKind::Shelf => Some("shelf"),
        FileKind::Marks => Some("file of marks"),
        FileKind::Learned => Some("file of what was learned"),
        FileKind::Wish => Some("wish"),
    };
    if let Some(other) = other {
        return Err(CliError::argument(path.display().to_string(), format!("this is a {other}"), "name a layout or an order"));
    }
    if kind == FileKind::Order {
        let named = [
            ("--recipe", arguments.recipe.is_some()),
            ("--process", arguments.process.is_some()),
            ("--place", arguments.place.is_some()),
            ("--region", arguments.region.is_some()),
            ("--room", arguments.room.is_some()),
            ("--keep-at", arguments.keep_at.is_some()),
            ("--scrap-tested", arguments.scrap_tested),
        ];
        return match named.into_iter().find(|(_, given)| *given) {
            Some((name, _)) => Err(CliError::argument(
                name,
                "it applies to a layout; an order has its own",
                format!("write {} in {}", order_field(name), path.display()),
            )),
            None => Ok(read_order(path)?),
        };
    }
    let of_layout = OfLayout {
        count: 1,
        recipe: arguments.recipe.as_deref(),
        process: arguments.process.as_deref(),
        workshop: workshop(arguments),
        scrap_tested: arguments.scrap_tested,
    };
    Ok(order_of_layout(read_layout(path)?, of_layout).map_err(|error| error.of_file(path))?)
}
