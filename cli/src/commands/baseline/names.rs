//! The name of a departure that all forms share.

use sim_core::setting::Departure;

/// A setting's name as `--with` takes it for one side.
pub(super) fn departure_name(departure: &Departure) -> String {
    match departure.side {
        Some(side) => format!("{side}_guide.{}", departure.key),
        None => departure.key.clone(),
    }
}
