//! `eminentia why`: a number taken apart.

use report::account::{AccountReport, Asked};

use super::args::Why;
use super::failure::WhyFailure;
use crate::casts;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, write_report};

/// Takes one number of the scene apart.
pub(crate) fn perform(args: &Why) -> Outcome {
    let source = input::scene_source(args.scene.path.as_deref());
    let mut scene = args.changes.made_in(source.read()?)?;
    let output = Output::open(args.report.out.as_deref(), &casts::inputs(&scene, &source))?;
    let casts = casts::of_scene(&mut scene, &source)?;
    let asked = Asked { excursion: args.excursion.clone(), at: args.at, cusp: args.cusp.clone() };
    let report = AccountReport::of(&scene, casts, &asked, |cusp| args.number.at(cusp))
        .map_err(|error| WhyFailure { name: source.name(), error })?;
    write_report(&report, args.report.format, output)?;
    Ok(())
}
