//! What is made of a study's table: each function takes columns of it as plain numbers.
//!
//! A number that is not one (a pose that does not exist) is left out and counted; nothing is filled
//! in for it.

mod heat_map;
mod histogram;
mod indices;
mod moments;
mod quantile;
mod regression;
mod response;
mod tornado;

pub use heat_map::{Axis, HeatMap, heat_map};
pub use histogram::{Histogram, histogram};
pub use indices::{Estimate, FactorIndices, IndicesError, SobolIndices, sobol_indices};
pub use moments::Moments;
pub use quantile::{quantile, sorted};
pub use regression::{Regression, RegressionError, Standardised};
pub use response::{BAND, ResponseBin, response_curve};
pub use tornado::{Bar, Tornado, TornadoError, tornado};
