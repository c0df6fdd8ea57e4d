//! A case worked through as a student does who has nothing but the files: the face-bow's points make a
//! frame, two lists of landmarks a motion, a motion the way of a condyle. Written without the program's
//! mounting, registration, check of the centric record or warnings.

use nalgebra::{Matrix3, Matrix4, Vector3};
use sim_core::frame::Side;
use sim_core::practice::{Direction, Fault, SideAnswer};
use sim_core::record::{Case, MountingFields, RecordFields, RecordKind, ScanPlace};

use crate::definition::condyle_moved;

/// A protrusive record goes at least so far on the tracing (common practice, no source).
const LEAST_PROTRUSION_MM: f64 = 5.0;

/// The instrument's frame in the scan.
struct Frame {
    origin: Vector3<f64>,
    forward: Vector3<f64>,
    left: Vector3<f64>,
}

impl Frame {
    fn of(mounting: &MountingFields) -> Self {
        let MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm } = mounting else {
            panic!("practice mounts by a face-bow");
        };
        let [right, left, front] =
            [right_axis_mm, left_axis_mm, anterior_reference_mm].map(|place| *place.point().coords());
        let origin = (right + left) / 2.0;
        let along = (left - right).normalize();
        let ahead = front - origin;
        Self { origin, forward: (ahead - along * along.dot(&ahead)).normalize(), left: along }
    }

    fn points(&self, places: &[ScanPlace]) -> Vec<Vector3<f64>> {
        let up = self.forward.cross(&self.left);
        let point = |place: &ScanPlace| {
            let from_axis = place.point().coords() - self.origin;
            Vector3::new(self.forward.dot(&from_axis), self.left.dot(&from_axis), up.dot(&from_axis))
        };
        places.iter().map(point).collect()
    }
}

/// The motion that takes landmarks nearest to where they are seen: Kabsch's solution by singular values.
fn motion(from: &[Vector3<f64>], to: &[Vector3<f64>]) -> Matrix4<f64> {
    let middle = |points: &[Vector3<f64>]| points.iter().sum::<Vector3<f64>>() / points.len() as f64;
    let (before, after) = (middle(from), middle(to));
    let spread: Matrix3<f64> = from.iter().zip(to).map(|(p, q)| (q - after) * (p - before).transpose()).sum();
    let svd = spread.svd(true, true);
    let (u, v_t) = (svd.u.expect("asked for"), svd.v_t.expect("asked for"));
    let mirror = (u * v_t).determinant().signum();
    let rotation = u * Matrix3::from_diagonal(&Vector3::new(1.0, 1.0, mirror)) * v_t;
    let mut motion = rotation.to_homogeneous();
    motion.fixed_view_mut::<3, 1>(0, 3).copy_from(&(after - rotation * before));
    motion
}

/// A case laid out on the bench.
pub struct Bench<'c> {
    case: &'c Case,
    tentative: Vec<Vector3<f64>>,
    frame: Frame,
}

impl<'c> Bench<'c> {
    /// Lays out a case whose records are landmarks.
    #[must_use]
    pub fn new(case: &'c Case) -> Self {
        let frame = Frame::of(&case.mounting);
        Self {
            case,
            tentative: frame.points(&case.lower_landmarks.as_ref().expect("landmarks").in_centric_mm),
            frame,
        }
    }

    fn landmarks(&self, record: &RecordFields) -> Vec<Vector3<f64>> {
        self.frame.points(record.pose().and_then(|pose| pose.lower_landmarks_mm.as_ref()).expect("landmarks"))
    }

    fn seen(&self, kind: RecordKind) -> Vec<Vec<Vector3<f64>>> {
        let records = self.case.records.iter().filter(|record| record.kind() == kind);
        records.map(|record| self.landmarks(record)).collect()
    }

    /// (advance, medial shift, drop) of a condyle between two sets of landmarks.
    fn condyle(&self, from: &[Vector3<f64>], to: &[Vector3<f64>], side: Side) -> [f64; 3] {
        let distance = self.case.intercondylar_distance_mm.expect("a distance").length().mm();
        condyle_moved(self.case.design, distance, &motion(from, to), side)
    }

