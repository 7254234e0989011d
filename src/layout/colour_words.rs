//! Plain words for the colours of dyes that are no names of CSS.

/// Colours that dyers call by these words, as digits of sRGB. Chosen by eye on a screen, from memory: a start for the picker, no
/// standard.
const WORDS: [(&str, u32); 61] = [
    ("amber", 0x00e8_9a1c),
    ("apricot", 0x00f3_b27a),
    ("aubergine", 0x0047_2543),
    ("avocado", 0x006b_7a35),
    ("blush", 0x00e9_b9b3),
    ("bottle", 0x0016_4a38),
    ("brick", 0x009c_4331),
    ("bronze", 0x008a_6532),
    ("burgundy", 0x006b_1b30),
    ("butter", 0x00f3_df8f),
    ("camel", 0x00b9_8b55),
    ("caramel", 0x00a9_6a30),
    ("charcoal", 0x003d_4043),
    ("cherry", 0x00a5_1931),
    ("chestnut", 0x007d_4127),
    ("cinnamon", 0x00a3_5a2e),
    ("claret", 0x0073_1a34),
    ("cobalt", 0x001f_4aa0),
    ("copper", 0x00ad_6238),
    ("cranberry", 0x0098_1f3d),
    ("cream", 0x00f4_ebd0),
    ("denim", 0x0037_5a85),
    ("emerald", 0x0017_8a5c),
    ("fawn", 0x00c3_a27c),
    ("flame", 0x00de_4f25),
    ("forest", 0x0024_5536),
    ("ginger", 0x00b8_6425),
    ("heather", 0x0092_7c9c),
    ("jade", 0x002f_9a78),
    ("kelly", 0x002c_9b46),
    ("lilac", 0x00b9_9bc9),
    ("mahogany", 0x0063_2a22),
    ("marigold", 0x00ec_a421),
    ("mauve", 0x00a3_7f9f),
    ("midnight", 0x001a_2340),
    ("mint", 0x00a3_d9bd),
    ("moss", 0x006c_7438),
    ("mulberry", 0x0081_2e5b),
    ("mushroom", 0x00ae_9c8b),
    ("mustard", 0x00cf_9d27),
    ("ochre", 0x00c2_8633),
    ("oxblood", 0x005c_1a1f),
    ("peach", 0x00f6_bf9d),
    ("peacock", 0x0013_6d82),
    ("periwinkle", 0x0083_8fce),
    ("petrol", 0x001d_5263),
    ("pine", 0x0028_553f),
    ("poppy", 0x00d6_3a2d),
    ("pumpkin", 0x00d9_7227),
    ("raspberry", 0x00b5_2757),
    ("rose", 0x00d5_7a8c),
    ("ruby", 0x009a_1440),
    ("rust", 0x00a9_4a25),
    ("sage", 0x009a_a88a),
    ("sand", 0x00d6_c09a),
    ("sapphire", 0x001f_4487),
    ("slate", 0x0056_6270),
    ("straw", 0x00e0_cd83),
    ("taupe", 0x0085_7566),
    ("terracotta", 0x00bd_5f3f),
    ("wine", 0x0069_1f37),
];

/// Basic colours that may follow a word and add nothing to it: `rust red` is rust.
const BASIC: [&str; 12] =
    ["red", "orange", "yellow", "green", "blue", "purple", "violet", "pink", "brown", "grey", "gray", "white"];
/// Words before a colour that make it darker or lighter, and how much: its channels times this, or this far toward white. Own choice.
const DARKER: ([&str; 2], f64) = (["dark", "deep"], 0.7);
const LIGHTER: ([&str; 2], f64) = (["light", "pale"], 0.45);

/// The colour that plain words stand for, in small letters with single spaces, as channels of sRGB; none for words that are not known.
pub(super) fn of_words(words: &str) -> Option<[u8; 3]> {
    if let Some((_, digits)) = WORDS.iter().find(|(word, _)| *word == words) {
        let [_, red, green, blue] = digits.to_be_bytes();
        return Some([red, green, blue]);
    }
    if let Some((before, basic)) = words.rsplit_once(' ')
        && BASIC.contains(&basic)
        && let Some(colour) = of_words(before)
    {
        return Some(colour);
    }
    let (shade, of) = words.split_once(' ')?;
    let colour = of_words(of)?;
    let changed = |change: fn(f64) -> f64| colour.map(|channel| channel_of(change(f64::from(channel))));
    if DARKER.0.contains(&shade) {
        Some(changed(|channel| channel * DARKER.1))
    } else if LIGHTER.0.contains(&shade) {
        Some(changed(|channel| channel + (255.0 - channel) * LIGHTER.1))
    } else {
        None
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "rounded and within 0 to 255")]
fn channel_of(value: f64) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each word once, in order, and none that CSS has with another meaning.
    #[test]
    fn words_are_in_order_and_are_no_names_of_css() {
        assert!(WORDS.windows(2).all(|pair| pair[0].0 < pair[1].0));
        for (word, _) in WORDS {
            let letters: String = word.split_whitespace().collect();
            assert!(csscolorparser::parse(&letters).is_err(), "{word}");
        }
    }

    /// Hues as everybody means them: the largest channels of each, by the words' own meaning.
    #[test]
    fn words_mean_what_dyers_mean() {
        let hue = |words: &str| {
            let [red, green, blue] = of_words(words).unwrap();
            csscolorparser::Color::from_rgba8(red, green, blue, 255).to_hsva()[0]
        };
        for (words, from, to) in [
            ("mustard", 35.0, 50.0),
            ("rust", 5.0, 25.0),
            ("brick", 0.0, 20.0),
            ("peach", 15.0, 30.0),
            ("sage", 75.0, 110.0),
            ("mint", 130.0, 165.0),
            ("jade", 150.0, 170.0),
            ("denim", 205.0, 220.0),
            ("burgundy", 335.0, 350.0),
        ] {
            assert!((from..=to).contains(&hue(words)), "{words}: {}", hue(words));
        }
        assert_eq!(of_words("rust red"), of_words("rust"));
        assert_eq!(of_words("rust red"), Some([0xa9, 0x4a, 0x25]));
        let [dark, plain, light] = ["dark sage", "sage", "pale sage green"].map(|words| of_words(words).unwrap()[1]);
        assert!(dark < plain && plain < light);
        for words in ["", "red", "harbour", "harbour rust", "rust harbour", "dark"] {
            assert_eq!(of_words(words), None, "{words}");
        }
    }
}
