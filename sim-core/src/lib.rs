//! Kinematics of a semi-adjustable articulator: the upper member guided by two condylar paths and
//! an anterior guide, what it does to the teeth, and the settings that make it do so.
//!
//! Pure maths: no files, clock, threads, printing or graphics. For teaching and research; settings
//! are verified on the patient, and local rules and licensed practice decide.
//!
//! | module | what lives there |
//! | --- | --- |
//! | [`units`] | angles and lengths |
//! | [`frame`] | the two members' frames, points, poses, sides, the occlusal plane |
//! | [`guide`] | condylar guides: paths and walls |
//! | [`anterior`] | incisal table and incisors: what stops the closing |
//! | [`instrument`] | all settings of an instrument, and the zeroed baseline |
//! | [`setting`] | the one list of what a person can set |
//! | [`excursion`] | excursions, solved as motions |
//! | [`cast`] | scanned or invented teeth: surfaces that come near and touch |
//! | [`cusp`] | teeth, cusps, separation and clearance |
//! | [`occlusion`] | what contacts mean: guidance schemes, interferences, the table formed to the teeth |
//! | [`tracing`] | what a stylus draws on a plate, and what is read from such a drawing |
//! | [`record`] | a patient's records, and the settings they give |
//! | [`doubt`] | the records redrawn from their uncertainties: how much it matters |
//! | [`plan`] | the backward questions: inclines, balance, disclusion |
//! | [`practice`] | invented patients dealt, and answers marked |
//! | [`scene`] | the scene file |
//! | [`study`] | settings varied by a plan, and what becomes of the teeth |
//! | [`text`] | reading what people write, with the place of every fault |
//!
//! # From settings to disclusion
//!
//! ```
//! use sim_core::cusp::Gauges;
//! use sim_core::excursion::Mechanism;
//! use sim_core::scene::Scene;
//!
//! let scene = Scene::thirty_degree();
//! let mechanism = Mechanism::new(&scene.instrument);
//! let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
//! for excursion in &scene.excursions {
//!     for placement in mechanism.samples(excursion, scene.samples) {
//!         let placement = placement?;
//!         for (cusp, reading) in scene.cusps.iter().zip(gauges.read(&placement.jaw)) {
//!             assert!(reading.separation >= reading.clearance, "tooth {}", cusp.tooth());
//!         }
//!     }
//! }
//! # Ok::<(), sim_core::excursion::NoPose>(())
//! ```

#![deny(clippy::print_stdout, clippy::print_stderr)]

#[macro_use]
#[path = "setting/macros.rs"]
mod settings_struct;

pub mod anterior;
mod bracket;
pub mod cast;
pub mod cusp;
pub mod doubt;
pub mod excursion;
pub mod frame;
pub mod guide;
pub mod instrument;
pub mod occlusion;
pub mod plan;
pub mod practice;
pub mod record;
pub mod scene;
pub mod setting;
pub mod study;
pub mod text;
pub mod tracing;
pub mod units;
