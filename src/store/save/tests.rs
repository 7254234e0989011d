//! What a save does, and what is left when it is refused.

use super::*;

#[test]
fn the_earlier_file_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    save(&path, b"one").unwrap();
    assert!(!backup_path(&path).exists());
    save(&path, b"two").unwrap();
    save(&path, b"two").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"two");
    assert_eq!(fs::read(backup_path(&path)).unwrap(), b"one");
}

/// A second save used to overwrite the one backup there was.
#[test]
fn earlier_backups_move_on_and_only_the_oldest_goes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    for turn in 0..=MOST_BACKUPS + 1 {
        save(&path, turn.to_string().as_bytes()).unwrap();
    }
    let kept: Vec<String> = backup_paths(&path).map(|name| fs::read_to_string(name).unwrap()).collect();
    assert_eq!(kept, (1..=MOST_BACKUPS).rev().map(|turn| turn.to_string()).collect::<Vec<_>>());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1 + MOST_BACKUPS as usize);
}

#[test]
fn a_refused_write_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let inside = folder.path().join("sheets");
    fs::create_dir(&inside).unwrap();
    assert!(save(&inside, b"x").unwrap_err().to_string().contains("it is a folder"));
    let said = save(&folder.path().join("none/x.pdf"), b"x").unwrap_err().to_string();
    assert!(said.ends_with("none/x.pdf: could not be written: there is no such folder; make it, or choose another"), "{said}");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    assert_eq!(fs::read_dir(&inside).unwrap().count(), 0);
}

/// The first of several files used to be written before the second was refused.
#[test]
fn several_files_are_written_all_or_none() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b, c] = ["a", "b", "c"].map(|name| folder.path().join(name));
    fs::write(&b, "mine").unwrap();
    fs::create_dir(&c).unwrap();
    assert!(save_all(&[(&a, b"1"), (&b, b"2"), (&c, b"3")]).is_err());
    assert!(!a.exists() && fs::read(&b).unwrap() == b"mine");
}

/// A folder made for files that then could not be written used to stay.
#[test]
fn a_folder_made_in_vain_is_gone_again() {
    let folder = tempfile::tempdir().unwrap();
    let sheets = folder.path().join("order/sheets");
    let name = sheets.join("x".repeat(300));
    assert!(save_each_in(&sheets, &[name], |name| (name, b"x")).is_err());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    save_each_in(&sheets, &[sheets.join("x.pdf")], |good| (good, b"x")).unwrap();
    assert!(sheets.join("x.pdf").exists());
}

/// A private file is private at every moment, its backup too, and a new one is what new files are here.
#[cfg(unix)]
#[test]
fn permissions_are_kept() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let [tee, plain] = ["tee.ron", "plain"].map(|name| folder.path().join(name));
    save(&tee, b"one").unwrap();
    fs::write(&plain, "").unwrap();
    assert_eq!(mode(&tee), mode(&plain));
    fs::set_permissions(&tee, fs::Permissions::from_mode(0o600)).unwrap();
    save(&tee, b"two").unwrap();
    assert_eq!((mode(&tee), mode(&backup_path(&tee))), (0o600, 0o600));
}

/// Programs that save at once, and how often each does.
const PROGRAMS: usize = 10;
const TURNS: usize = 60;

fn said_by(program: usize, turn: usize) -> String {
    format!("{program} {turn} {}", "x".repeat(300 * program + turn))
}

/// What one of the programs below does; `CONCURRENT_SAVES` names the folder and the program.
#[test]
#[ignore = "run ten times at once by ten_programs_save_one_file"]
fn one_of_ten_programs() {
    let Ok(given) = std::env::var("CONCURRENT_SAVES") else { return };
    let (program, folder) = given.split_once(' ').unwrap();
    let path = Path::new(folder).join("tee.ron");
    for turn in 0..TURNS {
        if let Err(error) = save(&path, said_by(program.parse().unwrap(), turn).as_bytes()) {
            assert_eq!(error.source.kind(), io::ErrorKind::ResourceBusy, "{error}");
        }
    }
}

/// 63 of 600 such saves used to be refused with "there is no such file", and backups were lost.
#[test]
fn ten_programs_save_one_file() {
    let folder = tempfile::tempdir().unwrap();
    let test = std::env::current_exe().unwrap();
    let start = |program: usize| {
        std::process::Command::new(&test)
            .args(["--exact", "--include-ignored", "store::save::tests::one_of_ten_programs"])
            .env("CONCURRENT_SAVES", format!("{program} {}", folder.path().display()))
            .stdout(std::process::Stdio::piped())
            .spawn()
            .unwrap()
    };
    let programs: Vec<_> = (0..PROGRAMS).map(start).collect();
    for program in programs {
        let output = program.wait_with_output().unwrap();
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(output.status.success() && said.contains("1 passed"), "{said}");
    }
    let path = folder.path().join("tee.ron");
    let all: Vec<String> = (0..PROGRAMS).flat_map(|program| (0..TURNS).map(move |turn| said_by(program, turn))).collect();
    let mut kept: Vec<String> = backup_paths(&path).chain([path]).map(|name| fs::read_to_string(name).unwrap()).collect();
    assert!(kept.iter().all(|kept| all.contains(kept)), "each is whole");
    kept.sort();
    kept.dedup();
    assert_eq!(kept.len(), 1 + MOST_BACKUPS as usize, "each is another's or of another turn");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1 + MOST_BACKUPS as usize);
}
