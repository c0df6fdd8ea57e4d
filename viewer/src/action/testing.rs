//! What the tests of the actions share.

use sim_core::cast::invented::InventedCasts;
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::Setting;
use sim_core::units::Length;

use crate::state::State;

pub(crate) fn opened() -> State {
    State::open(Scene::thirty_degree()).unwrap()
}

/// The teaching scene with a coarse invented pair of natural teeth on it.
pub(super) fn with_casts() -> State {
    let mut scene = Scene::thirty_degree();
    let fineness = Length::from_mm(0.6);
    scene.invented_casts = Some(InventedCasts { fineness, ..InventedCasts::dentate() });
    State::open(scene).unwrap()
}

pub(super) fn both(state: &State, setting: Setting) -> [f64; 2] {
    Side::BOTH.map(|side| setting.get(&state.scene, side).unwrap())
}

pub(super) fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}
