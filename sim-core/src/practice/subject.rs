//! The jaw of which records are made, and what is wrong with them.

use nalgebra::Vector3;
use rand_chacha::rand_core::Rng;

use super::Fault;
use super::dice::Dice;
use super::recipe::{LATERAL_MM, SHORT_PROTRUSION_MM, SOUND_PROTRUSION_MM};
use crate::cusp::{Cusp, CuspError, CuspTip, NoSuchTooth};
use crate::excursion::{ExcursionError, Mechanism, Movement, NoPose, NoSuchCount, Station};
use crate::frame::{JawPose, OcclusalPlane, ScanPoint, Side};
use crate::instrument::Instrument;
use crate::record::trial::TrialError;
use crate::record::{CuspPlace, Millimetres, RecordKind, ScanPlace, SideFields};
use crate::tracing::{RecordedError, TracingError};
use crate::units::Length;

/// Coordinates in a dealt file are rounded to a thousandth of a millimetre.
const FILE_DIGITS: f64 = 1e3;
/// The jaw of which records are made, and what is wrong with them.
pub(super) struct Subject<'p> {
    pub(super) jaw: &'p Instrument,
    pub(super) plane: OcclusalPlane,
    pub(super) cusps: &'p [Cusp],
    pub(super) faults: &'p [Fault],
    /// How far the tentative centric record holds the jaw forward and to the left, in millimetres.
    pub(super) off_mm: [f64; 2],
    /// Side that the unperforated lateral record goes to.
    pub(super) unperforated: Option<Side>,
    pub(super) unlocked: Option<Side>,
}

impl Subject<'_> {
    pub(super) fn has(&self, fault: Fault) -> bool {
        self.faults.contains(&fault)
    }

    /// A protrusive pose, and how far it goes on the tracing.
    pub(super) fn protruded<R: Rng>(&self, dice: &mut Dice<R>) -> Result<(JawPose, Length), PatientError> {
        let short = self.has(Fault::ShortProtrusion);
        let way = Length::from_mm(dice.within(if short { SHORT_PROTRUSION_MM } else { SOUND_PROTRUSION_MM }));
        let mechanism = Mechanism::new(self.jaw).with_occlusal_plane(self.plane);
        Ok((mechanism.at_tracing_distance(Movement::Protrusive, way)?.jaw, way))
    }

    /// A lateral pose.
    pub(super) fn lateral<R: Rng>(&self, dice: &mut Dice<R>, working: Side) -> Result<JawPose, PatientError> {
        let advanced = Station::advanced(Length::from_mm(dice.within(LATERAL_MM)));
        Ok(Mechanism::new(self.jaw).at(Movement::Lateral { working }, advanced)?.jaw)
    }

    /// The label of a lateral record to a side.
    pub(super) fn label(&self, working: Side) -> RecordKind {
        let labelled = if self.has(Fault::SwappedSides) { working.opposite() } else { working };
        match labelled {
            Side::Right => RecordKind::RightLateral,
            Side::Left => RecordKind::LeftLateral,
        }
    }

    /// Whether the bearing point has gone through a lateral record to a side.
    pub(super) fn perforated(&self, working: Side) -> bool {
        self.unperforated != Some(working)
    }

    pub(super) fn on_plane(&self, behind: f64, y: f64) -> Vector3<f64> {
        let x = self.jaw.incisal_point.x.mm() - behind;
        Vector3::new(x, y, height(self.jaw, self.plane, x))
    }

    /// The cusps where the case's coordinates have them.
    pub(super) fn cusp_places(
        &self,
        place: impl Fn(&Vector3<f64>) -> Result<ScanPlace, PatientError>,
    ) -> Result<Vec<CuspPlace>, PatientError> {
        let watched = |cusp: &Cusp| {
            let at = match cusp.tip() {
                CuspTip::Lower(at) => *at.coords(),
                CuspTip::Upper(at) => *at.coords(),
            };
            Ok(CuspPlace {
                tooth: cusp.tooth(),
                name: cusp.name().to_owned(),
                at_mm: place(&at)?,
                opposing: *cusp.opposing(),
            })
        };
        self.cusps.iter().map(watched).collect()
    }

    pub(super) fn translations(&self) -> Result<SideFields, PatientError> {
        Ok(SideFields {
            right: millimetres(self.jaw.right_guide.immediate_translation.mm())?,
            left: millimetres(self.jaw.left_guide.immediate_translation.mm())?,
        })
    }
}

/// Why an attempt at a patient failed; another is made.
#[derive(Debug, thiserror::Error)]
pub(super) enum PatientError {
    #[error(transparent)]
    NoPose(#[from] NoPose),
    #[error(transparent)]
    Cusp(#[from] CuspError),
    #[error(transparent)]
    Tooth(#[from] NoSuchTooth),
    #[error(transparent)]
    Excursion(#[from] ExcursionError),
    #[error(transparent)]
    Count(#[from] NoSuchCount),
    #[error(transparent)]
    Tracing(#[from] TracingError),
    #[error(transparent)]
    Recorded(#[from] RecordedError),
    #[error(transparent)]
    Trial(#[from] TrialError),
    #[error("a point lies outside the scan")]
    OutsideTheScan,
}

pub(super) fn rounded(mm: f64) -> f64 {
    (mm * FILE_DIGITS).round() / FILE_DIGITS
}

pub(super) fn millimetres(mm: f64) -> Result<Millimetres, PatientError> {
    Millimetres::new(Length::from_mm(mm)).ok_or(PatientError::OutsideTheScan)
}

/// A place as a file has it.
pub(super) fn scan_place(at: &Vector3<f64>) -> Result<ScanPlace, PatientError> {
    ScanPlace::new(ScanPoint::from_coords(at.map(rounded))).ok_or(PatientError::OutsideTheScan)
}

/// Height of the occlusal plane, which passes through the incisal point.
pub(super) fn height(jaw: &Instrument, plane: OcclusalPlane, x: f64) -> f64 {
    let edge = jaw.incisal_point.coords();
    edge.z + (edge.x - x) * plane.inclination.tan()
}
