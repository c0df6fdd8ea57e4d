//! `eminentia program`: from records to settings.

use std::path::Path;

use super::args::Program;
use files::{MadeFrom, Source, scene_with_head};

use crate::case;
use crate::failure::Outcome;
use crate::output::{Output, distinct, write_report};

/// Programs the instrument. A centric record that is not confirmed is reported in full, without
/// settings, then fails.
pub(crate) fn perform(args: &Program) -> Outcome {
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    distinct(&[("--out", args.report.out.as_ref()), ("--scene-out", args.scene_out.as_ref())])?;
    let output = Output::open(args.report.out.as_deref(), &inputs)?;
    let scene_output = args.scene_out.as_deref();
    let scene_output = scene_output.map(|path| Output::open_for("--scene-out", path, &inputs)).transpose()?;
    if let (Some(scene), Some(scene_output)) = (&worked.scene, scene_output) {
        let hash = files::sha256([worked.text.as_bytes()]);
        let notes: Vec<String> =
            worked.assumed.iter().map(|assumed| format!("Assumed: {assumed}.")).collect();
        let made = MadeFrom {
            what: "case",
            title: &worked.case.title,
            sha256: Some(&hash),
            by: "program",
            day: &files::day::today(),
            notes: &notes,
        };
        scene_output.write(false, |out| out.write_all(scene_with_head(scene, &made).as_bytes()))?;
    }
    write_report(&worked, args.report.format, output)?;
    Ok(case::confirmed(&worked)?)
}
