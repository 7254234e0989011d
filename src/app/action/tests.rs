use super::*;
use crate::app::canvas::HANDLING;
use crate::app::photo::{MARKING, OUTLINING, SQUARES};
use crate::app::projection::PROJECTING;
use egui::ModifierNames;
use std::fmt::Write as _;
use std::path::Path;

#[test]
fn no_two_actions_share_keys_or_words() {
    let all = Action::all();
    for (index, a) in all.iter().enumerate() {
        for b in &all[index + 1..] {
            assert_ne!(a.label(), b.label());
            assert_ne!(a.full_label(), b.full_label());
            assert!(a.shortcut().is_none() || a.shortcut() != b.shortcut(), "{a:?} and {b:?}");
        }
    }
}

/// A group that stood in two places of the table would be shown twice.
#[test]
fn the_menus_hold_every_action_of_the_table_once_and_in_groups() {
    let mut shown = Vec::new();
    for menu in Menu::ALL {
        let groups = Action::groups(menu);
        let places: Vec<_> = groups.iter().map(|group| group[0].entry().place).collect();
        let counted: Vec<_> = (0_u8..).take(groups.len()).map(|group| Some((menu, group))).collect();
        assert_eq!(places, counted, "{}", menu.name());
        shown.extend(groups.concat());
    }
    assert_eq!(shown, Action::TABLE);
}

#[test]
fn every_way_to_show_the_garment_is_an_action_of_its_name() {
    for showing in Showing::ALL {
        let action = Action::from(showing);
        assert_eq!(action.label(), showing.name());
        let mut settings = Settings::default();
        let Deed::Choose(choose) = action.entry().deed else { panic!("{action:?} changes no setting") };
        choose(&mut settings);
        assert_eq!(settings.showing, showing);
        let on: Vec<Showing> = Showing::ALL.into_iter().filter(|one| Action::from(*one).is_on(&settings) == Some(true)).collect();
        assert_eq!(on, [showing]);
    }
}

#[test]
fn what_is_shown_is_marked_until_it_is_put_away() {
    for action in [Action::Inset, Action::Alarm] {
        let mut settings = Settings::default();
        let Deed::Show(is_away) = action.entry().deed else { panic!("{action:?} shows nothing") };
        assert_eq!(action.is_on(&settings), Some(true));
        *is_away(&mut settings) = true;
        assert_eq!(action.is_on(&settings), Some(false));
    }
    assert_eq!(Action::Save.is_on(&Settings::default()), None);
}

/// The page of keys, as `KEYS.md` should have it.
fn page_of_keys() -> String {
    let mut page =
        "# Keys and pointer\n\nOn a Mac, ⌘ is Ctrl and ⌥ is Alt. Shift+F1 shows the same in the window.\n\n".to_owned();
    page += "| on the cloth | |\n|---|---|\n";
    for (what, does) in HANDLING {
        writeln!(page, "| {what} | {does} |").unwrap();
    }
    page += "\n| keys | |\n|---|---|\n";
    for action in Action::all() {
        if let Some(keys) = action.shortcut() {
            let keys = keys.format(&ModifierNames::NAMES, false);
            writeln!(page, "| {keys} | {} |", action.full_label().trim_end_matches('…')).unwrap();
        }
    }
    page += "\n| on a photograph | |\n|---|---|\n";
    for (what, does) in MARKING {
        writeln!(page, "| {what} | {does} |").unwrap();
    }
    page += "\n| on a photograph of an undyed garment | |\n|---|---|\n";
    for (what, does) in OUTLINING {
        writeln!(page, "| {what} | {does} |").unwrap();
    }
    page += "\n| on a photograph of dyed squares | |\n|---|---|\n";
    for (what, does) in SQUARES {
        writeln!(page, "| {what} | {does} |").unwrap();
    }
    page += "\n| in the projected picture | |\n|---|---|\n";
    for (what, does) in PROJECTING {
        writeln!(page, "| {what} | {does} |").unwrap();
    }
    page
}

/// The table makes the page too: see "Remaking references" in DEVELOPERS.md.
#[test]
fn reference_page_of_keys() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("KEYS.md");
    assert_eq!(crate::reference::compare_text(&path, &page_of_keys()), None);
}
