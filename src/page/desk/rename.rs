//! Where a board or a front is named beside its own table.

use crate::job::{
    BOARDS_CSV, DEFECTS_CSV, DONE_CSV, FRONTS_CSV, OPENINGS_CSV, PHOTOS_CSV, WISHES_CSV,
};

/// The columns of other tables that name what stands in a table.
pub fn places(file: &str) -> &'static [(&'static str, &'static [&'static str])] {
    match file {
        BOARDS_CSV => &[
            (DEFECTS_CSV, &["board"]),
            (PHOTOS_CSV, &["board"]),
            (DONE_CSV, &["board"]),
            (FRONTS_CSV, &["board", "not_board"]),
            (WISHES_CSV, &["wish"]),
        ],
        FRONTS_CSV => &[
            (OPENINGS_CSV, &["front"]),
            (DONE_CSV, &["front"]),
            (WISHES_CSV, &["wish"]),
        ],
        _ => &[],
    }
}

/// A cell with the new name for the old one; nothing when it does not have it.
pub fn renamed(column: &str, cell: &str, old: &str, new: &str) -> Option<String> {
    let separators: &[&str] = match column {
        "not_board" => &["|"],
        "board" if cell.contains('|') => &["|"],
        "wish" => &["!=", "=", "+"],
        _ => &[],
    };
    let separator = separators.iter().find(|sign| cell.contains(**sign));
    let Some(separator) = separator else {
        return (cell == old).then(|| new.to_owned());
    };
    let parts: Vec<&str> = cell.split(separator).collect();
    let swap = |part: &&str| {
        if part.trim() == old {
            new.to_owned()
        } else {
            (*part).to_owned()
        }
    };
    let swapped: Vec<String> = parts.iter().map(swap).collect();
    let swapped = swapped.join(separator);
    (swapped != cell).then_some(swapped)
}

#[cfg(test)]
mod tests {
    use super::renamed;

    #[test]
    fn a_name_is_changed_where_it_stands_as_a_whole() {
        let told = |column, cell| renamed(column, cell, "C1", "K1");
        assert_eq!(told("board", "C1").as_deref(), Some("K1"));
        assert_eq!(told("board", "C10"), None);
        assert_eq!(told("board", "C2|C1").as_deref(), Some("C2|K1"));
        assert_eq!(told("wish", "3a=C1").as_deref(), Some("3a=K1"));
        assert_eq!(told("wish", "C1=out").as_deref(), Some("K1=out"));
        assert_eq!(told("wish", "3a!=C10"), None);
    }
}
