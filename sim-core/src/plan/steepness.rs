//! Whether a guidance is much steeper than the path of the condyles behind it.

use crate::frame::Side;
use crate::guide::PastEnd;
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A plate that is steeper than the condylar path by more than this is worth a caution.
///
/// Guidance in front is commonly set as steep as the condylar path or by 5° to 10° steeper, and one much
/// steeper is thought to load front teeth and joints (common practice, no source). No number parts sound
/// from unsound: this is where we begin to say so.
pub const MUCH_STEEPER: Angle = Angle::from_degrees(10.0);

/// A guidance in front that is much steeper than the condylar path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteepGuidance {
    /// Inclination of the plate, to the horizontal reference plane.
    pub incisal: Angle,
    /// The same of the flatter condylar path: the chord from its start to the advance asked about.
    pub condylar: Angle,
    /// The side of that path; none where both are alike.
    pub flatter: Option<Side>,
    /// The advance asked about.
    pub over: Length,
}

impl SteepGuidance {
    /// What there is to say of an instrument: none where its plate is no more than [`MUCH_STEEPER`]
    /// above the flatter condylar path, or the guide has no plate.
    ///
    /// # Errors
    /// [`PastEnd`] where a condylar path ends before the advance asked about.
    pub fn of(instrument: &Instrument, over: Length) -> Result<Option<Self>, PastEnd> {
        let Some(trough) = instrument.anterior_guide.trough() else { return Ok(None) };
        let chord = |side: Side| {
            let drop = instrument.guide(side).drop_at(over)?;
            Ok(Angle::from_radians(drop.mm().atan2(over.mm())))
        };
        let [right, left] = [chord(Side::Right)?, chord(Side::Left)?];
        let steep = Self {
            incisal: trough.sagittal_inclination,
            condylar: if left < right { left } else { right },
            flatter: match right.radians().total_cmp(&left.radians()) {
                std::cmp::Ordering::Less => Some(Side::Right),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some(Side::Left),
            },
            over,
        };
        Ok((steep.by() > MUCH_STEEPER).then_some(steep))
    }

    /// By how much the plate is steeper.
    #[must_use]
    pub fn by(&self) -> Angle {
        self.incisal - self.condylar
    }
}

#[cfg(test)]
mod tests {
    use super::{MUCH_STEEPER, SteepGuidance};
    use crate::anterior::{AnteriorGuide, Trough};
    use crate::frame::Side;
    use crate::guide::{ArcPath, GuidePath};
    use crate::instrument::Instrument;
    use crate::units::{Angle, Length};

    const OVER: Length = Length::from_mm(3.0);

    /// Plate and both condylar inclinations, in degrees.
    fn instrument(plate: f64, right: f64, left: f64) -> Instrument {
        let table = Trough { sagittal_inclination: Angle::from_degrees(plate), ..Trough::LEVEL };
        let mut made = Instrument { anterior_guide: AnteriorGuide::Table(table), ..Instrument::zeroed() };
        for (side, inclination) in [(Side::Right, right), (Side::Left, left)] {
            made.guide_mut(side).horizontal_inclination = Angle::from_degrees(inclination);
        }
        made
    }

    fn told(made: &Instrument) -> Option<SteepGuidance> {
        SteepGuidance::of(made, OVER).unwrap()
    }

    #[test]
    fn only_what_is_steeper_by_more_than_the_threshold_is_told() {
        let threshold = MUCH_STEEPER.degrees();
        for (condylar, steeper, is_told) in
            [(30.0, 0.01, true), (30.0, -0.01, false), (-10.0, 0.01, true), (60.0, -70.0, false)]
        {
            let made = instrument(condylar + threshold + steeper, condylar, condylar);
            assert_eq!(told(&made).is_some(), is_told, "{condylar}° and {steeper}° over the threshold");
        }
    }

    #[test]
    fn the_flatter_side_counts() {
        let steep = told(&instrument(42.0, 40.0, 31.0)).unwrap();
        assert_eq!(steep.flatter, Some(Side::Left));
        assert!((steep.condylar.degrees() - 31.0).abs() < 1e-9 && (steep.by().degrees() - 11.0).abs() < 1e-9);
        assert_eq!(told(&instrument(42.0, 20.0, 31.0)).unwrap().flatter, Some(Side::Right));
        assert_eq!(told(&instrument(42.0, 20.0, 20.0)).unwrap().flatter, None);
    }

    #[test]
    fn of_a_curved_path_it_is_the_chord_that_counts() {
        // A chord of a circle of 10 mm, 30° at its start: sin 30° less 3/10 is the sine at its end.
        let mut made = instrument(35.0, 30.0, 30.0);
        for side in Side::BOTH {
            made.guide_mut(side).path = GuidePath::Arc(ArcPath { radius: Length::from_mm(10.0) });
        }
        let steep = told(&made).unwrap();
        let drop = 10.0 * ((1.0_f64 - 0.2 * 0.2).sqrt() - 30.0_f64.to_radians().cos());
        assert!((steep.condylar.radians().tan() - drop / 3.0).abs() < 1e-12, "{steep:?}");
        // And it ends where its tangent is level… long past which nothing can be said.
        assert!(SteepGuidance::of(&made, Length::from_mm(19.9)).is_err());
    }

    #[test]
    fn a_level_table_is_never_steep() {
        assert_eq!(told(&Instrument::zeroed()), None);
    }
}
