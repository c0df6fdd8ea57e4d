//! What planes cut out of the invented casts of the scenes: plain outlines, without loops or holes.

use sim_core::cast::invented::{InventedCasts, InventedPair};
use sim_core::cast::{Cut, Section, SectionLine, ToothRow};
use sim_core::cusp::Arch;
use sim_core::frame::{JawPose, OcclusalPlane};
use sim_core::scene::Scene;
use sim_core::units::Length;

/// The casts of a scene, coarse: every vertex lies on the same curves as in fine ones.
fn casts(name: &str) -> (InventedPair, OcclusalPlane) {
    let path = format!("{}/../scenes/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    let scene = Scene::from_ron(&std::fs::read_to_string(path).expect("the scene")).expect("a scene");
    let casts = scene.invented_casts.expect("invented casts");
    let coarse = InventedCasts { fineness: Length::from_mm(1.2), ..casts };
    (coarse.make(scene.occlusal_plane).expect("a pair"), scene.occlusal_plane)
}

/// Planes through necks, between teeth, behind the last ones and along the ends of both arches.
fn cuts(pair: &InventedPair, plane: OcclusalPlane) -> Vec<Cut> {
    let row = ToothRow::of(&pair.lower, Arch::Lower, plane).expect("a row of teeth");
    let (from, to) = row.reach();
    let sagittal = (-32..=32).map(|left| Cut::sagittal(plane, Length::from_mm(f64::from(left) + 0.4)));
    let frontal = (95..=210).map(|half| Cut::frontal(plane, Length::from_mm(f64::from(half) / 2.0 + 0.11)));
    let square = (0..=30).map(|part| Cut::square_to(&row, from + (to - from) * (f64::from(part) / 30.0)));
    sagittal.chain(frontal).chain(square).collect()
}

/// Where two pieces of an outline that do not share an end cross, if any do.
fn crossing(line: &SectionLine) -> Option<[f64; 2]> {
    let turn =
        |a: [f64; 2], b: [f64; 2], c: [f64; 2]| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    let pieces: Vec<_> = line.windows(2).map(|ends| (ends[0], ends[1])).collect();
    for (number, &(a, b)) in pieces.iter().enumerate() {
        for &(c, d) in pieces.iter().skip(number + 2) {
            let beside = (0..2).any(|axis| {
                a[axis].max(b[axis]) < c[axis].min(d[axis]) || c[axis].max(d[axis]) < a[axis].min(b[axis])
            });
            if !beside && turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0 {
                return Some(a);
            }
        }
    }
    None
}

/// Area by the shoelace formula: outlines run one way round, holes in them the other.
fn area(line: &SectionLine) -> f64 {
    line.windows(2).map(|ends| ends[0][0] * ends[1][1] - ends[1][0] * ends[0][1]).sum::<f64>() / 2.0
}

/// What is wrong with the lines cut out of one cast.
fn faults(lines: &[SectionLine]) -> Vec<String> {
    let greatest = lines.iter().map(area).max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or_default();
    let crossed = lines.iter().filter_map(crossing).map(|at| format!("crosses itself at {at:.1?}"));
    let holes = lines.iter().filter(|line| area(line) * greatest < 0.0);
    crossed.chain(holes.map(|line| format!("has a hole at {:.1?}", line[0]))).collect()
}

fn check(name: &str) {
    let (pair, plane) = casts(name);
    let mut found = Vec::new();
    for cut in cuts(&pair, plane) {
        let section = Section::of(&pair.upper, &pair.lower, &JawPose::identity(), &cut);
        for (arch, lines) in [("upper", &section.upper), ("lower", &section.lower)] {
            found.extend(faults(lines).into_iter().map(|fault| format!("{arch} {fault}")));
        }
    }
    assert!(found.is_empty(), "{} faults: {found:#?}", found.len());
}

#[test]
fn no_section_of_natural_teeth_crosses_itself_or_has_holes() {
    check("dentate_casts");
}

#[test]
fn no_section_of_balanced_dentures_crosses_itself_or_has_holes() {
    check("denture_casts");
}

#[test]
fn a_loop_and_a_hole_are_found() {
    let square = |from: f64, to: f64| vec![[from, from], [to, from], [to, to], [from, to], [from, from]];
    let mut hole = square(2.0, 3.0);
    assert!(faults(&[square(0.0, 9.0), hole.clone()]).is_empty());
    hole.reverse();
    assert_eq!(faults(&[square(0.0, 9.0), hole]).len(), 1);
    let bow = vec![[0.0, 0.0], [4.0, 4.0], [4.0, 0.0], [0.0, 3.0], [0.0, 0.0]];
    assert_eq!(faults(&[bow]).len(), 1);
}
