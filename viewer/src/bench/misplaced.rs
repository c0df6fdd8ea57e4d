//! The same case, mounted by a facebow that is off.

use nalgebra::Vector3;
use report::case::WorkedCase;
use sim_core::frame::ScanPoint;
use sim_core::record::{Case, MountingFields, ScanPlace};
use sim_core::scene::Scene;
use sim_core::units::Length;

/// The scene of the case as it would be programmed if both ends of the facebow's axis lay so far behind where they do, on
/// the lines that go straight back from the anterior reference point.
///
/// # Errors
/// In words, for a mounting that is no facebow's, or where the case then gives no set-up.
pub fn with_facebow_off(case: &Case, off: Length) -> Result<Scene, String> {
    let mut case = case.clone();
    let MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm } = &mut case.mounting
    else {
        return Err("This case is not mounted by a facebow whose points are given.".to_owned());
    };
    let place = |of: &ScanPlace| *of.point().coords();
    let (right, left, front) = (place(right_axis_mm), place(left_axis_mm), place(anterior_reference_mm));
    let axis = left - right;
    // Straight back: from the reference point to the axis, square to it.
    let back = right + axis * ((front - right).dot(&axis) / axis.norm_squared()) - front;
    let back: Vector3<f64> = back.try_normalize(f64::MIN_POSITIVE).unwrap_or_else(Vector3::zeros) * off.mm();
    let moved = |to: Vector3<f64>| {
        ScanPlace::new(ScanPoint::mm(to.x, to.y, to.z)).ok_or("The axis would leave the scan’s range.")
    };
    *right_axis_mm = moved(right + back)?;
    *left_axis_mm = moved(left + back)?;
    case.title = format!("{}, facebow {} mm off", case.title, off.mm());
    let worked = WorkedCase::of(case, String::new(), String::new()).map_err(|error| error.to_string())?;
    worked.scene.ok_or_else(|| "The centric record is not confirmed: no set-up stands on it.".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::setting::Setting;

    #[test]
    fn a_facebow_that_is_right_changes_nothing_and_one_that_is_off_moves_the_teeth_forward() {
        let case = Case::from_ron(include_str!("../../../scenes/cases/dentate.ron")).unwrap();
        let right = WorkedCase::of(case.clone(), String::new(), String::new()).unwrap().scene.unwrap();
        let same = with_facebow_off(&case, Length::ZERO).unwrap();
        let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
        let of = |scene: &Scene| inclination.get(scene, Side::Right).unwrap();
        assert!((of(&same) - of(&right)).abs() < 1e-9);
        let off = with_facebow_off(&case, Length::from_mm(5.0)).unwrap();
        // Seen from an axis that lies farther back the incisal point lies farther in front.
        let forward = off.instrument.incisal_point.x.mm() - right.instrument.incisal_point.x.mm();
        assert!((forward - 5.0).abs() < 0.2, "{forward}");
        assert!((of(&off) - of(&right)).abs() > 1e-3, "{} and {}", of(&off), of(&right));
    }

    #[test]
    fn a_case_without_a_facebow_is_refused_in_words() {
        let case = Case::from_ron(include_str!("../../../scenes/cases/bench.ron")).unwrap();
        assert!(with_facebow_off(&case, Length::from_mm(5.0)).unwrap_err().contains("facebow"));
    }
}
