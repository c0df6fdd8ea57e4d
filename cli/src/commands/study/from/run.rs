//! `eminentia study from`: a case's own uncertainty as a study.

use std::path::Path;

use files::Source;
use sim_core::doubt::{self, Doubt, Uncertainties};
use sim_core::units::Length;
use words::caution::CAUTION;
use words::number::length;

use super::args::StudyFrom;
use super::failure::StudyFromFailure;
use crate::case;
use crate::failure::Outcome;
use crate::output::Output;

/// Letters that a line of the head has at most.
const LINE: usize = 100;
/// Decimals of the advance at which the study records.
const PLACES: usize = 0;

/// Redraws the case and writes the study that its uncertainty makes.
pub(crate) fn perform(args: &StudyFrom) -> Outcome {
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let output = Output::open(args.out.as_deref(), &inputs)?;
    case::confirmed(&worked)?;
    let name = source.name();
    let uncertainties = Uncertainties::usual(&worked.case);
    let doubt = doubt::redraw(&worked.case, &uncertainties, args.draws, args.seed)
        .map_err(|error| StudyFromFailure::Undrawn { name: name.clone(), error })?;
    let scene = worked.scene.as_ref().ok_or_else(|| StudyFromFailure::Undrawn {
        name: name.clone(),
        error: doubt::DoubtError::Unconfirmed { gap_mm: 0.0 },
    })?;
    let title = format!("{}: its settings within their errors", worked.case.title);
    let study = doubt
        .study(&title, scene, args.seed)
        .map_err(|error| StudyFromFailure::NoStudy { name: name.clone(), error })?;
    let text = head(&doubt, args, &worked.text, &worked.assumed) + &study.to_ron() + "\n";
    output.write(false, |out| out.write_all(text.as_bytes()))?;
    Ok(())
}

/// Comments that say what the study was made from.
fn head(doubt: &Doubt, args: &StudyFrom, case: &str, assumed: &[String]) -> String {
    let mut sentences = vec![
        CAUTION.to_owned(),
        format!("Written by eminentia study from on {} from a case.", files::day::today()),
        format!(
            "Standard deviations and correlations are those of {} draws, seed {}: reading of the landmarks, axis, reference, \
             records and scales, each as `eminentia doubt` takes it where nobody says otherwise. The study records at {} \
             of advance.",
            doubt.draws - doubt.failed,
            args.seed,
            length(Length::from_mm(doubt::DISCLUSION_ADVANCE_MM), PLACES),
        ),
        format!("SHA-256 of the case: {}", files::sha256([case.as_bytes()])),
    ];
    sentences.extend(assumed.iter().map(|assumed| format!("Assumed: {assumed}.")));
    let lines = sentences.iter().flat_map(|sentence| textwrap::wrap(sentence, LINE));
    lines.fold(String::new(), |text, line| text + &format!("// {line}\n"))
}
