//! `eminentia contacts`: what teeth touch, what guides, what is in the way.

use std::path::PathBuf;
use std::sync::Arc;

use files::Source;
use files::cast::WrittenFormat;
use sim_core::cast::{Casts, Film};
use sim_core::cusp::Arch;
use sim_core::frame::JawPose;
use sim_core::scene::Scene;

use super::args::Contacts as Args;
use super::failure::ContactsFailure;
use crate::cast_file;
use crate::casts::{self, same_casts};
use crate::failure::{Outcome, Unexpected};
use crate::input::{self, changed};
use crate::output::{Output, distinct, write_report};
use crate::progress::Progress;
use crate::stopped::Stopped;
use report::contacts::{Against, Bench, ContactsReport, films, marked, micrometres, places};

/// Reports all of it. A pose that there is not is left out, then reported.
pub(crate) fn perform(args: &Args) -> Outcome {
    let source = input::casts_source(args.scene.as_deref());
    let mut scene = args.changes.made_in(source.read()?)?;
    let asked = (!args.film.is_empty()).then_some(args.film.as_slice());
    let films = films(asked).map_err(ContactsFailure::Film)?;
    let (places, excursions) =
        places(&scene, args.excursion.as_deref(), args.at).map_err(ContactsFailure::from)?;
    let mut outputs = Outputs::open(args, &scene, &source)?;
    let casts = casts::needed(&mut scene, &source)?;
    let judged = args.judged(&scene);
    let bench = Bench::new(&scene, &casts, &excursions);
    let a_movement = if judged.by_balance() { 3 } else { 2 };
    let progress = Progress::of_steps((places.len() + a_movement * bench.movements()) as u64);
    let mut bench = bench.watched(move || progress.tick());
    let mut poses = Vec::new();
    for place in places {
        let pose = bench.pose(place, &films);
        poses.extend(pose.map_err(|error| ContactsFailure::Intricate { name: source.name(), error })?);
    }
    let (stretch, search) = (args.stretch(judged), args.search(judged));
    let guidance = bench.guidance(&stretch);
    let in_the_way = bench.in_the_way(&search);
    let missing = bench.missing(judged, &stretch);
    let mut stops = bench.stops();
    let mut against = None;
    if !args.against.is_empty() {
        let mut other = changed(scene.clone(), &args.against)?;
        let other_casts =
            if same_casts(&scene, &other) { Arc::clone(&casts) } else { casts::needed(&mut other, &source)? };
        let mut bench = Bench::new(&other, &other_casts, &excursions);
        let there = bench.in_the_way(&search);
        let with = args.against.iter().map(ToString::to_string).collect();
        let missing = bench.missing(judged, &stretch);
        against = Some(Against::of(with, &in_the_way, &there, missing));
        stops.extend(bench.stops());
    }
    if let Some(pose) = poses.first() {
        outputs.marked(&casts, &pose.placement.jaw, &films)?;
    }
    let report = ContactsReport {
        title: scene.title.clone(),
        films,
        poses,
        stretch,
        guidance,
        judged,
        search,
        in_the_way,
        missing,
        against,
    };
    write_report(&report, args.report.format, outputs.report)?;
    Ok(Stopped::any(&source.name(), stops)?)
}

/// Every file opened before anything is worked out.
struct Outputs {
    report: Output,
    marked: Vec<(Arch, WrittenFormat, Output)>,
}

impl Outputs {
    fn open(args: &Args, scene: &Scene, source: &Source) -> Outcome<Self> {
        let marked = [
            ("--marked-upper", Arch::Upper, args.marked.marked_upper.as_ref()),
            ("--marked-lower", Arch::Lower, args.marked.marked_lower.as_ref()),
        ];
        let report = ("--out", args.report.out.as_ref());
        let files: Vec<(&'static str, Option<&PathBuf>)> =
            marked.iter().map(|(option, _, path)| (*option, *path)).chain([report]).collect();
        distinct(&files)?;
        let inputs = casts::inputs(scene, source);
        let mut opened = Vec::new();
        for (option, arch, path) in marked {
            let Some(path) = path else { continue };
            let form = cast_file::coloured(option, path)?;
            opened.push((arch, form, Output::open_for(option, path, &inputs)?));
        }
        let report = match report {
            (option, Some(path)) => Output::open_for(option, path, &inputs)?,
            (_, None) => Output::Standard,
        };
        Ok(Self { report, marked: opened })
    }
}

impl Outputs {
    /// Writes the casts with their marks, both as they stand in their own member.
    fn marked(&mut self, casts: &Casts, jaw: &JawPose, films: &[Film]) -> Outcome {
        let thicknesses: Vec<String> = films.iter().map(|film| micrometres(*film).to_string()).collect();
        let comment = format!("Marked by films of {} micrometres", thicknesses.join(", "));
        for (arch, form, output) in self.marked.drain(..) {
            let surface =
                marked::surface(casts, jaw, films, arch).map_err(|error| Unexpected(error.to_string()))?;
            output.write(false, |out| form.write(&surface, &comment, out))?;
        }
        Ok(())
    }
}
