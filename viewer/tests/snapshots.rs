//! Snapshots against the maths: every scene is drawn without a window, and the picture is searched
//! for the cusps and the spheres where a projection of the test's own puts them.
//!
//! The tests stand in this package, not with the checks of the whole, because only here does Cargo
//! say where the viewer's program is.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;

use clap::Parser;
use image::RgbImage;
use nalgebra::{Rotation3, Vector3};
use sim_core::cast::Casts;
use sim_core::cast::invented::InventedCasts;
use sim_core::cusp::{Arch, CuspTip, Gauges};
use sim_core::excursion::{Excursion, Placement};
use sim_core::frame::{LowerPoint, Side, UpperPoint};
use sim_core::instrument::Design;
use sim_core::scene::Scene;
use viewer::drawing::SPHERE_RADIUS_MM;
use viewer::frame;
use viewer::geometry::poses::Moving;
use viewer::layout::Layout;
use viewer::native::arguments::Arguments;
use viewer::native::start;
use viewer::palette::{self, Tint};
use viewer::panels;
use viewer::projection::Viewpoint;
use viewer::projections::{Plane, Sheet};

const SIZE: (u32, u32) = (1400, 800);

/// Channels of a colour may be this far off: rounding on the way through the graphics driver.
const SAME_COLOUR: i32 = 12;

fn viewer(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_viewer")).args(arguments).output().expect("the viewer runs")
}

fn scenes() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes");
    let mut scenes: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the scenes' folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
        // Cases and other files may live beside the scenes; a scene has an instrument in it.
        .filter(|path| {
            std::fs::read_to_string(path).expect("a readable file").contains("\n    instrument: (")
        })
        .collect();
    scenes.sort();
    assert!(scenes.len() >= 5, "{scenes:?}");
    scenes
}

/// From millimetres to pixels.
type Project = Box<dyn Fn(&Vector3<f64>) -> [f64; 2]>;

/// The picture of a scene and what the maths says should be in it.
struct Shot {
    picture: RgbImage,
    scene: Scene,
    placement: Placement,
    moving: Moving,
    project: Project,
    marks: Vec<(usize, usize)>,
    layout: Layout,
    sheets: [Sheet; 3],
}

impl Shot {
    fn take(path: &Path, excursion: &str, at: f64, view: &str, moving: &str) -> Self {
        Self::with(path, excursion, at, view, moving, &[])
    }

