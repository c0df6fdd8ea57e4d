//! What the address of the page asks for.

use files::address::{Address, Opens};
use files::link::Sent;
use viewer::action::Action;
use viewer::opened::{OpenedScene, Request};
use viewer::projection::Viewpoint;
use viewer::state::{Note, State};

use crate::app::App;
use crate::{answering, page};

/// What the address asks for now.
#[must_use]
pub fn asked() -> Address {
    Address::read(&format!("?{}#{}", page::query(), page::fragment()))
}

/// Goes where the address points. What cannot be used is said, and what was shown stays.
pub fn go(app: &mut App, asked: Address) {
    app.state.appearance.picture_alone = asked.only_picture;
    app.state.appearance.transport_too = asked.only_picture;
    match asked.opens {
        Some(Opens::Scene(scene)) => answering::answer(app, Request::Scene(scene.name.to_owned())),
        Some(Opens::Lesson(lesson)) => answering::answer(app, Request::Lesson(lesson.name.to_owned())),
        Some(Opens::SetUp(sent)) => lay_out(&mut app.state, *sent),
        None => {}
    }
    if !asked.notes.is_empty() {
        let notes: Vec<String> = asked.notes.iter().map(ToString::to_string).collect();
        app.state.file_note = Some(Note {
            title: "In the address",
            what: notes.join("\n"),
            meanwhile: "The rest of it is shown.",
        });
    }
}

/// Shows what a link carries.
fn lay_out(state: &mut State, sent: Sent) {
    state.open_read(Ok(OpenedScene::from(sent.scene)));
    if let Some(shown) = sent.shown {
        let number = state.excursions.iter().position(|one| one.movement().name() == shown.excursion);
        if let Some(number) = number {
            state.act(Action::Excursion(number));
        }
        if let Some(driven) = shown.driven
            && let Err(error) = state.stand_at(driven)
        {
            state.file_note = Some(Note {
                title: "In the address",
                what: error.to_string(),
                meanwhile: "The excursion is shown from its beginning.",
            });
        }
    }
    let named = |name: &String| Viewpoint::ALL.into_iter().find(|one| one.label() == name);
    if let Some(viewpoint) = sent.viewpoint.as_ref().and_then(named) {
        state.act(Action::View(viewpoint));
    }
    if let Some(beside) = sent.beside {
        state.beside_read(Ok(OpenedScene::from(beside)));
    }
}
