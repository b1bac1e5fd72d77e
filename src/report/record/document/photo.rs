//! Pictures as a document holds them: upright, no larger than a page needs, and with nothing in them but the picture.
//!
//! A picture that cannot be shown stops the report, as every other mistake in a case does: a report without a picture that its
//! case names would look whole. Colour profiles go with the rest of the metadata.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits, Rgb, RgbImage};
use serde::Serialize;
use std::io::Cursor;

/// Longest side of a picture in a document, in pixels: some 180 dots an inch across a page
pub const LONGEST_SIDE: u32 = 1200;
/// Most bytes that a picture may take up once it is unpacked: some 80 million pixels in colour
pub const MOST_UNPACKED: u64 = 256 * 1024 * 1024;
/// Most bytes of a picture's file
pub const MOST_BYTES: usize = 48 * 1024 * 1024;
/// Quality of the pictures written, from 1 to 100
const QUALITY: u8 = 82;

/// A picture with what it shows
#[derive(Clone, Debug, Serialize)]
pub struct Photo {
    /// Where
    pub place: String,
    /// Name of the symptom, measure or part it shows
    pub id: String,
    /// Its label
    pub label: String,
    /// The grade seen, or what was read, where the case tells it
    #[serde(skip_serializing_if = "Option::is_none")]
    pub says: Option<String>,
    /// Its file, as the case names it
    pub file: String,
    /// Digest of that file
    pub digest: String,
    /// Width in pixels, as it stands here
    pub width: u32,
    /// Height in pixels
    pub height: u32,
    /// The picture as a `data:` address (RFC 2397), always JPEG
    pub data: String,
}

/// A picture made ready
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Picture {
    /// Width in pixels
    pub width: u32,
    /// Height in pixels
    pub height: u32,
    /// The picture as JPEG, without any metadata
    pub jpeg: Vec<u8>,
}

impl Picture {
    /// The picture as a `data:` address
    pub fn address(&self) -> String {
        format!("data:image/jpeg;base64,{}", STANDARD.encode(&self.jpeg))
    }
}

/// Why a file is no picture for a document
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Unusable {
    /// It is neither JPEG nor PNG
    OtherSort,
    /// It is larger than is taken in, as a file or unpacked
    TooLarge,
    /// It begins as a picture and cannot be read to its end
    Damaged,
}

/// A picture set upright, scaled down to [`LONGEST_SIDE`] and written anew, so that place, time, camera and comments that
/// its file bore are gone; what is seen through is white
///
/// # Errors
/// [`Unusable`] when the bytes are no picture that can be shown.
pub fn ready(bytes: &[u8]) -> Result<Picture, Unusable> {
    if bytes.len() > MOST_BYTES {
        return Err(Unusable::TooLarge);
    }
    let mut reader =
        ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| Unusable::OtherSort)?;
    if !matches!(reader.format(), Some(ImageFormat::Jpeg | ImageFormat::Png)) {
        return Err(Unusable::OtherSort);
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_UNPACKED);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|fault| unusable(&fault))?;
    if decoder.total_bytes() > MOST_UNPACKED {
        return Err(Unusable::TooLarge);
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms); // else: it does not say
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|fault| unusable(&fault))?;
    picture.apply_orientation(orientation);
    if picture.width().max(picture.height()) > LONGEST_SIDE {
        picture = picture.resize(LONGEST_SIDE, LONGEST_SIDE, FilterType::Triangle);
    }
    let picture = on_white(&picture);
    let mut jpeg = Vec::new();
    let written = JpegEncoder::new_with_quality(&mut jpeg, QUALITY).encode_image(&picture);
    written.map_err(|_| Unusable::Damaged)?;
    Ok(Picture { width: picture.width(), height: picture.height(), jpeg })
}

fn unusable(fault: &image::ImageError) -> Unusable {
    match fault {
        image::ImageError::Limits(_) => Unusable::TooLarge,
        image::ImageError::Unsupported(_) => Unusable::OtherSort,
        _ => Unusable::Damaged,
    }
}

fn on_white(picture: &DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.to_rgb8();
    }
    let whole = picture.to_rgba8();
    RgbImage::from_fn(whole.width(), whole.height(), |x, y| {
        let [red, green, blue, alpha] = whole.get_pixel(x, y).0;
        let alpha = u32::from(alpha);
        let over = |colour: u8| ((u32::from(colour) * alpha + 255 * (255 - alpha) + 127) / 255).min(255);
        Rgb([red, green, blue].map(|colour| over(colour) as u8))
    })
}