    fn with(path: &Path, excursion: &str, at: f64, view: &str, moving: &str, more: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("shot.png");
        let (scene_name, file_name) = (path.to_str().unwrap(), file.to_str().unwrap());
        let (at_text, size_text) = (at.to_string(), format!("{}x{}", SIZE.0, SIZE.1));
        let arguments = [
            scene_name,
            "--snapshot",
            file_name,
            "--excursion",
            excursion,
            "--at",
            &at_text,
            "--view",
            view,
            "--moving",
            moving,
            "--size",
            &size_text,
        ];
        let arguments: Vec<&str> = arguments.iter().chain(more).copied().collect();
        let output = viewer(&arguments);
        assert!(output.status.success(), "{path:?}: {}", String::from_utf8_lossy(&output.stderr));
        let picture = image::open(&file).expect("a picture").into_rgb8();
        assert_eq!(picture.dimensions(), SIZE);

        let mut scene = Scene::from_ron(&std::fs::read_to_string(path).unwrap()).expect("a scene");
        let casts = files::of_scene(&mut scene, path.parent().unwrap()).expect("its casts");
        let known = Arguments::parse_from(std::iter::once("viewer").chain(arguments.iter().copied()));
        let state = start::state(&known).expect("a state");
        let placement = solve(&scene, casts.map(|found| found.casts), state.shown.solved.excursion, at);
        let moving = known.moving;
        let spheres = Side::BOTH.map(|side| sphere(&scene, &placement, moving, side));
        // The test's own projection takes from the viewer only what is looked at, and from where.
        let look = state.look;
        let (layout, _) = frame::lay_out(&state, [f64::from(SIZE.0), f64::from(SIZE.1)], 1.0);
        let window = layout.window(1.0);
        let turn = if look.viewpoint == Some(Viewpoint::Axis) {
            let axis = spheres[0] - spheres[1];
            Rotation3::look_at_rh(&-axis, &Vector3::z())
        } else {
            // Turn the eye to the front, tip it to the horizon, then let x look into the picture.
            let tip =
                Rotation3::from_axis_angle(&Vector3::y_axis(), look.elevation_deg.to_radians()).inverse();
            let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), -look.azimuth_deg.to_radians());
            let to_picture = Rotation3::from_basis_unchecked(&[Vector3::z(), Vector3::x(), Vector3::y()]);
            to_picture * tip.inverse() * turn
        };
        let scale = (f64::from(window.height) / look.height_mm).min(f64::from(window.width) / look.width_mm);
        let middle = [window.left + window.width / 2.0, window.top + window.height / 2.0].map(f64::from);
        let project = move |point: &Vector3<f64>| {
            let seen = turn * (point - look.focus);
            [middle[0] + seen.x * scale, middle[1] - seen.y * scale]
        };
        let marks = state.marked().collect();
        let sheets = panels::sheets(&state, &layout);
        Self { picture, scene, placement, moving, project: Box::new(project), marks, layout, sheets }
    }

    fn colour(&self, x: f64, y: f64) -> [i32; 3] {
        if x < 0.0 || y < 0.0 || x >= f64::from(SIZE.0) || y >= f64::from(SIZE.1) {
            return [-1000; 3];
        }
        self.picture.get_pixel(x as u32, y as u32).0.map(i32::from)
    }

    fn is(&self, tint: Tint, x: f64, y: f64) -> bool {
        let colour = self.colour(x, y);
        (0..3).all(|k| (colour[k] - i32::from(tint.0[k])).abs() <= SAME_COLOUR)
    }

    /// Share of the pixels within a radius that have one of the colours.
    fn share(&self, tints: &[Tint], [x, y]: [f64; 2], radius: i32) -> f64 {
        let (mut own, mut all) = (0.0, 0.0);
        for dy in -radius..=radius {
            for dx in -radius..=radius {
                if dx * dx + dy * dy <= radius * radius {
                    all += 1.0;
                    if tints.iter().any(|tint| self.is(*tint, x + f64::from(dx), y + f64::from(dy))) {
                        own += 1.0;
                    }
                }
            }
        }
        own / all
    }

    /// Middle of the pixels of a colour near a place.
    fn middle_of(&self, tint: Tint, [x, y]: [f64; 2], reach: i32) -> Option<[f64; 2]> {
        let (mut sum, mut count) = ([0.0, 0.0], 0.0);
        for dy in -reach..=reach {
            for dx in -reach..=reach {
                let (px, py) = ((x + f64::from(dx)).floor(), (y + f64::from(dy)).floor());
                if self.is(tint, px, py) {
                    sum = [sum[0] + px + 0.5, sum[1] + py + 0.5];
                    count += 1.0;
                }
            }
        }
        (count > 0.0).then(|| sum.map(|s| s / count))
    }
}

/// The pose at a position: the last sample of an excursion that ends there, the first at rest.
fn solve(scene: &Scene, casts: Option<Arc<Casts>>, excursion: Excursion, at: f64) -> Placement {
    use sim_core::excursion::Drive;
    use sim_core::units::{Angle, Length};
    let mechanism = scene.mechanism();
    let mechanism = match casts {
        Some(casts) => mechanism.with_casts(casts),
        None => mechanism,
    };
    if at == 0.0 {
        return mechanism.motion(&excursion, scene.samples).placements()[0];
    }
    let drive = match excursion.drive() {
        Drive::Advance(_) => Drive::Advance(Length::from_mm(at)),
        Drive::IncisalDisplacement(_) => Drive::IncisalDisplacement(Length::from_mm(at)),
        Drive::Tracing(_) => Drive::Tracing(Length::from_mm(at)),
        Drive::Opening(_) => Drive::Opening(Angle::from_degrees(at)),
    };
    let there = Excursion::new(excursion.movement(), drive).unwrap();
    let motion = mechanism.motion(&there, scene.samples);
    assert!(motion.stopped().is_none());
    *motion.placements().last().unwrap()
}

