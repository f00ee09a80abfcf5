//! Wishes, written into the text of `wishes.csv`.

use crate::job::read::wishes;
use crate::job::table::TableEdit;

/// Adds the wishes of `keep` and takes out the rows of those in `drop`; all else stays as it is.
pub fn mark_wishes(text: &str, keep: &[String], drop: &[String]) -> String {
    let mut edit = TableEdit::new(text, wishes::COLUMNS, &["wish", "notes"]);
    for row in (0..edit.rows()).rev() {
        if drop.contains(&edit.cell(row, "wish")) {
            edit.remove(row);
        }
    }
    for wish in keep {
        edit.append(&[("wish", wish.clone())]);
    }
    edit.into_text()
}

#[cfg(test)]
mod tests {
    use super::mark_wishes;

    #[test]
    fn wishes_are_added_and_taken_out_where_they_stand() {
        let text =
            "# what the client asked for\r\nnotes;wish\r\nsaid on Monday;3a=C5\r\n;C9=out\r\n";
        let kept = mark_wishes(text, &["top+1".to_owned()], &[]);
        assert_eq!(kept, format!("{text};top+1\r\n"));
        let dropped = mark_wishes(&kept, &[], &["3a=C5".to_owned()]);
        assert_eq!(
            dropped,
            "# what the client asked for\r\nnotes;wish\r\n;C9=out\r\n;top+1\r\n"
        );
        assert_eq!(
            mark_wishes("", &["a=B".to_owned()], &[]),
            "wish,notes\na=B,\n"
        );
    }
}
