//! A page's blocks set on sheets: headings stay with what follows, no line stands alone on a sheet, pictures and rows stay whole.

use super::format::Format;
use super::pictures::Pictures;
use super::sheets::{CAP_MM, SMALL_CAP_MM, Set, Sheets};
use super::table;
use super::words::{Line, lines, width_of_code_mm};
use crate::handbook::{Block, Figure, Page, Run, Style};
use crate::print::{Layer, Text};
use kurbo::{Affine, Rect, Shape as _};

/// Height of capitals of a page's title and of headings by their level, mm.
const TITLE_CAP_MM: f64 = 4.6;
const HEADING_CAP_MM: [f64; 2] = [3.3, 2.7];
/// Above a heading by its level, and above other blocks, mm.
const ABOVE_HEADING_MM: [f64; 2] = [4.2, 2.6];
const ABOVE_BLOCK_MM: f64 = 2.2;
/// How far items, quotes and code are set in, mm.
const INDENT_MM: f64 = 6.5;
/// Between a frame and the code in it, mm.
const FRAME_MM: f64 = 2.2;
/// What a page's title takes below itself, mm.
const BELOW_TITLE_MM: f64 = 2.0;

/// How airy a page is set: as the first, or as the first that saves a sheet.
const AIRS: [f64; 4] = [1.0, 0.96, 0.92, 0.88];

/// Sets a page, a little tighter where that saves a sheet.
pub(super) fn set(page: &Page, format: &Format, pictures: &Pictures) -> Set {
    let [airiest, tighter @ ..] = AIRS.map(|air| move || set_at(page, format, pictures, air));
    let airiest = airiest();
    if airiest.sheets.len() < 2 {
        return airiest;
    }
    let saving = tighter.into_iter().map(|set| set()).find(|set| set.sheets.len() < airiest.sheets.len());
    saving.unwrap_or(airiest)
}

fn set_at(page: &Page, format: &Format, pictures: &Pictures, air: f64) -> Set {
    let mut sheets = Sheets::new(page.title(), format, pictures, air);
    let title = [Run { text: page.title().to_owned(), style: Style { strong: true, ..Style::default() }, link: None }];
    for line in lines(&title, TITLE_CAP_MM, sheets.room_mm()) {
        sheets.line(&line, 1.75 * TITLE_CAP_MM);
    }
    sheets.y_mm += BELOW_TITLE_MM;
    blocks(&mut sheets, page.blocks());
    sheets.finish()
}

fn blocks(sheets: &mut Sheets<'_>, all: &[Block]) {
    for (index, block) in all.iter().enumerate() {
        // Headings that follow each other stay together with what stands below the last.
        let followers = all[index..].iter().take_while(|block| matches!(block, Block::Heading { .. })).count();
        if followers > 0 {
            let together = all[index..].iter().take(followers + 1);
            let needed: f64 = together.map(|block| least_mm(sheets, block)).sum();
            sheets.keep_together(needed);
        }
        self::block(sheets, block);
    }
}

fn index(level: u8) -> usize {
    usize::from(level > 2)
}

/// What a block takes at least below a heading, with the space above it, mm.
fn least_mm(sheets: &Sheets<'_>, block: &Block) -> f64 {
    match block {
        Block::Heading { level, runs, .. } => {
            let cap_mm = HEADING_CAP_MM[index(*level)];
            let many = lines(runs, cap_mm, sheets.room_mm()).len() as f64;
            ABOVE_HEADING_MM[index(*level)] + many * 1.9 * cap_mm
        }
        Block::Figure { figure, caption } => picture(sheets, *figure).map_or(0.0, |page| {
            page.size_mm.height
                + ABOVE_BLOCK_MM
                + sheets.small_line_mm() * (1 + lines(caption, SMALL_CAP_MM, sheets.room_mm()).len()) as f64
        }),
        Block::Table { head, rows } => ABOVE_BLOCK_MM + table::least_mm(sheets, head, rows),
        Block::Code(code) => ABOVE_BLOCK_MM + 2.0 * FRAME_MM + sheets.small_line_mm() * code.lines().count().min(4) as f64,
        Block::Paragraph(_) | Block::List { .. } | Block::Quote(_) => ABOVE_BLOCK_MM + 2.0 * sheets.line_mm(),
    }
}

