//! Pictures: upright, small, nothing in them but the picture; and what is none.

use super::bench::Desk;
use crate::support::program::refused;
use base64::Engine;
use image::codecs::jpeg::JpegEncoder;
use image::{ImageFormat, Rgb, RgbImage, Rgba, RgbaImage};
use pinboss::report::record::document::photo::{LONGEST_SIDE, Unusable, ready};
use rstest::rstest;
use sha2::Digest;
use std::io::Cursor;

/// Black above, white below
fn two_halves(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |_, y| if y < height / 2 { Rgb([0; 3]) } else { Rgb([255; 3]) })
}

fn jpeg(picture: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 90).encode_image(picture).unwrap();
    bytes
}

fn png(picture: &RgbaImage) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}

/// The picture with an Exif block that says how it was held, who took it and where (Exif 2.32: tags 0x0112, 0x013b)
fn with_exif(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let mut tiff: Vec<u8> = b"MM\0\x2a\0\0\0\x08\0\x02".to_vec();
    tiff.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
    tiff.extend([0x01, 0x3b, 0, 2, 0, 0, 0, 14, 0, 0, 0, 38]);
    tiff.extend([0, 0, 0, 0]);
    tiff.extend(b"A. Person 47N\0");
    let mut block = b"Exif\0\0".to_vec();
    block.extend(tiff);
    let length = u16::try_from(block.len() + 2).unwrap().to_be_bytes();
    let comment = b"\xff\xfe\0\x0ea comment...";
    [&jpeg[..2], b"\xff\xe1", &length, &block, comment, &jpeg[2..]].concat()
}

fn holds(bytes: &[u8], text: &[u8]) -> bool {
    bytes.windows(text.len()).any(|own| own == text)
}

#[test]
fn a_large_picture_is_scaled_down_and_a_small_one_is_not_blown_up() {
    let large = ready(&jpeg(&two_halves(2400, 600))).unwrap();
    assert_eq!((large.width, large.height), (LONGEST_SIDE, 300));
    let small = ready(&jpeg(&two_halves(40, 30))).unwrap();
    assert_eq!((small.width, small.height), (40, 30));
}

/// A camera held upright writes the picture lying and says so: 6 is a quarter turn to the right, 3 half a turn
#[rstest]
#[case(1, (40, 20), [true, false])]
#[case(3, (40, 20), [false, true])]
#[case(6, (20, 40), [false, true])]
#[case(8, (20, 40), [true, false])]
fn a_picture_is_set_upright(#[case] orientation: u8, #[case] size: (u32, u32), #[case] dark: [bool; 2]) {
    let done = ready(&with_exif(&jpeg(&two_halves(40, 20)), orientation)).unwrap();
    assert_eq!((done.width, done.height), size);
    let shown = image::load_from_memory(&done.jpeg).unwrap().to_rgb8();
    let (right, bottom) = (shown.width() - 2, shown.height() - 2);
    let lies = size.0 > size.1;
    let ends = if lies { [(1, 1), (1, bottom)] } else { [(1, 1), (right, 1)] };
    assert_eq!(ends.map(|(x, y)| shown.get_pixel(x, y).0[0] < 128), dark);
}

#[test]
fn who_where_and_when_are_gone() {
    let with = with_exif(&jpeg(&two_halves(40, 20)), 6);
    assert!(holds(&with, b"A. Person") && holds(&with, b"a comment"));
    let done = ready(&with).unwrap();
    for text in [&b"A. Person"[..], b"a comment", b"Exif"] {
        assert!(!holds(&done.jpeg, text));
    }
}

#[test]
fn what_is_seen_through_is_white() {
    let done = ready(&png(&RgbaImage::from_pixel(8, 8, Rgba([0, 0, 0, 0])))).unwrap();
    let shown = image::load_from_memory(&done.jpeg).unwrap().to_rgb8();
    assert!(shown.get_pixel(4, 4).0.iter().all(|part| *part > 250));
}

/// A head that claims 60,000 × 60,000 pixels, in some 60 bytes
fn bomb() -> Vec<u8> {
    let mut bytes = png(&RgbaImage::new(1, 1));
    bytes[16..24].copy_from_slice(&[0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60]);
    let mut sum = 0xffff_ffff_u32;
    for byte in &bytes[12..29] {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { (sum >> 1) ^ 0xedb8_8320 } else { sum >> 1 };
        }
    }
    bytes[29..33].copy_from_slice(&(!sum).to_be_bytes());
    bytes
}

#[test]
fn what_is_no_picture_is_said_to_be_none() {
    let whole = jpeg(&two_halves(40, 20));
    assert_eq!(ready(b"GIF89a no picture that is taken"), Err(Unusable::OtherSort));
    assert_eq!(ready(b"words"), Err(Unusable::OtherSort));
    assert_eq!(ready(b""), Err(Unusable::OtherSort));
    assert_eq!(ready(&whole[..30]), Err(Unusable::Damaged));
    assert_eq!(ready(&bomb()), Err(Unusable::TooLarge));
}

fn case(photos: &str) -> String {
    format!(
        "case: pictures\nmachine: {{tag: P, hours: 2000, size: medium, facts: {{rollers: 7}}}}\nseen:\n  left:\n    \
         found: {{flange_worn: inboard}}\n    photos: {{{photos}}}\n"
    )
}

