//! An invented patient whose records were made without a scanner: gaps at the grooves of the split, read by
//! a caliper to 0.05 mm, and scales read to a degree.

use std::fmt::Write as _;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Normal};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::Instrument;
use sim_core::record::trial::SeatedRecord;
use sim_core::record::{GuideHold, RecordKind};
use sim_core::units::{Angle, Length};

use crate::invented_cases::{InventedFile, Truth};

/// What the bench's case was made from.
pub const BENCH: Truth = Truth { h_deg: [34.0, 29.0], l_deg: [14.0, 16.0] };

/// The grooves of the split in the instrument's frame, in the order of a case.
const GROOVES: [[f64; 3]; 6] = [
    [34.0, -22.0, -14.0],
    [34.0, 22.0, -14.0],
    [56.0, -26.0, -15.0],
    [56.0, 26.0, -15.0],
    [84.0, -9.0, -16.0],
    [84.0, 9.0, -16.0],
];
const ADVANCE_MM: f64 = 6.4;
/// Spread of a hand with a caliper; with the rounding to 0.05 mm it comes to the stated 0.05 mm.
const HAND_MM: f64 = 0.047;

fn jaw() -> Instrument {
    let mut jaw = Instrument::zeroed();
    for side in Side::BOTH {
        let [h, l] = [BENCH.h_deg, BENCH.l_deg].map(|both| Angle::from_degrees(both[side as usize]));
        *jaw.guide_mut(side) = CondylarGuide::straight(h, l);
    }
    jaw
}

/// What the caliper shows of a gap.
fn shown(gap_mm: f64, off_mm: f64) -> f64 {
    let steps = ((gap_mm + off_mm).max(0.0) / 0.05).round();
    steps * 0.05
}

fn list(gaps: &[f64]) -> String {
    gaps.iter().map(|gap| format!("{gap:.2}")).collect::<Vec<String>>().join(", ")
}

/// The case file.
#[must_use]
pub fn bench() -> InventedFile {
    let jaw = jaw();
    let mut random = ChaCha8Rng::seed_from_u64(29);
    let hand = Normal::new(0.0, HAND_MM).expect("a deviation above zero");
    let grooves = GROOVES.map(|at| UpperPoint::mm(at[0], at[1], at[2]));
    let pose = Mechanism::new(&jaw)
        .at(Movement::Protrusive, Station::advanced(Length::from_mm(ADVANCE_MM)))
        .expect("a pose")
        .jaw;
    let record = SeatedRecord::of_pose(RecordKind::Protrusive, &pose, jaw.design, jaw.intercondylar_distance);
    let mut records = String::new();
    let closed: Vec<f64> = GROOVES.iter().map(|_| shown(0.0, hand.sample(&mut random) / 2.0)).collect();
    writeln!(
        records,
        "        GrooveGaps(record: Centric, set_at: (right_deg: 30.0, left_deg: 30.0), gaps_mm: [{}], sd_mm: 0.05),",
        list(&closed)
    )
    .expect("memory");
    for set in [30.0, 38.0] {
        let guide = CondylarGuide::straight(Angle::from_degrees(set), Angle::from_degrees(30.0));
        let found = record.gaps([&guide, &guide], &grooves, GuideHold::Track).expect("it comes together");
        let gaps: Vec<f64> = found.gaps.iter().map(|gap| shown(gap.mm(), hand.sample(&mut random))).collect();
        writeln!(
            records,
            "        GrooveGaps(record: Protrusive, set_at: (right_deg: {set:.1}, left_deg: {set:.1}),\n            \
             gaps_mm: [{}], sd_mm: 0.05, perforated: true),",
            list(&gaps)
        )
        .expect("memory");
    }
    let places: String =
        GROOVES.iter().map(|at| format!("        ({:.1}, {:.1}, {:.1}),\n", at[0], at[1], at[2])).collect();
    let text = format!(
        "// What it teaches: the bench without a scanner. A caliper measures the gap at the six grooves of the split\n\
         // with the guides at trial angles; the scales are read when the lateral records close. `eminentia bench` says\n\
         // at each step which guide is to be turned and how far; `eminentia program` reads the angles that close every\n\
         // gap, with how sure they are.\n//\n\
         // Invented for teaching: made from an invented jaw, read as by a hand to 0.05 mm and 1°. No patient.\n(\n    \
         title: \"Bench case without a scanner (invented)\",\n    design: Arcon,\n    intercondylar_distance_mm: 110.0,\n    \
         mounting: Named(axis: Arbitrary(\"12 mm in front of the ear on the line to the eye's corner\"), anterior_reference: \
         \"lower border of the orbit\",\n        rods_mm: (right: 62.0, left: 61.0)),\n    guide_hold: Track,\n    \
         grooves_mm: [\n{places}    ],\n    advance_mm: (right: {ADVANCE_MM}, left: {ADVANCE_MM}),\n    records: [\n{records}        \
         ScaleReadings(record: RightLateral, left_deg: [16.0, 15.0, 16.0, 17.0], graduation_deg: 1.0, perforated: true),\n        \
         ScaleReadings(record: LeftLateral, right_deg: [14.0, 14.0, 15.0, 14.0], graduation_deg: 1.0, perforated: true),\n    ],\n    \
         incisal_point_mm: (98.0, 0.0, -42.0),\n    anterior_guide: Table(sagittal_inclination_deg: 40.0, right_wing_deg: 20.0, \
         left_wing_deg: 20.0, flat_half_width_mm: 0.0),\n    cusps: [\n        \
         (tooth: 36, name: \"mesiobuccal\", at_mm: (58.0, 25.0, -38.0),\n         opposing: (protrusive_deg: 20.0, retrusive_deg: \
         20.0, working_deg: 20.0, nonworking_deg: 20.0)),\n        \
         (tooth: 46, name: \"mesiobuccal\", at_mm: (58.0, -25.0, -38.0),\n         opposing: (protrusive_deg: 20.0, retrusive_deg: \
         20.0, working_deg: 20.0, nonworking_deg: 20.0)),\n    ],\n)\n",
    );
    InventedFile { name: "bench.ron", text }
}
