//! Pictures of the bench and of the plate against the maths: what is drawn is searched for where a projection of the
//! test's own puts it.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::{Path, PathBuf};
use std::process::Command;

use clap::Parser;
use image::RgbImage;
use nalgebra::{Rotation3, Vector3};
use sim_core::bench::{Bench, Trial};
use sim_core::frame::{PerSide, Side};
use sim_core::record::Case;
use sim_core::scene::Scene;
use sim_core::tracing::{Leg, TracerFields, set_up};
use sim_core::units::{Angle, Length};
use viewer::drawing::plate::tint;
use viewer::frame;
use viewer::native::arguments::Arguments;
use viewer::native::start;
use viewer::palette::{self, Tint};

const SIZE: (u32, u32) = (1280, 800);
/// Channels of a colour may be this far off: rounding on the way through the graphics driver.
const SAME_COLOUR: i32 = 12;

/// From millimetres to pixels.
type Project = Box<dyn Fn(&Vector3<f64>) -> [f64; 2]>;

/// A picture, and the way to its pixels.
struct Shot {
    picture: RgbImage,
    project: Project,
}

impl Shot {
    fn take(arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("shot.png");
        let size = format!("{}x{}", SIZE.0, SIZE.1);
        let own = ["--snapshot", file.to_str().unwrap(), "--size", &size];
        let arguments: Vec<&str> = arguments.iter().chain(&own).copied().collect();
        let output =
            Command::new(env!("CARGO_BIN_EXE_viewer")).args(&arguments).output().expect("the viewer runs");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let picture = image::open(&file).expect("a picture").into_rgb8();
        let known = Arguments::parse_from(std::iter::once("viewer").chain(arguments));
        let state = start::state(&known).expect("a state");
        // The test's own projection takes from the viewer only what is looked at, and from where.
        let look = state.look;
        let (layout, _) = frame::lay_out(&state, [f64::from(SIZE.0), f64::from(SIZE.1)], 1.0);
        let window = layout.window(1.0);
        let tip = Rotation3::from_axis_angle(&Vector3::y_axis(), look.elevation_deg.to_radians()).inverse();
        let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), -look.azimuth_deg.to_radians());
        let to_picture = Rotation3::from_basis_unchecked(&[Vector3::z(), Vector3::x(), Vector3::y()]);
        let turn = to_picture * tip.inverse() * turn;
        let scale = (f64::from(window.height) / look.height_mm).min(f64::from(window.width) / look.width_mm);
        let middle = [window.left + window.width / 2.0, window.top + window.height / 2.0].map(f64::from);
        let project = move |point: &Vector3<f64>| {
            let seen = turn * (point - look.focus);
            [middle[0] + seen.x * scale, middle[1] - seen.y * scale]
        };
        Self { picture, project: Box::new(project) }
    }

    /// Share of the pixels within a radius of a place in the world that have a colour.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels")]
    fn share(&self, tint: Tint, world: &Vector3<f64>, radius: i32) -> f64 {
        let [x, y] = (self.project)(world);
        let (mut own, mut all) = (0.0, 0.0);
        for dy in -radius..=radius {
            for dx in -radius..=radius {
                let (x, y) = ((x + f64::from(dx)).floor(), (y + f64::from(dy)).floor());
                if x < 0.0 || y < 0.0 || x >= f64::from(SIZE.0) || y >= f64::from(SIZE.1) {
                    continue;
                }
                all += 1.0;
                let seen = self.picture.get_pixel(x as u32, y as u32).0;
                if (0..3).all(|k| (i32::from(seen[k]) - i32::from(tint.0[k])).abs() <= SAME_COLOUR) {
                    own += 1.0;
                }
            }
        }
        own / f64::max(all, 1.0)
    }
}

fn scene_file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes").join(name)
}