fn block(sheets: &mut Sheets<'_>, block: &Block) {
    match block {
        Block::Heading { level, runs, anchor } => heading(sheets, *level, runs, anchor),
        Block::Paragraph(runs) => {
            sheets.space(ABOVE_BLOCK_MM);
            paragraph(sheets, runs);
        }
        Block::Quote(runs) => quote(sheets, runs),
        Block::List { first, items } => list(sheets, *first, items),
        Block::Code(text) => code(sheets, text),
        Block::Table { head, rows } => {
            sheets.space(ABOVE_BLOCK_MM);
            table::set(sheets, head, rows);
        }
        Block::Figure { figure, caption } => figure_with(sheets, *figure, caption),
    }
}

fn heading(sheets: &mut Sheets<'_>, level: u8, runs: &[Run], anchor: &str) {
    let cap_mm = HEADING_CAP_MM[index(level)];
    sheets.space(ABOVE_HEADING_MM[index(level)]);
    sheets.mark(anchor);
    let bold = |run: &Run| Run { style: Style { strong: true, ..run.style }, ..run.clone() };
    for line in lines(&runs.iter().map(bold).collect::<Vec<_>>(), cap_mm, sheets.room_mm()) {
        sheets.line(&line, 1.9 * cap_mm);
    }
}

fn paragraph(sheets: &mut Sheets<'_>, runs: &[Run]) {
    let set = lines(runs, CAP_MM, sheets.room_mm());
    let line_mm = sheets.line_mm();
    lines_kept(sheets, &set, line_mm);
}

/// Lines over as many sheets as they take, none of them alone on its sheet.
fn lines_kept(sheets: &mut Sheets<'_>, set: &[Line], line_mm: f64) {
    let fits = (0..set.len()).take_while(|index| (index + 1) as f64 * line_mm <= sheets.left_over_mm()).count();
    let whole = set.len();
    let last = match fits {
        fits if fits >= whole => whole,
        0 | 1 => 0,
        // The last line takes the one before it along.
        fits if fits == whole - 1 && whole > 3 => fits - 1,
        fits if fits == whole - 1 => 0,
        fits => fits,
    };
    for (index, line) in set.iter().enumerate() {
        if index == last && last < whole && !sheets.is_fresh() {
            sheets.start_sheet();
        }
        sheets.line(line, line_mm);
    }
}

/// What the program says, with a stroke beside it.
fn quote(sheets: &mut Sheets<'_>, runs: &[Run]) {
    let line_mm = sheets.line_mm();
    sheets.space(ABOVE_BLOCK_MM);
    sheets.left_mm += INDENT_MM;
    let set = lines(runs, CAP_MM, sheets.room_mm());
    sheets.keep_together(set.len() as f64 * line_mm);
    let top_mm = sheets.y_mm + line_mm - 1.4 * CAP_MM;
    for line in &set {
        sheets.line(line, line_mm);
    }
    let (x_mm, foot_mm) = (sheets.left_mm - 0.5 * INDENT_MM, sheets.y_mm + 0.4 * CAP_MM);
    sheets.drawing().line(Layer::Outline, (x_mm, top_mm), (x_mm, foot_mm));
    sheets.left_mm -= INDENT_MM;
}

fn list(sheets: &mut Sheets<'_>, first: Option<u64>, items: &[Vec<Block>]) {
    let line_mm = sheets.line_mm();
    sheets.space(0.5 * ABOVE_BLOCK_MM);
    for (number, item) in (0..).zip(items) {
        sheets.space(0.5 * ABOVE_BLOCK_MM);
        sheets.left_mm += INDENT_MM;
        let mark = first.map_or_else(|| "•".to_owned(), |first| format!("{}.", first + number));
        match &item[..] {
            [Block::Paragraph(runs), rest @ ..] => {
                let set = lines(runs, CAP_MM, sheets.room_mm());
                // The mark stands beside the first line, wherever that comes to stand.
                if set.len() as f64 * line_mm > sheets.left_over_mm() && sheets.left_over_mm() < 2.0 * line_mm {
                    sheets.start_sheet();
                }
                let at = (sheets.left_mm - INDENT_MM + 1.0, sheets.y_mm + line_mm);
                sheets.drawing().text(Text::new(mark, at, CAP_MM));
                for line in &set {
                    sheets.line(line, line_mm);
                }
                blocks(sheets, rest);
            }
            others => blocks(sheets, others),
        }
        sheets.left_mm -= INDENT_MM;
    }
}

