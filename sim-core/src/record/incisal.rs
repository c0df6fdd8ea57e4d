//! The anterior guide of a patient: plate and wings from overlap, from a canine, from lateral records,
//! and from the path of the lower incisal edge.
//!
//! Angles are those of [`Trough`]: the plate's to the horizontal reference plane in the sagittal view,
//! each wing's to the plate.
//!
//! ```
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::record::incisal::plate_from_overlap;
//! use sim_core::units::{Angle, Length};
//!
//! // Incisors that overlap as much vertically as horizontally, under a level occlusal plane.
//! let level = OcclusalPlane { inclination: Angle::ZERO };
//! let three = Length::from_mm(3.0);
//! let plate = plate_from_overlap(three, three, level)?;
//! assert!((plate.to_reference_plane.degrees() - 45.0).abs() < 1e-12);
//! // Edge to edge nothing can guide.
//! assert!(plate_from_overlap(three, Length::ZERO, level).is_err());
//! # Ok::<(), sim_core::record::incisal::IncisalError>(())
//! ```

use crate::anterior::{AnteriorGuide, Trough};
use crate::excursion::{Mechanism, Movement, NoPose};
use crate::facts::Facts;
use crate::frame::{JawPose, LowerPoint, OcclusalPlane, Side, UpperPoint};
use crate::instrument::{IncisalPoint, Instrument};
use crate::units::{Angle, Length};

/// A way shorter than this shows measuring error, not an angle, in millimetres.
pub(crate) const LEAST_WAY_MM: f64 = 0.5;
/// No teeth overlap more, in millimetres.
pub(crate) const MOST_OVERLAP_MM: f64 = 20.0;

/// Why an anterior guide cannot be set.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum IncisalError {
    /// A measure that cannot be.
    #[error("{what} is {given_mm} mm; allowed are {least_mm} to {most_mm} mm")]
    Measure {
        /// What was measured.
        what: &'static str,
        /// What was given, in millimetres.
        given_mm: f64,
        /// The least allowed, in millimetres.
        least_mm: f64,
        /// The most allowed, in millimetres.
        most_mm: f64,
    },
    /// Teeth that meet edge to edge, or at once: no incline is crossed.
    #[error(
        "a vertical overlap of {vertical_mm} mm over no horizontal one gives no incline; the plate is set by a protrusive path instead"
    )]
    NoIncline {
        /// Vertical overlap, in millimetres.
        vertical_mm: f64,
    },
    /// An angle that the guide does not have.
    #[error("{what} comes to {given_deg:.1}°; allowed are {least_deg}° to {most_deg}°")]
    Angle {
        /// Plate or wing.
        what: &'static str,
        /// The angle, in degrees.
        given_deg: f64,
        /// The least allowed, in degrees.
        least_deg: f64,
        /// The most allowed, in degrees.
        most_deg: f64,
    },
    /// Too few points, or too short a way.
    #[error("{path} goes {farthest_mm:.2} mm {way}; at least {LEAST_WAY_MM} mm are needed to set {sets}")]
    TooShort {
        /// The path.
        path: &'static str,
        /// How far it goes, in millimetres.
        farthest_mm: f64,
        /// Which way counts.
        way: &'static str,
        /// What it would set.
        sets: &'static str,
    },
    /// A coordinate that is not finite.
    #[error("point {number} of {path} is not finite")]
    NotFinite {
        /// The path.
        path: &'static str,
        /// Its place in the path, from 1.
        number: usize,
    },
    /// A lateral path on which the edge rises.
    #[error(
        "at point {number} of {path} the edge has risen by {rise_mm:.2} mm; a wing goes down with the edge, or stays level"
    )]
    Rises {
        /// The path.
        path: &'static str,
        /// Its place in the path, from 1.
        number: usize,
        /// How much, in millimetres.
        rise_mm: f64,
    },
    /// The guides and the path do not go together.
    #[error("point {number} of {path}: {why}")]
    NoPose {
        /// The path.
        path: &'static str,
        /// Its place in the path, from 1.
        number: usize,
        /// Why.
        why: NoPose,
    },
}

/// The plate's angle from the incisors' overlap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverlapAngle {
    /// To the occlusal plane, to which overlaps are measured.
    pub to_occlusal_plane: Angle,
    /// To the horizontal reference plane, as the plate is set.
    pub to_reference_plane: Angle,
}

