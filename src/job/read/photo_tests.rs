//! `photos.csv` and tones left to photographs.

use crate::job::{
    BOARDS_CSV, FRONTS_CSV, Faults, JOB_TOML, JobFiles, Needs, PHOTOS_CSV, PHOTOS_JSON, Photo,
    PhotoSide,
};
use crate::measure::Length;

fn files() -> JobFiles {
    JobFiles::new()
        .with(JOB_TOML, "")
        .with(
            BOARDS_CSV,
            "board,length,width,thickness,tone,count\nC7,8',7,4/4,5,\nP,60,6,4/4,photo,2\n",
        )
        .with(FRONTS_CSV, "front,width,height,thickness\nD1,20,5,3/4\n")
}

fn photos(files: &JobFiles) -> Vec<Photo> {
    files.parse_for(Needs::Photos).unwrap().photos
}

fn told(faults: &Faults) -> String {
    let lines = faults.iter().map(|fault| {
        let trouble = &fault.trouble;
        let parts = [Some(fault.to_string()), trouble.expected(), trouble.hint()];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" | ")
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn every_column_of_a_photograph_lands_in_its_field() {
    let text = "photo;board;copy;side;from;to;hook_near;far_near;far_far;hook_far;white;notes\n\
                ./photos/a.jpg;P;2;down;0;30;412,5 1803;3690 1790;3688 1241;409 1260;10 20 30 40;x\n";
    let photo = &photos(&files().with(PHOTOS_CSV, text))[0];
    assert_eq!(
        (photo.file.as_str(), photo.board.as_str()),
        ("photos/a.jpg", "P")
    );
    assert_eq!((photo.copy, photo.side), (2, PhotoSide::Down));
    assert_eq!(
        (photo.from, photo.to),
        (Length::ZERO, Length::from_inches(30.0))
    );
    assert_eq!(photo.corners.unwrap()[0], [412.5, 1803.0]);
    assert_eq!(
        (photo.white, photo.row),
        (Some([10.0, 20.0, 30.0, 40.0]), Some(0))
    );
}

#[test]
fn without_the_file_pictures_are_taken_by_their_names() {
    let named = files().with_pictures(&["C7-2.png", "C7.jpg", "C8.jpg", "P-x.jpg"]);
    let found: Vec<(String, String)> = photos(&named)
        .into_iter()
        .map(|photo| (photo.file, photo.board))
        .collect();
    let expected = [("photos/C7-2.png", "C7"), ("photos/C7.jpg", "C7")];
    assert_eq!(
        found,
        expected.map(|(file, board)| (file.to_owned(), board.to_owned()))
    );
    let listed = named.with(PHOTOS_CSV, "photo,board\n");
    assert!(photos(&listed).is_empty());
}

#[test]
fn faults_of_a_row_stand_at_their_cells() {
    let row = |row: &str| {
        let header = "photo,board,copy,side,from,to,hook_near,far_near,far_far,hook_far";
        let files = files().with(PHOTOS_CSV, format!("{header}\n{row}\n"));
        told(&files.parse_for(Needs::Photos).unwrap_err())
    };
    for (cells, part) in [
        ("../a.jpg,C7,,,,,,,,", "it leads out of the job's folder"),
        ("/etc/a.jpg,C7,,,,,,,,", "it leads out of the job's folder"),
        ("..\\a.jpg,C7,,,,,,,,", "it leads out of the job's folder"),
        ("C:/a.jpg,C7,,,,,,,,", "it leads out of the job's folder"),
        ("a.jpg,C8,,,,,,,,", "there is no such board in boards.csv"),
        ("a.jpg,P,,,,,,,,", "there are 2 of board P"),
        ("a.jpg,P,3,,,,,,,", "the board has no such copy"),
        ("a.jpg,C7,,left,,,,,,", "up, down"),
        ("a.jpg,C7,,,,97,,,,", "board C7 ends before it"),
        ("a.jpg,C7,,,50,40,,,,", "it does not lie beyond `from`"),
        ("a.jpg,C7,,,,,1 2,,,", "the corner far_near is missing"),
        ("a.jpg,C7,,,,,1 2,3,5 6,7 8", "it is not 2 numbers"),
        ("a.jpg,C7,,,,,0 0,9 9,9 0,0 9", "do not go round a board"),
    ] {
        let told = row(cells);
        assert!(
            told.contains(part) && told.contains("photos.csv, line 2"),
            "{cells}: {told}"
        );
    }
}

#[test]
fn a_tone_left_to_photographs_is_what_they_told_of_each_copy() {
    let told_of = |tones: &str| {
        let json = format!("{{\"format\":1,\"boards\":[{tones}]}}");
        files().with(PHOTOS_JSON, json).parse()
    };
    let both = "{\"board\":\"P\",\"copy\":1,\"side\":\"up\",\"tone\":4.6},{\"board\":\"P\",\"copy\":2,\"tone\":6.0}";
    let boards = told_of(both).unwrap().job.boards;
    let tones: Vec<(f64, Vec<u32>)> = boards
        .iter()
        .map(|board| (board.tone.value(), board.copies.clone()))
        .collect();
    assert_eq!(tones, [(5.0, vec![1]), (4.6, vec![1]), (6.0, vec![2])]);
    let one = told_of("{\"board\":\"P\",\"copy\":1,\"tone\":4.6}").unwrap_err();
    assert!(told(&one).contains("no photograph has told the tone of P #2 yet"));
    for broken in [
        "",
        "not json",
        "{\"boards\":3}",
        "{\"boards\":[{\"board\":\"P\"}]}",
    ] {
        let faults = files().with(PHOTOS_JSON, broken).parse().unwrap_err();
        assert!(
            told(&faults).contains("`grainrow photo JOB` measures it"),
            "{}",
            told(&faults)
        );
    }
}
