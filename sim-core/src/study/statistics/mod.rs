//! What is made of a study's table: each function takes columns of it as plain numbers.
//!
//! A number that is not one (a pose that does not exist) is left out and counted; nothing is filled
//! in for it.
//!
//! ```
//! use sim_core::study::statistics::{Moments, quantile, sorted};
//!
//! // Invented clearances of five rows, one of which has no pose.
//! let column = [0.4, 0.1, f64::NAN, 0.3, 0.2];
//! let moments = Moments::of(column);
//! assert_eq!((moments.count(), moments.missing()), (4, 1));
//! assert!((moments.mean() - 0.25).abs() < 1e-15);
//! // The median lies half way between the middle two.
//! assert!((quantile(&sorted(column), 0.5) - 0.25).abs() < 1e-15);
//! ```

mod effects;
mod estimate;
mod groups;
mod heat_map;
mod histogram;
mod indices;
mod moments;
mod quantile;
mod regression;
mod response;
mod sampled;
mod shapley;
mod student;
mod terms;
mod tornado;

pub use effects::{ElementaryEffects, FactorEffects, elementary_effects};
pub use estimate::{CONFIDENCE, Estimate};
pub use groups::GroupsError;
pub use heat_map::{Axis, HeatMap, heat_map};
pub use histogram::{Histogram, histogram};
pub use indices::{FactorIndices, PairIndex, SobolIndices, sobol_indices, sobol_indices_of};
pub use moments::Moments;
pub use quantile::{quantile, sorted};
pub use regression::{Regression, RegressionError, Standardised};
pub use response::{BAND, ResponseBin, response_curve};
pub use sampled::{Sampled, ShareTally};
pub use shapley::{FactorShare, ShapleyEffects, shapley_effects};
pub use student::student_quantile;
pub use terms::{LEAST_RESAMPLES, MOST_RESAMPLES, Resampling};
pub use tornado::{Bar, Tornado, TornadoError, tornado};
