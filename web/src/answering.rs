//! Doing what a state cannot do by itself, and giving it the answers.

use viewer::opened::Request;

use crate::app::App;
use crate::handed::Handed;
use crate::page;

/// Does what is asked for.
pub fn answer(app: &mut App, request: Request) {
    match request {
        Request::Browse { .. } => page::choose(),
        Request::Forget(name) => page::forget(&name),
        _ => {}
    }
    app.has_news();
}

/// Opens files that were handed over together.
pub fn open(app: &mut App, files: Vec<Handed>) {
    let _ = (app, files);
}

/// Says that a file is too large.
pub fn too_large(app: &mut App, name: &str, bytes: f64) {
    let _ = (app, name, bytes);
}
