//! `learn`: calibration values learned from photographs of what was made.

use super::CliError;
use super::arguments::{LearnArguments, PieceArgument};
use super::counted;
use super::progress::watched;
use super::terminal;
use pleatwright::layout::Calibration;
use pleatwright::learn::{Foretold, LearnError, Learned, Lesson, Piece, PiecePhoto, ToldValue, foretold, learn};
use pleatwright::reveal::Cancel;
use pleatwright::store::{
    FileKind, learned_text, marks_path, photograph_mark, read_layout, read_learned, read_marks, read_photograph,
};
use pleatwright::telling::{Refused as _, Voice};
use serde::Serialize;
use std::io::Write;

pub(crate) fn run(arguments: &LearnArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let before = arguments.earlier.as_deref().map(read_learned).transpose()?.unwrap_or_default();
    let pieces: Vec<Piece> = arguments.pieces.iter().map(piece).collect::<Result<_, _>>()?;
    let kept_back = arguments.kept_back.as_ref().map(piece).transpose()?;
    let refused = |error: LearnError| CliError::Argument(error.told(Voice::FILE));
    let judged: Vec<&Piece> = pieces.iter().chain(&kept_back).collect();
    before.check_new(judged.iter().copied()).map_err(refused)?;
    let lesson = watched("learning", |cancel| learn(&pieces, &before, cancel)).map_err(refused)?;
    let bins = lesson.bins;
    let after = before.after(&lesson).ok_or(LearnError::Unsettled { bins }).map_err(refused)?;
    let judge = |piece: &Piece, cancel: &Cancel| {
        let [before, after] = [&before, &after].map(|learned| learned.calibration(Calibration::default()));
        foretold(piece, before, after, cancel)
    };
    let verdict = kept_back.as_ref().map(|piece| watched("foretelling", |cancel| judge(piece, cancel)));
    let verdict = verdict.transpose().map_err(refused)?;
    let path = &arguments.output;
    terminal::deliver_kind(path, &learned_text(&after), FileKind::Learned)?;
    let output = &mut *terminal::beside(path, output);
    if arguments.json {
        serde_json::to_writer_pretty(&mut *output, &Json::of(&lesson, &after, verdict.as_ref())).map_err(std::io::Error::from)?;
        return Ok(writeln!(output)?);
    }
    let (new, all) = (counted(pieces.len(), "piece"), counted(after.pieces().len(), "piece"));
    writeln!(output, "{}: learned from {new}, {} patches of cloth; {all} in all", terminal::called(path), lesson.bins)?;
    tell(&after, output)?;
    match &verdict {
        Some(verdict) => writeln!(output, "{}", verdict.sentence())?,
        None => writeln!(output, "How far these values foretell a piece is not known: keep one back with --kept-back.")?,
    }
    Ok(())
}

/// A piece with its photographs and the marks beside them.
fn piece(argument: &PieceArgument) -> Result<Piece, CliError> {
    let layout = read_layout(&argument.layout)?;
    let refused = |error: pleatwright::store::PhotographError| CliError::Argument(error.told(Voice::FILE));
    let mut photographs = Vec::with_capacity(argument.photographs.len());
    for path in &argument.photographs {
        let photograph = read_photograph(path).map_err(refused)?;
        let (mark, marks) = (photograph_mark(path).map_err(refused)?, read_marks(&marks_path(path))?);
        photographs.push(PiecePhoto { name: path.display().to_string(), mark, photograph, marks });
    }
    Ok(Piece { name: layout.name().to_owned(), layout, photographs })
}

/// Every value that a piece shows, and how strong the dyes come out.
fn tell(learned: &Learned, output: &mut dyn Write) -> Result<(), CliError> {
    writeln!(output, "\n{:<26}{:>10}{:>10}   {:<20}{:>6}", "value", "was", "is", "probably", "pieces")?;
    for ToldValue { value, was, is, between, pieces } in learned.told().into_iter().filter(|told| told.pieces > 0) {
        let between =
            between.map_or_else(|| "not learned".to_owned(), |[low, high]| format!("{} to {}", short(low), short(high)));
        writeln!(output, "{:<26}{:>10}{:>10}   {between:<20}{pieces:>6}", value.facts().words, short(was), short(is))?;
    }
    for dye in learned.dyes() {
        let percent = 100.0 * (dye.strength - 1.0);
        writeln!(
            output,
            "{} comes out {:.0} % {} than its swatch, give or take {:.0} %",
            dye.name,
            percent.abs(),
            if percent < 0.0 { "weaker" } else { "stronger" },
            100.0 * dye.sd
        )?;
    }
    writeln!(
        output,
        "\nHeld by convention, as they trade off with the others: the dose that discharges half, what thread covers.\n\
         All error bars come from pieces that the program drew itself; what its model leaves out is in none of them."
    )?;
    Ok(())
}

/// A value to three digits.
fn short(value: f64) -> String {
    if value >= 100.0 {
        format!("{value:.0}")
    } else if value >= 10.0 {
        format!("{value:.1}")
    } else if value >= 1.0 {
        format!("{value:.2}")
    } else if value >= 0.1 {
        format!("{value:.3}")
    } else {
        format!("{value:.4}")
    }
}

/// What was learned, with names that stay.
#[derive(Debug, Serialize)]
struct Json {
    values: Vec<ValueJson>,
    dyes: Vec<DyeJson>,
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
struct KeptBackJson {
    piece: String,
    before_delta_e: f64,
    after_delta_e: f64,
    patches: usize,
}

impl Json {
    fn of(lesson: &Lesson, learned: &Learned, verdict: Option<&Foretold>) -> Self {
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
            pieces: learned.pieces().iter().map(|piece| piece.name.clone()).collect(),
            patches: lesson.bins,
            off_lab: lesson.off,
            solves: lesson.solves,
            kept_back: verdict.map(kept_back),
        }
    }
}
