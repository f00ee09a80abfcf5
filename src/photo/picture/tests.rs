use super::*;

/// 48 by 32 pixels with a different colour in each quarter: red, green / blue, white.
fn quarters() -> (usize, usize, Vec<u8>) {
    let (width, height) = (48, 32);
    let colour = |x: usize, y: usize| match (x < 24, y < 16) {
        (true, true) => [230, 20, 20],
        (false, true) => [20, 230, 20],
        (true, false) => [20, 20, 230],
        (false, false) => [230, 230, 230],
    };
    let bytes = (0..width * height).flat_map(|at| colour(at % width, at / width));
    (width, height, bytes.collect())
}

fn jpeg() -> Vec<u8> {
    let (width, height, bytes) = quarters();
    jpeg_of(width, height, &bytes)
}

/// The same with a segment after its start.
fn with_segment(marker: u8, content: &[u8]) -> Vec<u8> {
    let mut bytes = jpeg();
    let mut segment = vec![0xff, marker];
    segment.extend(u16::try_from(content.len() + 2).unwrap().to_be_bytes());
    segment.extend(content);
    bytes.splice(2..2, segment);
    bytes
}

/// Exif 2.32: a TIFF header, one entry 0x0112 (orientation, SHORT) and, after it, a camera's name.
fn exif(orientation: u8) -> Vec<u8> {
    let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x02".to_vec();
    exif.extend([1, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
    exif.extend([1, 0x10, 0, 2, 0, 0, 0, 8, 0, 0, 0, 38, 0, 0, 0, 0]);
    exif.extend(b"SECRET7\0");
    exif
}

/// Which quarter a pixel shows: `r`, `g`, `b` or `w`.
fn quarter(picture: &Picture, x: usize, y: usize) -> char {
    let at = 3 * (y * picture.width + x);
    let bytes = &picture.bytes()[at..at + 3];
    match (bytes[0] > 128, bytes[1] > 128, bytes[2] > 128) {
        (true, true, true) => 'w',
        (true, ..) => 'r',
        (_, true, _) => 'g',
        _ => 'b',
    }
}

/// Its quarters, left to right and top to bottom.
fn layout(picture: &Picture) -> String {
    let (left, top) = (picture.width / 4, picture.height / 4);
    let (right, below) = (3 * left, 3 * top);
    [(left, top), (right, top), (left, below), (right, below)]
        .map(|(x, y)| quarter(picture, x, y))
        .iter()
        .collect()
}

/// What row 0 and column 0 of the file are as seen: Exif 2.32, table of tag 0x0112. 1 is top and
/// left, 2 top and right, 3 bottom and right, 4 bottom and left, 5 left and top, 6 right and top,
/// 7 right and bottom, 8 left and bottom.
#[test]
fn pictures_stand_upright_whatever_their_orientation_mark() {
    let seen = [
        "rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr", "gwrb",
    ];
    for (orientation, expected) in (1u8..).zip(seen) {
        let picture = open(&with_segment(0xe1, &exif(orientation))).unwrap();
        assert_eq!(layout(&picture), expected, "orientation {orientation}");
        let turned = orientation > 4;
        assert_eq!(picture.width, if turned { 32 } else { 48 });
    }
}

#[test]
fn a_mark_that_can_not_be_read_is_as_none() {
    for orientation in [0, 9, 200] {
        let picture = open(&with_segment(0xe1, &exif(orientation))).unwrap();
        assert_eq!(layout(&picture), "rgbw");
    }
    let picture = open(&with_segment(0xe1, b"Exif\0\0MM\0\x2a\xff\xff\xff\xff")).unwrap();
    assert_eq!(layout(&picture), "rgbw");
}

#[test]
fn nothing_a_camera_wrote_comes_along() {
    let picture = open(&with_segment(0xe1, &exif(1))).unwrap();
    let (width, height) = (picture.width, picture.height);
    for written in [
        jpeg_of(width, height, picture.bytes()),
        png_of(width, height, picture.bytes()),
    ] {
        for mark in [&b"Exif"[..], b"SECRET7", b"eXIf", b"ICC_PROFILE", b"xmp"] {
            assert!(!written.windows(mark.len()).any(|part| part == mark));
        }
        assert!(written.len() > 100);
    }
}

/// Numbers of Display P3 with those of the same colours in sRGB, worked out from the published
/// primaries by `tests/reference/display_p3.py`.
#[test]
fn display_p3_is_turned_into_srgb() {
    let profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
    for (p3, srgb) in [
        ([150u8, 110, 70], [157u8, 108, 63]),
        ([200, 170, 130], [206, 169, 124]),
        ([128, 128, 128], [128, 128, 128]),
        ([90, 60, 45], [95, 58, 42]),
    ] {
        let mut bytes = p3.to_vec();
        assert!(super::profile::to_srgb(&mut bytes, &profile));
        for (found, told) in bytes.iter().zip(srgb) {
            assert!(found.abs_diff(told) <= 1, "{p3:?}: {bytes:?} for {srgb:?}");
        }
    }
}

#[test]
fn a_profile_in_a_file_is_used_and_a_broken_one_is_told() {
    let profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
    let chunk = |content: &[u8]| [b"ICC_PROFILE\0\x01\x01", content].concat();
    let plain = open(&jpeg()).unwrap();
    let wide = open(&with_segment(0xe2, &chunk(&profile))).unwrap();
    assert!(!wide.guessed_colours);
    // Red of P3 lies beyond sRGB's: less green is left in it.
    assert!(wide.bytes()[1] < plain.bytes()[1]);
    let broken = open(&with_segment(0xe2, &chunk(b"no profile at all"))).unwrap();
    assert!(broken.guessed_colours);
    assert_eq!(broken.bytes(), plain.bytes());
}

#[test]
fn what_is_no_picture_is_told_with_its_cure() {
    let (width, height, bytes) = quarters();
    let png = png_of(width, height, &bytes);
    let cut = |whole: &[u8]| open(&whole[..whole.len() * 2 / 3]);
    assert_eq!(cut(&jpeg()), Err(PictureTrouble::CutShort));
    assert!(matches!(
        cut(&png),
        Err(PictureTrouble::CutShort | PictureTrouble::Damaged(_))
    ));
    assert_eq!(open(b"\0\0\0\x20ftypheic\0\0"), Err(PictureTrouble::Heic));
    assert_eq!(open(b"board,length\n"), Err(PictureTrouble::NotAPicture));
    assert_eq!(open(b""), Err(PictureTrouble::NotAPicture));
    assert!(PictureTrouble::Heic.cure().contains("JPEG"));
}

#[test]
fn too_many_pixels_are_refused_before_they_are_decoded() {
    let (width, height, bytes) = quarters();
    // The header chunk of a PNG: its size and, at its end, a CRC. A wrong CRC would be told first.
    let mut png = png_of(width, height, &bytes);
    png[16..24].copy_from_slice(&[0, 1, 0, 0, 0, 0, 0x10, 0]);
    let crc = crc(&png[12..29]).to_be_bytes();
    png[29..33].copy_from_slice(&crc);
    let (width, height) = (65_536, 4096);
    assert_eq!(open(&png), Err(PictureTrouble::TooLarge { width, height }));
}

/// CRC-32 as in ISO 3309, bit by bit.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0u32, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| {
            (sum >> 1) ^ if sum & 1 == 1 { 0xedb8_8320 } else { 0 }
        })
    })
}

/// Ten thousand files with bytes changed, cut off or put in: a picture or a trouble, never more.
#[test]
fn no_bytes_make_the_reader_panic() {
    let (width, height, bytes) = quarters();
    let whole = [
        jpeg(),
        with_segment(0xe1, &exif(6)),
        png_of(width, height, &bytes),
    ];
    let mut state = 7u64;
    let mut random = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 33) as usize % below
    };
    let mut read = 0;
    for round in 0..10_000 {
        let mut file = whole[round % 3].clone();
        for _ in 0..=random(6) {
            let at = random(file.len());
            match random(5) {
                0 => file.truncate(at.max(1)),
                1 => file.insert(at, random(256) as u8),
                _ => file[at] = random(256) as u8,
            }
        }
        if let Ok(picture) = open(&file) {
            assert_eq!(picture.bytes().len(), 3 * picture.width * picture.height);
            read += 1;
        }
    }
    assert!(read > 100, "{read} of 10 000 could be read");
}