/// Sphere centre in the drawn world.
fn sphere(scene: &Scene, placement: &Placement, moving: Moving, side: Side) -> Vector3<f64> {
    let half = scene.instrument.intercondylar_distance.mm() / 2.0 * side.outward_y();
    match (scene.instrument.design, moving) {
        (Design::Arcon, Moving::Lower) => *placement.jaw.to_upper(&LowerPoint::mm(0.0, half, 0.0)).coords(),
        (Design::NonArcon, Moving::Upper) => {
            *placement.jaw.to_lower(&UpperPoint::mm(0.0, half, 0.0)).coords()
        }
        (Design::Arcon, Moving::Upper) | (Design::NonArcon, Moving::Lower) => Vector3::new(0.0, half, 0.0),
    }
}

/// Cusp tip in the drawn world.
fn cusp(shot: &Shot, number: usize) -> Vector3<f64> {
    match (shot.scene.cusps[number].tip(), shot.moving) {
        (CuspTip::Lower(tip), Moving::Lower) => *shot.placement.jaw.to_upper(&tip).coords(),
        (CuspTip::Upper(tip), Moving::Upper) => *shot.placement.jaw.to_lower(&tip).coords(),
        (CuspTip::Lower(tip), Moving::Upper) => *tip.coords(),
        (CuspTip::Upper(tip), Moving::Lower) => *tip.coords(),
    }
}

#[test]
fn every_scene_shows_its_cusps_where_the_maths_puts_them() {
    for (number, path) in scenes().iter().enumerate() {
        // Both ways of moving, and views whose directions differ, over the scenes.
        let view = ["oblique", "above", "front"][number % 3];
        let moving = ["lower", "upper"][number % 2];
        let shot = Shot::take(path, "right_lateral", 2.5, view, moving);
        let readings: Vec<_> =
            Gauges::new(shot.scene.occlusal_plane, &shot.scene.cusps).read(&shot.placement.jaw).collect();
        let mut seen = 0;
        for &(number, mark) in &shot.marks {
            let at = (shot.project)(&cusp(&shot, number));
            // A mark shows its own colour, or is struck through where the cusp interferes. What lies
            // on one place on the screen covers each other, so not every mark must be seen.
            // The stroke through it has a light edge, which takes its share.
            let (tints, least): (&[Tint], f64) = if readings[number].interferes() {
                (&[palette::cusp(mark).0, palette::INTERFERENCE], 0.3)
            } else {
                (&[palette::cusp(mark).0], 0.6)
            };
            if shot.share(tints, at, 3) > least {
                seen += 1;
            }
        }
        let least = shot.marks.len().div_ceil(2);
        assert!(seen >= least, "{path:?} from {view}: {seen} of {} marks in place", shot.marks.len());
    }
}

#[test]
fn every_scene_shows_its_sphere_centres_where_the_maths_puts_them() {
    for (number, path) in scenes().iter().enumerate() {
        let moving = ["upper", "lower"][number % 2];
        let shot = Shot::take(path, "left_lateral", 2.0, "above", moving);
        for side in Side::BOTH {
            let at = (shot.project)(&sphere(&shot.scene, &shot.placement, moving_of(moving), side));
            let found = shot.middle_of(palette::CENTRE_MARK, at, 9);
            let [x, y] = found.unwrap_or_else(|| panic!("{path:?}: no mark near the {side} sphere"));
            let off = (x - at[0]).hypot(y - at[1]);
            assert!(off < 1.0, "{path:?}: the {side} centre is marked {off:.2} px from {at:?}");
        }
    }
}

fn moving_of(word: &str) -> Moving {
    if word == "lower" { Moving::Lower } else { Moving::Upper }
}

/// Dark and without hue: a sphere, in whatever light.
fn is_sphere([r, g, b]: [i32; 3]) -> bool {
    let (low, high) = (r.min(g).min(b), r.max(g).max(b));
    low >= 0 && high < 0x60 && high - low < 24
}

