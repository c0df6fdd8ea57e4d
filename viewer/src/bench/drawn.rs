//! The instrument that is drawn on the bench: that of the case, its guides at trial angles.

use report::case::WorkedCase;
use sim_core::bench::Trial;
use sim_core::frame::Side;
use sim_core::instrument::{IncisalPoint, Instrument};
use sim_core::scene::Scene;

/// The scene that is drawn. Where settings are withheld there is no programmed instrument: then a plain one stands
/// in, with the case's own design, distance and incisal point.
pub(super) fn scene(worked: &WorkedCase, trial: &Trial) -> Scene {
    let mut scene = worked.scene.clone().unwrap_or_else(|| plain(worked));
    // The teeth are drawn, whether the case names scans or not: what is looked at is the split.
    scene.casts = None;
    scene.invented_casts = None;
    set_guides(&mut scene.instrument, trial);
    for side in Side::BOTH {
        scene.instrument.guide_mut(side).immediate_translation =
            worked.case.immediate_translation_mm.of(side);
    }
    scene
}

fn plain(worked: &WorkedCase) -> Scene {
    let mut scene = Scene::thirty_degree();
    scene.title.clone_from(&worked.case.title);
    scene.cusps.clear();
    let instrument = &mut scene.instrument;
    instrument.design = worked.case.design;
    instrument.intercondylar_distance = worked.programmed.intercondylar_distance;
    if let Some(place) = worked.case.incisal_point_mm {
        let at = worked.programmed.mounting.to_upper(&place.point());
        instrument.incisal_point = IncisalPoint::mm(at.x(), at.y(), at.z());
    }
    scene
}

/// Sets the guides of an instrument to trial angles.
pub(super) fn set_guides(instrument: &mut Instrument, trial: &Trial) {
    for side in Side::BOTH {
        let guide = instrument.guide_mut(side);
        guide.horizontal_inclination = trial.inclination[side];
        guide.lateral_angle = trial.lateral[side];
    }
}