    /// How far the incisal point goes along the occlusal plane between two sets of landmarks: what is
    /// left of its way once the part square to the three points of the plane is taken away.
    fn on_the_plane(&self, from: &[Vector3<f64>], to: &[Vector3<f64>]) -> f64 {
        let incisal = self.frame.points(&[self.case.incisal_point_mm.expect("an incisal point")])[0];
        let plane = self.frame.points(self.case.occlusal_plane_mm.as_ref().expect("a plane"));
        let square = (plane[1] - plane[0]).cross(&(plane[2] - plane[0])).normalize();
        let way = (motion(from, to) * incisal.push(1.0)).xyz() - incisal;
        square.cross(&way).norm()
    }

    /// Whether the lateral record of a label has moved the condyle of its own side farther than the
    /// other: it was then taken to the other side.
    fn is_swapped(&self, label: Side) -> bool {
        let record = &self.seen(lateral(label))[0];
        let advance = |side| self.condyle(&self.repeat(), record, side)[0];
        advance(label) > advance(label.opposite())
    }

    fn repeat(&self) -> Vec<Vector3<f64>> {
        self.seen(RecordKind::Centric).remove(0)
    }

    /// What is at fault with the records, and which way the centric one is off.
    #[must_use]
    pub fn faults(&self) -> (Vec<Fault>, Option<Direction>) {
        let repeat = self.repeat();
        let seat = motion(&self.tentative, &repeat);
        let gap = |mark: &Vector3<f64>| ((seat * mark.push(1.0)).xyz() - mark).norm();
        let largest_gap = self.tentative.iter().map(gap).fold(0.0, f64::max);
        let is_off = largest_gap > self.case.split_cast_tolerance_mm.length().mm();
        let middle = |marks: &[Vector3<f64>]| marks.iter().sum::<Vector3<f64>>() / marks.len() as f64;
        let off = middle(&self.tentative) - middle(&repeat);
        let is_short = |record: &Vec<Vector3<f64>>| self.on_the_plane(&repeat, record) < LEAST_PROTRUSION_MM;
        let swapped = Side::BOTH.map(|label| self.is_swapped(label));
        assert_eq!(swapped[0], swapped[1], "either both records are labelled wrongly or none");
        let faults = [
            (Fault::WrongCentric, is_off),
            (Fault::ShortProtrusion, self.seen(RecordKind::Protrusive).iter().any(is_short)),
            (Fault::SwappedSides, swapped[0]),
        ];
        let faults = faults.into_iter().filter_map(|(fault, shows)| shows.then_some(fault)).collect();
        (faults, is_off.then(|| most_off(off.x, off.y)))
    }

    /// The side to which a lateral record goes, whatever its label says.
    #[must_use]
    pub fn goes_to(&self, label: Side) -> Side {
        if self.is_swapped(label) { label.opposite() } else { label }
    }

    /// The settings of a side, right lateral labels or not: H from the protrusive records, L from the
    /// lateral record in which the side orbits, without the immediate translation that the case states.
    #[must_use]
    pub fn settings(&self, side: Side) -> SideAnswer {
        let protrusive = self.seen(RecordKind::Protrusive);
        let h: f64 = protrusive
            .iter()
            .map(|record| {
                let [advance, _, drop] = self.condyle(&self.tentative, record, side);
                drop.atan2(advance).to_degrees()
            })
            .sum();
        let away = side.opposite();
        let label = if self.is_swapped(away) { side } else { away };
        let [advance, medial, _] = self.condyle(&self.tentative, &self.seen(lateral(label))[0], side);
        let stated = &self.case.immediate_translation_mm;
        let immediate = if side == Side::Right { stated.right } else { stated.left };
        SideAnswer {
            horizontal_inclination_deg: Some(h / protrusive.len() as f64),
            lateral_angle_deg: Some((medial - immediate.length().mm()).atan2(advance).to_degrees()),
        }
    }
}

/// The direction in which something is most off.
pub(crate) fn most_off(forward: f64, left: f64) -> Direction {
    match (forward.abs() > left.abs(), forward > 0.0, left > 0.0) {
        (true, true, _) => Direction::Forward,
        (true, false, _) => Direction::Back,
        (false, _, true) => Direction::Left,
        (false, _, false) => Direction::Right,
    }
}

fn lateral(label: Side) -> RecordKind {
    match label {
        Side::Right => RecordKind::RightLateral,
        Side::Left => RecordKind::LeftLateral,
    }
}
