//! Why a number is what it is: a number of one pose taken apart, and what each setting does to it.
//!
//! # The parts of a rigid motion
//!
//! A pose is made from the zeroed centric position in steps, one after the other, each a rigid pose of its
//! own: the pin is let down (the jaw turns about the axis at rest), the right condyle drops, the left condyle
//! drops, both advance, both shift toward the midline, the jaw turns about the axis through the spheres until
//! the guided point in front is back at the level of rest, and on until it lies on the guide. A step's part of
//! a number is what the number is after it less what it was before. So the parts add up to the number, whatever
//! the pose: nothing is left out and nothing is approximate. Turns do not commute, so that another order would
//! give parts that differ in the second order; this order goes by cause, the guides behind before the guide in
//! front. The steps as far as the turn to the level are what the condylar guides do with a level guide in
//! front; the last is what the guide in front adds.
//!
//! The clearance of a cusp takes away the rise of the opposing incline. What a condyle does follows from the
//! equations of its walls, part by part.
//!
//! # What moves a number
//!
//! [`Account::slopes`] has the derivative of the number by every setting, by the implicit function theorem: a
//! pose is held by six equations F(pose, s) = 0, so that it answers to a setting s with −(∂F/∂pose)⁻¹ ∂F/∂s,
//! and every entry of both is a closed form. At a kink (two planes touched at once, two inclines that rise
//! alike, the end of early translation) the number has two slopes, one for each way to turn the setting, and
//! [`Slope::Kink`] says so.
//!
//! ```
//! use sim_core::account::{Number, SolvedPose};
//! use sim_core::excursion::{Drive, Excursion, Movement, Station};
//! use sim_core::scene::Scene;
//! use sim_core::units::Length;
//!
//! let scene = Scene::thirty_degree();
//! let mechanism = scene.mechanism();
//! let drive = Drive::Advance(Length::from_mm(3.0));
//! let excursion = Excursion::new(Movement::Protrusive, drive)?;
//! let placement = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(3.0)))?;
//! let pose = SolvedPose { scene: &scene, mechanism: &mechanism, excursion, placement: &placement };
//! let account = pose.account(Number::Separation(0))?;
//! let sum: f64 = account.parts.iter().map(|part| part.amount).sum();
//! assert!((sum - account.value).abs() < 1e-12);
//! // What a degree more of each setting does, and a millimetre of each length.
//! assert!(account.slopes.expect("a table guides").iter().any(|slope| slope.slope.steepest() > 0.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod apart;
mod condyle;
mod number;
mod part;
mod pose;
mod rates;
mod response;
mod slope;
mod slopes;
mod steps;

pub use apart::Account;
pub use number::{NoAccount, Number};
pub use part::{Moved, Part, PartKind};
pub use pose::SolvedPose;
pub use slope::{Mover, NoSlopes, SettingSlope, Slope};
