//! A mean that was published without a spread.

use crate::setting::Setting;

/// A mean, or one for each of several groups, without a spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PublishedMean {
    /// The setting that it may stand for, in whose unit it is.
    pub stands_for: Setting,
    /// Of whom or of which side, and the mean.
    pub means: &'static [(&'static str, f64)],
    /// On whom, where it stands, and what of it was read.
    pub source: &'static str,
}
