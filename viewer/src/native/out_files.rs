//! Files that go out: pictures, plot, table, an excursion in motion. Each is written whole or not at all.

use std::path::Path;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use image::RgbImage;
use report::figures::Print;

use super::error::ViewerError;
use super::{png, snapshot, whole_file};
use crate::action::Action;
use crate::out;
use crate::state::State;
use crate::writing::{OutKind, Writing};

/// How long each picture of an animation is shown, in milliseconds for each millimetre between two: as fast as the
/// window plays.
const MS_PER_MM: u16 = 667;
/// How long the last one is.
const LAST_MS: u16 = 1500;

/// Writes what is wanted, over a file that is there.
///
/// # Errors
/// [`ViewerError::Unwritable`], and what drawing refuses.
pub(super) fn write(state: &State, wanted: &Writing) -> Result<(), ViewerError> {
    let path = wanted.path.as_path();
    let mut shown = if wanted.is_shown_as_it_stands { state.clone() } else { out::without_cards(state) };
    match wanted.kind {
        OutKind::Picture => picture(shown, wanted),
        OutKind::PictureAlone => {
            shown.appearance.picture_alone = true;
            picture(shown, wanted)
        }
        OutKind::PlotSvg => whole(
            path,
            out::plot(&shown).alone(&Print::TITLED).map_err(|error| unwritable(path, error))?.as_bytes(),
        ),
        OutKind::PlotPng => {
            whole(path, &out::plot(&shown).png(&Print::TITLED).map_err(|error| unwritable(path, error))?)
        }
        OutKind::Table => whole(path, &out::table(&shown).map_err(|error| unwritable(path, error))?),
        OutKind::Animation => animation(&shown, wanted),
        OutKind::Frames => folder(&shown, wanted),
    }
}

fn picture(state: State, wanted: &Writing) -> Result<(), ViewerError> {
    let path = wanted.path.as_path();
    snapshot::pictures(std::iter::once(state), wanted.size, |picture| png::write(&picture, path))
}

/// The numbers of the samples that are shown; a state that already stands somewhere on its way goes as far as there.
fn shown(state: &State, wanted: &Writing) -> Vec<usize> {
    let last = if wanted.is_shown_as_it_stands && state.at > 0 { state.at } else { usize::MAX };
    out::frames(&state.shown.solved, last, wanted.per_mm)
}

fn at(state: &State, sample: usize) -> State {
    let mut state = state.clone();
    state.act(Action::ScrubTo(sample));
    state
}

fn animation(state: &State, wanted: &Writing) -> Result<(), ViewerError> {
    let path = wanted.path.as_path();
    let samples = shown(state, wanted);
    let count = samples.len();
    let mut bytes = Vec::new();
    {
        let (width, height) = wanted.size;
        let mut encoder = ::png::Encoder::new(&mut bytes, width, height);
        encoder.set_color(::png::ColorType::Rgb);
        encoder.set_depth(::png::BitDepth::Eight);
        let number = u32::try_from(count).map_err(|error| unwritable(path, error))?;
        encoder.set_animated(number, 0).map_err(|error| unwritable(path, error))?;
        let mut writer = encoder.write_header().map_err(|error| unwritable(path, error))?;
        let mut drawn = 0;
        snapshot::pictures(samples.into_iter().map(|sample| at(state, sample)), wanted.size, |picture| {
            drawn += 1;
            let shown_ms = if drawn == count { LAST_MS } else { MS_PER_MM / wanted.per_mm.max(1) };
            writer.set_frame_delay(shown_ms, 1000).map_err(|error| unwritable(path, error))?;
            writer.write_image_data(picture.as_raw()).map_err(|error| unwritable(path, error))
        })?;
        writer.finish().map_err(|error| unwritable(path, error))?;
    }
    whole(path, &bytes)
}

fn folder(state: &State, wanted: &Writing) -> Result<(), ViewerError> {
    let path = wanted.path.as_path();
    std::fs::create_dir_all(path).map_err(|error| unwritable(path, error))?;
    if std::fs::read_dir(path).map_err(|error| unwritable(path, error))?.next().is_some() {
        return Err(unwritable(path, "this folder has files in it; name another, or empty it"));
    }
    let samples = shown(state, wanted);
    let mut number = 0;
    snapshot::pictures(
        samples.into_iter().map(|sample| at(state, sample)),
        wanted.size,
        |picture: RgbImage| {
            number += 1;
            png::write(&picture, &path.join(format!("{number:04}.png")))
        },
    )
}

