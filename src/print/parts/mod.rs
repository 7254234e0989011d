//! What the maker prints: template, swing strip, rod strip, block, folding card and job card, drawn from a layout and its figures; the plan of a day.

mod block_sheet;
mod bundle;
mod card_options;
mod chart;
mod creases;
mod day;
mod files;
mod flow;
mod fold_steps;
mod folding_card;
mod job_card;
mod labels;
mod layers;
mod order_print;
mod plan_sheets;
mod puck_sheet;
mod rod_strip;
mod settle;
mod strip_words;
mod swing_strip;
mod table;
mod template;

pub use block_sheet::block_sheet;
pub use bundle::{PartKind, PrintOptions, drawings, drawings_with, print_parts, print_parts_with, whole_drawings};
pub use card_options::CardOptions;
pub use files::{PrintForm, PrintedFile, file_name, printed_files, printed_files_with, printed_sheet};
pub use fold_steps::FoldPictures;
pub use folding_card::folding_card;
pub use job_card::{job_card, job_card_with};
pub use order_print::{OrderPrint, OrderPrintError, OrderPrintOptions, OrderProgress};
pub use plan_sheets::{PlanOptions, plan_part, plan_pdf, plan_sheets};
pub use puck_sheet::puck_sheet;
pub use rod_strip::rod_strip;
pub use swing_strip::swing_strip;
pub use template::{TemplateOptions, template};
