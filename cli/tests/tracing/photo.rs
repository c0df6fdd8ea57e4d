//! Photos that are drawn here, with known truth: blurred, noisy, unevenly lit, turned.

use std::io::Cursor;

use image::{DynamicImage, GrayImage, ImageFormat, Luma};
use serde_json::Value;
use sim_core::tracing::Leg;

use crate::drawn::{self, Chance};
use crate::helpers::{Folder, assert_near, number, run};

/// How a photo is taken.
#[derive(Clone, Copy)]
struct Camera {
    width: u32,
    height: u32,
    per_mm: f64,
    /// Where the first mark is, in pixels; plate millimetres count from it.
    mark: (f64, f64),
    /// Clockwise, of the patient's front from the top of the picture.
    turned_deg: f64,
    line_mm: f64,
    blur_mm: f64,
    noise: f64,
    /// From one side of the picture to the other.
    uneven: f64,
    light_on_dark: bool,
}

impl Default for Camera {
    fn default() -> Self {
        Self {
            width: 540,
            height: 400,
            per_mm: 18.0,
            mark: (270.0, 370.0),
            turned_deg: 0.0,
            line_mm: 0.35,
            blur_mm: 0.05,
            noise: 4.0,
            uneven: 60.0,
            light_on_dark: false,
        }
    }
}

/// The second mark, (forward, left) of the first.
const SECOND_MARK: (f64, f64) = (0.0, -12.0);
const APART_MM: f64 = 12.0;
/// The apex, from the first mark.
const APEX: (f64, f64) = (18.0, 0.6);

impl Camera {
    fn pixel(&self, (forward, left): (f64, f64)) -> (f64, f64) {
        let (sin, cos) = self.turned_deg.to_radians().sin_cos();
        let (right, down) = (-left * self.per_mm, -forward * self.per_mm);
        (self.mark.0 + right * cos - down * sin, self.mark.1 + right * sin + down * cos)
    }