#[test]
fn the_solid_spheres_are_where_their_centres_are_marked() {
    // Directions (forward, up) in which no wall or stem lies before the right sphere: with the spheres
    // on the lower member the roof is above and in front, with the spheres on the upper one the floor
    // is below.
    let lower: &[(f64, f64)] = &[(-0.17, -0.98), (0.5, -0.87), (-0.5, 0.87)];
    let upper: &[(f64, f64)] = &[(0.3, 0.95), (0.8, 0.6)];
    for (name, moving, directions) in [
        ("thirty_degree", "lower", lower),
        ("opened_arcon", "upper", lower),
        ("opened_non_arcon", "upper", upper),
        ("opened_non_arcon", "lower", upper),
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../scenes/{name}.ron"));
        let shot = Shot::take(&path, "protrusive", 4.0, "axis", moving);
        let centre = sphere(&shot.scene, &shot.placement, moving_of(moving), Side::Right);
        for direction in directions {
            let at = |radii: f64| {
                let point = centre + Vector3::new(direction.0, 0.0, direction.1) * (radii * SPHERE_RADIUS_MM);
                (shot.project)(&point)
            };
            let [x, y] = at(0.95);
            assert!(is_sphere(shot.colour(x, y)), "{name} {direction:?}: {:?} inside", shot.colour(x, y));
            let [x, y] = at(1.06);
            assert!(!is_sphere(shot.colour(x, y)), "{name} {direction:?}: {:?} outside", shot.colour(x, y));
        }
    }
}

#[test]
fn along_the_axis_both_sphere_centres_fall_on_one_place() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes/unequal_sides.ron");
    let shot = Shot::take(&path, "right_lateral", 3.0, "axis", "lower");
    let [a, b] =
        Side::BOTH.map(|side| (shot.project)(&sphere(&shot.scene, &shot.placement, Moving::Lower, side)));
    assert!((a[0] - b[0]).hypot(a[1] - b[1]) < 1e-6, "{a:?} {b:?}");
    let [x, y] = shot.middle_of(palette::CENTRE_MARK, a, 9).expect("the mark");
    assert!((x - a[0]).hypot(y - a[1]) < 1.0);
}

#[test]
fn the_panel_is_in_the_picture() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes/thirty_degree.ron");
    let shot = Shot::take(&path, "protrusive", 3.0, "oblique", "lower");
    // The settings' panel has its paper, its ink and its sliders' filled part.
    for (tint, least) in [(palette::PANEL, 20_000), (palette::INK, 200), (palette::ACTIVE, 200)] {
        let pixels = (0..SIZE.1)
            .flat_map(|y| (0..280).map(move |x| (f64::from(x), f64::from(y))))
            .filter(|(x, y)| shot.is(tint, *x, *y))
            .count();
        assert!(pixels > least, "{tint:?}: {pixels} pixels");
    }
}

fn refused(arguments: &[&str], status: i32, words: &[&str]) {
    let output = viewer(arguments);
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(status), "{arguments:?}: {said}");
    assert!(output.stdout.is_empty());
    for word in words {
        assert!(said.contains(word), "{arguments:?}: {said}");
    }
    assert!(!said.contains("panicked"), "{said}");
}

#[test]
fn what_cannot_be_done_is_said_in_words_with_the_right_status() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let picture = folder.path().join("a.png");
    let picture = picture.to_str().unwrap();
    let bad = file("bad.ron", "(\n    title: 7,\n)");
    refused(&[&bad, "--snapshot", picture], 2, &["bad.ron:2:", "title"]);
    refused(&["no such file.ron", "--snapshot", picture], 2, &["no such file.ron"]);
    refused(&["--snapshot", picture, "--excursion", "sideways"], 2, &["sideways", "right_lateral"]);
    refused(&["--snapshot", picture, "--at", "-1"], 2, &["0 or more"]);
    refused(&["--snapshot", picture, "--at", "nan"], 2, &["finite"]);
    refused(&["--snapshot", picture, "--at", "31"], 2, &["31", "30"]);
    refused(&["--snapshot", picture, "--size", "7x7"], 2, &["640"]);
    refused(&["--snapshot", picture, "--view", "behind"], 2, &["oblique"]);
    refused(&["--snapshot", picture, "--show", "clearance"], 2, &["--show", "no", "casts"]);
    refused(&["--snapshot", picture, "--film", "50"], 2, &["40", "100"]);
    refused(&["--snapshot", picture, "--section-at", "3"], 2, &["--section"]);
    assert!(!Path::new(picture).exists());

    let mut scene = Scene::thirty_degree();
    let short = "path.radius_mm=3".parse::<sim_core::setting::Change>().unwrap();
    short.make(&mut scene).unwrap();
    let short = file("short.ron", &scene.to_ron());
    refused(&[&short, "--snapshot", picture, "--at", "6"], 1, &["path", "ends"]);

    let kept = file("kept.png", "not a picture, but mine");
    let nowhere = format!("{kept}/a.png");
    refused(&["--snapshot", &nowhere, "--size", "640x400"], 1, &["cannot be written"]);
    assert_eq!(std::fs::read_to_string(kept).unwrap(), "not a picture, but mine");
}

