//! Disturbing a case: each source of error with random numbers of its own.

use nalgebra::{Isometry3, Matrix4, Rotation3, Translation3, Vector3};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use rand_distr::{Distribution, StandardNormal, StandardUniform};

use super::source::{DoubtSource, Uncertainties};
use crate::frame::{ScanPoint, UpperPoint};
use crate::record::mounting::{ARM_MM, BALKWILL_DEG, Mounting, arm_deviation, balkwill_deviation};
use crate::record::{Case, GrooveGaps, Millimetres, MountingFields, PoseFields, RecordFields, ScanPlace};
use crate::units::Length;

/// Supports of a record, from the middle of the landmarks (invented, as a record bears on the front
/// teeth and on the molars of both sides): this far ahead and behind, and to each side behind.
const AHEAD_MM: f64 = 20.0;
const ASIDE_MM: f64 = 25.0;
/// Draws of a person beyond the published range are drawn anew, so often at most.
const MOST_TRIES: u32 = 100;

/// Random numbers of each source, and how large its errors are; `None` for a source left alone.
pub(super) struct Redraw<R> {
    landmarks: Option<(R, f64)>,
    axis: Option<(R, f64)>,
    reference: Option<(R, f64)>,
    records: Option<(R, f64)>,
    scale: Option<(R, f64)>,
    /// Whether the landmarks' stream also reads scales and caliper anew.
    readings: bool,
}

impl Redraw<ChaCha8Rng> {
    pub(super) fn new(uncertainties: &Uncertainties, sources: &[DoubtSource], seed: u64) -> Self {
        let source = |source: DoubtSource, size: f64| {
            sources.contains(&source).then(|| (generator(seed, source as u64), size))
        };
        Self {
            landmarks: source(DoubtSource::Landmarks, uncertainties.landmark_sd.mm()),
            axis: source(DoubtSource::Axis, uncertainties.axis_sd.mm()),
            reference: source(DoubtSource::Reference, uncertainties.reference_sd.mm()),
            records: source(DoubtSource::Records, uncertainties.record_sd.mm()),
            scale: source(DoubtSource::Scale, uncertainties.scale_step.degrees()),
            readings: uncertainties.readings,
        }
    }
}

/// Random numbers of one stream of a seed.
pub(super) fn generator(seed: u64, stream: u64) -> ChaCha8Rng {
    let mut generator = ChaCha8Rng::seed_from_u64(seed);
    generator.set_stream(stream);
    generator
}

pub(super) fn normal(random: &mut impl Rng) -> f64 {
    StandardNormal.sample(random)
}

impl<R: Rng> Redraw<R> {
    /// The case as it might as well have been measured; `None` where a point would leave the scan.
    ///
    /// `mounting` is the undisturbed one: records are uneven along its vertical.
    pub(super) fn disturb(&mut self, case: &Case, mounting: &Mounting) -> Option<Case> {
        let mut drawn = case.clone();
        let mut whole = true;
        if let Some((random, sd)) = &mut self.records {
            let middle = middle(case, mounting);
            for record in &mut drawn.records {
                let uneven = uneven(random, *sd, &middle);
                match record {
                    RecordFields::GrooveGaps(given) => open_or_close(given, &uneven, &case.grooves(mounting)),
                    record => {
                        whole &= record.pose_mut().is_none_or(|pose| press(pose, &uneven, mounting));
                    }
                }
            }
        }
        if let Some((random, sd)) = &mut self.landmarks {
            let mut disturb = |places: &mut Vec<ScanPlace>| {
                for place in places {
                    whole &= shift(place, random, *sd);
                }
            };
            if let Some(landmarks) = &mut drawn.lower_landmarks {
                disturb(&mut landmarks.in_centric_mm);
            }
            for record in &mut drawn.records {
                if let Some(landmarks) = record.pose_mut().and_then(|pose| pose.lower_landmarks_mm.as_mut()) {
                    disturb(landmarks);
                }
            }
            if self.readings {
                drawn.records.iter_mut().for_each(|record| reread(record, random));
            }
        }
        if let Some((random, sd)) = &mut self.axis {
            match &mut drawn.mounting {
                MountingFields::FaceBow { right_axis_mm, left_axis_mm, .. } => {
                    whole &= shift(right_axis_mm, random, *sd) & shift(left_axis_mm, random, *sd);
                }
                // The axis is found by averages: what is uncertain is how unlike the average one is.
                MountingFields::Average { balkwill_deg, arm_mm, .. } if *sd > 0.0 => {
                    *balkwill_deg =
                        person(random, *balkwill_deg, balkwill_deviation().degrees(), BALKWILL_DEG);
                    let arm = person(random, arm_mm.length().mm(), arm_deviation().mm(), ARM_MM);
                    *arm_mm = Millimetres::new(Length::from_mm(arm))?;
                }
                // Without coordinates nothing says what an axis elsewhere would have made of the records.
                MountingFields::Average { .. } | MountingFields::Named { .. } => {}
            }
        }
        if let Some((random, sd)) = &mut self.reference {
            match &mut drawn.mounting {
                MountingFields::FaceBow { anterior_reference_mm, .. } => {
                    whole &= shift(anterior_reference_mm, random, *sd);
                }
                MountingFields::Average { incisal_mm, right_molar_mm, left_molar_mm, .. } => {
                    for place in [incisal_mm, right_molar_mm, left_molar_mm] {
                        whole &= shift(place, random, *sd);
                    }
                }
                MountingFields::Named { .. } => {}
            }
        }
        whole.then_some(drawn)
    }

