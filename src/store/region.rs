//! Where the maker lives, as the system says.

use crate::measure::Region;

/// What an environment of POSIX says of paper, in the order in which its parts count (IEEE Std 1003.1, 8.2; `LC_PAPER` after ISO/IEC
/// TR 30112).
const VARIABLES: [&str; 3] = ["LC_ALL", "LC_PAPER", "LANG"];

/// The region that the system is set to; none where it names none.
#[must_use]
pub fn system_region() -> Option<Region> {
    region_of(|name| std::env::var(name).ok(), sys_locale::get_locale)
}

/// The first part of the environment that is set counts; where none is, as on systems with a window of settings, those settings.
fn region_of(variable: impl Fn(&str) -> Option<String>, settings: impl FnOnce() -> Option<String>) -> Option<Region> {
    let set = VARIABLES.into_iter().filter_map(variable).find(|value| !value.is_empty());
    Region::of_locale(&set.or_else(settings)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_part_that_is_set_counts() {
        let region = |set: &[(&str, &str)], settings: Option<&str>| {
            let variable = |name: &str| set.iter().find(|(known, _)| *known == name).map(|(_, value)| (*value).to_owned());
            region_of(variable, || settings.map(str::to_owned))
        };
        let (us, de) = (Region::of_locale("en_US"), Region::of_locale("de_DE"));
        assert_eq!(region(&[("LANG", "en_US.UTF-8"), ("LC_PAPER", "de_DE.UTF-8")], None), de);
        assert_eq!(region(&[("LANG", "de_DE.UTF-8"), ("LC_ALL", "en_US.UTF-8"), ("LC_PAPER", "de_DE")], None), us);
        assert_eq!(region(&[("LC_ALL", ""), ("LANG", "en_US.UTF-8")], Some("de-DE")), us);
        assert_eq!(region(&[], Some("en-US")), us);
        assert_eq!((region(&[("LANG", "C")], Some("en-US")), region(&[], None)), (None, None));
    }
}
