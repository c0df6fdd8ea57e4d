//! The numbers that come out, against derivations of a few lines of their own.

use serde_json::Value;

use crate::helpers::{Folder, Parts, assert_near, csv, json, number, run, three};

/// Rounding of a few operations on hundreds of millimetres.
const ROUNDING_MM: f64 = 1e-11;
/// What the interchange promises of a rotation.
const ORTHONORMAL: f64 = 1e-12;

const ALL_EXCURSIONS: &str = "Protrusive(advance_mm: 6.0), RightLateral(advance_mm: 5.0), \
    LeftLateral(incisal_displacement_mm: 4.0), RightLateroprotrusive(ratio: 0.4, advance_mm: 5.0), \
    LeftLateroprotrusive(ratio: 0.6, advance_mm: 5.0), Opening(angle_deg: 20.0)";

const TROUGH: &str = "Table(sagittal_inclination_deg: 25.0, right_wing_deg: 20.0, left_wing_deg: 15.0, \
                      flat_half_width_mm: 0.5)";

fn samples(run: &Value) -> impl Iterator<Item = &Value> {
    let excursions = run["excursions"].as_array().unwrap();
    excursions.iter().flat_map(|excursion| excursion["samples"].as_array().unwrap())
}

fn run_of(parts: &Parts) -> Value {
    let folder = Folder::new();
    json(&["excursion", &folder.scene(parts), "--format", "json"])
}

fn rotation(sample: &Value) -> [[f64; 3]; 3] {
    std::array::from_fn(|row| three(&sample["jaw_pose"]["rotation"][row]))
}

/// M p.
fn to_upper(sample: &Value, p: [f64; 3]) -> [f64; 3] {
    let (r, t) = (rotation(sample), three(&sample["jaw_pose"]["translation_mm"]));
    std::array::from_fn(|i| (0..3).map(|j| r[i][j] * p[j]).sum::<f64>() + t[i])
}

/// M⁻¹ p = Rᵀ (p − t).
fn to_lower(sample: &Value, p: [f64; 3]) -> [f64; 3] {
    let (r, t) = (rotation(sample), three(&sample["jaw_pose"]["translation_mm"]));
    std::array::from_fn(|i| (0..3).map(|j| r[j][i] * (p[j] - t[j])).sum())
}

#[test]
fn in_protrusion_on_like_straight_guides_the_condyles_drop_by_advance_times_tan_h() {
    let run = run_of(&Parts { excursions: "Protrusive(advance_mm: 6.0)", ..Parts::default() });
    let samples = run["excursions"][0]["samples"].as_array().unwrap();
    assert_eq!(samples.len(), 7);
    for (index, sample) in samples.iter().enumerate() {
        let advance = index as f64;
        assert_near(number(sample, "advance_mm"), advance, 1e-12);
        for side in ["right_condyle", "left_condyle"] {
            assert_near(number(&sample[side], "advance_mm"), advance, 1e-12);
            assert_near(number(&sample[side], "drop_mm"), advance * 40_f64.to_radians().tan(), 1e-12);
            assert_near(number(&sample[side], "medial_mm"), 0.0, 1e-12);
        }
    }
}

#[test]
fn in_a_lateral_excursion_the_orbiting_condyle_goes_in_by_advance_times_tan_l() {
    let run = run_of(&Parts { excursions: "RightLateral(advance_mm: 6.0)", ..Parts::default() });
    for (index, sample) in samples(&run).enumerate() {
        let inward = index as f64 * 15_f64.to_radians().tan();
        assert_near(number(&sample["left_condyle"], "medial_mm"), inward, 1e-12);
        assert_near(number(&sample["right_condyle"], "advance_mm"), 0.0, 1e-12);
    }
}

#[test]
fn every_pose_is_a_rigid_motion_without_reflection() {
    let run = run_of(&Parts { excursions: ALL_EXCURSIONS, anterior_guide: TROUGH, ..Parts::default() });
    let mut count = 0;
    for sample in samples(&run) {
        let r = rotation(sample);
        for i in 0..3 {
            for j in 0..3 {
                let product: f64 = (0..3).map(|k| r[i][k] * r[j][k]).sum();
                assert_near(product, f64::from(u8::from(i == j)), ORTHONORMAL);
            }
        }
        let minor = |a: usize, b: usize| r[1][a] * r[2][b] - r[1][b] * r[2][a];
        let determinant = r[0][0] * minor(1, 2) - r[0][1] * minor(0, 2) + r[0][2] * minor(0, 1);
        assert_near(determinant, 1.0, ORTHONORMAL);
        count += 1;
    }
    assert_eq!(count, 6 * 7);
}

#[test]
fn the_condyles_stand_where_the_pose_puts_them() {
    let run = run_of(&Parts { excursions: ALL_EXCURSIONS, anterior_guide: TROUGH, ..Parts::default() });
    for sample in samples(&run) {
        for (side, y) in [("right_condyle", -55.0_f64), ("left_condyle", 55.0)] {
            let [x, at, z] = to_upper(sample, [0.0, y, 0.0]);
            assert_near(number(&sample[side], "advance_mm"), x, ROUNDING_MM);
            assert_near(number(&sample[side], "medial_mm"), (y - at) * y.signum(), ROUNDING_MM);
            assert_near(number(&sample[side], "drop_mm"), -z, ROUNDING_MM);
        }
    }
}

