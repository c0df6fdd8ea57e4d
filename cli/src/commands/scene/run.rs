//! `eminentia scene`: a scene to start one's own from.

use sim_core::scene::THIRTY_DEGREE;

use crate::failure::Outcome;
use crate::output::Output;

/// Prints the compiled-in scene's text, comments included.
pub(crate) fn perform() -> Outcome {
    Output::Standard.write(false, |out| out.write_all(THIRTY_DEGREE.as_bytes()))?;
    Ok(())
}
