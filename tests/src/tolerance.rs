//! Tolerances that many checks share, each with its reason. One that belongs to a single check stands
//! at the head of its file.

/// A few sums and products of numbers of some hundred millimetres or degrees: each rounds by 1e-14.
pub const ROUNDED: f64 = 1e-12;
/// A pose solved for, or a motion fitted to landmarks, in between: what is left of the equations, below
/// 1e-10 mm, may grow tenfold where an angle is read over an advance of a few millimetres.
pub const SOLVED: f64 = 1e-9;
/// An angle near zero read off a cosine or a square, and a motion put together from matrices that were
/// inverted: half of the digits are lost.
pub const HALF_OF_THE_DIGITS: f64 = 1e-7;
/// How far an observed order of approximation may be from the whole number that it stands for: the next
/// term of the series is a tenth of the one that is seen.
pub const ORDER: f64 = 0.1;
/// So many standard errors: of sixteen thousand sound numbers one is farther off.
pub const SURE: f64 = 4.0;