#[test]
fn the_pin_stays_on_a_level_table_and_the_incisal_point_goes_with_the_jaw() {
    let run = run_of(&Parts::default());
    for sample in samples(&run) {
        assert_near(to_lower(sample, [98.0, 0.0, -42.0])[2], -42.0, ROUNDING_MM);
        let incisal = to_upper(sample, [98.0, 0.0, -42.0]);
        for (is, should_be) in three(&sample["incisal_point_mm"]).into_iter().zip(incisal) {
            assert_near(is, should_be, ROUNDING_MM);
        }
    }
}

/// Separation and clearance of a displacement d, opposing inclines in the order of the file.
fn gauge(d: [f64; 3], outward_y: f64, inclines: [f64; 4]) -> (f64, f64) {
    let (sin, cos) = 9_f64.to_radians().sin_cos();
    let separation = -(d[0] * sin + d[2] * cos);
    let (forward, outward) = (d[0] * cos - d[2] * sin, d[1] * outward_y);
    let [protrusive, retrusive, working, nonworking] = inclines.map(|degrees| degrees.to_radians().tan());
    let rises = [forward * protrusive, -forward * retrusive, outward * working, -outward * nonworking];
    (separation, separation - rises.into_iter().fold(0.0, f64::max))
}

#[test]
fn separation_and_clearance_follow_from_the_pose_for_a_lower_and_an_upper_cusp() {
    let run = run_of(&Parts { excursions: ALL_EXCURSIONS, anterior_guide: TROUGH, ..Parts::default() });
    for sample in samples(&run) {
        let lower = [58.0, 25.0, -38.0];
        let to = to_upper(sample, lower);
        let of_lower = gauge(std::array::from_fn(|i| to[i] - lower[i]), 1.0, [20.0, 21.0, 22.0, 23.0]);
        let upper = [57.0, -22.0, -37.0];
        let to = to_lower(sample, upper);
        let of_upper = gauge(std::array::from_fn(|i| upper[i] - to[i]), -1.0, [15.0, 16.0, 17.0, 18.0]);
        for (cusp, tooth, (separation, clearance)) in [(0, 36, of_lower), (1, 16, of_upper)] {
            let cusp = &sample["cusps"][cusp];
            assert_eq!(cusp["tooth"], tooth);
            assert_near(number(cusp, "separation_mm"), separation, ROUNDING_MM);
            assert_near(number(cusp, "clearance_mm"), clearance, ROUNDING_MM);
        }
    }
}

#[test]
fn csv_and_json_hold_the_same_numbers_to_the_last_bit() {
    let folder = Folder::new();
    let scene =
        folder.scene(&Parts { excursions: ALL_EXCURSIONS, anterior_guide: TROUGH, ..Parts::default() });
    let run_json = json(&["excursion", &scene, "--format", "json"]);
    let text = csv(&["excursion", &scene, "--format", "csv"]);
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let mut rows = reader.records();
    for excursion in run_json["excursions"].as_array().unwrap() {
        for (index, sample) in excursion["samples"].as_array().unwrap().iter().enumerate() {
            for cusp in sample["cusps"].as_array().unwrap() {
                let row = rows.next().unwrap().unwrap();
                let field = |name: &str| &row[heads.iter().position(|head| head == name).unwrap()];
                let same = |name: &str, object: &Value, key: &str| {
                    let is: f64 = field(name).parse().unwrap();
                    assert_eq!(is.to_bits(), number(object, key).to_bits(), "{name} in {row:?}");
                };
                assert_eq!(field("excursion"), excursion["name"]);
                assert_eq!(field("sample"), index.to_string());
                assert_eq!(field("tooth"), cusp["tooth"].to_string());
                assert_eq!(field("name"), cusp["name"]);
                assert_eq!(field("guided_by"), sample["guided_by"]);
                same("advance_mm", sample, "advance_mm");
                same("opening_deg", sample, "opening_deg");
                same("separation_mm", cusp, "separation_mm");
                same("clearance_mm", cusp, "clearance_mm");
                for side in ["right", "left"] {
                    for key in ["advance_mm", "medial_mm", "drop_mm"] {
                        same(&format!("{side}_{key}"), &sample[format!("{side}_condyle")], key);
                    }
                }
                let incisal = three(&sample["incisal_point_mm"]);
                for (name, should_be) in
                    ["incisal_x_mm", "incisal_y_mm", "incisal_z_mm"].into_iter().zip(incisal)
                {
                    assert_eq!(field(name).parse::<f64>().unwrap().to_bits(), should_be.to_bits());
                }
            }
        }
    }
    assert!(rows.next().is_none());
}

#[test]
fn the_table_shows_the_end_of_each_excursion_to_two_decimals() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let run_json = json(&["excursion", &scene, "--format", "json"]);
    let table = run(&["excursion", &scene]).out;
    let row = table.lines().find(|line| line.starts_with("36 mesiobuccal")).unwrap();
    let shown: Vec<&str> = row.split_whitespace().skip(2).collect();
    let two = |value: f64| format!("{value:.2}").replace('-', "−");
    for (index, excursion) in run_json["excursions"].as_array().unwrap().iter().enumerate() {
        let samples = excursion["samples"].as_array().unwrap();
        let clearances = samples.iter().map(|sample| number(&sample["cusps"][0], "clearance_mm"));
        let least = clearances.fold(f64::INFINITY, f64::min);
        let end = &samples.last().unwrap()["cusps"][0];
        let expected = [number(end, "separation_mm"), number(end, "clearance_mm"), least].map(two);
        assert_eq!(shown[3 * index..3 * index + 3], expected, "{row}");
    }
}