/// Plate angle from the vertical and horizontal overlap of the incisors: atan(vertical/horizontal).
///
/// Overlaps are measured square to the occlusal plane and along it (common practice, no source), so
/// that is the plane the arctangent refers to; the plate's own angle is larger by the inclination of
/// the occlusal plane, whose anterior edge is tipped down.
///
/// # Errors
/// [`IncisalError`] for measures that no teeth have, edges that meet without horizontal overlap, or
/// an angle that no plate has. An open bite has a negative vertical overlap and is refused: nothing
/// guides there.
pub fn plate_from_overlap(
    vertical: Length,
    horizontal: Length,
    plane: OcclusalPlane,
) -> Result<OverlapAngle, IncisalError> {
    let vertical_mm = measured("vertical overlap", vertical, 0.0, MOST_OVERLAP_MM)?;
    let horizontal_mm = measured("horizontal overlap", horizontal, 0.0, MOST_OVERLAP_MM)?;
    if horizontal_mm == 0.0 {
        return Err(IncisalError::NoIncline { vertical_mm });
    }
    let to_occlusal_plane = Angle::from_radians(vertical_mm.atan2(horizontal_mm));
    let to_reference_plane =
        allowed("plate", &Trough::SAGITTAL_INCLINATION.facts, to_occlusal_plane + plane.inclination)?;
    Ok(OverlapAngle { to_occlusal_plane, to_reference_plane })
}

/// Wing angle from a canine's guidance: atan(rise/outward way), from the plate.
///
/// `rise` is how far the jaw opens, square to the plate, at the incisal pin while the pin runs
/// `outward` from the wing's hinge. For a plate level with the reference plane that is the vertical
/// rise.
///
/// # Errors
/// [`IncisalError`] for a way too short to give an angle, a rise below zero, or an angle that no wing
/// has.
pub fn wing_from_canine(rise: Length, outward: Length) -> Result<Angle, IncisalError> {
    let rise_mm = measured("rise", rise, 0.0, MOST_OVERLAP_MM)?;
    let outward_mm = measured("outward way", outward, LEAST_WAY_MM, MOST_OVERLAP_MM)?;
    allowed("wing", &Trough::RIGHT_WING.facts, Angle::from_radians(rise_mm.atan2(outward_mm)))
}

fn measured(what: &'static str, given: Length, least_mm: f64, most_mm: f64) -> Result<f64, IncisalError> {
    let given_mm = given.mm();
    if (least_mm..=most_mm).contains(&given_mm) {
        Ok(given_mm)
    } else {
        Err(IncisalError::Measure { what, given_mm, least_mm, most_mm })
    }
}

fn allowed(what: &'static str, facts: &Facts, angle: Angle) -> Result<Angle, IncisalError> {
    // What rounding leaves below a level wing is level.
    let given_deg = if angle.degrees().abs() < LEVEL_DEG { 0.0 } else { angle.degrees() };
    if (facts.min..=facts.max).contains(&given_deg) {
        Ok(Angle::from_degrees(given_deg))
    } else {
        Err(IncisalError::Angle { what, given_deg, least_deg: facts.min, most_deg: facts.max })
    }
}

/// Far below what any table can be set to.
const LEVEL_DEG: f64 = 1e-7;

/// Paths of the lower incisal edge: its places in the upper frame after it has left rest.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct EdgePaths {
    /// In protrusion.
    pub protrusive: Vec<UpperPoint>,
    /// To the right; sets the left wing of a table.
    pub right_lateral: Vec<UpperPoint>,
    /// To the left; sets the right wing of a table.
    pub left_lateral: Vec<UpperPoint>,
}

/// One plane of a table set to a path, with what is left over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedPlane {
    /// The plate's angle to the reference plane, or the wing's to the plate.
    pub angle: Angle,
    /// Root mean square distance of the pin from the plane.
    pub rms: Length,
    /// The greatest such distance.
    pub greatest: Length,
    /// The greatest distance between the path and the places that the condylar guides let the edge
    /// go to at the same distance and height: a path that the guides do not go with shows here.
    pub beside: Length,
}

/// A table that makes the pin follow the lower incisal edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittedTable {
    /// The angles, wings that no path speaks of level with the plate.
    pub trough: Trough,
    /// The plate.
    pub plate: FittedPlane,
    /// The right wing; `None` without a path to the left.
    pub right_wing: Option<FittedPlane>,
    /// The left wing; `None` without a path to the right.
    pub left_wing: Option<FittedPlane>,
}

