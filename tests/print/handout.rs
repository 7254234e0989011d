//! Handouts read back: every number from the layout's own figures and from those of each graded size, nothing that is the maker's own.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use lopdf::Document;
use pleatwright::layout::{Figures, Layout};
use pleatwright::measure::{InchFraction, LengthStyle, LengthUnit};
use pleatwright::plan::{GradeRule, Order, Plan, Workshop, grade};
use pleatwright::print::parts::{HANDOUT_PX, Handout, HandoutOptions};
use pleatwright::print::{Drawing, Paper, Shape};
use pleatwright::reveal::{Cancel, RevealOptions};
use pleatwright::store::{EXAMPLE_LAYOUTS, OfLayout, order_of_layout, parse_layout};
use rayon::prelude::*;
use std::sync::LazyLock;

fn order(layout: Layout) -> Order {
    let wanted = OfLayout { count: 1, recipe: None, process: None, workshop: Workshop::default(), scrap_tested: false };
    order_of_layout(layout, wanted).unwrap()
}

/// With a coarse picture: its numbers are looked at elsewhere.
fn options() -> HandoutOptions {
    HandoutOptions { reveal: RevealOptions::preview(), ..HandoutOptions::default() }
}

fn example(name: &str) -> Layout {
    let file = format!("harbour-row-{name}.ron");
    parse_layout(EXAMPLE_LAYOUTS.iter().find(|example| example.name == file).unwrap().text).unwrap()
}

/// Every example with its handout, made once: each takes a plan, a reveal and a layout on every size.
static EXAMPLES: LazyLock<Vec<(Layout, Handout)>> = LazyLock::new(|| {
    let made = |text: &str| {
        let layout = parse_layout(text).unwrap();
        let handout = handout_of(&layout);
        (layout, handout)
    };
    EXAMPLE_LAYOUTS.par_iter().map(|file| made(file.text)).collect()
});

fn of_example(name: &str) -> &'static (Layout, Handout) {
    let file = format!("harbour-row-{name}.ron");
    let at = EXAMPLE_LAYOUTS.iter().position(|example| example.name == file).unwrap();
    &EXAMPLES[at]
}

fn handout_of(layout: &Layout) -> Handout {
    Handout::of(&order(layout.clone()), &options(), &Cancel::new()).unwrap()
}

/// The words of a page with the places where they begin, mm.
fn words(page: &Drawing) -> Vec<(String, f64, f64)> {
    let of = |item: &pleatwright::print::Item| match &item.shape {
        Shape::Text(text) => Some((text.text.clone(), item.shape.bounding_box().x0, text.position.y)),
        _ => None,
    };
    page.items.iter().filter_map(of).collect()
}

/// The cells of a table's row by its first words, from left to right; none where it has no such row.
fn row(handout: &Handout, first: &str) -> Vec<String> {
    let mut found = Vec::new();
    for page in handout.pages() {
        let all = words(page);
        for (_, _, y) in all.iter().filter(|(text, x, _)| text == first && *x < 5.0) {
            let mut cells: Vec<_> = all.iter().filter(|(_, _, level)| (level - y).abs() < 0.01).collect();
            cells.sort_by(|a, b| a.1.total_cmp(&b.1));
            found.extend(cells.into_iter().skip(1).map(|(text, ..)| text.clone()));
        }
    }
    found
}

/// All sizes of the tee, in millimetres and in inches: guide arc, centre and every bind as the graded layout's figures have them.
#[test]
fn every_size_is_told_as_its_graded_layout_has_it() {
    let layout = example("tee-m");
    let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
    for lengths in [layout.marks().lengths(), inches] {
        let options = HandoutOptions { lengths: Some(lengths), ..options() };
        let handout = Handout::of(&order(layout.clone()), &options, &Cancel::new()).unwrap();
        let sizes = layout.garment().kind().sizes();
        let graded: Vec<Figures> =
            sizes.iter().map(|size| Figures::of(&grade(&layout, size.name, GradeRule::Scaled).unwrap())).collect();
        let burst = |of: &dyn Fn(&pleatwright::layout::BurstFigures) -> f64| -> Vec<String> {
            graded.iter().map(|figures| lengths.number(of(figures.burst.as_ref().unwrap()))).collect()
        };
        assert_eq!(row(&handout, "Guide arc"), burst(&|burst| burst.guide_radius_mm));
        let most = graded.iter().map(|figures| figures.binds.len()).max().unwrap();
        assert!(sizes.len() >= 15 && most >= 15, "{} sizes, {most} binds", sizes.len());
        for index in 0..most {
            let of = |figures: &Figures| {
                let bind = figures.binds.get(index)?;
                Some(format!("{}{}", if bind.on_guide_arc { "•" } else { "" }, lengths.number(bind.radius_mm)))
            };
            let told = row(&handout, &format!("Bind {}", index + 1));
            let wanted: Vec<String> = graded.iter().filter_map(of).collect();
            // Behind the section's colour.
            let numbers: Vec<String> = told.into_iter().filter(|cell| cell.contains(|c: char| c.is_ascii_digit())).collect();
            assert_eq!(numbers, wanted, "bind {}", index + 1);
        }
    }
}