/// The marks at the shoulders of groove and key stand as far apart as the gap, so many times as large, on the bases
/// as the record holds them.
#[test]
fn groove_and_key_are_drawn_as_far_apart_as_their_gap() {
    let path = scene_file("cases/bench.ron");
    let case = Case::from_ron(&std::fs::read_to_string(&path).unwrap()).unwrap();
    let programmed = case.program().unwrap();
    let bench = Bench::of(&case, &programmed);
    for (set, times) in [([45.0, 40.0], 5.0), ([20.0, 26.0], 20.0)] {
        let [right, left] = set;
        let trial = Trial {
            inclination: PerSide { right: Angle::from_degrees(right), left: Angle::from_degrees(left) },
            ..Trial::example()
        };
        let gaps = bench.gaps(1, &trial).unwrap().unwrap();
        let jaw = bench.seated(1).unwrap().jaw();
        // The record carries what is fixed to the upper cast by the inverse of the jaw's pose.
        let carried = |at: Vector3<f64>| jaw.rotation().transpose() * (at - jaw.translation());
        let set = format!("right={right},left={left}");
        let times_text = times.to_string();
        for view in ["right", "left", "oblique"] {
            let shot = Shot::take(&[
                path.to_str().unwrap(),
                "--set",
                &set,
                "--lay",
                "2",
                "--split",
                &times_text,
                "--view",
                view,
            ]);
            let (mut grooves, mut keys) = (0, 0);
            for groove in bench.grooves() {
                let shift = gaps.secondary.of(groove).coords() - groove.coords();
                let groove_at = carried(*groove.coords());
                let key_at = carried(groove.coords() + shift * times);
                // What lies on one place on the screen covers each other.
                grooves += usize::from(shot.share(palette::GROOVE, &groove_at, 2) > 0.5);
                keys += usize::from(shot.share(palette::KEY, &key_at, 2) > 0.5);
            }
            assert!(grooves >= 3 && keys >= 3, "{set} from the {view}: {grooves} grooves, {keys} keys");
        }
    }
}

/// The arch in the picture lies where the stylus's tip goes on the plate, and a wrong place shows none of it.
#[test]
fn the_arch_is_drawn_where_the_tip_goes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("traced.ron");
    let mut scene = Scene::thirty_degree();
    scene.tracer = Some(TracerFields::default());
    let wide = Angle::from_degrees(25.0);
    scene.instrument.guide_mut(Side::Left).lateral_angle = wide;
    std::fs::write(&path, scene.to_ron()).unwrap();
    let (distance, reach) = (Length::from_mm(6.0), Length::from_mm(9.0));
    let tracer = scene.completed_tracer();
    let setup = set_up(&scene.instrument, scene.occlusal_plane, &tracer, distance, reach).unwrap();
    let shot = Shot::take(&[path.to_str().unwrap(), "--plate"]);
    for leg in Leg::ALL {
        let points: Vec<Vector3<f64>> = setup
            .drawn
            .leg(leg)
            .iter()
            .filter(|at| at.forward.mm().hypot(at.left.mm()) > 1.5)
            .map(|at| {
                // Along the plate from where the tip rests, forward and to the left.
                let (sin, cos) = tracer.plate.inclination.sin_cos();
                tracer.stylus_mm
                    + Vector3::new(cos, 0.0, -sin) * at.forward.mm()
                    + Vector3::y() * at.left.mm()
            })
            .collect();
        let seen = |aside: f64| {
            let there = |at: &&Vector3<f64>| shot.share(tint(leg), &(*at + Vector3::x() * aside), 1) > 0.0;
            points.iter().filter(there).count()
        };
        assert!(seen(0.0) * 10 > points.len() * 8, "{leg}: {} of {}", seen(0.0), points.len());
        if leg != Leg::Protrusive {
            // Two millimetres off there is nothing of it.
            assert!(seen(2.0) * 10 < points.len(), "{leg}: {} of {}", seen(2.0), points.len());
        }
    }
}

/// What the bench refuses on the command line is said by name, with the status of a wrong command line.
#[test]
fn options_that_do_not_fit_are_refused_by_name() {
    let dentate = scene_file("cases/dentate.ron");
    let dentate = dentate.to_str().unwrap();
    for (arguments, said) in [
        (vec!["--lay", "1"], "--lay is for the bench"),
        (vec![dentate, "--lay", "9"], "the case has no record 9; it has 5"),
        (vec![dentate, "--at", "3"], "--at is for an instrument"),
        (vec![dentate, "--split", "7"], "allowed are 1, 5 and 20"),
        (vec![dentate, "--deal", "3"], "cannot be used with"),
    ] {
        let arguments: Vec<&str> = arguments.into_iter().chain(["--snapshot", "/tmp/never.png"]).collect();
        let output =
            Command::new(env!("CARGO_BIN_EXE_viewer")).args(&arguments).output().expect("the viewer runs");
        let text = String::from_utf8_lossy(&output.stderr);
        assert!(text.contains(said), "{arguments:?}: {text}");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    }
}
