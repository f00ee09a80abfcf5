//! From a file's bytes to a picture, within limits that are checked before anything is decoded.

use std::io::Cursor;

use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use super::jpeg::{has_end, is_jpeg};
use super::profile::to_srgb;
use super::{Picture, PictureTrouble};

/// Most pixels of a picture: what is larger is refused before it is decoded.
pub const MOST_PIXELS: u64 = 200_000_000;
/// Least pixels along each side: fewer show no board.
const LEAST_SIDE: u32 = 16;
/// The kinds of ISO base media files (ISO/IEC 23008-12) that phones write pictures as.
const HEIC_BRANDS: [&[u8]; 8] = [
    b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif",
];

/// Reads a JPEG or PNG: upright by its orientation mark, its colours in sRGB.
///
/// # Errors
/// [`PictureTrouble`], each with its cure.
pub fn open(bytes: &[u8]) -> Result<Picture, PictureTrouble> {
    let format = format_of(bytes)?;
    if format == ImageFormat::Jpeg && !has_end(bytes) {
        return Err(PictureTrouble::CutShort);
    }
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits());
    let mut decoder = reader.into_decoder().map_err(|why| damaged(&why))?;
    check_size(decoder.dimensions())?;
    if format == ImageFormat::Jpeg && is_hollow(decoder.dimensions(), bytes.len()) {
        return Err(PictureTrouble::CutShort);
    }
    // A mark or profile that can't be read is as none: the picture itself may be sound.
    let orientation = decoder.orientation().ok();
    let profile = decoder.icc_profile().ok().flatten();
    let mut decoded = DynamicImage::from_decoder(decoder).map_err(|why| damaged(&why))?;
    if let Some(orientation) = orientation {
        decoded.apply_orientation(orientation);
    }
    let upright = decoded.into_rgb8();
    let (width, height) = (upright.width() as usize, upright.height() as usize);
    let mut bytes = upright.into_raw();
    let known = profile.is_none_or(|profile| to_srgb(&mut bytes, &profile));
    Ok(Picture {
        width,
        height,
        bytes,
        guessed_colours: !known,
    })
}

fn format_of(bytes: &[u8]) -> Result<ImageFormat, PictureTrouble> {
    if is_jpeg(bytes) {
        return Ok(ImageFormat::Jpeg);
    }
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(ImageFormat::Png);
    }
    let brand = bytes.get(8..12).unwrap_or_default();
    if bytes.get(4..8) == Some(b"ftyp") && HEIC_BRANDS.contains(&brand) {
        return Err(PictureTrouble::Heic);
    }
    Err(PictureTrouble::NotAPicture)
}

/// Twelve bytes a pixel: the most that a PNG of 16 bits takes while it is turned.
fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_alloc = Some(12 * MOST_PIXELS);
    limits
}

fn check_size((width, height): (u32, u32)) -> Result<(), PictureTrouble> {
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(PictureTrouble::TooLarge { width, height });
    }
    if width.min(height) < LEAST_SIDE {
        return Err(PictureTrouble::TooSmall { width, height });
    }
    Ok(())
}

/// Whether so few bytes can't hold so many pixels: even a plain surface takes a bit for each block.
fn is_hollow((width, height): (u32, u32), bytes: usize) -> bool {
    const MOST_A_BYTE: u64 = 4000;
    u64::from(width) * u64::from(height) > MOST_A_BYTE * bytes as u64
}

fn damaged(why: &image::ImageError) -> PictureTrouble {
    let text = why.to_string();
    let lower = text.to_lowercase();
    if lower.contains("eof") || lower.contains("end of file") || lower.contains("unexpected end") {
        return PictureTrouble::CutShort;
    }
    PictureTrouble::Damaged(text)
}
