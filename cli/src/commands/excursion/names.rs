//! Words that CSV and JSON share.

use sim_core::cusp::OpposingIncline;

/// The word for an incline, as in the scene file's field names.
pub(super) fn incline_name(incline: OpposingIncline) -> &'static str {
    match incline {
        OpposingIncline::Flat => "flat",
        OpposingIncline::Protrusive => "protrusive",
        OpposingIncline::Retrusive => "retrusive",
        OpposingIncline::Working => "working",
        OpposingIncline::NonWorking => "nonworking",
    }
}
