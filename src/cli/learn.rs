//! `learn`: calibration values learned from photographs of what was made.

use super::CliError;
use super::arguments::{LearnArguments, PieceArgument};
use super::progress::watched;
use super::terminal;
use pleatwright::layout::ComponentReach;
use pleatwright::learn::{
    FROM_DRAWN_PIECES, Foretold, HELD_BY_CONVENTION, LearnError, Learned, NOT_JUDGED, Outcome, Piece, ToldReach, ToldValue,
    ValueRow, check_teaches, teach,
};
use pleatwright::measure::counted;
use pleatwright::store::{FileKind, learned_text, read_layout, read_learned, read_piece};
use pleatwright::telling::{AnyRefusal, Refused as _, Voice};
use serde::Serialize;
use std::io::Write;

pub(crate) fn run(arguments: &LearnArguments, output: &mut dyn Write) -> Result<(), CliError> {
    if let Some(path) = &arguments.show {
        let learned = read_learned(path)?;
        writeln!(output, "{}: learned from {}", path.display(), counted(learned.pieces().len(), "piece"))?;
        for piece in learned.pieces() {
            writeln!(output, "  {}", piece.name)?;
        }
        return tell(&learned, output);
    }
    let Some(path) = &arguments.output else { return Ok(()) };
    let before = arguments.earlier.as_deref().map(read_learned).transpose()?.unwrap_or_default();
    let pieces: Vec<Piece> = arguments.pieces.iter().map(piece).collect::<Result<_, _>>()?;
    let kept_back = arguments.kept_back.as_ref().map(piece).transpose()?;
    let refused = |error: LearnError| CliError::Argument(error.told(Voice::FILE));
    let outcome = watched("learning", |cancel| teach(&pieces, kept_back.as_ref(), &before, cancel)).map_err(refused)?;
    let after = &outcome.after;
    terminal::deliver_kind(path, &learned_text(after), FileKind::Learned)?;
    let output = &mut *terminal::beside(path, output);
    if arguments.json {
        serde_json::to_writer_pretty(&mut *output, &Json::of(&outcome)).map_err(std::io::Error::from)?;
        return Ok(writeln!(output)?);
    }
    let (new, all) = (counted(pieces.len(), "piece"), counted(after.pieces().len(), "piece"));
    let bins = outcome.lesson.bins;
    writeln!(output, "{}: learned from {new}, {bins} patches of cloth; {all} in all", terminal::called(path))?;
    tell(after, output)?;
    if let Some(words) = outcome.lesson.misfit() {
        writeln!(output, "{words}")?;
    }
    match &outcome.verdict {
        Some(verdict) => writeln!(output, "{}", verdict.sentence())?,
        None => writeln!(output, "{NOT_JUDGED} with --kept-back.")?,
    }
    Ok(())
}

/// A piece with its photographs and the marks beside them.
fn piece(argument: &PieceArgument) -> Result<Piece, CliError> {
    let layout = read_layout(&argument.layout)?;
    let photographs: Vec<_> = argument.photographs.iter().map(|path| (path.display().to_string(), path.clone())).collect();
    let file = argument.layout.display().to_string();
    check_teaches(layout.name(), &layout).map_err(|error| CliError::Argument(error.told(Voice::FILE).within(&file)))?;
    let refused = |refusal: AnyRefusal| CliError::Argument(refusal.told(Voice::FILE));
    read_piece(layout.name().to_owned(), layout, &photographs).map_err(refused)
}

/// Every value that a piece shows, and how strong the dyes come out.
fn tell(learned: &Learned, output: &mut dyn Write) -> Result<(), CliError> {
    writeln!(output, "\n{:<26}{:>10}{:>10}   {:<20}{:>6}", "value", "was", "is", "probably", "pieces")?;
    for ValueRow { name, was, is, probably, pieces, .. } in learned.rows() {
        writeln!(output, "{name:<26}{was:>10}{is:>10}   {probably:<20}{pieces:>6}")?;
    }
    for dye in learned.dyes() {
        writeln!(output, "{}", dye.words())?;
    }
    for reach in learned.told_components() {
        writeln!(output, "{}", reach.words())?;
    }
    Ok(writeln!(output, "\n{HELD_BY_CONVENTION}\n{FROM_DRAWN_PIECES}")?)
}

/// What was learned, with names that stay.
#[derive(Debug, Serialize)]
struct Json {
    values: Vec<ValueJson>,
    dyes: Vec<DyeJson>,
    components: Vec<ComponentJson>,
    pieces: Vec<String>,
    patches: usize,
    off_lab: f64,
    solves: usize,
    kept_back: Option<KeptBackJson>,
}

#[derive(Debug, Serialize)]
struct ValueJson {
    value: &'static str,
    was: f64,
    is: f64,
    low: Option<f64>,
    high: Option<f64>,
    learned: bool,
    pieces: usize,
}

#[derive(Debug, Serialize)]
struct DyeJson {
    name: String,
    strength: f64,
    sd: f64,
    pieces: usize,
}

#[derive(Debug, Serialize)]
struct ComponentJson {
    mixture: String,
    component: String,
    guess: f64,
    reach_factor: f64,
    sd: Option<f64>,
    learned: bool,
    pieces: usize,
}

#[derive(Debug, Serialize)]
struct KeptBackJson {
    piece: String,
    before_delta_e: f64,
    after_delta_e: f64,
    patches: usize,
}

impl Json {
    fn of(outcome: &Outcome) -> Self {
        let (lesson, learned) = (&outcome.lesson, &outcome.after);
        let value = |told: ToldValue| ValueJson {
            value: told.value.facts().key,
            was: told.was,
            is: told.is,
            low: told.between.map(|[low, _]| low),
            high: told.between.map(|[_, high]| high),
            learned: told.between.is_some(),
            pieces: told.pieces,
        };
        let dyes = learned.dyes().iter();
        let component = |ToldReach { of, guess, sd, pieces }: ToldReach| {
            let ComponentReach { mixture, component, reach_factor } = of;
            ComponentJson { mixture, component, guess, reach_factor, sd, learned: sd.is_some(), pieces }
        };
        let kept_back = |verdict: &Foretold| KeptBackJson {
            piece: verdict.piece.clone(),
            before_delta_e: verdict.before,
            after_delta_e: verdict.after,
            patches: verdict.bins,
        };
        Self {
            values: learned.told().into_iter().map(value).collect(),
            dyes: dyes
                .map(|dye| DyeJson { name: dye.name.clone(), strength: dye.strength, sd: dye.sd, pieces: dye.pieces })
                .collect(),
            components: learned.told_components().into_iter().map(component).collect(),
            pieces: learned.pieces().iter().map(|piece| piece.name.clone()).collect(),
            patches: lesson.bins,
            off_lab: lesson.off,
            solves: lesson.solves,
            kept_back: outcome.verdict.as_ref().map(kept_back),
        }
    }
}
