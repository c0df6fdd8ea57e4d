//! Excursions: what the patient's jaw is asked to do, and the motion that the settings make of it.
//!
//! An [`Excursion`] is a [`Movement`] and how far it goes. A [`Mechanism`] (an instrument made
//! ready) solves it into [`Placement`]s, one a sample; a [`Motion`] is all of them.
//!
//! # What decides where more than one reading is possible
//!
//! - An arc can be used up to a = r(1 + sin H), where its formula ends: past r·sin H, its flattest
//!   point, the condyle rises again. A recorded profile ends at its last point.
//! - The tilt of a superior wall acts on a condyle that protrudes or orbits. On the working side
//!   the condyle leaves that wall outward, and its rear and top walls steer it instead.
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

mod closing;
mod custom_table;
mod displacement;
mod error;
mod file;
mod mechanism;
mod motion;
mod movement;
mod placement;
mod sample_count;
mod samples;
mod spheres;
mod teeth;
mod velocity;

pub use error::{NoPose, Obstacle};
pub use mechanism::{Mechanism, Station};
pub use motion::{BennettMovement, Motion};
pub use movement::{Drive, Excursion, ExcursionError, Movement, Ratio};
pub use placement::{CondyleReading, Guidance, Placement, ToothStop};
pub use sample_count::{NoSuchCount, SampleCount};
pub use samples::Samples;
pub use velocity::Velocity;
