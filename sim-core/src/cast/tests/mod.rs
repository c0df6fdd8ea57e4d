//! Checks of the searches: against all pairs, closed forms, another library, and laws.

mod clearance;
mod closing;
mod large;
mod laws;
mod marks;
mod measure;
mod misplaced;
mod nearby;
mod pairs;
mod samples;

use nalgebra::{Matrix3, Vector3};

use super::map::Map;

fn map((turn, shift): &(Matrix3<f64>, Vector3<f64>)) -> Map {
    Map::new(*turn, *shift)
}
