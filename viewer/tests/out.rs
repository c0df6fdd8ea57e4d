//! What the command line writes: an excursion in motion, pictures in another size of words and without panels, with
//! settings changed; and what it refuses.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::io::Cursor;
use std::path::Path;
use std::process::{Command, Output};

use clap::Parser;
use image::codecs::png::PngDecoder;
use image::{AnimationDecoder, RgbImage};
use sim_core::frame::Side;
use viewer::frame;
use viewer::native::arguments::Arguments;
use viewer::native::start;

const SIZE: (u32, u32) = (640, 400);

fn viewer(arguments: &[&str]) -> Output {
    let scene = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes/thirty_degree.ron");
    let own = Command::new(env!("CARGO_BIN_EXE_viewer")).arg(scene).args(arguments).output();
    own.expect("the viewer runs")
}

fn succeeds(arguments: &[&str]) {
    let output = viewer(arguments);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

fn picture(path: &Path) -> RgbImage {
    image::open(path).unwrap().into_rgb8()
}

fn snapshot(arguments: &[&str]) -> RgbImage {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.png");
    succeeds(&[&["--snapshot", path.to_str().unwrap(), "--size", "640x400"], arguments].concat());
    picture(&path)
}

#[test]
fn an_excursion_in_motion_is_an_animated_png_and_a_folder_whose_last_picture_is_the_end() {
    let folder = tempfile::tempdir().unwrap();
    let (motion, frames) = (folder.path().join("motion.png"), folder.path().join("frames"));
    let (motion, frames) = (motion.to_str().unwrap(), frames.to_str().unwrap());
    let how = ["--size", "640x400", "--frames-per-mm", "1", "--at", "3"];
    succeeds(&[&["--animation", motion], &how[..]].concat());
    let bytes = std::fs::read(motion).unwrap();
    let decoder = PngDecoder::new(Cursor::new(bytes)).unwrap();
    assert!(decoder.is_apng().unwrap());
    let shown: Vec<image::Frame> = decoder.apng().unwrap().into_frames().collect_frames().unwrap();
    assert_eq!(shown.len(), 4);
    let last = image::DynamicImage::ImageRgba8(shown[3].buffer().clone()).into_rgb8();
    assert_eq!((last.width(), last.height()), SIZE);
    assert!(last == snapshot(&["--at", "3"]), "the last picture is that of the end");
    assert!(shown[0].buffer() != shown[3].buffer());

    succeeds(&[&["--frames", frames], &how[..]].concat());
    let mut names: Vec<_> = std::fs::read_dir(frames).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.sort();
    assert_eq!(names.len(), 4);
    assert!(picture(&names[3]) == last);
    // A folder with files in it is left as it is.
    let again = viewer(&[&["--frames", frames], &how[..]].concat());
    assert_eq!(again.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&again.stderr).contains("files in it"));
}

#[test]
fn what_cannot_be_is_refused_before_anything_is_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let inside = |name: &str| folder.path().join(name).display().to_string();
    let (jpg, png) = (inside("x.jpg"), inside("x.png"));
    for (arguments, words) in [
        (vec!["--snapshot", &jpg], "PNG is written"),
        (vec!["--animation", &jpg], "PNG is written"),
        (vec!["--snapshot", &png, "--animation", &png], "cannot be used with"),
        (vec!["--snapshot", &png, "--scale", "9"], "from 1 to 4"),
        (vec!["--snapshot", &png, "--zoom", "0"], "0.1 to 20"),
        (vec!["--snapshot", &png, "--with", "no_such_setting=1"], "no_such_setting"),
        (vec!["--snapshot", &png, "--with", "horizontal_inclination_deg=400"], "400"),
        (vec!["--frames", &png, "--frames-per-mm", "0"], "1..=20"),
    ] {
        let output = viewer(&arguments);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
        assert!(said.contains(words), "{arguments:?}: {said}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn changes_of_the_command_line_are_changes_of_the_file() {
    let arguments =
        ["viewer", "--with", "horizontal_inclination_deg=40", "--turn", "10", "--tilt=-5", "--zoom", "2"];
    let state = start::state(&Arguments::parse_from(arguments)).unwrap();
    let inclination = |scene: &sim_core::scene::Scene| {
        Side::BOTH.map(|side| scene.instrument.guide(side).horizontal_inclination.degrees().round())
    };
    assert_eq!(inclination(&state.scene), [40.0; 2]);
    assert_eq!(inclination(&state.shown.scene), [40.0; 2]);
    assert_eq!(inclination(&state.as_read), [30.0; 2]);
    assert!(state.is_changed());
    assert!(!start::state(&Arguments::parse_from(["viewer"])).unwrap().is_changed());
    // The same set-up, which is looked at as a whole.
    let usual = start::state(&Arguments::parse_from(&arguments[..3])).unwrap();
    assert!((state.look.height_mm * 2.0 - usual.look.height_mm).abs() < 1e-6);
    assert!((state.look.azimuth_deg - usual.look.azimuth_deg).abs() > 9.9);
    assert!((usual.look.elevation_deg - state.look.elevation_deg - 5.0).abs() < 1e-9);
}

/// Rows of the picture with dark words in them, between two heights.
fn dark(picture: &RgbImage, left: f32, right: f32, top: f32, bottom: f32) -> usize {
    let rows = (top.ceil() as u32)..(bottom.floor() as u32).min(picture.height());
    let columns = (left.ceil() as u32)..(right.floor() as u32).min(picture.width());
    let is_dark = |x, y| picture.get_pixel(x, y).0.iter().map(|part| u32::from(*part)).sum::<u32>() < 420;
    rows.filter(|y| columns.clone().any(|x| is_dark(x, *y))).count()
}

#[test]
fn words_grow_with_their_scale_and_the_picture_alone_fills_the_image() {
    let heights = ["1", "2"].map(|scale| {
        let how = ["--picture-alone", "--scale", scale];
        let state = start::state(&Arguments::parse_from([&["viewer"], &how[..]].concat())).unwrap();
        let (layout, _) = frame::lay_out(&state, [640.0, 400.0], 1.0);
        assert_eq!((layout.picture.left(), layout.picture.top()), (0.0, 0.0));
        assert!((layout.picture.right() - 640.0).abs() < 0.1 && !layout.transport.is_positive());
        let picture = snapshot(&how);
        let footer = layout.footer.shrink(3.0);
        dark(&picture, footer.left(), footer.right(), footer.top(), footer.bottom())
    });
    assert!(heights[0] >= 6, "the caution is there: {heights:?}");
    assert!((1.6..2.5).contains(&(heights[1] as f64 / heights[0] as f64)), "{heights:?}");
}
