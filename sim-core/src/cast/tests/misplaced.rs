//! Casts in their place raise no alarm; exchanged, doubled, too high, aside and away they do.

use nalgebra::Vector3;
use proptest::prelude::*;

use super::samples::{rotation, shifted, turned};
use crate::cast::invented::InventedCasts;
use crate::cast::{Casts, MendError, Misplaced, Soup, Surface, ToothPlaces, mend, toward_opposing};
use crate::cusp::Arch;
use crate::frame::OcclusalPlane;
use crate::units::{Angle, Length};

const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

fn pair(kind: &InventedCasts) -> [Surface; 2] {
    let made = InventedCasts { fineness: Length::from_mm(1.5), ..kind.clone() }.make(LEVEL).unwrap();
    [made.upper, made.lower]
}

fn misplaced([upper, lower]: [Surface; 2]) -> Vec<Misplaced> {
    let (upper, _) = toward_opposing(upper, Arch::Upper);
    let (lower, _) = toward_opposing(lower, Arch::Lower);
    Casts::new(upper, lower, &ToothPlaces::none()).misplaced(LEVEL)
}

fn lower_moved([upper, lower]: [Surface; 2], by: [f64; 3]) -> [Surface; 2] {
    [upper, shifted(lower, Vector3::from(by))]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Mounted a little off, and opened by a record or for want of teeth.
    #[test]
    fn what_may_well_be_mounted_so_raises_no_alarm(
        aside in (-4.0..4.0_f64, -4.0..4.0_f64),
        height in -40.0..3.0_f64,
        tilt in (-0.05..0.05, -0.05..0.05, -0.05..0.05),
        is_dentate: bool,
    ) {
        let kind = if is_dentate { InventedCasts::dentate() } else { InventedCasts::complete_denture() };
        let [upper, lower] = pair(&kind);
        let both = [upper, lower].map(|surface| turned(surface, &rotation(tilt.0, tilt.1, tilt.2)));
        prop_assert_eq!(misplaced(lower_moved(both, [aside.0, aside.1, height])), Vec::new());
    }
}

#[test]
fn casts_out_of_place_are_told() {
    for kind in [InventedCasts::dentate(), InventedCasts::complete_denture()] {
        let [upper, lower] = pair(&kind);
        assert_eq!(misplaced([upper.clone(), lower.clone()]), Vec::new());
        let exchanged = misplaced([lower.clone(), upper.clone()]);
        assert!(matches!(exchanged[..], [Misplaced::Exchanged { .. }]), "{exchanged:?}");
        for one in [&upper, &lower] {
            let turn = rotation(0.1, 0.2, 0.3);
            let same = misplaced([one.clone(), turned(one.clone(), &turn)]);
            assert_eq!(same.first(), Some(&Misplaced::Same));
        }
        let high = misplaced(lower_moved([upper.clone(), lower.clone()], [0.0, 0.0, 30.0]));
        assert!(matches!(high[..], [Misplaced::Exchanged { .. } | Misplaced::Through { .. }]), "{high:?}");
        let high = misplaced(lower_moved([upper.clone(), lower.clone()], [0.0, 0.0, 6.5]));
        assert!(matches!(high[..], [Misplaced::Through { .. }]), "{high:?}");
        let low = misplaced(lower_moved([upper.clone(), lower.clone()], [0.0, 0.0, -100.0]));
        assert!(matches!(low[..], [Misplaced::Apart { .. }]), "{low:?}");
        let aside = misplaced(lower_moved([upper.clone(), lower.clone()], [0.0, 200.0, 0.0]));
        assert!(
            matches!(aside[..], [Misplaced::Beside { by }, ..] if (by.mm() - 200.0).abs() < 5.0),
            "{aside:?}"
        );
        for by in [[-100.0, 0.0, 0.0], [0.0, -200.0, 0.0]] {
            let away = misplaced([&upper, &lower].map(|cast| shifted(cast.clone(), Vector3::from(by))));
            assert!(matches!(away[..], [Misplaced::Away { .. }]), "{away:?}");
        }
    }
}

/// The corners of a cast dealt out anew: no surface any more.
#[test]
fn triangles_joined_to_the_wrong_corners_are_refused() {
    let [upper, _] = pair(&InventedCasts::dentate());
    let soup = Soup {
        vertices: upper.vertices().to_vec(),
        triangles: upper.triangles().to_vec(),
        ..Soup::default()
    };
    assert!(mend(soup.clone(), Arch::Upper).is_ok());
    let count = u32::try_from(soup.vertices.len()).unwrap();
    // A step that shares no factor with the count goes through all of them.
    let step = (1..)
        .map(|k| count / 3 + k)
        .find(|step| (2..=*step).all(|d| step % d != 0 || count % d != 0))
        .unwrap();
    let dealt = |index: u32| u32::try_from(u64::from(index) * u64::from(step) % u64::from(count)).unwrap();
    let tangled =
        Soup { triangles: soup.triangles.iter().map(|corners| corners.map(dealt)).collect(), ..soup.clone() };
    let error = mend(tangled, Arch::Upper).unwrap_err();
    assert!(matches!(error, MendError::Tangled { times, .. } if times > 8.0), "{error}");
    // Three copies beside and over each other are a surface yet.
    let mut thrice = soup.clone();
    for copy in 1..3 {
        thrice
            .vertices
            .extend(soup.vertices.iter().map(|at| at + Vector3::new(0.01, 0.02, 0.03) * f64::from(copy)));
        thrice
            .triangles
            .extend(soup.triangles.iter().map(|corners| corners.map(|index| index + copy * count)));
    }
    assert!(mend(thrice, Arch::Upper).is_ok());
}
