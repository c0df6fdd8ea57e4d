//! Patients invented for tests: an instrument that is their jaw, and the records it would leave.

use nalgebra::{Rotation3, Vector3};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{JawPose, LowerPoint, ScanPoint, Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, Instrument};
use sim_core::record::{
    Case, LandmarkFields, Millimetres, MountingFields, PoseFields, RecordFields, ScanPlace, SideFields,
};
use sim_core::units::{Angle, Length};

/// Landmarks of a lower cast, in its own frame: millimetres.
pub const LANDMARKS: [[f64; 3]; 6] = [
    [92.0, 3.0, -41.0],
    [84.0, 16.0, -40.0],
    [66.0, 24.0, -36.5],
    [52.0, 27.0, -34.0],
    [66.0, -24.0, -36.5],
    [52.0, -27.0, -34.0],
];

/// Where a scanner put the upper cast: any rigid motion.
#[derive(Clone, Copy, Debug)]
pub struct ScanFrame {
    /// From the upper frame to the scan.
    pub rotation: Rotation3<f64>,
    /// From the upper frame to the scan, millimetres.
    pub translation: Vector3<f64>,
}

impl ScanFrame {
    /// A scan frame from a rotation vector and a shift.
    pub fn new(turn: [f64; 3], shift_mm: [f64; 3]) -> Self {
        Self { rotation: Rotation3::new(Vector3::from(turn)), translation: Vector3::from(shift_mm) }
    }

    /// A point of the upper frame as the scan has it.
    pub fn place(&self, point: &Vector3<f64>) -> ScanPlace {
        ScanPlace::new(ScanPoint::from_coords(self.rotation * point + self.translation))
            .expect("a finite point")
    }
}

/// A point of a length in a case file.
pub fn millimetres(mm: f64) -> Millimetres {
    Millimetres::new(Length::from_mm(mm)).expect("a finite length")
}

/// A patient whose jaw moves as an instrument does.
pub struct Patient {
    /// The jaw.
    pub jaw: Instrument,
    /// The scan.
    pub scan: ScanFrame,
}

/// The four kinds of record.
pub const CENTRIC: fn(PoseFields) -> RecordFields = RecordFields::Centric;
/// Protrusive.
pub const PROTRUSIVE: fn(PoseFields) -> RecordFields = RecordFields::Protrusive;
/// To the right: the left condyle orbits.
pub const RIGHT: fn(PoseFields) -> RecordFields = RecordFields::RightLateral;
/// To the left: the right condyle orbits.
pub const LEFT: fn(PoseFields) -> RecordFields = RecordFields::LeftLateral;

impl Patient {
    /// A patient whose two joints differ: right H 28°, L 12°, left H 41°, L 19°, turned any way in
    /// the scan.
    pub fn unequal(design: Design) -> Self {
        let mut jaw = Instrument { design, ..Instrument::zeroed() };
        for (side, h, l) in [(Side::Right, 28.0, 12.0), (Side::Left, 41.0, 19.0)] {
            *jaw.guide_mut(side) = CondylarGuide::straight(Angle::from_degrees(h), Angle::from_degrees(l));
        }
        Self { jaw, scan: ScanFrame::new([0.4, -1.1, 2.0], [30.0, -80.0, 12.0]) }
    }

    /// The jaw in an excursion.
    pub fn pose(&self, movement: Movement, advance_mm: f64) -> JawPose {
        let station = Station::advanced(Length::from_mm(advance_mm));
        Mechanism::new(&self.jaw).at(movement, station).expect("a pose").jaw
    }

    /// The landmarks in a jaw pose as the scan has them; `noise` is added to every coordinate.
    pub fn landmarks(&self, pose: &JawPose, mut noise: impl FnMut() -> f64) -> Vec<ScanPlace> {
        LANDMARKS
            .iter()
            .map(|at| {
                let there = pose.to_upper(&LowerPoint::from_coords(Vector3::from(*at)));
                self.scan.place(&(there.coords() + Vector3::from_fn(|_, _| noise())))
            })
            .collect()
    }

    /// A case with the records given, landmarks of the stated noise.
    pub fn case(&self, records: Vec<RecordFields>, in_centric: Vec<ScanPlace>, sd_mm: f64) -> Case {
        let half = self.jaw.intercondylar_distance.mm() / 2.0;
        let axis = |y: f64| self.scan.place(&Vector3::new(0.0, y, 0.0));
        Case {
            casts: None,
            title: "A patient invented for a test".to_owned(),
            design: self.jaw.design,
            intercondylar_distance_mm: None,
            mounting: MountingFields::FaceBow {
                right_axis_mm: axis(-half),
                left_axis_mm: axis(half),
                anterior_reference_mm: self.scan.place(UpperPoint::mm(85.0, 20.0, 0.0).coords()),
            },
            lower_landmarks: Some(LandmarkFields { in_centric_mm: in_centric, sd_mm: millimetres(sd_mm) }),
            records,
            immediate_translation_mm: SideFields {
                right: millimetres(self.jaw.right_guide.immediate_translation.mm()),
                left: millimetres(self.jaw.left_guide.immediate_translation.mm()),
            },
            split_cast_tolerance_mm: millimetres(0.1),
            split_cast_grooves_mm: None,
            grooves_mm: None,
            advance_mm: None,
            guide_hold: None,
            incisal_point_mm: None,
            occlusal_plane_mm: None,
            cusps: Vec::new(),
            anterior_guide: None,
            incisal_guidance: None,
            plan: None,
        }
    }

    /// Exact records: a repeat of centric, protrusion, both laterals.
    pub fn exact_case(&self, advance_mm: f64) -> Case {
        let at = |movement| self.pose(movement, advance_mm);
        let of = |pose: &JawPose| PoseFields {
            lower_landmarks_mm: Some(self.landmarks(pose, || 0.0)),
            ..PoseFields::default()
        };
        let records = vec![
            CENTRIC(of(&JawPose::identity())),
            PROTRUSIVE(of(&at(Movement::Protrusive))),
            RIGHT(of(&at(Movement::Lateral { working: Side::Right }))),
            LEFT(of(&at(Movement::Lateral { working: Side::Left }))),
        ];
        self.case(records, self.landmarks(&JawPose::identity(), || 0.0), 0.05)
    }
}
