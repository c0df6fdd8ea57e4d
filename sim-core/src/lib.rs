//! Kinematics of a semi-adjustable articulator: the upper member guided by two condylar paths and
//! an anterior guide, what it does to the teeth, and the settings that make it do so.
//!
//! Pure maths: no files, clock, threads, printing or graphics. For teaching and research; settings
//! are verified on the patient, and local rules and licensed practice decide.
//!
//! The modules stand on floors, the ground last: each uses what stands below it, and nothing leads
//! back up.
//!
//! | module | what lives there |
//! | --- | --- |
//! | [`viva`] | questions drawn at random, with their answers |
//! | [`lesson`] | lessons: steps, and questions that the solver answers |
//! | [`practice`] | invented patients dealt, and answers marked |
//! | [`doubt`] | the records redrawn from their uncertainties: how much it matters |
//! | [`study`] | settings varied by a plan, and what becomes of the teeth |
//! | [`account`] | why a number is what it is, and what each setting does to it |
//! | [`setting`] | the one list of what a person can set, and what departs from its baseline |
//! | [`programmed`] | the scene of a case worked through |
//! | [`mod@bench`] | the bench in the order of hands, with the guides at trial angles |
//! | [`scene`] | the scene file |
//! | [`record`] | a patient's records, and the settings they give |
//! | [`plan`] | the backward questions: inclines, balance, disclusion |
//! | [`occlusion`] | what contacts mean: guidance schemes, interferences, the table formed to the teeth |
//! | [`tracing`] | what a stylus draws on a plate, and what is read from such a drawing |
//! | [`excursion`] | excursions, solved as motions |
//! | [`instrument`] | all settings of an instrument, and the baseline at which it starts |
//! | [`cast`] | scanned or invented teeth: surfaces that come near and touch |
//! | [`cusp`] | teeth, cusps, separation and clearance |
//! | [`anterior`] | incisal table and incisors: what stops the closing |
//! | [`frame`] | the two members' frames, points, poses, sides, the occlusal plane |
//! | [`guide`] | condylar guides: paths and walls |
//! | [`facts`] | what is known of a number that a person can set: name, unit, range, meaning |
//! | [`text`] | reading what people write, with the place of every fault |
//! | [`lanes`] | many settings at once: loops compiled for what the processor has |
//! | [`units`] | angles and lengths |
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
pub mod facts;

pub mod account;
pub mod anterior;
pub mod bench;
mod bracket;
pub mod cast;
pub mod cusp;
pub mod doubt;
pub mod excursion;
pub mod frame;
pub mod guide;
pub mod instrument;
pub mod lanes;
pub mod lesson;
pub mod occlusion;
pub mod plan;
pub mod practice;
pub mod programmed;
pub mod record;
pub mod remount;
pub mod scene;
pub mod setting;
pub mod study;
pub mod text;
pub mod tracing;
pub mod units;
pub mod viva;
