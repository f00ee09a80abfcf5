//! Rows of text as the bytes of a CSV file.

use crate::plan::{End, Face};

/// A header and rows of cells, comma separated, quoted where a cell asks for it.
pub(super) fn csv_bytes(header: &[&str], rows: Vec<Vec<String>>) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has the header's number of cells.
    let mut write = |cells: &[String]| writer.write_record(cells).expect("a row of cells");
    write(
        &header
            .iter()
            .map(|&name| name.to_owned())
            .collect::<Vec<_>>(),
    );
    for row in rows {
        write(&row);
    }
    writer.into_inner().expect("memory takes what is left")
}

pub(super) fn end_name(end: End) -> &'static str {
    match end {
        End::Hook => "hook",
        End::Far => "far",
    }
}

pub(super) fn face_name(face: Face) -> &'static str {
    match face {
        Face::Up => "up",
        Face::Down => "down",
    }
}