/// The table that makes an instrument's pin follow given paths of the lower incisal edge.
///
/// For each point of a path the condylar guides of the instrument leave one pose in which the edge is
/// so far from rest and so low; the pin tip's place over the lower member in all poses of a path is
/// then fitted by the plane that is nearest in the least-squares sense: the plate through the pin's
/// rest, then each wing through its hinge, `flat_half_width` to its side. Points nearer to rest than
/// half a millimetre, or to the hinge, are left out. The instrument's anterior guide and pin extension
/// play no part. A protrusive path that leaves the middle is fitted by the plate all the same: with a
/// half width less than it strays, the wing would lift the pin.
///
/// # Errors
/// [`IncisalError`] for paths too short, not finite or rising to the side, points that the guides do
/// not reach, and angles that no table has.
pub fn table_for_paths(
    instrument: &Instrument,
    edge_at_rest: LowerPoint,
    paths: &EdgePaths,
    flat_half_width: Length,
) -> Result<FittedTable, IncisalError> {
    let follower = Follower::new(instrument, edge_at_rest);
    let protruded = follower.follow("the protrusive path", Movement::Protrusive, &paths.protrusive)?;
    // |sin α·x + cos α·z|² summed is least at this α; the pin goes back and up.
    let sum = |f: fn(&Visit) -> f64| protruded.visits.iter().map(f).sum::<f64>();
    let (across, apart) = (sum(|at| at.pin.x * at.pin.z), sum(|at| at.pin.x.powi(2) - at.pin.z.powi(2)));
    let alpha = Angle::from_radians(0.5 * (-2.0 * across).atan2(apart));
    let alpha = allowed("plate", &Trough::SAGITTAL_INCLINATION.facts, alpha)?;
    let (sin, cos) = alpha.sin_cos();
    let off_plate = |at: &Visit| sin * at.pin.x + cos * at.pin.z;
    let plate = FittedPlane::of(alpha, protruded.visits.iter().map(off_plate), protruded.beside);

    let wing = |side: Side, path: &'static str, points: &[UpperPoint]| {
        if points.is_empty() {
            return Ok(None);
        }
        // The table moves with the jaw, so that the pin runs up the other side's wing.
        let followed = follower.follow(path, Movement::Lateral { working: side.opposite() }, points)?;
        let outward = |at: &Visit| at.pin.y * side.outward_y() - flat_half_width.mm();
        let seen = followed.visits.iter().map(|at| (off_plate(at), outward(at))).collect();
        fit_wing(path, seen, followed.beside).map(Some)
    };
    let right_wing = wing(Side::Right, "the left lateral path", &paths.left_lateral)?;
    let left_wing = wing(Side::Left, "the right lateral path", &paths.right_lateral)?;
    let angle = |wing: Option<FittedPlane>| wing.map_or(Angle::ZERO, |wing| wing.angle);
    let trough = Trough {
        sagittal_inclination: alpha,
        right_wing: angle(right_wing),
        left_wing: angle(left_wing),
        flat_half_width,
    };
    Ok(FittedTable { trough, plate, right_wing, left_wing })
}

/// Wing of a table from lateral records: the pin's place over the lower member in each pose, fitted
/// by the plane through the wing's hinge. `side` is the wing's; the poses are of the excursion to the
/// other side.
///
/// # Errors
/// [`IncisalError`] where no pose takes the pin far enough past the hinge, or for an angle that no
/// wing has.
pub fn wing_from_records(
    side: Side,
    poses: &[JawPose],
    pin_at_rest: UpperPoint,
    trough: &Trough,
) -> Result<FittedPlane, IncisalError> {
    let (sin, cos) = trough.sagittal_inclination.sin_cos();
    let hinge = trough.flat_half_width.mm();
    let seen: Vec<(f64, f64)> = poses
        .iter()
        .map(|jaw| {
            let pin = jaw.to_lower(&pin_at_rest).coords() - pin_at_rest.coords();
            (sin * pin.x + cos * pin.z, pin.y * side.outward_y() - hinge)
        })
        .collect();
    fit_wing("the pin in the lateral records", seen, Length::ZERO)
}

