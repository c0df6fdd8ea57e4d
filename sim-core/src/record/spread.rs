//! What a mounting by averages adds to the standard errors: nobody is average.

use super::case::Case;
use super::mounting::{Mounting, MountingRecord, arm_deviation, balkwill_deviation};
use super::settings::{ReadAngle, SideSettings};
use crate::frame::ScanPoint;
use crate::units::{Angle, Length};

/// Steps of the finite differences, in standard deviations: small beside the spread, large beside
/// rounding (angles are read to some 1e-13°, so slopes to some 1e-10).
const STEP: f64 = 1e-3;

impl Case {
    /// Adds the published spread of Bonwill's arm and of the Balkwill angle to the standard errors.
    ///
    /// To first order: the whole chain, from mounting to settings, is gone through with each of the
    /// two a step larger and a step smaller, and the slope is multiplied by its standard deviation.
    /// The two are taken as independent of each other and of the landmarks' noise. At the edge of
    /// what a mounting takes, the step is made to one side only. A setting of which nothing else says
    /// how sure it is stays without a standard error.
    pub(super) fn add_spread(
        &self,
        settings: &mut [SideSettings; 2],
        centric: &[ScanPoint],
        distance: Length,
    ) {
        let record = self.mounting_record();
        let MountingRecord::Average { balkwill, arm, incisal, right_molar, left_molar } = record else {
            return;
        };
        let mounted = |balkwill, arm| {
            let record = MountingRecord::Average { balkwill, arm, incisal, right_molar, left_molar };
            let base = self.intercondylar_distance_mm.map(super::fields::Millimetres::length);
            let mounting = Mounting::new(&record, base, centric).ok()?;
            let gaps = self.fit_gaps(&mounting, distance).ok()?;
            self.settings(&self.read_all(centric, &mounting, distance).ok()?, gaps.as_ref()).ok()
        };
        let (by_arm, by_balkwill) = (arm_deviation() * STEP, balkwill_deviation() * STEP);
        let here = settings.clone();
        let shares = [
            (mounted(balkwill, arm + by_arm), mounted(balkwill, arm - by_arm)),
            (mounted(balkwill + by_balkwill, arm), mounted(balkwill - by_balkwill, arm)),
        ];
        for (side, own) in settings.iter_mut().enumerate() {
            let slope_of = |read: fn(&SideSettings) -> &ReadAngle| {
                let variance = shares.iter().map(|(more, less)| {
                    let steps = f64::from(u8::from(more.is_some()) + u8::from(less.is_some())).max(1.0);
                    let [more, less] = [more, less].map(|there| read(&there.as_ref().unwrap_or(&here)[side]));
                    ((more.value - less.value).degrees() / (steps * STEP)).powi(2)
                });
                variance.sum::<f64>().sqrt()
            };
            let shares =
                [slope_of(|own| &own.horizontal_inclination.angle), slope_of(|own| &own.lateral_angle.angle)];
            let angles = [&mut own.horizontal_inclination.angle, &mut own.lateral_angle.angle];
            for (angle, share) in angles.into_iter().zip(shares) {
                // An angle by rule has no error of which this could be a share.
                angle.mounting_error = (angle.records > 0).then(|| Angle::from_degrees(share));
                angle.standard_error =
                    angle.standard_error.map(|error| Angle::from_degrees(error.degrees().hypot(share)));
            }
        }
    }
}