#[cfg(target_os = "linux")]
#[test]
fn without_a_display_the_window_is_refused_in_words() {
    let output = Command::new(env!("CARGO_BIN_EXE_viewer"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .expect("the viewer runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("no display") && said.contains("--snapshot"), "{said}");
    assert!(!said.contains("panicked"), "{said}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_display_that_does_not_answer_is_refused_in_words() {
    let output = Command::new(env!("CARGO_BIN_EXE_viewer"))
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .env("DISPLAY", ":4242")
        .output()
        .expect("the viewer runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("opening the window") && said.contains("display"), "{said}");
    assert!(!said.contains("panicked"), "{said}");
}

/// The teaching scene with an invented pair of natural teeth, coarse so that it is soon made.
fn scene_with_casts(folder: &Path) -> PathBuf {
    let mut scene = Scene::thirty_degree();
    let fineness = sim_core::units::Length::from_mm(0.6);
    scene.invented_casts = Some(InventedCasts { fineness, ..InventedCasts::dentate() });
    let path = folder.join("casts.ron");
    std::fs::write(&path, scene.to_ron()).unwrap();
    path
}

/// Light of a pixel, 0 to 255.
fn light([r, g, b]: [i32; 3]) -> f64 {
    f64::from(r) * 0.2126 + f64::from(g) * 0.7152 + f64::from(b) * 0.0722
}

#[test]
fn the_clearance_map_is_dark_where_the_casts_are_near_and_pale_where_they_are_far() {
    let folder = tempfile::tempdir().unwrap();
    let path = scene_with_casts(folder.path());
    let more = ["--show", "clearance", "--seen", "lower", "--close"];
    let shot = Shot::with(&path, "protrusive", 0.0, "above", "lower", &more);
    let mut scene = shot.scene.clone();
    let casts = files::of_scene(&mut scene, folder.path()).unwrap().unwrap().casts;
    let surface = casts.surface(Arch::Lower);
    let cap = sim_core::units::Length::from_mm(viewer::casts::CAP_MM);
    let map = casts.clearance_map(&shot.placement.jaw, scene.occlusal_plane, Arch::Lower, cap);
    // Where the surface lies level, so that the light is much the same; the mean of many places.
    let ground = viewer::casts::paint::Ground::of(surface, Arch::Lower);
    let mean = |from: f64, to: f64| {
        let lights: Vec<f64> = (surface.vertices().iter().zip(&map).zip(&ground.normals))
            .filter(|((_, gap), normal)| {
                normal.z > 0.8 && gap.is_some_and(|gap| (from..to).contains(&gap.mm()))
            })
            .map(|((vertex, _), _)| {
                let [x, y] = (shot.project)(vertex);
                light(shot.colour(x, y))
            })
            .collect();
        assert!(lights.len() > 20, "{} places between {from} and {to} mm", lights.len());
        lights.iter().sum::<f64>() / lights.len() as f64
    };
    let (near, middle, far) = (mean(0.0, 0.15), mean(0.5, 0.9), mean(1.3, 2.0));
    assert!(near + 25.0 < middle && middle + 25.0 < far, "{near:.0}, {middle:.0}, {far:.0}");
    // The scale beside it has both its ends.
    for part in [0.02, 0.98] {
        let tint = palette::clearance(part);
        let pixels = (0..SIZE.1)
            .flat_map(|y| (250..SIZE.0 / 2).map(move |x| (f64::from(x), f64::from(y))))
            .filter(|(x, y)| shot.is(tint, *x, *y))
            .count();
        assert!(pixels > 20, "{tint:?}: {pixels} pixels");
    }
}

#[test]
fn film_prints_where_the_teeth_touch() {
    let folder = tempfile::tempdir().unwrap();
    let path = scene_with_casts(folder.path());
    let printed = |at: f64| {
        let more = ["--show", "film", "--film", "100", "--seen", "lower", "--close"];
        let shot = Shot::with(&path, "protrusive", at, "above", "lower", &more);
        // Dark and violet, whatever the light; the legend is in every picture.
        shot.picture
            .pixels()
            .filter(|pixel| {
                let [r, g, b] = pixel.0.map(i32::from);
                b > r + 25 && r > g && b < 130
            })
            .count()
    };
    let (at_rest, apart) = (printed(0.0), printed(6.0));
    assert!(at_rest > apart + 300, "{at_rest} pixels at rest, {apart} apart");
}

#[test]
fn a_section_is_drawn_in_the_panel_and_one_beside_the_casts_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = scene_with_casts(folder.path());
    let more = ["--section", "square", "--section-at", "30"];
    let shot = Shot::with(&path, "protrusive", 2.0, "oblique", "lower", &more);
    for tint in [palette::UPPER_LINE, palette::LOWER_LINE] {
        let pixels = (0..SIZE.1)
            .flat_map(|y| (SIZE.0 * 3 / 4..SIZE.0).map(move |x| (f64::from(x), f64::from(y))))
            .filter(|(x, y)| shot.is(tint, *x, *y))
            .count();
        assert!(pixels > 60, "{tint:?}: {pixels} pixels");
    }
    let path = path.to_str().unwrap();
    let picture = folder.path().join("none.png");
    let picture = picture.to_str().unwrap();
    let beside = ["--section", "sagittal", "--section-at", "400", "--snapshot", picture];
    refused(&[&[path], &beside[..]].concat(), 2, &["400", "reach"]);
    assert!(!Path::new(picture).exists());
}

fn scene_file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../scenes/{name}.ron"))
}

/// The scene kept as B, and where it stands when A has been driven so far in protrusion.
fn steep_at(at: f64, excursion: Excursion) -> (Scene, Placement) {
    let scene = Scene::from_ron(&std::fs::read_to_string(scene_file("steep_guides")).unwrap()).unwrap();
    let placement = solve(&scene, None, excursion, at);
    (scene, placement)
}

fn protrusion(at: f64) -> Excursion {
    use sim_core::excursion::{Drive, Movement};
    Excursion::new(Movement::Protrusive, Drive::Advance(sim_core::units::Length::from_mm(at))).unwrap()
}

/// Violet, in whatever light: a dot of B.
fn is_ghost([r, g, b]: [i32; 3]) -> bool {
    b > g + 25 && r > g + 8 && b > r
}

#[test]
fn the_second_set_up_is_dotted_where_the_maths_puts_it() {
    let steep = scene_file("steep_guides");
    let more = ["--beside", steep.to_str().unwrap()];
    let shot = Shot::with(&scene_file("thirty_degree"), "protrusive", 6.0, "right", "lower", &more);
    let (scene, placement) = steep_at(6.0, protrusion(6.0));
    // Its hollow marks: white, ringed in the colour of the cusp of A.
    let mut seen = 0;
    for &(number, mark) in &shot.marks {
        let own = &shot.scene.cusps[number];
        let theirs = scene.cusps.iter().find(|c| c.tooth() == own.tooth() && c.name() == own.name()).unwrap();
        let CuspTip::Lower(tip) = theirs.tip() else { continue };
        let at = (shot.project)(placement.jaw.to_upper(&tip).coords());
        let ours = (shot.project)(&cusp(&shot, number));
        assert!((at[0] - ours[0]).hypot(at[1] - ours[1]) > 4.0, "A and B stand apart: {at:?} {ours:?}");
        let ring = (0..24)
            .map(|turn| f64::from(turn) / 24.0 * std::f64::consts::TAU)
            .filter(|turn| {
                let on = |radius: f64| [at[0] + radius * turn.cos(), at[1] + radius * turn.sin()];
                [4.5, 5.0, 5.5].iter().any(|radius| {
                    let [x, y] = on(*radius);
                    shot.is(palette::cusp(mark).0, x, y)
                })
            })
            .count();
        if shot.share(&[Tint([255; 3])], at, 2) > 0.7 && ring > 10 {
            seen += 1;
        }
    }
    assert!(seen > 0, "no mark of B in its place");
    // Its foot has gone down with the jaw: dots where A has paper, and none without B.
    let foot = Vector3::new(40.0, 0.0, 0.0);
    let alone = Shot::take(&scene_file("thirty_degree"), "protrusive", 6.0, "right", "lower");
    let dots = |shot: &Shot| {
        let centre = (shot.project)(&foot);
        let (mut dots, mut runs) = (0, 0);
        for y in 0..SIZE.1 - 110 {
            for x in (centre[0] as u32 - 100)..(centre[0] as u32 + 100) {
                let here = is_ghost(shot.colour(f64::from(x), f64::from(y)));
                dots += usize::from(here);
                runs += usize::from(here && is_ghost(shot.colour(f64::from(x + 1), f64::from(y))));
            }
        }
        (dots, runs)
    };
    let ((with, neighbours), (without, _)) = (dots(&shot), dots(&alone));
    assert!(with > 200 && without < 40, "{with} dots with B, {without} without");
    // Every second pixel only.
    assert!(neighbours * 5 < with, "{neighbours} of {with} dots touch another");
}

#[test]
fn side_by_side_the_second_set_up_is_moved_by_half_the_picture_and_no_more() {
    let steep = scene_file("steep_guides");
    let more = ["--beside", steep.to_str().unwrap(), "--side-by-side"];
    for view in ["oblique", "above"] {
        let shot = Shot::with(&scene_file("thirty_degree"), "protrusive", 5.0, view, "lower", &more);
        let (scene, placement) = steep_at(5.0, protrusion(5.0));
        let shift = f64::from(shot.layout.picture.width()) / 2.0;
        for side in Side::BOTH {
            let [x, y] = (shot.project)(&sphere(&scene, &placement, Moving::Lower, side));
            let at = [x + shift, y];
            let found = shot.middle_of(palette::CENTRE_MARK, at, 7);
            let [x, y] = found.unwrap_or_else(|| panic!("{view}: no mark near B's {side} sphere at {at:?}"));
            assert!((x - at[0]).hypot(y - at[1]) < 1.5, "{view} {side}: {x} {y}, expected {at:?}");
            // And the sphere itself, in its own colour: B is whole here.
            let dark = (0..16).filter(|turn| {
                let turn = f64::from(*turn) / 16.0 * std::f64::consts::TAU;
                // Within the sphere, clear of the mark's arms.
                let above = (shot.project)(&Vector3::new(0.0, 0.0, 0.8 * SPHERE_RADIUS_MM))[1];
                let radius = (shot.project)(&Vector3::zeros())[1] - above;
                is_sphere(shot.colour(at[0] + radius * turn.cos(), at[1] + radius * turn.sin()))
            });
            assert!(view == "above" || side == Side::Left || dark.count() > 2, "{view} {side}: no sphere");
        }
    }
}

#[test]
fn projections_mark_every_cusp_at_its_millimetres() {
    for (spread, excursion) in [("rest", "right_lateral"), ("place", "protrusive")] {
        let more = ["--arrange", "projections", "--paths", spread];
        let shot = Shot::with(&scene_file("unequal_sides"), excursion, 4.0, "oblique", "lower", &more);
        let rest = |number: usize| shot.scene.cusps[number].at_mm();
        let world = |number: usize| {
            let moved = match shot.scene.cusps[number].tip() {
                CuspTip::Lower(tip) => shot.placement.jaw.to_upper(&tip).coords() - rest(number),
                CuspTip::Upper(tip) => rest(number) - shot.placement.jaw.to_lower(&tip).coords(),
            };
            if spread == "rest" { moved } else { rest(number) + moved }
        };
        let mut seen = 0;
        for sheet in &shot.sheets {
            // The test's own projection; the scale and the middle are the viewer's.
            let place = |number: usize| {
                let (a, b) = (world(number), sheet.fit.centre);
                let [across, up] = match sheet.plane {
                    Plane::Sagittal => [a.x - b.x, a.z - b.z],
                    Plane::Frontal => [a.y - b.y, a.z - b.z],
                    Plane::Horizontal => [b.y - a.y, a.x - b.x],
                };
                let scale = sheet.fit.points_per_mm;
                [sheet.middle[0] + across * scale, sheet.middle[1] - up * scale]
            };
            for (order, &(number, mark)) in shot.marks.iter().enumerate() {
                let at = place(number);
                let apart = |other: &(usize, usize)| {
                    let other = place(other.0);
                    (at[0] - other[0]).hypot(at[1] - other[1]) > 10.0
                };
                // Later marks lie over this one.
                if shot.marks[order + 1..].iter().all(apart) {
                    let share = shot.share(&[palette::cusp(mark).0], at, 2);
                    assert!(share > 0.7, "{spread} {:?}: {number} is not at {at:?}", sheet.plane);
                    seen += 1;
                }
            }
        }
        assert!(seen >= 5, "{spread}: only {seen} marks lie free");
    }
}