/// The wing nearest to pairs of rise from the plate and way outward from the hinge.
fn fit_wing(path: &'static str, seen: Vec<(f64, f64)>, beside: Length) -> Result<FittedPlane, IncisalError> {
    let farthest_mm = seen.iter().map(|(_, outward)| *outward).fold(f64::NEG_INFINITY, f64::max);
    let on_wing: Vec<_> = seen.into_iter().filter(|(_, outward)| *outward >= LEAST_WAY_MM).collect();
    if on_wing.is_empty() {
        return Err(IncisalError::TooShort { path, farthest_mm, way: "past the hinge", sets: "a wing" });
    }
    // |cos β·rise − sin β·outward|² summed is least at this β.
    let across: f64 = on_wing.iter().map(|(rise, outward)| rise * outward).sum();
    let apart: f64 = on_wing.iter().map(|(rise, outward)| outward * outward - rise * rise).sum();
    let beta =
        allowed("wing", &Trough::RIGHT_WING.facts, Angle::from_radians(0.5 * (2.0 * across).atan2(apart)))?;
    let (sin, cos) = beta.sin_cos();
    let off = on_wing.iter().map(|(rise, outward)| cos * rise - sin * outward);
    Ok(FittedPlane::of(beta, off, beside))
}

impl FittedPlane {
    fn of(angle: Angle, off_mm: impl Iterator<Item = f64>, beside: Length) -> Self {
        let (mut square, mut greatest, mut count) = (0.0, 0.0_f64, 0.0);
        for off in off_mm {
            square += off * off;
            greatest = greatest.max(off.abs());
            count += 1.0;
        }
        Self {
            angle,
            rms: Length::from_mm((square / f64::max(count, 1.0)).sqrt()),
            greatest: Length::from_mm(greatest),
            beside,
        }
    }
}

/// Where the pin tip is over the lower member, from its rest, when the edge is at a point of a path.
struct Visit {
    pin: nalgebra::Vector3<f64>,
}

struct Followed {
    visits: Vec<Visit>,
    beside: Length,
}

/// An instrument whose edge is taken along paths.
struct Follower {
    guided_by_edge: Instrument,
    edge: nalgebra::Vector3<f64>,
    pin: UpperPoint,
}

impl Follower {
    fn new(instrument: &Instrument, edge: LowerPoint) -> Self {
        let mut guided_by_edge = instrument.clone();
        guided_by_edge.incisal_point = IncisalPoint::mm(edge.x(), edge.y(), edge.z());
        guided_by_edge.pin_extension = Length::ZERO;
        let pin = UpperPoint::from_coords(instrument.incisal_point.coords());
        Self { guided_by_edge, edge: *edge.coords(), pin }
    }

    /// Takes the edge to each point of a path: along the incline through rest and that point, as far
    /// as that point is.
    fn follow(
        &self,
        path: &'static str,
        movement: Movement,
        points: &[UpperPoint],
    ) -> Result<Followed, IncisalError> {
        let (mut visits, mut beside, mut farthest_mm) = (Vec::new(), 0.0_f64, 0.0_f64);
        for (index, point) in points.iter().enumerate() {
            let number = index + 1;
            if !point.coords().iter().all(|coordinate| coordinate.is_finite()) {
                return Err(IncisalError::NotFinite { path, number });
            }
            let way = point.coords() - self.edge;
            let outward = movement.working_side().map_or(way.x, |side| way.y * side.outward_y());
            farthest_mm = farthest_mm.max(outward);
            if outward < LEAST_WAY_MM {
                continue;
            }
            let fall = Angle::from_radians((-way.z).atan2(outward));
            let mut trough = Trough::LEVEL;
            match movement.working_side() {
                None => trough.sagittal_inclination = fall,
                // A rise that rounding leaves is none.
                Some(_) if way.z > 1e-9 => {
                    return Err(IncisalError::Rises { path, number, rise_mm: way.z });
                }
                Some(Side::Right) => trough.right_wing = fall,
                Some(Side::Left) => trough.left_wing = fall,
            }
            let mut instrument = self.guided_by_edge.clone();
            instrument.anterior_guide = AnteriorGuide::Incisors(trough);
            let placed = Mechanism::new(&instrument)
                .at_incisal_displacement(movement, Length::from_mm(way.norm()))
                .map_err(|why| IncisalError::NoPose { path, number, why })?;
            beside = beside.max(placed.incisal_point.distance_mm(point));
            let pin = placed.jaw.to_lower(&self.pin).coords() - self.pin.coords();
            visits.push(Visit { pin });
        }
        if visits.is_empty() {
            let (way, sets) = match movement {
                Movement::Lateral { .. } => ("outward", "a wing"),
                _ => ("forward", "the plate"),
            };
            return Err(IncisalError::TooShort { path, farthest_mm, way, sets });
        }
        Ok(Followed { visits, beside: Length::from_mm(beside) })
    }
}
