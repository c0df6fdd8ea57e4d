//! `eminentia study summary`: what a study's table comes to.

use std::fs;
use std::path::{Path, PathBuf};

use super::args::StudySummary as Args;
use super::failure::SummaryFailure;
use crate::failure::Outcome;
use crate::output::{Output, distinct, write_report};
use crate::plot::Plot;
use crate::say;
use report::figures::Print;
use report::study::summary::{Options, StudySummary};
use report::study::{Picture, Selection, StudyTable, pictures, write_captions, write_page};

/// Sums the table up; pictures are made only where a folder or a report takes them.
pub(crate) fn perform(args: &Args) -> Outcome {
    let out = args.report.out.as_ref();
    distinct(&[("--out", out), ("--report", args.page.as_ref()), ("--plots", args.plots.as_ref())])?;
    if let Some(page) = &args.page {
        check_page(page)?;
    }
    if let Some(folder) = args.plots.as_ref().filter(|folder| folder.exists() && !folder.is_dir()) {
        return Err(SummaryFailure::PlotsNoFolder { name: words::quoted::path(folder) }.into());
    }
    let table = StudyTable::new(&args.tables, args.study.as_deref())?;
    let inputs = inputs(args, &table);
    let inputs: Vec<(&Path, &'static str)> =
        inputs.iter().map(|(path, what)| (path.as_path(), *what)).collect();
    let output = Output::open(out.map(PathBuf::as_path), &inputs)?;
    let page = args.page.as_deref().map(|path| Output::open_for("--report", path, &inputs)).transpose()?;
    let columns = table.study.prepared.columns();
    let selection = Selection::of(columns, &args.measure, &args.factor)?;
    let options =
        Options { measures: selection.measures.clone(), resamples: args.resamples, seed: args.seed };
    let summary = StudySummary::of(&table, &options)?;
    let (pictures, sentences) = if args.plots.is_some() || page.is_some() {
        pictures(&table, &summary, &selection, &args.print.print())?
    } else {
        (Vec::new(), Vec::new())
    };
    write_report(&summary, args.report.format, output)?;
    sentences.iter().for_each(|sentence| say::hint(sentence));
    if let Some(folder) = &args.plots {
        write_plots(folder, &pictures, &args.print.print(), &inputs)?;
    }
    if let Some(page) = page {
        page.write(false, |out| write_page(&summary, &pictures, &sentences, out))?;
    }
    Ok(())
}

fn check_page(page: &Path) -> Result<(), SummaryFailure> {
    let ending = page.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("html" | "htm") => Ok(()),
        _ => Err(SummaryFailure::NoPage { name: words::quoted::path(page) }),
    }
}

/// Files that must not be written over.
fn inputs(args: &Args, table: &StudyTable) -> Vec<(PathBuf, &'static str)> {
    let tables = args.tables.iter().map(|path| (path.clone(), "table"));
    let study = args.study.iter().map(|path| (path.clone(), "study"));
    let of_study = table.study.files.iter().map(|path| (path.clone(), "file of the study"));
    tables.chain(study).chain(of_study).collect()
}

fn write_plots(
    folder: &Path,
    pictures: &[Picture],
    print: &Print,
    inputs: &[(&Path, &'static str)],
) -> Outcome {
    fs::create_dir_all(folder)
        .map_err(|error| SummaryFailure::PlotsFolder { name: words::quoted::path(folder), error })?;
    for picture in pictures {
        for ending in ["svg", "png", "pdf"] {
            let path = folder.join(format!("{}.{ending}", picture.stem));
            Plot::open_for("--plots", &path, inputs)?.figure(&picture.figure, print)?;
        }
    }
    let captions = Output::open_for("--plots", &folder.join("captions.txt"), inputs)?;
    captions.write(false, |out| write_captions(pictures, out))?;
    say::hint(&format_args!(
        "{} plots in {}, each as SVG, PNG and PDF; what to say under them is in captions.txt.",
        pictures.len(),
        words::quoted::path(folder)
    ));
    Ok(())
}
