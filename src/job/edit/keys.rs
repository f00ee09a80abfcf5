//! One key of `job.toml`, changed in place.

use toml_edit::{DocumentMut, Item, Table, Value};

/// Sets `key` of `section` (the top when empty) to a value written as TOML, or takes it out when
/// there is none: then the default counts. Comments and the order of all else stay.
///
/// # Errors
/// In words, when the text or the value is no TOML, or something else stands where the section
/// should.
pub fn set_key(
    text: &str,
    section: &str,
    key: &str,
    value: Option<&str>,
) -> Result<String, String> {
    let (mark, plain) = match text.strip_prefix('\u{feff}') {
        Some(plain) => ("\u{feff}", plain),
        None => ("", text),
    };
    let mut document: DocumentMut = plain.parse().map_err(|why| format!("job.toml: {why}"))?;
    let table: &mut dyn toml_edit::TableLike = if section.is_empty() {
        document.as_table_mut()
    } else {
        let entry = document.entry(section);
        let item = entry.or_insert_with(|| Item::Table(Table::new()));
        let found = item.as_table_like_mut();
        found.ok_or_else(|| format!("job.toml: `{section}` is no section"))?
    };
    let Some(value) = value else {
        table.remove(key);
        return Ok(mark.to_owned() + &document.to_string());
    };
    let mut value: Value = value.parse().map_err(|why| format!("{key}: {why}"))?;
    match table.get_mut(key).and_then(Item::as_value_mut) {
        // What stands beside the old value, a comment perhaps, stays.
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            table.insert(key, Item::Value(value));
        }
    }
    Ok(mark.to_owned() + &document.to_string())
}

#[cfg(test)]
mod tests {
    use super::set_key;

    const TEXT: &str =
        "# mine\ntitle = \"A\" # the client's word\n\n[allowances]\nend_trim = \"2\"\n";

    #[test]
    fn a_key_changes_and_its_comment_stays() {
        let text = set_key(TEXT, "", "title", Some("\"B\"")).unwrap();
        assert_eq!(text, TEXT.replace("\"A\"", "\"B\""));
        let text = set_key(TEXT, "allowances", "end_trim", None).unwrap();
        assert_eq!(text, TEXT.replace("end_trim = \"2\"\n", ""));
        let text = set_key("", "worth", "unbroken", Some("5")).unwrap();
        assert_eq!(text, "[worth]\nunbroken = 5\n");
    }

    #[test]
    fn what_is_no_toml_is_told() {
        assert!(set_key(TEXT, "", "title", Some("\"")).is_err());
        assert!(set_key("title = ", "", "title", Some("1")).is_err());
        assert!(set_key(TEXT, "title", "x", Some("1")).is_err());
    }
}
