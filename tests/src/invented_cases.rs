//! Invented patients and the case files that their records make, with stated noise, rounded to
//! 0.001 mm. The files lie in `scenes/cases`; the truth they were made from is here and not in them.

use std::fmt::Write as _;

use nalgebra::{Rotation3, Vector3};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Normal};
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::excursion::{Mechanism, Movement, SampleCount};
use sim_core::frame::{JawPose, LowerPoint, Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::tracing::{Leg, draw};
use sim_core::units::{Angle, Length};

use crate::patient::{Patient, ScanFrame};

/// A file with its name in `scenes/cases`.
pub struct InventedFile {
    /// Its name.
    pub name: &'static str,
    /// What stands in it.
    pub text: String,
}

/// The true settings of a patient, right guide first: degrees.
#[derive(Clone, Copy, Debug)]
pub struct Truth {
    /// Horizontal condylar inclination.
    pub h_deg: [f64; 2],
    /// Lateral condylar angle.
    pub l_deg: [f64; 2],
}

/// What the dentate case was made from.
pub const DENTATE: Truth = Truth { h_deg: [33.0, 38.0], l_deg: [13.0, 17.0] };
/// What the edentulous case and its tracing were made from.
pub const EDENTULOUS: Truth = Truth { h_deg: [27.0, 24.0], l_deg: [16.0, 14.0] };
/// What the case with a faulty centric record was made from.
pub const FAULTY: Truth = Truth { h_deg: [30.0, 34.0], l_deg: [15.0, 12.0] };

fn instrument(truth: &Truth, distance_mm: f64, incisal: [f64; 3], guide: Trough) -> Instrument {
    let mut jaw = Instrument::zeroed();
    for side in Side::BOTH {
        let [h, l] = [truth.h_deg, truth.l_deg].map(|both| Angle::from_degrees(both[side as usize]));
        *jaw.guide_mut(side) = CondylarGuide::straight(h, l);
    }
    jaw.design = Design::Arcon;
    jaw.intercondylar_distance = Length::from_mm(distance_mm);
    jaw.incisal_point = IncisalPoint::mm(incisal[0], incisal[1], incisal[2]);
    jaw.anterior_guide = AnteriorGuide::Table(guide);
    jaw
}

fn trough(sagittal: f64, wings: f64) -> Trough {
    Trough {
        sagittal_inclination: Angle::from_degrees(sagittal),
        right_wing: Angle::from_degrees(wings),
        left_wing: Angle::from_degrees(wings),
        flat_half_width: Length::ZERO,
    }
}

/// Places seen through the noise of a scanner or a pair of calipers.
struct Noisy {
    random: ChaCha8Rng,
    normal: Normal<f64>,
}

impl Noisy {
    fn new(seed: u64, sd_mm: f64) -> Self {
        Self {
            random: ChaCha8Rng::seed_from_u64(seed),
            normal: Normal::new(0.0, sd_mm).expect("a deviation above zero"),
        }
    }

    fn one(&mut self) -> f64 {
        self.normal.sample(&mut self.random)
    }
}

/// A point as text, rounded to 0.001 mm, without a negative zero.
fn point(scan: &ScanFrame, at: &Vector3<f64>) -> String {
    let there = scan.place(at).point();
    let [x, y, z] =
        [there.x(), there.y(), there.z()].map(|mm| format!("{:.3}", (mm * 1000.0).round() / 1000.0 + 0.0));
    format!("({x}, {y}, {z})")
}

fn landmarks(patient: &Patient, at: &[[f64; 3]], pose: &JawPose, noisy: &mut Noisy) -> String {
    let mut text = String::from("[\n");
    for landmark in at {
        let there = pose.to_upper(&LowerPoint::from_coords(Vector3::from(*landmark)));
        let seen = there.coords() + Vector3::from_fn(|_, _| noisy.one());
        writeln!(text, "            {},", point(&patient.scan, &seen)).expect("memory");
    }
    text + "        ]"
}

fn records(
    patient: &Patient,
    at: &[[f64; 3]],
    noisy: &mut Noisy,
    advances: &[(&str, Movement, f64)],
) -> String {
    let mut text = String::new();
    let lines = landmarks(patient, at, &JawPose::identity(), noisy);
    writeln!(text, "        Centric(lower_landmarks_mm: {lines}),").expect("memory");
    for (kind, movement, advance) in advances {
        let lines = landmarks(patient, at, &patient.pose(*movement, *advance), noisy);
        writeln!(text, "        {kind}(lower_landmarks_mm: {lines}),").expect("memory");
    }
    text
}

fn cusp(scan: &ScanFrame, tooth: u8, name: &str, at: [f64; 3], inclines: f64) -> String {
    format!(
        "        (tooth: {tooth}, name: \"{name}\", at_mm: {},\n         opposing: (protrusive_deg: {inclines:.1}, \
         retrusive_deg: {inclines:.1}, working_deg: {inclines:.1}, nonworking_deg: {inclines:.1})),\n",
        point(scan, &Vector3::from(at)),
    )
}

fn face_bow(patient: &Patient, half_axis_mm: f64) -> String {
    let at = |point_at: UpperPoint| point(&patient.scan, point_at.coords());
    format!(
        "FaceBow(\n        right_axis_mm: {},\n        left_axis_mm: {},\n        anterior_reference_mm: {},\n    )",
        at(UpperPoint::mm(0.0, -half_axis_mm, 0.0)),
        at(UpperPoint::mm(0.0, half_axis_mm, 0.0)),
        at(UpperPoint::mm(84.0, -18.0, 0.0)),
    )
}

/// Landmarks of the dentate lower casts: cusp tips and incisal edges.
const CUSP_TIPS: [[f64; 3]; 8] = [
    [94.0, 2.5, -42.5],
    [94.0, -2.5, -42.5],
    [86.0, 14.0, -41.0],
    [86.0, -14.0, -41.0],
    [66.0, 24.0, -37.0],
    [66.0, -24.0, -37.0],
    [55.0, 26.5, -35.0],
    [55.0, -26.5, -35.0],
];

const LATERAL_RIGHT: Movement = Movement::Lateral { working: Side::Right };
const LATERAL_LEFT: Movement = Movement::Lateral { working: Side::Left };

fn dentate() -> InventedFile {
    let jaw = instrument(&DENTATE, 110.0, [94.0, 0.0, -42.5], trough(35.0, 20.0));
    let patient = Patient { jaw, scan: ScanFrame::new([0.25, -0.4, 1.1], [14.0, -62.0, 33.0]) };
    let mut noisy = Noisy::new(301, 0.03);
    let in_centric = landmarks(&patient, &CUSP_TIPS, &JawPose::identity(), &mut noisy);
    let taken = [
        ("Protrusive", Movement::Protrusive, 6.0),
        ("Protrusive", Movement::Protrusive, 6.3),
        ("RightLateral", LATERAL_RIGHT, 6.0),
        ("LeftLateral", LATERAL_LEFT, 6.0),
    ];
    let records = records(&patient, &CUSP_TIPS, &mut noisy, &taken);
    let scan = &patient.scan;
    let cusps: String = [
        (36, "mesiobuccal", [66.0, 24.0, -37.0]),
        (37, "mesiobuccal", [55.0, 26.5, -35.0]),
        (46, "mesiobuccal", [66.0, -24.0, -37.0]),
        (47, "mesiobuccal", [55.0, -26.5, -35.0]),
    ]
    .map(|(tooth, name, at)| cusp(scan, tooth, name, at, 20.0))
    .concat();
    let plane = [[94.0, 0.0, -42.5], [55.0, -26.5, -35.5], [55.0, 26.5, -35.5]]
        .map(|at| format!("        {},\n", point(scan, &Vector3::from(at))))
        .concat();
    let text = format!(
        "// What it teaches: the whole way from records to settings with teeth. The repeat of the centric record\n\
         // confirms the first; two protrusive records are averaged; each lateral record sets the guide of the\n\
         // other side. Every setting has its standard error.\n//\n\
         // Invented for teaching: made from an invented jaw, with noise of 0.03 mm on every coordinate. No patient.\n(\n    \
         title: \"Dentate case (invented)\",\n    design: Arcon,\n    intercondylar_distance_mm: 110.0,\n    \
         mounting: {},\n    lower_landmarks: (\n        in_centric_mm: {in_centric},\n        sd_mm: 0.03,\n    ),\n    \
         records: [\n{records}    ],\n    incisal_point_mm: {},\n    occlusal_plane_mm: [\n{plane}    ],\n    \
         cusps: [\n{cusps}    ],\n    anterior_guide: Table(sagittal_inclination_deg: 35.0, right_wing_deg: 20.0, \
         left_wing_deg: 20.0, flat_half_width_mm: 0.0),\n)\n",
        face_bow(&patient, 62.0),
        point(scan, &Vector3::new(94.0, 0.0, -42.5)),
    );
    InventedFile { name: "dentate.ron", text }
}

/// Landmarks of the lower occlusion rim: marks cut into it.
const RIM_MARKS: [[f64; 3]; 6] = [
    [91.0, 4.0, -38.0],
    [91.0, -4.0, -38.0],
    [68.0, 22.0, -38.5],
    [68.0, -22.0, -38.5],
    [48.0, 26.0, -39.5],
    [48.0, -26.0, -39.5],
];
/// Height of the edentulous patient's rims below the axis, and how far in front of it they begin.
const RIM_MM: (f64, f64) = (-36.0, 91.0);

fn edentulous_patient() -> Patient {
    let jaw = instrument(&EDENTULOUS, 104.0, [RIM_MM.1, 0.0, RIM_MM.0], trough(0.0, 0.0));
    Patient { jaw, scan: ScanFrame::new([-1.3, 0.5, 0.2], [-40.0, 8.0, 71.0]) }
}

fn edentulous() -> InventedFile {
    let patient = edentulous_patient();
    let mut noisy = Noisy::new(302, 0.06);
    let in_centric = landmarks(&patient, &RIM_MARKS, &JawPose::identity(), &mut noisy);
    let taken = [
        ("Protrusive", Movement::Protrusive, 6.0),
        ("RightLateral", LATERAL_RIGHT, 5.5),
        ("LeftLateral", LATERAL_LEFT, 5.5),
    ];
    let records = records(&patient, &RIM_MARKS, &mut noisy, &taken);
    let scan = &patient.scan;
    let (z, front) = RIM_MM;
    let at = |x: f64, y: f64| point(scan, &Vector3::new(x, y, z));
    let cusps: String = [
        (34, "rim", [80.0, 18.0, z]),
        (36, "rim", [66.0, 23.0, z]),
        (37, "rim", [55.0, 26.0, z]),
        (44, "rim", [80.0, -18.0, z]),
        (46, "rim", [66.0, -23.0, z]),
        (47, "rim", [55.0, -26.0, z]),
    ]
    .map(|(tooth, name, at)| cusp(scan, tooth, name, at, 0.0))
    .concat();
    let grooves: String =
        [[48.0, -26.0], [48.0, 26.0], [66.0, -23.0], [66.0, 23.0], [88.0, -9.0], [88.0, 9.0]]
            .map(|[x, y]| format!("        {},\n", at(x, y)))
            .concat();
    let text = format!(
        "// What it teaches: rims instead of teeth, and no face-bow. The axis is put where it is in the average\n\
         // head, and the spread between heads makes every setting less sure; the sheet shows how much. The points\n\
         // watched lie on the flat rims. Nothing is given of what guides in front, so nothing is told of their disclusion.\n\
         // The tracing of the same jaw is in edentulous_tracing.csv. The split cast's tolerance of 0.25 mm is wide, since rims\n\
         // on resilient tissue seat less alike than teeth (common practice, no source); such a gap is plainly seen.\n//\n\
         // Invented for teaching: made from an invented jaw, with noise of 0.06 mm on every coordinate. No patient.\n(\n    \
         title: \"Edentulous case with rims (invented)\",\n    design: Arcon,\n    intercondylar_distance_mm: 100.0,\n    \
         mounting: Average(\n        balkwill_deg: 20.4,\n        arm_mm: 103.3,\n        incisal_mm: {},\n        \
         right_molar_mm: {},\n        left_molar_mm: {},\n    ),\n    lower_landmarks: (\n        in_centric_mm: \
         {in_centric},\n        sd_mm: 0.06,\n    ),\n    records: [\n{records}    ],\n    \
         split_cast_tolerance_mm: 0.25,\n    split_cast_grooves_mm: [\n{grooves}    ],\n    \
         cusps: [\n{cusps}    ],\n)\n",
        at(front, 0.0),
        at(55.0, -26.0),
        at(55.0, 26.0),
    );
    InventedFile { name: "edentulous.ron", text }
}

/// Noise of a digitised line, in millimetres.
const LINE_NOISE_MM: f64 = 0.05;

fn edentulous_tracing() -> InventedFile {
    let patient = edentulous_patient();
    let stylus = UpperPoint::mm(RIM_MM.1 + 20.0, 0.0, RIM_MM.0);
    let samples = SampleCount::new(41).expect("a number of samples");
    let drawn =
        draw(&Mechanism::new(&patient.jaw), &stylus, Length::from_mm(9.0), samples).expect("a tracing");
    let mut noisy = Noisy::new(303, LINE_NOISE_MM);
    let mut text = String::from("leg,forward_mm,left_mm\n");
    for leg in Leg::ALL {
        for at in drawn.leg(leg) {
            let [forward, left] =
                [at.forward, at.left].map(|mm| ((mm.mm() + noisy.one()) * 1000.0).round() / 1000.0 + 0.0);
            writeln!(text, "{},{forward:.3},{left:.3}", leg.name()).expect("memory");
        }
    }
    InventedFile { name: "edentulous_tracing.csv", text }
}

fn faulty_centric() -> InventedFile {
    let jaw = instrument(&FAULTY, 112.0, [94.0, 0.0, -42.5], trough(30.0, 15.0));
    let patient = Patient { jaw, scan: ScanFrame::new([0.0, 0.9, -0.7], [5.0, 20.0, -90.0]) };
    let mut noisy = Noisy::new(304, 0.03);
    // The tentative record was taken with the jaw half a millimetre forward, to the right and down.
    let slipped = patient.pose(Movement::Protrusive, 0.6);
    let turned = Rotation3::new(Vector3::new(0.0, 0.0, -0.2_f64.to_radians()));
    let mut seen = String::from("[\n");
    for landmark in CUSP_TIPS {
        let there = turned * slipped.to_upper(&LowerPoint::from_coords(Vector3::from(landmark))).coords();
        let there = there + Vector3::from_fn(|_, _| noisy.one());
        writeln!(seen, "            {},", point(&patient.scan, &there)).expect("memory");
    }
    let in_centric = seen + "        ]";
    let taken = [
        ("Protrusive", Movement::Protrusive, 6.0),
        ("RightLateral", LATERAL_RIGHT, 6.0),
        ("LeftLateral", LATERAL_LEFT, 6.0),
    ];
    let records = records(&patient, &CUSP_TIPS, &mut noisy, &taken);
    let text = format!(
        "// What it teaches: why the centric record is taken twice. The first was taken with the jaw slightly\n\
         // forward and to one side; the repeat does not seat, no settings are given, and the report says in which\n\
         // direction the first was off. Take the repeat out of the list to see what would have been set.\n//\n\
         // Invented for teaching: made from an invented jaw, with noise of 0.03 mm on every coordinate. No patient.\n(\n    \
         title: \"Faulty centric record (invented)\",\n    design: Arcon,\n    mounting: {},\n    lower_landmarks: (\n        \
         in_centric_mm: {in_centric},\n        sd_mm: 0.03,\n    ),\n    records: [\n{records}    ],\n    \
         incisal_point_mm: {},\n)\n",
        face_bow(&patient, 56.0),
        point(&patient.scan, &Vector3::new(94.0, 0.0, -42.5)),
    );
    InventedFile { name: "faulty_centric.ron", text }
}

/// Every invented file but that of the bench, made anew; the same on every run.
#[must_use]
pub fn all() -> Vec<InventedFile> {
    vec![dentate(), edentulous(), edentulous_tracing(), faulty_centric()]
}