/// Every example of a kind with sizes: its binds on its own size, and the first and the last size's.
#[test]
fn every_examples_binds_stand_in_its_table() {
    for (layout, handout) in EXAMPLES.iter() {
        let figures = Figures::of(layout);
        if figures.spiral.is_some() || figures.binds.is_empty() {
            assert!(row(handout, "Bind 1").is_empty(), "{}", layout.name());
            continue;
        }
        let lengths = layout.marks().lengths();
        for (figures, bind) in figures.ties().into_iter().flat_map(|tie| tie.binds.iter().map(move |bind| (tie, bind))) {
            let first = if bind.on_guide_arc { "•" } else { "" };
            let wanted = format!("{first}{}", lengths.number(bind.radius_mm - figures.fold.zero_mm));
            let told = row(handout, &format!("Bind {}", bind.number));
            assert!(told.contains(&wanted), "{}: bind {}: {wanted} of {told:?}", layout.name(), bind.number);
        }
    }
}

/// Each tie under its name, in the order of tying, with every size's own binds; the cloth about them once.
#[test]
fn several_ties_are_told_one_by_one() {
    let (layout, handout) = of_example("four-ties-tee-m");
    let lengths = layout.marks().lengths();
    let told: Vec<String> = handout.pages().iter().flat_map(words).map(|(text, ..)| text).collect();
    let at = |what: &str| told.iter().position(|text| text == what).unwrap_or_else(|| panic!("{what} in {told:?}"));
    let places =
        ["Tie 1: Heart", "Tie 2: Left sleeve", "Tie 3: Right sleeve", "Tie 4: Hem", "Loose cloth", "Dyeing one garment"].map(at);
    assert!(places.is_sorted(), "{places:?}");
    let ways: Vec<usize> = (0..told.len()).filter(|&at| told[at].starts_with("How it is folded")).collect();
    assert!(ways.len() == 4 && ways.iter().zip(&places).all(|(way, tie)| way > tie), "{ways:?}");
    assert!(told.iter().any(|text| text == "The cloth about the ties gets navy."));
    assert_eq!(told.iter().filter(|text| *text == "Opened: an estimate").count(), 1, "the garment is opened once");
    // The hem's third bind on every size, by the graded layout's own figures.
    let sizes = layout.garment().kind().sizes();
    let graded = sizes.iter().filter_map(|size| grade(layout, size.name, GradeRule::Scaled).ok());
    let figures: Vec<Figures> = graded.map(|layout| Figures::of(&layout)).collect();
    assert!(figures.len() > 5, "{} sizes", figures.len());
    let third = row(handout, "Bind 3");
    for figures in &figures {
        let hem = figures.ties()[3];
        let wanted = lengths.number(hem.binds[2].radius_mm - hem.fold.zero_mm);
        assert!(third.contains(&wanted), "{wanted} of {third:?}");
    }
    assert!(row(handout, "Edge").is_empty(), "a tie ends at its last bind");
}

/// Amounts are the plan's, each to the digit that it is told with there.
#[test]
fn amounts_are_those_of_the_plan() {
    for name in ["tee-m", "tote", "triangle-pillowcase"] {
        let (layout, handout) = of_example(name);
        let order = order(layout.clone());
        let start = pleatwright::plan::When::Start("2027-05-03T08:00".parse().unwrap());
        let plan = Plan::new(&order, start).unwrap();
        let all: String = handout.pages().iter().flat_map(words).map(|(text, ..)| text).collect::<Vec<_>>().join(" ");
        let each = &plan.lines[0].each;
        let amounts = each.dyes.iter().map(|dye| &dye.dye).chain(each.ice.iter().map(|ice| &ice.ice)).chain([&each.thread]);
        let soak = plan.loads[0].soak.as_ref().map(|soak| &soak.soda_ash);
        let bath = plan.loads[0].discharge.as_ref().map(|bath| &bath.water);
        for amount in amounts.chain(soak).chain(bath).filter(|amount| amount.value > 0.0) {
            assert!(all.contains(&amount.to_string()), "{name}: {amount} is not in\n{all}");
        }
    }
}