    /// By how much each of the four settings is set off, in degrees: evenly within half a graduation.
    pub(super) fn set_off(&mut self) -> [f64; 4] {
        match &mut self.scale {
            Some((random, step)) => std::array::from_fn(|_| {
                let part: f64 = StandardUniform.sample(random);
                (part - 0.5) * *step
            }),
            None => [0.0; 4],
        }
    }
}

fn person(random: &mut impl Rng, mean: f64, sd: f64, (least, most): (f64, f64)) -> f64 {
    for _ in 0..MOST_TRIES {
        let drawn = mean + sd * normal(random);
        if (least..=most).contains(&drawn) {
            return drawn;
        }
    }
    mean
}

/// Disturbs a point; `false` where it would leave what a scan can hold.
fn shift(place: &mut ScanPlace, random: &mut impl Rng, sd: f64) -> bool {
    let off = Vector3::from_fn(|_, _| normal(random) * sd);
    moved(place, place.point().coords() + off)
}

fn moved(place: &mut ScanPlace, to: Vector3<f64>) -> bool {
    match ScanPlace::new(ScanPoint::from_coords(to)) {
        Some(there) => {
            *place = there;
            true
        }
        None => false,
    }
}

/// Reads scale and caliper anew, with the errors that the case states of them: the mean of a scale by the
/// scatter of its repeats and within its graduation, every gap by the caliper's standard deviation.
fn reread(record: &mut RecordFields, random: &mut impl Rng) {
    match record {
        RecordFields::ScaleReadings(given) => {
            let graduation = given.graduation_deg;
            for readings in [&mut given.right_deg, &mut given.left_deg] {
                let count = readings.len() as f64;
                let mean = readings.iter().sum::<f64>() / count;
                let squares: f64 = readings.iter().map(|reading| (reading - mean).powi(2)).sum();
                let scatter = if readings.len() > 1 { squares / (count - 1.0) } else { 0.0 };
                let within: f64 = StandardUniform.sample(random);
                let off = normal(random) * (scatter / count).sqrt() + (within - 0.5) * graduation;
                readings.iter_mut().for_each(|reading| *reading += off);
            }
        }
        RecordFields::GrooveGaps(given) => {
            let sd = given.sd_mm.length().mm();
            let steps = given.aside_mm.iter_mut().flatten();
            given.gaps_mm.iter_mut().chain(steps).for_each(|gap| *gap += normal(random) * sd);
        }
        RecordFields::Centric(_)
        | RecordFields::Protrusive(_)
        | RecordFields::RightLateral(_)
        | RecordFields::LeftLateral(_) => {}
    }
}

/// Middle of the landmarks in the upper frame, of the grooves where there are none.
fn middle(case: &Case, mounting: &Mounting) -> Vector3<f64> {
    let Some(landmarks) = case.lower_landmarks.as_ref().map(|landmarks| &landmarks.in_centric_mm) else {
        let grooves = case.grooves(mounting);
        let sum: Vector3<f64> = grooves.iter().map(|groove| *groove.coords()).sum();
        return sum / grooves.len().max(1) as f64;
    };
    let sum: Vector3<f64> = landmarks.iter().map(|place| *mounting.to_upper(&place.point()).coords()).sum();
    sum / landmarks.len().max(1) as f64
}

/// The small rigid motion, in the upper frame, of a lower cast whose record is too high or too low by
/// an error of its own at each of three supports.
fn uneven(random: &mut impl Rng, sd: f64, middle: &Vector3<f64>) -> Isometry3<f64> {
    let [front, right, left] = std::array::from_fn(|_| normal(random) * sd);
    let back = f64::midpoint(right, left);
    let (along, aside) = ((front - back) / (2.0 * AHEAD_MM), (left - right) / (2.0 * ASIDE_MM));
    // The height at (x, y) from the middle is raised by x·along + y·aside.
    let turn = Rotation3::new(Vector3::new(aside, -along, 0.0));
    let shift = Vector3::z() * f64::midpoint(front, back);
    let about = Translation3::from(*middle + shift) * turn * Translation3::from(-middle);
    nalgebra::convert(about)
}

/// What the same motion of the primary base does to the gaps that are measured at it, along the vertical.
fn open_or_close(given: &mut GrooveGaps, uneven: &Isometry3<f64>, grooves: &[UpperPoint]) {
    for (gap, groove) in given.gaps_mm.iter_mut().zip(grooves) {
        let there = uneven * nalgebra::Point3::from(*groove.coords());
        *gap += there.z - groove.z();
    }
}

/// Moves the lower cast of a record; `false` where a point would leave what a scan can hold.
fn press(pose: &mut PoseFields, uneven: &Isometry3<f64>, mounting: &Mounting) -> bool {
    let apply = |point: &ScanPoint| -> Vector3<f64> {
        let upper = mounting.to_upper(point);
        let there = uneven * nalgebra::Point3::from(*upper.coords());
        *mounting.to_scan(&UpperPoint::from_coords(there.coords)).coords()
    };
    let mut whole = true;
    for place in pose.lower_landmarks_mm.iter_mut().flatten() {
        whole &= moved(place, apply(&place.point()));
    }
    if let Some(rows) = &mut pose.transform {
        let given = Matrix4::from_fn(|row, column| rows[row][column]);
        let origin = apply(&ScanPoint::mm(0.0, 0.0, 0.0));
        let axis = |axis: Vector3<f64>| apply(&ScanPoint::from_coords(axis)) - origin;
        let turn =
            nalgebra::Matrix3::from_columns(&[axis(Vector3::x()), axis(Vector3::y()), axis(Vector3::z())]);
        let pressed = turn.to_homogeneous().append_translation(&origin) * given;
        *rows = std::array::from_fn(|row| std::array::from_fn(|column| pressed[(row, column)]));
    }
    whole
}
