//! What is told of an invented pair that was written.

use serde::Serialize;
use sim_core::cast::invented::InventedCasts;
use sim_core::cusp::Cusp;
use sim_core::facts::Facts;
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::{self, Setting};

/// An invented pair, and the files it went to.
#[derive(Serialize)]
pub struct InventedPairReport {
    /// Title of the scene.
    pub title: String,
    /// What they were made by.
    pub invented_casts: InventedCasts,
    /// The numbers among them, with what they are.
    #[serde(skip)]
    pub settings: Vec<(&'static Facts, f64)>,
    /// The upper cast.
    pub upper: WrittenCast,
    /// The lower cast.
    pub lower: WrittenCast,
    /// Every cusp with its place at rest and the inclines that oppose it.
    pub cusps: Vec<Cusp>,
}

/// A cast that was written.
#[derive(Serialize)]
pub struct WrittenCast {
    /// Name of its file.
    pub file: String,
    /// How many there are.
    pub vertices: usize,
    /// How many there are.
    pub triangles: usize,
}

/// The settings of a scene's invented casts that are numbers.
pub fn settings_of(scene: &Scene) -> Vec<(&'static Facts, f64)> {
    let of_casts = setting::all().filter(|setting| matches!(setting, Setting::InventedCasts(_)));
    of_casts.filter_map(|setting| Some((setting.facts(), setting.get(scene, Side::Right)?))).collect()
}
