//! Pictures written for the shop. They are made from light alone, so nothing a camera wrote beside
//! it can come along.

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};

/// How well a JPEG keeps its picture, of 100.
const QUALITY: u8 = 88;

/// A JPEG of sRGB bytes; empty when they are not `3 * width * height` or a side is over 65 535.
pub fn jpeg_of(width: usize, height: usize, bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut out, QUALITY);
    written(encoder, width, height, bytes).map_or_else(Vec::new, |()| out)
}

/// A PNG of sRGB bytes; empty when they are not `3 * width * height`.
pub fn png_of(width: usize, height: usize, bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    let encoder = PngEncoder::new(&mut out);
    written(encoder, width, height, bytes).map_or_else(Vec::new, |()| out)
}

fn written(encoder: impl ImageEncoder, width: usize, height: usize, bytes: &[u8]) -> Option<()> {
    let (wide, high) = (u32::try_from(width).ok()?, u32::try_from(height).ok()?);
    (bytes.len() == 3 * width * height).then_some(())?;
    let kind = ExtendedColorType::Rgb8;
    encoder.write_image(bytes, wide, high, kind).ok()
}
