//! What the maker prints: template, swing strip, rod strip and job card, drawn from a layout and its figures.

mod bundle;
mod creases;
mod files;
mod job_card;
mod labels;
mod rod_strip;
mod strip_words;
mod swing_strip;
mod table;
mod template;

pub use bundle::{PartKind, PrintOptions, drawings, print_parts, whole_drawings};
pub use files::{PrintForm, PrintedFile, file_name, printed_files};
pub use job_card::job_card;
pub use rod_strip::rod_strip;
pub use swing_strip::swing_strip;
pub use template::{TemplateOptions, template};
