//! `man`: a manual page for the program and for each of its commands, from their one definition.

use super::arguments::{Arguments, ManArguments};
use super::{CliError, PROGRAM};
use clap::{Command, CommandFactory as _};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};
use pleatwright::measure::counted;
use pleatwright::store::save_each_in;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A page.
struct Page {
    path: PathBuf,
    bytes: Vec<u8>,
}

/// What the exit statuses mean, as [`CliError::exit_code`] gives them.
const EXIT_STATUSES: [(&str, &str); 3] =
    [("0", "Done."), ("1", "Something could not be written, or there is no display."), ("2", "Wrong input.")];

pub(crate) fn run(arguments: &ManArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let folder = &arguments.output;
    let pages = pages(folder)?;
    save_each_in(folder, &pages, |page| (page.path.as_path(), page.bytes.as_slice()))?;
    let read = folder.join(format!("{PROGRAM}.1"));
    writeln!(output, "{}: {}; read with man -l {}", folder.display(), counted(pages.len(), "page"), read.display())?;
    Ok(())
}

fn pages(folder: &Path) -> io::Result<Vec<Page>> {
    let mut program = Arguments::command().disable_help_subcommand(true);
    program.build();
    let mut pages = Vec::new();
    add(&program, folder, &mut pages)?;
    Ok(pages)
}

/// Adds a command's page, and those of its own commands.
fn add(command: &Command, folder: &Path, pages: &mut Vec<Page>) -> io::Result<()> {
    let page = Man::new(command.clone()).source(format!("Pleatwright {}", env!("CARGO_PKG_VERSION")));
    let mut bytes = Vec::new();
    page.render(&mut bytes)?;
    bytes.extend_from_slice(exit_statuses().to_roff().as_bytes());
    pages.push(Page { path: folder.join(page.get_filename()), bytes });
    command.get_subcommands().try_for_each(|command| add(command, folder, pages))
}

fn exit_statuses() -> Roff {
    let mut roff = Roff::new();
    roff.control("SH", ["EXIT STATUS"]);
    for (status, meaning) in EXIT_STATUSES {
        roff.control("TP", []);
        roff.text([roman(status)]);
        roff.text([roman(meaning)]);
    }
    roff
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The text of a page without its markup: what `man` would show, on one line.
    fn plain(page: &Page) -> String {
        let text = String::from_utf8(page.bytes.clone()).unwrap();
        let text = [r"\fB", r"\fI", r"\fR"].iter().fold(text, |text, font| text.replace(font, ""));
        text.replace(r"\-", "-").replace(r"\*(Aq", "'").split_whitespace().collect::<Vec<_>>().join(" ")
    }

    fn check(command: &Command, pages: &[Page]) {
        let name = command.get_display_name().unwrap_or_else(|| command.get_name());
        let file = format!("{name}.1");
        let page = pages.iter().find(|page| page.path.ends_with(&file)).unwrap_or_else(|| panic!("no page {file}"));
        let text = plain(page);
        assert!(text.contains(&format!(".TH {name} 1")) && text.contains(".SH NAME"), "{file}: {text}");
        assert!(text.contains(".SH EXIT STATUS") || text.contains(".SH \"EXIT STATUS\""), "{file}: {text}");
        // What the parser brings with it, its page says in words of its own.
        for argument in command.get_arguments().filter(|argument| !["help", "version"].contains(&argument.get_id().as_str())) {
            let long = argument.get_long().map_or_else(|| argument.get_id().to_string(), |long| format!("--{long}"));
            let help = argument.get_help().map(|help| help.to_string().replace('\\', r"\\")).unwrap_or_default();
            let first = help.split_whitespace().take(4).collect::<Vec<_>>().join(" ");
            assert!(
                text.to_lowercase().contains(&long.to_lowercase()) && text.contains(&first),
                "{file}: {long} {first}\n{text}"
            );
        }
        command.get_subcommands().for_each(|command| check(command, pages));
    }

    /// No page or option is forgotten, and each line of help stands on its page.
    #[test]
    fn every_command_has_a_page_with_all_its_options() {
        let pages = pages(Path::new("man")).unwrap();
        let mut program = Arguments::command().disable_help_subcommand(true);
        program.build();
        check(&program, &pages);
        assert!(pages.len() > 20 && pages.iter().all(|page| page.path.starts_with("man")), "{} pages", pages.len());
    }
}