#[test]
fn a_picture_stands_in_the_page_with_its_caption() {
    let desk = Desk::with(&case("flange_worn: pictures/one.jpg, idler: two.png"));
    desk.put("pictures/one.jpg", &with_exif(&jpeg(&two_halves(40, 20)), 6));
    desk.put("two.png", &png(&RgbaImage::from_pixel(8, 8, Rgba([9, 9, 9, 255]))));
    let page = desk.report();
    assert!(page.contains("alt=\"Side wear on the idler flange, left: inboard\""));
    assert!(page.contains("alt=\"Front idler, left\""));
    assert!(page.contains("(pictures/one.jpg)"));
    let taken = sha2::Sha256::digest(with_exif(&jpeg(&two_halves(40, 20)), 6));
    let hex: String = taken.iter().map(|byte| format!("{byte:02x}")).collect();
    let told =
        format!("<dt>Digest of the picture pictures/one.jpg, as taken</dt><dd><code>sha256:{hex}</code>");
    assert_eq!(page.matches(&told).count(), 1);
    let data = page.split("src=\"data:image/jpeg;base64,").nth(1).unwrap().split('"').next().unwrap();
    let bytes = base64::engine::general_purpose::STANDARD.decode(data).unwrap();
    assert!(!holds(&bytes, b"A. Person"));
    assert_eq!(image::load_from_memory(&bytes).unwrap().width(), 20);
}

/// A picture of what nobody noted or read says so, and does not make a finding of it
#[rstest]
#[case("flange_worn left: one.png", "Side wear on the idler flange, left: inboard")]
#[case("left teeth_sharp: one.png", "Drawn-out tooth tips, left: not noted")]
#[case("left idler: one.png", "Front idler, left")]
#[case("right roller 2: one.png", "Bottom roller, right roller 2")]
#[case("left idler_depth: one.png", "Depth of the idler tread, left: 26 mm, 26.5 mm")]
#[case("right idler_depth: one.png", "Depth of the idler tread, right: not read")]
#[case("left link_height: one.png", "Link height, left: 107 mm (does not count: packed)")]
fn a_caption_says_what_the_case_says(#[case] photos: &str, #[case] caption: &str) {
    let desk = Desk::with(&format!(
        "case: pictures\nmachine: {{tag: P, hours: 2000, size: medium, facts: {{rollers: 7}}}}\nseen:\n  left:\n    \
         found: {{flange_worn: inboard}}\n    read: {{idler_depth: [26 mm, 26.5 mm], link_height: {{value: 107 mm, void: packed}}}}\n\
         photos: {{{photos}}}\n"
    ));
    desk.put("one.png", &png(&RgbaImage::new(8, 8)));
    let page = desk.report();
    let alt = page.split(" alt=\"").nth(1).unwrap().split('"').next().unwrap();
    assert_eq!(alt, caption);
}

#[test]
fn two_pictures_of_one_thing_both_stand_there_and_a_file_has_one_digest() {
    let desk = Desk::with(&case("flange_worn: [one.png, two.png], idler: one.png"));
    desk.put("one.png", &png(&RgbaImage::new(8, 8)));
    desk.put("two.png", &png(&RgbaImage::new(9, 9)));
    let page = desk.report();
    assert_eq!(page.matches("alt=\"Side wear on the idler flange, left: inboard\"").count(), 2);
    assert_eq!(page.matches("Digest of the picture one.png").count(), 1);
}

/// Whoever mends a case learns in one run what is wrong with its pictures and with all else
#[test]
fn faults_of_pictures_are_told_with_all_other_faults() {
    let desk = Desk::with(
        "case: pictures\nmachine: {tag: P, facts: {rollers: 7}}\nphotos: {left idler: missing.jpg, left roller 9: words.jpg}\n\
         seen:\n  left: {found: {nonsense: yes}}\n",
    );
    desk.put("words.jpg", b"no picture");
    let (code, said) = refused(&["report", &desk.path("case.yaml")]);
    assert_eq!(code, Some(1));
    for words in
        ["case.yaml:3:", "case.yaml:5:", "`nonsense`", "`missing.jpg`", "`words.jpg`", "no `left roller 9`"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
}

#[test]
fn every_picture_that_cannot_be_shown_is_told_at_its_line() {
    let desk = Desk::with(
        "case: pictures\nmachine: {tag: P, hours: 2000, size: medium, facts: {rollers: 7}}\nseen:\n  left:\n    photos:\n      \
         idler: missing.jpg\n      chain: words.jpg\n      sprocket: ../outside.jpg\n      flange_worn: /etc/passwd\n      \
         nonsense: fine.png\n      shoe: folder\n",
    );
    desk.put("words.jpg", b"no picture");
    desk.put("folder/fine.png", b"");
    desk.put("fine.png", &png(&RgbaImage::new(1, 1)));
    let (code, said) = refused(&["report", &desk.path("case.yaml")]);
    assert_eq!(code, Some(1));
    for (line, words) in [
        (6, "`missing.jpg` cannot be read: it is not there"),
        (7, "`words.jpg` is no picture in JPEG or PNG"),
        (8, "does not lie in the folder of the case"),
        (9, "does not lie in the folder of the case"),
        (10, "`nonsense`"),
        (11, "`folder` is no file"),
    ] {
        assert!(said.contains(&format!("case.yaml:{line}:")), "{line}: {said}");
        let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{words}: {said}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_out_of_the_folder_is_not_followed() {
    let elsewhere = Desk::with("");
    elsewhere.put("private.png", &png(&RgbaImage::new(1, 1)));
    let desk = Desk::with(&case("idler: link.png"));
    std::os::unix::fs::symlink(elsewhere.path("private.png"), desk.path("link.png")).unwrap();
    let (code, said) = refused(&["report", &desk.path("case.yaml")]);
    assert_eq!(code, Some(1));
    assert!(said.contains("picture-unusable"), "{said}");
}
