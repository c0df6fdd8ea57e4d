//! Excursions: what the patient's jaw is asked to do, and the motion that the settings make of it.
//!
//! An [`Excursion`] is a [`Movement`] and how far it goes. A [`Mechanism`] (an instrument made
//! ready) solves it into [`Placement`]s, one a sample; a [`Motion`] keeps them all. Along its path a
//! movement is followed by one parameter, the [`Station`]; a [`Travel`] is the path to some advance. The
//! [`Envelope`] is what encloses them all, as far as the mechanism has it.
//!
//! ```
//! use sim_core::excursion::{BennettMovement, Drive, Excursion, Mechanism, Movement, SampleCount};
//! use sim_core::frame::Side;
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! let mechanism = Mechanism::new(&Instrument::zeroed());
//! let movement = Movement::Lateral { working: Side::Right };
//! let excursion = Excursion::new(movement, Drive::Advance(Length::from_mm(6.0)))?;
//! let mut last = mechanism.rest()?;
//! for placement in mechanism.samples(&excursion, SampleCount::new(4)?) {
//!     last = placement?;
//! }
//! assert_eq!(last.advance(), Length::from_mm(6.0));
//! // The orbiting condyle is 6 mm forward on a wall inclined by 30° …
//! let drop = Length::from_mm(6.0 * Angle::from_degrees(30.0).tan());
//! assert!((last.left.drop - drop).abs() < Length::from_mm(1e-12));
//! // … and pushes the working one outward.
//! assert!(BennettMovement::of(&last, Side::Right).outward > Length::from_mm(3.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # What decides where more than one reading is possible
//!
//! - An arc can be used up to a = r(1 + sin H), where its formula ends: past r·sin H, its flattest
//!   point, the condyle rises again. A recorded profile ends at its last point.
//! - The tilt of a superior wall acts on a condyle that protrudes or orbits. On the working side
//!   the condyle leaves that wall outward, and the walls of lateroretrusion and
//!   laterosurtrusion steer it instead.
//! - In lateroprotrusion those two walls bend the working condyle from its place on the superior
//!   wall, (k·t, f(k·t)), as they bend it from its seat in a lateral movement.
//! - As k tends to 1, lateroprotrusion tends to protrusion on an instrument with equal sides. On
//!   unequal ones protrusion shares the small medial shift between both condyles, lateroprotrusion
//!   leaves it to the working one.
//! - The planes of a table pass through the pin tip's place with the pin flush, whatever the
//!   extension.
//! - A table formed to the teeth ends at its edge, and no pose is found beyond.
//! - Where casts guide, the pin is as long as its extension says, and teeth and pin are asked which is
//!   met first. Only surfaces that face each other across the closing count.
//! - In a right lateral movement the pin runs up the *left* wing of a table, since the table moves
//!   to the right beneath it, and the lower incisal edge runs down the *right* wing of the incisors.

mod closed_form;
mod closing;
mod custom_table;
mod displacement;
mod envelope;
mod error;
mod holding;
mod lanes;
mod mechanism;
mod motion;
mod movement;
mod placement;
mod sample_count;
mod samples;
mod solve;
mod spheres;
mod station;
mod teeth;
mod travel;
mod velocity;
mod written;

pub use envelope::{Border, BorderEnd, BorderPath, Envelope, Followed, Reach};
pub use error::{NoPose, Obstacle};
pub(crate) use holding::{Holding, Row};
pub use lanes::{MechanismLanes, PoseLanes, solve_all};
pub use mechanism::Mechanism;
pub use motion::{BennettMovement, Motion};
pub use movement::{Drive, Excursion, ExcursionError, Movement, Ratio};
pub use placement::{CondyleReading, Guidance, Placement, ToothStop};
pub use sample_count::{NoSuchCount, SampleCount};
pub use samples::Samples;
pub use station::Station;
pub use travel::Travel;
pub use velocity::Velocity;
