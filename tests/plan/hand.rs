//! Folding and tying in a run: its numbers are the figures', its ticks are kept, undone and refused.

use crate::{regatta, tested_tee};
use jiff::civil::DateTime;
use pleatwright::layout::{Figures, HandPart};
use pleatwright::plan::*;
use pleatwright::store::*;

fn start() -> DateTime {
    "2027-05-03T08:00".parse().unwrap()
}

/// One tee, ready to be folded and tied; the step, and when it was planned.
fn at_tying() -> (Run, u32, DateTime) {
    let mut run = Run::of(&Plan::new(&tested_tee(), When::Start(start())).unwrap()).unwrap();
    let before: Vec<_> = run.steps().take_while(|step| step.name != "fold and tie").map(|step| (step.number, step.to)).collect();
    for (step, at) in before {
        run.finish(step, at).unwrap();
    }
    let (step, at) = run.steps().find(|step| step.name == "fold and tie").map(|step| (step.number, step.from)).unwrap();
    (run, step, at)
}

#[test]
fn ticks_of_parts_are_kept_and_taken_back_one_by_one() {
    let (mut run, step, at) = at_tying();
    let before = run.clone();
    assert_eq!(run.part_done(step, 1, HandPart::Lay, at), Ok(vec![]));
    // The first part began the step: two ticks, two steps back.
    assert_eq!(run.step(step).unwrap().begun, Some(at));
    let bind = run.tied_garments(step)[0].garment.work.binds[0].number;
    run.part_done(step, 1, HandPart::Tie(bind), at).unwrap();
    let kept = parse_run(&run_text(&run)).unwrap();
    assert_eq!(kept, run);
    assert_eq!(kept.tied_garments(step)[0].done.iter().copied().collect::<Vec<_>>(), [HandPart::Lay, HandPart::Tie(bind)]);
    assert_eq!(kept.tied_garments(step)[0].next(), Some(HandPart::Mark));
    let undone = run.undo().unwrap();
    assert_eq!(run.tick_title(&undone), format!("Harbour Row tee, M: bind {bind}, guide arc"));
    assert_eq!(run.undo_part(step, 1, HandPart::Mark), Ok(false));
    assert_eq!(run.undo_part(step, 1, HandPart::Lay), Ok(true));
    assert!(run.tied_garments(step)[0].done.is_empty() && run.step(step).unwrap().begun.is_some());
    run.undo();
    assert_eq!(run, before);
}

#[test]
fn parts_that_can_t_be_are_refused() {
    let (mut run, step, at) = at_tying();
    let said = |refused: Result<_, RunError>| refused.map(|_: Vec<RunWarning>| ()).unwrap_err().to_string();
    assert_eq!(
        said(run.part_done(step, 2, HandPart::Lay, at)),
        "fold and tie, load 1 has no such part of a garment 2; choose one that is listed in the step"
    );
    assert!(said(run.part_done(step, 1, HandPart::Tie(99), at)).starts_with("fold and tie, load 1 has no such"));
    assert!(said(run.part_done(1, 1, HandPart::Lay, at)).starts_with("read the label has no such"));
    run.part_done(step, 1, HandPart::Lay, at).unwrap();
    assert_eq!(said(run.part_done(step, 1, HandPart::Lay, at)), "Harbour Row tee, M: lay is ticked already; undo that first");
    let all = run.tied_garments(step)[0].parts();
    let warned = run.finish(step, at).unwrap();
    assert_eq!(warned, [RunWarning::PartsLeft { step: "fold and tie, load 1".to_owned(), left: all - 1 }]);
    assert!(said(run.part_done(step, 1, HandPart::Mark, at)).starts_with("fold and tie, load 1 is ticked already"));
    // A file in which a part was ticked before its step was begun.
    let (mut early, ..) = at_tying();
    early.part_done(step, 1, HandPart::Lay, at).unwrap();
    let mut raw = early.raw().clone();
    raw.ticks.retain(|tick| tick.step != step || tick.mark != Mark::Begun);
    let error = Run::try_from(raw).unwrap_err().to_string();
    assert!(error.ends_with("fold and tie, load 1 is not started; tick its start first"), "{error}");
}

/// Each garment of an order has its own layout's numbers, and every layout comes back from the run as it was planned.
#[test]
fn every_garment_of_an_order_has_its_layouts_own_numbers() {
    let order = regatta();
    let run = Run::of(&Plan::new(&order, When::Start(start())).unwrap()).unwrap();
    let tying = run.steps().filter(|step| step.name == "fold and tie").map(|step| step.number);
    let mut garments = 0;
    for step in tying {
        let tied = run.tied_garments(step);
        assert_eq!(tied.len(), run.step(step).unwrap().garments as usize);
        garments += tied.len();
        for own in tied {
            let line = order.lines().iter().find(|line| line.layout.name() == own.garment.of).unwrap();
            let figures: &Figures = &line.figures;
            let numbers: Vec<u32> = own.garment.work.binds.iter().map(|bind| bind.number).collect();
            assert_eq!(numbers, figures.tying_order);
            for bind in &own.garment.work.binds {
                let figure = &figures.binds[bind.number as usize - 1];
                let own = (bind.along_mm, bind.girth_mm, bind.wraps, bind.thread_mm);
                assert_eq!(own, (figure.radius_mm, figure.rod.bound_girth_mm, figure.wraps, figure.thread_mm));
            }
        }
    }
    assert_eq!(garments, order.garments() as usize);
    for (line, kept) in order.lines().iter().zip(&run.raw().layouts) {
        assert_eq!(parse_layout(&kept.layout).unwrap().raw(), line.layout.raw());
    }
}
