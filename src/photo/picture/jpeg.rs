//! The outer form of a JPEG file, as far as it tells whether all of it is there.
//!
//! Decoders fill what is missing with grey; a grey end of a board would be measured as wood.
//! Markers: ITU-T T.81, table B.1.

const START: [u8; 2] = [0xff, 0xd8];
const END: u8 = 0xd9;

/// Whether a file begins as a JPEG does.
pub fn is_jpeg(bytes: &[u8]) -> bool {
    bytes.starts_with(&START)
}

/// Whether the picture has its end. What follows that (a phone's film, say) does not count.
pub fn has_end(bytes: &[u8]) -> bool {
    let mut at = START.len();
    while let Some(marker) = next_marker(bytes, &mut at) {
        match marker {
            END => return true,
            // Fill bytes, stuffed bytes and restarts stand alone.
            0x00 | 0x01 | 0xd0..=0xd8 | 0xff => {}
            _ => {
                let Some(length) = length_at(bytes, at) else {
                    return false;
                };
                at += length;
            }
        }
    }
    false
}

fn length_at(bytes: &[u8], at: usize) -> Option<usize> {
    let pair = bytes.get(at..at + 2)?;
    Some(usize::from(u16::from_be_bytes([pair[0], pair[1]])).max(2))
}

/// The code of the next marker; `at` goes to what follows it.
fn next_marker(bytes: &[u8], at: &mut usize) -> Option<u8> {
    let rest = bytes.get(*at..)?;
    let start = rest.iter().position(|&byte| byte == 0xff)?;
    let code = *rest.get(start + 1)?;
    // A fill byte may be the first half of a marker.
    *at += start + if code == 0xff { 1 } else { 2 };
    Some(code)
}