/// Lines in a frame; a line that is too long goes on set in.
fn code(sheets: &mut Sheets<'_>, text: &str) {
    let line_mm = sheets.small_line_mm();
    sheets.space(ABOVE_BLOCK_MM);
    let room_mm = sheets.room_mm() - 2.0 * FRAME_MM;
    let set: Vec<(f64, Line)> = text.lines().flat_map(|line| code_lines(line, room_mm)).collect();
    let height_mm = 2.0 * FRAME_MM + set.len() as f64 * line_mm;
    sheets.keep_together(height_mm);
    let (left_mm, top_mm) = (sheets.left_mm, sheets.y_mm + 1.0);
    let frame = Rect::new(left_mm, top_mm, sheets.right_mm, top_mm + height_mm);
    sheets.drawing().path(Layer::Map, frame.to_path(0.1));
    for (index, (indent_mm, line)) in set.iter().enumerate() {
        let y_mm = top_mm + FRAME_MM + (index as f64 + 0.5) * line_mm + 0.5 * SMALL_CAP_MM;
        sheets.put(line, (left_mm + FRAME_MM + indent_mm, y_mm));
    }
    sheets.y_mm = frame.y1;
}

/// A line of code with how far it is set in: its own spaces, and more where it goes on.
fn code_lines(line: &str, room_mm: f64) -> Vec<(f64, Line)> {
    let own_mm = width_of_code_mm(&line[..line.len() - line.trim_start().len()], SMALL_CAP_MM);
    let run = Run { text: line.trim().to_owned(), style: Style { code: true, ..Style::default() }, link: None };
    let set = lines(&[run], SMALL_CAP_MM, room_mm - own_mm - INDENT_MM);
    set.into_iter().enumerate().map(|(index, line)| (own_mm + if index > 0 { INDENT_MM } else { 0.0 }, line)).collect()
}

/// A picture no broader than the room: shrunk, or cut where it is true to size.
fn picture(sheets: &Sheets<'_>, figure: Figure) -> Option<crate::print::Page> {
    let (mut page, room_mm) = (sheets.pictures.draw(figure)?, sheets.room_mm());
    let share = room_mm / page.size_mm.width;
    if share < 1.0 && figure.is_true_to_size() {
        page.size_mm.width = room_mm;
        for placed in &mut page.placed {
            let seen = placed.page_from_drawing.inverse().transform_rect_bbox(page.size_mm.to_rect());
            placed.clip = placed.clip.map(|clip| clip.intersect(seen));
        }
    } else if share < 1.0 {
        page.size_mm = share * page.size_mm;
        page.placed.iter_mut().for_each(|placed| placed.page_from_drawing = Affine::scale(share) * placed.page_from_drawing);
    }
    Some(page)
}

fn figure_with(sheets: &mut Sheets<'_>, figure: Figure, caption: &[Run]) {
    let Some(page) = picture(sheets, figure) else { return };
    let line_mm = sheets.small_line_mm();
    let under = lines(caption, SMALL_CAP_MM, sheets.room_mm());
    sheets.space(ABOVE_BLOCK_MM);
    sheets.keep_together(page.size_mm.height + 2.0 + sheets.small_line_mm() * under.len() as f64);
    let left_mm = sheets.left_mm + 0.5 * (sheets.room_mm() - page.size_mm.width);
    let to_place = Affine::translate((left_mm, sheets.y_mm + 1.5));
    sheets.place(page.placed.into_iter().map(|mut placed| {
        placed.page_from_drawing = to_place * placed.page_from_drawing;
        placed
    }));
    sheets.y_mm += page.size_mm.height + 2.0;
    for line in &under {
        sheets.line(line, line_mm);
    }
    sheets.y_mm += 1.0;
}
