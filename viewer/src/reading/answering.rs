//! Requests for files answered out of a folder.

use std::path::Path;
use std::sync::Arc;

use files::{Folder, FolderOf};

use super::{Held, any, scans, scene, shelf};
use crate::opened::{OpenedScene, Request};
use crate::state::State;

/// Does what is asked for where something has to be read for it, and gives the state the answer. What is still to be
/// done is returned: another request where this one was none of reading, or what the answer asks for in turn.
pub fn answer<F: Folder + ?Sized>(state: &mut State, request: Request, folder: &F) -> Option<Request> {
    match request {
        Request::Open(file) => match any(folder, &file) {
            Ok(Held::Scene(opened)) => state.open_read(Ok(*opened)),
            Ok(Held::Case(worked)) => state.open_case_read(Ok((*worked, Some(file)))),
            Ok(Held::Tracing(under)) => state.open_tracing_read(Ok(*under)),
            Ok(Held::Lesson(opened)) => state.lesson_read(Ok(*opened)),
            Err(error) if error.is_of_a_lesson() => state.lesson_read(Err(error.to_string())),
            Err(error) => state.open_read(Err(error.to_string())),
        },
        Request::OpenBeside(file) => {
            state.beside_read(scene(folder, &file).map_err(|error| error.to_string()));
        }
        Request::OpenFor(file, offer) => {
            return state.take_up(scene(folder, &file).map_err(|error| error.to_string()), &offer);
        }
        Request::SetUp { scene, beside } => {
            let file = beside.as_deref().unwrap_or(Path::new(""));
            let scans = scans(&scene, &FolderOf::new(file, folder));
            let opened =
                scans.map(|scans| OpenedScene { scene: *scene, scans: scans.map(Arc::new), file: None });
            state.open_read(opened.map_err(|error| error.to_string()));
        }
        Request::Scene(name) => state.open_read(shelf::scene(&name)),
        Request::Lesson(name) => state.lesson_read(shelf::lesson(&name)),
        request => return Some(request),
    }
    None
}
