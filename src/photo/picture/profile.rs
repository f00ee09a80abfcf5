//! From the colours a camera names to sRGB. Phones write Display P3, whose numbers taken as sRGB
//! would make every board paler in its red than it is.

use moxcms::{ColorProfile, DataColorSpace, Layout, TransformOptions};

/// Changes RGB bytes from the profile of a file into sRGB, in place. Says whether it could.
pub fn to_srgb(bytes: &mut [u8], profile: &[u8]) -> bool {
    let Ok(from) = ColorProfile::new_from_slice(profile) else {
        return false;
    };
    if from.color_space != DataColorSpace::Rgb {
        // A grey picture's own curve differs from sRGB's by less than its light is known.
        return from.color_space == DataColorSpace::Gray;
    }
    let options = TransformOptions::default();
    let srgb = ColorProfile::new_srgb();
    let Ok(transform) = from.create_transform_8bit(Layout::Rgb, &srgb, Layout::Rgb, options) else {
        return false;
    };
    let mut row = Vec::new();
    // By parts, so that no second picture is held.
    for part in bytes.chunks_mut(3 * 65_536) {
        row.clear();
        row.extend_from_slice(part);
        if transform.transform(&row, part).is_err() {
            return false;
        }
    }
    true
}
