//! `eminentia study summary`: what a study's table comes to.

use std::fs;
use std::path::{Path, PathBuf};

use crate::command_line::StudySummary as Args;
use crate::failure::Failure;
use crate::output::{Output, distinct};
use crate::plot::Plot;
use crate::say;
use report::study::summary::{Options, StudySummary};
use report::study::{Picture, Selection, StudyTable, pictures, write_page};

/// Sums the table up; pictures are made only where a folder or a report takes them.
pub(crate) fn perform(asked: &Args) -> Result<(), Failure> {
    let out = asked.report.out.as_ref();
    distinct(&[("--out", out), ("--report", asked.page.as_ref()), ("--plots", asked.plots.as_ref())])?;
    if let Some(page) = &asked.page {
        check_page(page)?;
    }
    if let Some(folder) = asked.plots.as_ref().filter(|folder| folder.exists() && !folder.is_dir()) {
        return Err(Failure::PlotsNoFolder { name: folder.display().to_string() });
    }
    let opened = StudyTable::new(&asked.tables, asked.study.as_deref())?;
    let inputs = inputs(asked, &opened);
    let inputs: Vec<(&Path, &'static str)> =
        inputs.iter().map(|(path, what)| (path.as_path(), *what)).collect();
    let output = Output::open(out.map(PathBuf::as_path), &inputs)?;
    let page = asked.page.as_deref().map(|path| Output::open_for("--report", path, &inputs)).transpose()?;
    let columns = opened.study.prepared.columns();
    let chosen = Selection::of(columns, &asked.measure, &asked.factor)?;
    let options = Options { measures: chosen.measures.clone(), resamples: asked.resamples, seed: asked.seed };
    let summary = StudySummary::of(&opened, &options)?;
    let (pictures, said) = if asked.plots.is_some() || page.is_some() {
        pictures(&opened, &summary, &chosen)?
    } else {
        (Vec::new(), Vec::new())
    };
    let format = asked.report.format;
    output.write(format.is_coloured(), |out| format.format().study(&summary, out))?;
    said.iter().for_each(|sentence| say::hint(sentence));
    if let Some(folder) = &asked.plots {
        write_plots(folder, &pictures, &inputs)?;
    }
    if let Some(page) = page {
        page.write(false, |out| write_page(&summary, &pictures, &said, out))?;
    }
    Ok(())
}

fn check_page(page: &Path) -> Result<(), Failure> {
    let ending = page.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("html" | "htm") => Ok(()),
        _ => Err(Failure::NoPage { name: page.display().to_string() }),
    }
}

/// Files that must not be written over.
fn inputs(asked: &Args, opened: &StudyTable) -> Vec<(PathBuf, &'static str)> {
    let tables = asked.tables.iter().map(|path| (path.clone(), "table"));
    let study = asked.study.iter().map(|path| (path.clone(), "study"));
    let of_study = opened.study.files.iter().map(|path| (path.clone(), "file of the study"));
    tables.chain(study).chain(of_study).collect()
}

fn write_plots(folder: &Path, pictures: &[Picture], inputs: &[(&Path, &'static str)]) -> Result<(), Failure> {
    fs::create_dir_all(folder)
        .map_err(|error| Failure::PlotsFolder { name: folder.display().to_string(), error })?;
    for picture in pictures {
        for ending in ["svg", "png"] {
            let path = folder.join(format!("{}.{ending}", picture.stem));
            Plot::open_for("--plots", &path, inputs)?.figure(&picture.figure)?;
        }
    }
    say::hint(&format_args!("{} plots in {}, each as SVG and PNG.", pictures.len(), folder.display()));
    Ok(())
}
