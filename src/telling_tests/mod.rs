//! Every variant of every refusal and warning, said in every voice, held to the rules of speech.
//!
//! A variant without a sample does not compile.

mod geometry;
mod handbook;
mod import;
mod layout;
mod learn;
mod photo;
mod plan;
mod print;
mod projection;
mod reveal;
mod store;
mod wish;

use crate::measure::{InchFraction, LengthStyle, LengthUnit};
use crate::telling::{Names, Refused, Told, Voice, Warned};

/// One sample of each variant, in the order of the patterns.
macro_rules! every {
    ($type:ty: $($variant:pat => $sample:expr),+ $(,)?) => {{
        // Fails to compile when a variant is added.
        fn _covered(value: &$type) {
            match value {
                $($variant => {})+
            }
        }
        vec![$({
            let sample: $type = $sample;
            assert!(matches!(sample, $variant), "{sample:?}");
            sample
        }),+]
    }};
}
use every;

const INCHES: LengthStyle = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
const MM: LengthStyle = LengthStyle::MILLIMETRES;
const VOICES: [Voice; 4] = [Voice::FILE, Voice::window(MM), Voice::window(INCHES), Voice { lengths: INCHES, names: Names::Keys }];

fn refusals<T: Refused>(samples: &[T]) {
    for sample in samples {
        for voice in VOICES {
            let told = sample.told(voice);
            let said = sample.say(voice);
            check(&format!("{sample:?}"), &told, &said, voice);
            assert!(!said.ends_with('.') && !said.contains("; ;"), "{sample:?} said {said}");
        }
    }
}

fn warnings<T: Warned + std::fmt::Debug>(samples: &[T]) {
    for sample in samples {
        for voice in VOICES {
            let (told, said) = (sample.told(voice), sample.say(voice));
            check(&format!("{sample:?}"), &told, &said, voice);
            assert!(said.ends_with('.') && !said.contains(".."), "{sample:?} said {said}");
            assert!(starts_well(&said) && starts_well(&said[told.what.len() + 2..]), "two sentences: {said}");
        }
    }
}

fn starts_well(sentence: &str) -> bool {
    sentence.chars().next().is_some_and(|first| !first.is_lowercase())
}

/// What holds for every sentence; `sample` is what it says.
fn check(sample: &str, told: &Told, said: &str, voice: Voice) {
    assert!(!told.what.is_empty() && !told.cure.is_empty(), "{sample} lacks what is wrong or what would be right: {told:?}");
    let has_value = said.contains(|c: char| c.is_ascii_digit() || c == '"');
    assert!(has_value || !told.place.is_empty() || KNOWN_BY_THEMSELVES.iter().any(|known| sample.starts_with(known)), "{sample}");
    let own = without_quotes(said);
    assert!(
        !own.contains("::")
            && !own.contains("  ")
            && !own.contains("NaN mm")
            && !own.replace("there is no ", "").contains(" is no "),
        "{sample} said {said}"
    );
    if voice.names == Names::Words {
        assert!(starts_well(said), "{sample} said {said}");
        assert!(!own.contains('_') && !own.contains("List("), "a key in {said}");
        assert!(!has_path(&own), "a path in {said}");
    } else if let Some(key) = told.place.rsplit(['.', ' ']).next().filter(|key| key.contains('_')) {
        let again = [&told.what, &told.cure].into_iter().any(|part| part.split(|c: char| !is_of_key(c)).any(|word| word == key));
        assert!(!again, "{sample} names {key} twice: {said}");
    }
    if voice.lengths == INCHES {
        let left = lengths_in_mm(&own).into_iter().find(|mm| *mm >= INCHES.mark_mm());
        assert!(left.is_none(), "{left:?} mm in {said}");
    }
}

/// What is wrong with nothing that could be named.
const KNOWN_BY_THEMSELVES: [&str; 26] = [
    "WrapMeetsBlocks",
    "WarningRun([WrapMeetsBlocks",
    "Wrap(NoFlatBundle",
    "Alone",
    "Unbound",
    "Cancelled",
    "Nothing",
    "NoOutline",
    "OutlineOfKind",
    "Stopped",
    "Plan(Stopped",
    "Reveal(Cancelled",
    "Empty",
    "Infinite",
    "GuideEdited",
    "OutlineError",
    "NeverFixed",
    "PlasticOnHob",
    "NotText",
    "Compressed",
    "Binary",
    "NoLine {",
    "NoFlatBundle",
    "OffTheBundle",
    "WarningRun([NothingHolds",
    "WarningRun([NothingDipped",
];

fn is_of_key(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_'
}

/// The text without what it quotes: that is a file's, or the maker's own.
fn without_quotes(text: &str) -> String {
    text.split('"').step_by(2).collect::<Vec<_>>().join("\"")
}

/// Whether two words are joined by a dot.
fn has_path(text: &str) -> bool {
    let letters: Vec<char> = text.chars().collect();
    letters.windows(3).any(|three| three[0].is_alphabetic() && three[1] == '.' && three[2].is_alphabetic())
}

/// The numbers that stand before `mm`.
fn lengths_in_mm(text: &str) -> Vec<f64> {
    let words: Vec<&str> = text.split([' ', '(']).collect();
    let unit = |word: &str| word.trim_end_matches([',', ';', ':', '.', ')']) == LengthUnit::Millimetre.to_string();
    words.windows(2).filter(|pair| unit(pair[1])).filter_map(|pair| pair[0].parse().ok()).collect()
}

#[test]
fn the_rules_find_what_they_look_for() {
    assert_eq!(lengths_in_mm("from 25.4 mm; use mm, cm (3 mm)"), [25.4, 3.0]);
    assert_eq!(without_quotes("unknown \"a_b\" at c"), "unknown \"\" at c".replace("\"\"", "\""));
    assert!(has_path("garment.size: wrong") && !has_path("9.25 in. Use .pdf"));
    let wrong = std::panic::catch_unwind(|| refusals(&[Told::new("neck_width_mm is 415 mm", "give less")]));
    assert!(wrong.is_err(), "a key in the window passes");
}
