//! Doing what a state cannot do by itself, and giving it the answers.

use std::path::{Path, PathBuf};

use files::link::{Sent, Shown};
use viewer::action::Action;
use viewer::opened::Request;
use viewer::out::{OutFile, hand_over, without_cards};
use viewer::reading;
use viewer::state::Note;
use viewer::teaching::VIVA_SEEDS;
use viewer::writing::OutKind;

use crate::app::App;
use crate::handed::{self, Handed, Parcel};
use crate::page;

/// Takes in what was handed over meanwhile. Whether there was anything new.
pub fn take_in(app: &mut App) -> bool {
    for parcel in handed::take() {
        app.has_news();
        match parcel {
            Parcel::Files(files) => open(app, files),
            Parcel::TooLarge { name, bytes } => too_large(app, &name, bytes),
        }
    }
    app.take_news()
}

/// Lets the state do what a person asks, and does for it what it cannot. A picture within another page only looks.
pub fn act(app: &mut App, action: Action) {
    if app.state.appearance.picture_alone && !action.only_looks() {
        return;
    }
    if let Some(request) = app.state.act(action) {
        answer(app, request);
    }
}

/// Does what is asked for, and what is asked for in turn.
pub fn answer(app: &mut App, request: Request) {
    app.has_news();
    let mut next = Some(request);
    while let Some(request) = next.take() {
        let Some(request) = reading::answer(&mut app.state, request, &app.given) else { return };
        let request = match hand_over(&mut app.state, request, &today()) {
            Ok(files) => {
                files.iter().for_each(download);
                return;
            }
            Err(request) => request,
        };
        next = match request {
            Request::DrawSeed => app.state.act(Action::Deal(drawn_seed(1 << 53))),
            Request::Viva(level) => {
                app.state.begin_viva(level, drawn_seed(VIVA_SEEDS));
                None
            }
            Request::Browse { .. } => {
                page::choose();
                None
            }
            Request::Forget(name) => {
                page::forget(&name);
                None
            }
            Request::Write { writing, .. } => {
                picture(app, writing.kind, &writing.path);
                None
            }
            Request::Send => {
                send(app);
                None
            }
            // Done already.
            _ => None,
        };
    }
}

/// Opens what was handed over together: a scene with the casts that it names, a case, a tracing, a lesson.
fn open(app: &mut App, files: Vec<Handed>) {
    let names: Vec<PathBuf> = files.iter().map(|file| PathBuf::from(&file.name)).collect();
    for file in files {
        app.given.take(file.name, file.bytes);
    }
    app.state.shelf.beside = app
        .given
        .names()
        .filter(|name| name.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron")))
        .map(Path::to_owned)
        .collect();
    if let Some(file) = reading::to_open(&app.given, &names).map(Path::to_owned) {
        let asked = app.state.browsed(Some(file.clone())).unwrap_or(Request::Open(file));
        answer(app, asked);
    }
}

/// Says that a file is too large.
fn too_large(app: &mut App, name: &str, bytes: f64) {
    app.state.open_read(Err(format!(
        "{name}: {} MB is more than a page can read; files of up to 400 MB are read",
        words::number::one_decimal(bytes / 1e6)
    )));
}

/// A link to what is shown, in the address and the clipboard.
fn send(app: &mut App) {
    let state = &app.state;
    let sent = Sent {
        scene: state.scene.clone(),
        beside: state.kept.as_ref().map(|kept| kept.set_up.scene.clone()),
        shown: Some(Shown {
            excursion: state.shown.solved.excursion.movement().name().to_owned(),
            driven: Some(state.sample().driven),
        }),
        viewpoint: state.look.viewpoint.map(|viewpoint| viewpoint.label().to_owned()),
    };
    let note = match sent.to_link() {
        Ok(link) => {
            page::send(&format!("set-up={link}"));
            Note {
                title: "Link",
                what: format!(
                    "The address of this page carries the set-up now ({} letters), and is copied.",
                    link.len()
                ),
                meanwhile: "Whoever opens it sees what is shown here. Nothing is sent to a server.",
            }
        }
        Err(error) => {
            Note { title: "No link", what: error.to_string(), meanwhile: "Save it as a file instead." }
        }
    };
    app.state.file_note = Some(note);
}

/// The next frame goes out as a picture, without cards.
fn picture(app: &mut App, kind: OutKind, path: &Path) {
    let name =
        path.file_name().map_or_else(|| "picture.png".to_owned(), |name| name.to_string_lossy().into_owned());
    let mut shown = without_cards(&app.state);
    shown.appearance.picture_alone |= kind == OutKind::PictureAlone;
    app.state.went_out(Ok(PathBuf::from(&name)));
    app.picture = Some((name, Box::new(shown)));
}

fn download(file: &OutFile) {
    let ending = Path::new(&file.name).extension().map(|ending| ending.to_string_lossy().into_owned());
    let kind = match ending.as_deref() {
        Some("svg") => "image/svg+xml",
        Some("html") => "text/html",
        Some("csv") => "text/csv",
        _ => "text/plain",
    };
    page::download(&file.name, kind, &file.bytes);
}

/// A seed below `most` that nobody can guess.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole numbers, not negative")]
fn drawn_seed(most: u64) -> u64 {
    page::drawn_number() as u64 % most
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole days, not negative")]
fn today() -> String {
    words::day::written((page::ms_since_epoch() / 86_400_000.0) as u64)
}