    /// A photo of lines, in plate millimetres, and of the two marks.
    fn photo(&self, lines: &[Vec<(f64, f64)>], seed: u64) -> GrayImage {
        let (width, height) = (self.width as usize, self.height as usize);
        let mut apart = vec![f64::INFINITY; width * height];
        let reach = (self.line_mm + 4.0 * self.blur_mm) * self.per_mm + 2.0;
        for line in lines {
            for ends in line.windows(2) {
                let (a, b) = (self.pixel(ends[0]), self.pixel(ends[1]));
                let (dx, dy) = (b.0 - a.0, b.1 - a.1);
                let span = |low: f64, high: f64, most: usize| {
                    (low - reach).max(0.0) as usize..(high + reach).clamp(0.0, most as f64) as usize
                };
                for y in span(a.1.min(b.1), a.1.max(b.1), height) {
                    for x in span(a.0.min(b.0), a.0.max(b.0), width) {
                        let (px, py) = (x as f64 - a.0, y as f64 - a.1);
                        let part = ((px * dx + py * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
                        let distance = (px - dx * part).hypot(py - dy * part);
                        apart[y * width + x] = apart[y * width + x].min(distance);
                    }
                }
            }
        }
        let mut chance = Chance(seed);
        let blur = (self.blur_mm * self.per_mm).max(0.4);
        let half = self.line_mm * self.per_mm / 2.0;
        let marks = [self.mark, self.pixel(SECOND_MARK)];
        GrayImage::from_fn(self.width, self.height, |x, y| {
            let (fx, fy) = (f64::from(x), f64::from(y));
            // An edge blurred with a normal kernel, as a logistic curve of the same width.
            let covered = 1.0 / (1.0 + ((apart[y as usize * width + x as usize] - half) / blur * 1.7).exp());
            let on_mark = marks.iter().any(|mark| (fx - mark.0).hypot(fy - mark.1) < 0.4 * self.per_mm);
            let light =
                self.uneven * (fx / width as f64 - 0.5) + 0.5 * self.uneven * (fy / height as f64 - 0.5);
            let ink = if on_mark { 130.0 } else { 110.0 * covered };
            let (ground, ink) = if self.light_on_dark { (70.0, ink) } else { (190.0, -ink) };
            Luma([(ground + light + ink + self.noise * chance.normal()).clamp(0.0, 255.0) as u8])
        })
    }

    fn marks(&self) -> String {
        let second = self.pixel(SECOND_MARK);
        format!("{},{},{},{}", self.mark.0, self.mark.1, second.0, second.1)
    }
}

fn file(folder: &Folder, photo: GrayImage, name: &str) -> String {
    let format = if name.ends_with("png") { ImageFormat::Png } else { ImageFormat::Jpeg };
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::ImageLuma8(photo).write_to(&mut bytes, format).unwrap();
    folder.file(name, bytes.into_inner())
}

fn legs() -> [Vec<(f64, f64)>; 3] {
    let tracing = drawn::of(&drawn::rims(20.0), 8.0, 60);
    Leg::ALL.map(|leg| drawn::laid(&tracing, leg, APEX))
}

fn found(camera: &Camera, photo: GrayImage, name: &str, more: &[&str]) -> (i32, Value) {
    let folder = Folder::new();
    let file = file(&folder, photo, name);
    let (marks, apart, turned) = (camera.marks(), APART_MM.to_string(), camera.turned_deg.to_string());
    let args =
        ["tracing", &file, "--marks", &marks, "--apart", &apart, "--forward", &turned, "--format", "json"];
    let left = run(&[&args, more].concat());
    let object = serde_json::from_str(&left.out).unwrap_or_else(|_| panic!("{}", left.err));
    (left.status, object)
}

/// How far the apex is off, in mm, and the angle at the apex, in degrees.
fn errors(object: &Value) -> (f64, f64) {
    let truth: f64 = {
        let near = drawn::of(&drawn::rims(20.0), 0.02, 2);
        let angle = |leg: Leg| {
            let (forward, left) = drawn::laid(&near, leg, (0.0, 0.0))[1];
            left.abs().atan2(-forward).to_degrees()
        };
        angle(Leg::RightLateral) + angle(Leg::LeftLateral)
    };
    let apex = |name: &str| number(&object["apex"][name], "value");
    let off = (apex("forward_mm") - APEX.0).hypot(apex("left_mm") - APEX.1);
    (off, number(&object["apex_angle_deg"], "value") - truth)
}

/// A fifth of the line's width.
const APEX_WITHIN_MM: f64 = 0.07;
const ANGLE_WITHIN_DEG: f64 = 1.5;

fn assert_true(what: &str, camera: &Camera, photo: GrayImage, name: &str) {
    let (status, object) = found(camera, photo, name, &[]);
    let (off, turned) = errors(&object);
    println!(
        "{what}: apex {off:.3} mm off, angle {turned:+.2}°, scatter {:.3} mm, radius {:.2} mm, line {:.2} mm",
        number(&object["legs"][1], "scatter_mm"),
        number(&object["apex_radius_mm"], "value"),
        number(&object["photo"], "line_width_mm"),
    );
    assert!(off < APEX_WITHIN_MM, "{what}: apex {off} mm off");
    assert!(turned.abs() < ANGLE_WITHIN_DEG, "{what}: angle {turned}° off");
    assert_eq!((status, object["shape"].as_str()), (0, Some("sharp")), "{what}: {object}");
    assert_near(number(&object["photo"], "pixels_per_mm"), camera.per_mm, 1e-6);
    assert_near(number(&object["photo"], "line_width_mm"), camera.line_mm, 0.15);
}

#[test]
fn a_photo_gives_the_tracing_back_far_finer_than_the_line_is_wide() {
    let plain = Camera { noise: 0.0, uneven: 0.0, ..Camera::default() };
    assert_true("plain", &plain, plain.photo(&legs(), 1), "plain.png");
    for seed in 2..4 {
        let camera = Camera::default();
        assert_true("noisy, uneven", &camera, camera.photo(&legs(), seed), "noisy.png");
    }
    let blurred = Camera { blur_mm: 0.12, noise: 8.0, ..Camera::default() };
    assert_true("blurred", &blurred, blurred.photo(&legs(), 6), "blurred.png");
}

#[test]
fn a_photo_may_be_turned_light_on_dark_coarse_and_a_jpeg() {
    let turned =
        Camera { turned_deg: 27.0, width: 660, height: 560, mark: (240.0, 420.0), ..Camera::default() };
    assert_true("turned", &turned, turned.photo(&legs(), 7), "turned.png");
    let sideways =
        Camera { turned_deg: 90.0, width: 440, height: 540, mark: (40.0, 270.0), ..Camera::default() };
    assert_true("sideways", &sideways, sideways.photo(&legs(), 8), "sideways.png");
    let scratched = Camera { light_on_dark: true, ..Camera::default() };
    assert_true("light on dark", &scratched, scratched.photo(&legs(), 9), "scratched.png");
    let jpeg = Camera::default();
    assert_true("JPEG", &jpeg, jpeg.photo(&legs(), 10), "photo.jpg");
    let coarse = Camera { per_mm: 12.0, width: 400, height: 340, mark: (200.0, 310.0), ..Camera::default() };
    assert_true("coarse", &coarse, coarse.photo(&legs(), 11), "coarse.png");
}

#[test]
fn gaps_and_other_lines_do_not_lead_astray() {
    let camera = Camera::default();
    let mut lines: Vec<Vec<(f64, f64)>> = legs().to_vec();
    // A gap of a third of a millimetre in one leg, a stroke and a dot beside the tracing.
    let far = lines[1].split_off(30);
    let gone = |p: &(f64, f64)| {
        let end = lines[1][29];
        (p.0 - end.0).hypot(p.1 - end.1) > 0.35 + camera.line_mm
    };
    let far: Vec<(f64, f64)> = far.into_iter().filter(gone).collect();
    lines.push(far);
    lines.push(vec![(4.0, 9.0), (5.0, 12.0)]);
    lines.push(vec![(21.0, -9.0), (21.01, -9.0)]);
    assert_true("with gap and strays", &camera, camera.photo(&lines, 12), "gap.png");
}

#[test]
fn with_a_longer_line_beside_it_the_tracing_is_looked_for_where_it_is_said_to_be() {
    let camera = Camera { width: 700, mark: (430.0, 370.0), ..Camera::default() };
    let mut lines = legs().to_vec();
    lines.push(vec![(1.0, 20.5), (20.0, 21.0), (20.0, 14.5)]);
    let photo = camera.photo(&lines, 20);
    let within = ["--within", "165,0,700,330"];
    let (status, object) = found(&camera, photo, "ruled.png", &within);
    assert!(errors(&object).0 < APEX_WITHIN_MM);
    assert_eq!(status, 0);
}

#[test]
fn a_rounded_apex_and_a_double_one_are_seen_in_a_photo() {
    let camera = Camera::default();
    let mut round = legs();
    // Drawn finely, or the arc would be a few straight strokes.
    let tracing = drawn::of(&drawn::rims(20.0), 8.0, 400);
    for leg in Leg::ALL {
        round[leg as usize] = drawn::laid(&tracing, leg, APEX);
    }
    drawn::rounded(&mut round, APEX, 3.0);
    // The protrusive leg starts on the arc.
    let top = round[1][0].0;
    round[0].retain(|point| point.0 <= top);
    let (status, object) = found(&camera, camera.photo(&round, 13), "round.png", &[]);
    println!("rounded 3 mm: {}", object["apex_radius_mm"]);
    assert_eq!((status, object["shape"].as_str()), (1, Some("rounded")), "{object}");
    assert_near(number(&object["apex_radius_mm"], "value"), 3.0, 0.9);

    let mut lines = legs().to_vec();
    lines.extend(legs().map(|leg| leg.iter().map(|p| (p.0 - 1.0, p.1 + 0.5)).collect::<Vec<_>>()));
    let (status, object) = found(&camera, camera.photo(&lines, 14), "double.png", &[]);
    assert_eq!(status, 1, "{object}");
    println!("double 1.12 mm: {}", object["second_apex"]);
    assert_near(number(&object["second_apex"]["distance_mm"], "value"), 1.0_f64.hypot(0.5), 0.1);
}

#[test]
fn marks_along_the_midline_tell_the_front() {
    let camera = Camera { turned_deg: 15.0, ..Camera::default() };
    let photo = camera.photo(&legs(), 15);
    let folder = Folder::new();
    let file = file(&folder, photo, "photo.png");
    // The first mark, and a place straight ahead of it.
    let ahead = camera.pixel((APART_MM, 0.0));
    let marks = format!("{},{},{},{}", camera.mark.0, camera.mark.1, ahead.0, ahead.1);
    let left = run(&[
        "tracing",
        &file,
        "--marks",
        &marks,
        "--apart",
        "12",
        "--forward",
        "marks",
        "--format",
        "json",
    ]);
    let object: Value = serde_json::from_str(&left.out).unwrap_or_else(|_| panic!("{}", left.err));
    assert!(errors(&object).0 < APEX_WITHIN_MM);
}

fn refused(args: &[&str], words: &[&str]) {
    let left = run(args);
    assert_eq!(left.status, 2, "{}{}", left.out, left.err);
    assert!(left.out.is_empty() && !left.err.contains("panicked"), "{}", left.err);
    for word in words {
        assert!(left.err.contains(word), "{word:?} not in: {}", left.err);
    }
}

#[test]
fn a_photo_without_its_scale_or_with_a_wrong_one_is_refused() {
    let folder = Folder::new();
    let camera = Camera::default();
    let photo = file(&folder, camera.photo(&legs(), 16), "photo.png");
    let marks = camera.marks();
    refused(&["tracing", &photo], &["pixels tell no length", "--marks"]);
    refused(&["tracing", &photo, "--marks", &marks], &["--apart"]);
    refused(&["tracing", &photo, "--apart", "12"], &["--marks"]);
    refused(&["tracing", &photo, "--marks", "1,2,3", "--apart", "12"], &["4 numbers"]);
    refused(&["tracing", &photo, "--marks", "1,2,3,NaN", "--apart", "12"], &["4 numbers"]);
    for apart in ["0", "-3", "nan", "1000"] {
        refused(&["tracing", &photo, "--marks", &marks, "--apart", apart], &["--apart"]);
    }
    refused(&["tracing", &photo, "--marks", "10,10,5000,10", "--apart", "12"], &["outside of the picture"]);
    refused(&["tracing", &photo, "--marks", "10,10,12,10", "--apart", "12"], &["2 pixels apart"]);
    refused(&["tracing", &photo, "--marks", &marks, "--apart", "120"], &["a millimetre is 1.80 pixels"]);
    refused(&["tracing", &photo, "--marks", &marks, "--apart", "12", "--forward", "down"], &["--forward up"]);
    refused(&["tracing", &photo, "--marks", &marks, "--apart", "12", "--forward", "north"], &["up, down"]);
    refused(
        &["tracing", &photo, "--marks", &marks, "--apart", "12", "--within", "5,5,5000,9"],
        &["no part of the picture"],
    );
}

#[test]
fn what_is_no_photo_of_a_tracing_is_refused() {
    let folder = Folder::new();
    let scale = ["--marks", "20,20,300,20", "--apart", "12"];
    let refused = |file: &str, words: &[&str]| refused(&[&["tracing", file], &scale[..]].concat(), words);
    refused(&folder.file("photo.png", "no picture at all"), &["neither PNG nor JPEG"]);
    refused(&folder.file("photo.gif", b"GIF89a\x01\x00\x01\x00"), &["GIF picture", "PNG or JPEG"]);
    refused(&folder.file("photo.heic", b"\0\0\0\x18ftypheic\0\0\0\0"), &["HEIC"]);
    refused(&folder.file("points.csv", "leg,forward_mm,left_mm\n"), &["file of points"]);
    let camera = Camera::default();
    let whole = std::fs::read(file(&folder, camera.photo(&legs(), 17), "whole.png")).unwrap();
    refused(&folder.file("cut.png", &whole[..whole.len() / 2]), &["cannot be read as a picture"]);
    let blank = GrayImage::from_pixel(400, 300, Luma([200]));
    refused(&file(&folder, blank, "blank.png"), &["no line stands out"]);
    let noise = Camera::default().photo(&[], 18);
    let noise = file(&folder, noise, "noise.png");
    let marks = Camera::default().marks();
    crate::photo::refused(&["tracing", &noise, "--marks", &marks, "--apart", "12"], &["no line stands out"]);
    let stroke = Camera::default().photo(&[vec![(10.0, -8.0), (14.0, 8.0)]], 19);
    let stroke = file(&folder, stroke, "stroke.png");
    crate::photo::refused(&["tracing", &stroke, "--marks", &marks, "--apart", "12"], &["no three legs"]);
}

/// A picture of a few bytes that unpacks to ten thousand million pixels.
#[test]
fn a_picture_that_would_fill_the_memory_is_refused_before_it_is_unpacked() {
    let mut header = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    header.extend(100_000_u32.to_be_bytes());
    header.extend(100_000_u32.to_be_bytes());
    header.extend([8, 0, 0, 0, 0]);
    let sum =
        header[12..].iter().fold(u32::MAX, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |sum, _| {
                if sum & 1 == 1 { (sum >> 1) ^ 0xedb8_8320 } else { sum >> 1 }
            })
        });
    header.extend((!sum).to_be_bytes());
    header.extend(b"\0\0\0\x01IDATx\0\0\0\0");
    let folder = Folder::new();
    let bomb = folder.file("bomb.png", header);
    refused(&["tracing", &bomb, "--marks", "20,20,300,20", "--apart", "12"], &["bomb.png"]);
}