/// Both papers, every example: one or two sheets, real letters, everything within the printable part, no words over others.
#[test]
fn every_example_is_laid_out_on_both_papers() {
    for (layout, handout) in EXAMPLES.iter() {
        // Fractions of an inch on twenty sizes take a page more, beside the cautions of a discharge.
        let is_long = layout.process().discharge.is_some() && layout.marks().lengths().unit() == LengthUnit::Inch;
        let most = if is_long { 3 } else { 2 } + layout.ties().len() - 1;
        assert!((1..=most).contains(&handout.pages().len()), "{}: {} pages", layout.name(), handout.pages().len());
        for page in handout.pages() {
            let out = page
                .items
                .iter()
                .filter(|item| page.bounds.inflate(0.6, 2.5).union(item.shape.bounding_box()) != page.bounds.inflate(0.6, 2.5));
            let out: Vec<_> = out.map(|item| &item.shape).collect();
            assert!(out.is_empty(), "{}: {out:?}", layout.name());
        }
        no_words_overlap(layout, handout);
        for paper in ["A4", "Letter"] {
            let paper: Paper = paper.parse().unwrap();
            let bytes = handout.pdf(&paper).unwrap();
            assert_eq!(bytes, handout.pdf(&paper).unwrap());
            let read = Document::load_mem(&bytes).unwrap();
            let pages: Vec<u32> = read.get_pages().keys().copied().collect();
            let text = read.extract_text(&pages).unwrap().replace(['\n', '\r'], " ");
            assert!(text.contains("Cautions") && text.contains("How it is folded"), "{}: {text}", layout.name());
        }
    }
}

fn no_words_overlap(layout: &Layout, handout: &Handout) {
    for page in handout.pages() {
        let boxes: Vec<_> = page
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Text(text) if text.rotation_rad == 0.0 => {
                    let whole = item.shape.bounding_box();
                    // From the capitals' heads to their feet.
                    Some((text, kurbo::Rect::new(whole.x0, text.position.y - text.cap_height_mm, whole.x1, text.position.y)))
                }
                _ => None,
            })
            .collect();
        for (index, (text, one)) in boxes.iter().enumerate() {
            for (other, two) in &boxes[index + 1..] {
                let both = one.intersect(*two);
                assert!(
                    both.width() <= 0.05 || both.height() <= 0.05,
                    "{}: {:?} over {:?}",
                    layout.name(),
                    text.text,
                    other.text
                );
            }
        }
    }
}

/// What is the maker's own appears nowhere: neither on the pages nor among the file's bytes.
#[test]
fn nothing_private_is_told() {
    let mut raw = example("tote").raw().clone();
    raw.note = "Greta Quist, 14 Wharf Lane: charge 65".to_owned();
    let layout = Layout::try_from(raw).unwrap();
    let handout = handout_of(&layout);
    let bytes = handout.pdf(&"A4".parse().unwrap()).unwrap();
    let raw_text = String::from_utf8_lossy(&bytes).into_owned();
    let told: String = handout.pages().iter().flat_map(words).map(|(text, ..)| text + " ").collect();
    for private in ["Greta", "Quist", "Wharf", "charge", "65 EUR", "price", "Price", "cost", "fingerprint"] {
        assert!(!told.contains(private) && !raw_text.contains(private), "{private} is told");
    }
    // Nor the time that it was planned from, or anything of a journal.
    for word in ["2001", "Shopping", "journal", "Journal"] {
        assert!(!told.contains(word), "{word} is told: {told}");
    }
}

/// The picture has both pages' ink, in black, white and the cloth's colours.
#[test]
fn the_picture_is_painted() {
    let (_, handout) = of_example("striped-tee-m");
    let picture = handout.picture(HANDOUT_PX).unwrap();
    assert_eq!(picture.width, 1600);
    assert!(picture.height > 2000 && picture.rgba.len() == 4 * picture.width * picture.height);
    for half in picture.rgba.chunks(picture.rgba.len() / 2) {
        let dark = half.chunks_exact(4).filter(|pixel| pixel[..3].iter().all(|value| *value < 90)).count();
        let share = dark as f64 / (half.len() / 4) as f64;
        assert!((0.01..0.4).contains(&share), "{share} of it is dark");
    }
    let coloured = picture.rgba.chunks_exact(4).filter(|pixel| pixel[0].abs_diff(pixel[2]) > 30).count();
    assert!(coloured > 5_000, "{coloured} pixels of colour");
    assert_eq!(picture, handout.picture(HANDOUT_PX).unwrap());
}

/// A garment without sizes has a column of its own, and says nothing of others.
#[test]
fn a_garment_of_its_own_outline_has_its_own_column() {
    let layout = example("smock");
    let handout = handout_of(&layout);
    let told: String = handout.pages().iter().flat_map(words).map(|(text, ..)| text + " ").collect();
    assert!(told.contains("What to mark") && told.contains("Yours") && !told.contains("Worked out from"), "{told}");
}

/// The work can be stopped.
#[test]
fn a_handout_is_stopped() {
    let cancel = Cancel::new();
    cancel.cancel();
    assert!(Handout::of(&order(example("tote")), &options(), &cancel).is_err());
}