fn whole(path: &Path, bytes: &[u8]) -> Result<(), ViewerError> {
    whole_file::write(path, bytes).map_err(|error| unwritable(path, error))
}

#[allow(clippy::needless_pass_by_value, reason = "errors are handed on as they come")]
fn unwritable(path: &Path, why: impl ToString) -> ViewerError {
    ViewerError::Unwritable { file: words::quoted::path(path), why: why.to_string() }
}

/// A file being written while the window goes on.
pub(super) struct UnderWay {
    wanted: Writing,
    done: Receiver<Result<(), String>>,
}

impl UnderWay {
    /// Begins to write.
    pub(super) fn begin(state: &State, wanted: Writing) -> Self {
        let (send, done) = channel();
        let (state, own) = (state.clone(), wanted.clone());
        std::thread::spawn(move || {
            // The window may have been closed meanwhile.
            let _ = send.send(write(&state, &own).map_err(|error| error.to_string()));
        });
        Self { wanted, done }
    }

    /// What was written, or why it was not, once that is known.
    pub(super) fn ended(&self) -> Option<Result<std::path::PathBuf, String>> {
        match self.done.try_recv() {
            Ok(done) => Some(done.map(|()| self.wanted.path.clone())),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err("the picture could not be drawn".to_owned())),
        }
    }
}

#[cfg(test)]
mod tests {
    use report::excursion_rows;
    use report::walk::SceneWalk;
    use sim_core::scene::Scene;

    use super::*;

    fn written(kind: OutKind, name: &str) -> Vec<u8> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(name);
        let state = State::open(Scene::thirty_degree()).unwrap();
        let wanted =
            Writing { kind, path: path.clone(), size: (640, 400), per_mm: 1, is_shown_as_it_stands: false };
        write(&state, &wanted).unwrap();
        std::fs::read(path).unwrap()
    }

    /// The command line writes it by the same function from the scene's file.
    #[test]
    fn the_table_is_the_one_of_the_command_line() {
        let scene = Scene::from_ron(sim_core::scene::THIRTY_DEGREE).unwrap();
        let mut rows = Vec::new();
        excursion_rows::write_whole(&SceneWalk::new(&scene, None), &mut rows).unwrap();
        let table = written(OutKind::Table, "a.csv");
        assert_eq!(table, rows);
        let text = String::from_utf8(table).unwrap();
        assert!(text.starts_with(&words::caution::csv_line()));
        // The caution, the heads, and a row for each of 3 excursions, 13 samples, 8 cusps.
        assert_eq!(text.lines().count(), 2 + 3 * 13 * 8);
    }

    #[test]
    fn the_plot_is_written_as_svg_and_as_the_same_picture_in_pixels() {
        let svg = String::from_utf8(written(OutKind::PlotSvg, "a.svg")).unwrap();
        assert!(svg.starts_with("<svg") && svg.contains("For teaching and research"));
        let picture = image::load_from_memory(&written(OutKind::PlotPng, "a.png")).unwrap();
        // 300 dots to an inch of 25.4 mm.
        let width: f64 = svg.split("width=\"").nth(1).unwrap().split("mm\"").next().unwrap().parse().unwrap();
        assert!(
            (f64::from(picture.width()) - width / 25.4 * 300.0).abs() <= 1.0,
            "{} {width}",
            picture.width()
        );
    }

    #[test]
    fn where_nothing_can_be_written_it_is_said() {
        let state = State::open(Scene::thirty_degree()).unwrap();
        let path = std::path::PathBuf::from("/no such folder/a.csv");
        let kind = OutKind::Table;
        let wanted = Writing { kind, path, size: (640, 400), per_mm: 1, is_shown_as_it_stands: false };
        let error = write(&state, &wanted).unwrap_err();
        assert!(error.to_string().contains("/no such folder/a.csv") && error.status() == 1, "{error}");
    }
}
