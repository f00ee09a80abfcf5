//! The known name a mistyped one was probably meant to be.

/// Letters in the longest text that may be a name mistyped.
const LONGEST: usize = 100;

/// The known name nearest to `typed`, when one is near enough to be a slip of the fingers.
pub(in crate::job) fn nearest<'a>(
    typed: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<String> {
    let typed = typed.to_lowercase();
    let letters = typed.chars().count();
    if letters > LONGEST {
        return None;
    }
    let most = letters / 3;
    known
        .into_iter()
        // Names of other lengths are as many letters away at the least.
        .filter(|name| name.len() <= 4 * LONGEST && name.chars().count().abs_diff(letters) <= most)
        .map(|name| {
            (
                strsim::damerau_levenshtein(&typed, &name.to_lowercase()),
                name,
            )
        })
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_the_name_meant() {
        let known = ["length", "width", "thickness"];
        assert_eq!(nearest("lenght", known).as_deref(), Some("length"));
        assert_eq!(nearest("Thikness", known).as_deref(), Some("thickness"));
        assert_eq!(nearest("b3", ["B1", "B3"]).as_deref(), Some("B3"));
    }

    #[test]
    fn something_else_finds_nothing() {
        assert_eq!(nearest("colour", ["length", "width"]), None);
        assert_eq!(nearest("B9", ["B1", "B2"]), None);
    }
}
