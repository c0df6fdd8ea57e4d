//! What the checks share: instruments drawn at random, and the definitions they are held to,
//! written anew here rather than taken from the code under test.

pub mod definition;
pub mod hand_made;
pub mod invented_cases;
pub mod patient;
pub mod random;
pub mod solid;
