use proptest::prelude::*;

use super::*;

const COLUMNS: Columns = Columns {
    required: &["board", "width"],
    optional: &["tone", "space_after"],
};

fn read(text: &str) -> (Table, Faults) {
    let mut faults = Faults::new();
    let table = Table::read(
        &Source::new("boards.csv", text),
        &COLUMNS,
        Unit::Inch,
        &mut faults,
    );
    (table, faults)
}

fn column(text: &str, name: &'static str) -> Vec<String> {
    let (table, faults) = read(text);
    assert!(faults.is_empty(), "{faults}");
    table.lines().map(|line| line.text(name)).collect()
}

#[test]
fn commas_semicolons_marks_and_line_ends_of_any_system_read_alike() {
    for text in [
        "board,width\nA,5\nB,6\n",
        "board;width\nA;5\nB;6",
        "\u{feff}Board , WIDTH\r\n\"A\",5\r\n\r\nB,6\r\n",
        "# my boards\n\nwidth,board\n5,A\n  # a board I sold: X,\"9\n6 , B\n,\n",
        "board,width\rA,5\rB,6",
    ] {
        assert_eq!(column(text, "board"), ["A", "B"], "{text:?}");
        assert_eq!(column(text, "width"), ["5", "6"], "{text:?}");
    }
}

#[test]
fn quoted_cells_keep_separators_quotes_and_line_ends() {
    let text = "board,tone,width\nA,\"5; pinkish, even\",5\nB,\"say \"\"dark\"\"\nhere\",6\n";
    assert_eq!(
        column(text, "tone"),
        ["5; pinkish, even", "say \"dark\"\nhere"]
    );
}

#[test]
fn inch_marks_need_no_quotes() {
    assert_eq!(
        column("board,width\nA,11 3/8\"\nB,5\"\n", "width"),
        ["11 3/8\"", "5\""]
    );
}

#[test]
fn a_two_word_column_may_be_written_as_two_words() {
    assert_eq!(
        column("board,width,Space After\nA,5,1\n", "space_after"),
        ["1"]
    );
}

#[test]
fn a_short_row_leaves_its_last_cells_empty() {
    assert_eq!(column("board,width,tone\nA,5\n", "tone"), [""]);
}

fn complaints(text: &str) -> Vec<String> {
    read(text).1.iter().map(ToString::to_string).collect()
}

#[test]
fn faults_of_the_header_name_their_column() {
    assert_eq!(
        complaints("board,widht,tone,tone\n"),
        [
            "boards.csv, line 1, column 2 `widht`: there is no such column",
            "boards.csv, line 1, column 4 `tone`: this column stands in the header twice",
            "boards.csv, line 1, width: this column is missing",
        ]
    );
    assert_eq!(
        complaints("\n# nothing\n"),
        ["boards.csv: the file has no header line"]
    );
}

#[test]
fn a_row_longer_than_the_header_is_a_fault() {
    assert_eq!(
        complaints("board,width\nA,5,medium, dark\n"),
        ["boards.csv, line 2, beyond the last column `medium`: the row has 4 cells, the header 2"]
    );
    assert!(complaints("board,width\nA,5,,\n").is_empty());
}

#[test]
fn an_open_quote_is_a_fault_where_it_opens() {
    assert_eq!(
        complaints("board,width\nA,\"5\nB,6\n"),
        ["boards.csv, line 2: a quoted cell begins here and never ends"]
    );
}

/// The second mark is meant for something else, on the same line or a later one.
#[test]
fn an_open_quote_is_blamed_where_it_opens_and_the_rest_is_read() {
    for text in [
        "board,width,tone\nA,\"5,3\nB,6,\"dark\"\nC,7,4\n",
        "board,width,tone\nA,\"5,3\nB,6\",4\nC,7,4\n",
        "board,width,tone\r\nA,\"5,3\r\nB,6,\"dark\r\nC,7,\"4\"\r\n",
    ] {
        let (table, faults) = read(text);
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        let first = "boards.csv, line 2: a quoted cell begins here and never ends";
        assert_eq!(told[0], first, "{text:?}");
        let boards: Vec<String> = table.lines().map(|line| line.text("board")).collect();
        assert_eq!(boards, ["A", "B", "C"], "{text:?}");
        let widths: Vec<String> = table.lines().map(|line| line.text("width")).collect();
        assert_eq!(widths[0], "5", "{text:?}");
    }
}

#[test]
fn a_comma_is_a_decimal_comma_beside_semicolons_and_between_marks() {
    let width = |text: &str| {
        let (table, faults) = read(text);
        assert!(faults.is_empty(), "{faults}");
        let cell = table.lines().next().unwrap().cell("width").unwrap();
        cell.size().map_err(|fault| fault.to_string())
    };
    let wanted = Ok(crate::measure::Length::from_inches(27.5));
    assert_eq!(width("board;width\nA;27,5\n"), wanted);
    assert_eq!(width("board,width\nA,\"27,5\"\n"), wanted);
    assert!(width("board;width\nA;1,234,5\n").is_err());
    let (table, _) = read("board;tone\nA;3,5\n");
    let tone = table.lines().next().unwrap().cell("tone").unwrap().tone();
    assert_eq!(tone.unwrap().0.value(), 3.5);
    let (table, _) = read("board;tone\nA;\"3,5; pale, 2,5 wide\"\n");
    let tone = table.lines().next().unwrap().cell("tone").unwrap().tone();
    assert_eq!(tone.unwrap().1, "pale, 2,5 wide");
}

#[test]
fn a_cell_knows_the_line_and_bytes_it_stands_on() {
    let text = "\u{feff}# é\nboard;width\r\n\r\nA; 5 \r\n";
    let (table, _) = read(text);
    let place = table.lines().next().unwrap().place("width");
    assert_eq!(place.line(), Some(4));
    assert_eq!(&text[place.span().unwrap()], "5");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in "(?s).{0,200}") {
        let (table, faults) = read(&text);
        for line in table.lines() {
            let _ = line.cell("width").map(|cell| cell.size().is_ok());
            let _ = line.whole().line();
        }
        for fault in &faults {
            let _ = format!("{:?}", miette::Report::new(fault.shown()));
        }
    }

    #[test]
    fn no_near_table_makes_it_panic(text in "(board|width|tone|[,;\"\\r\\n#é 5A]){0,60}") {
        let (table, faults) = read(&text);
        for line in table.lines() {
            let span = line.place("width").span().unwrap();
            prop_assert!(text.get(span).is_some());
        }
        for fault in &faults {
            let _ = format!("{:?}", miette::Report::new(fault.shown()));
        }
    }

    #[test]
    fn cells_written_by_a_csv_library_read_back(
        cells in proptest::collection::vec("[^\\pC]{0,12}", 1..8)
    ) {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(["board", "width"]).unwrap();
        for cell in &cells {
            writer.write_record(["A", cell]).unwrap();
        }
        let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        // An apostrophe in front may be how a cell was kept from being a formula.
        prop_assume!(!cells.iter().any(|cell| cell.trim().starts_with('\'')));
        let read = column(&text, "width");
        let trimmed: Vec<&str> = cells.iter().map(|cell| cell.trim()).collect();
        prop_assert_eq!(read, trimmed);
    }
}
