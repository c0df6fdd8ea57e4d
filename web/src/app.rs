//! The state, with what a page has beside it.

use files::Given;
use viewer::action::Action;
use viewer::input::Typed;
use viewer::panels::PanelOutput;
use viewer::report::Line;
use viewer::state::{Note, State};

use crate::kept::{Keeping, Kept};

/// The viewer in a page.
pub struct App {
    /// Everything it knows.
    pub state: State,
    /// What is kept of it; none in a page within another, which leaves nothing behind.
    pub kept: Option<Kept>,
    /// What came of the panels in the last frame, and in the one before.
    outputs: [PanelOutput; 2],
    /// Frames drawn so far.
    pub frames: u32,
    /// Pixels to a point.
    scale: f32,
    /// Something happened that no event of the window tells of.
    has_news: bool,
    /// Letters typed with the control key since the last frame.
    pub chords: Vec<Typed>,
    /// Files that were handed over.
    pub given: Given,
    /// This is to be drawn, and goes out as a picture of that name.
    pub picture: Option<(String, Box<State>)>,
}

impl App {
    /// The viewer as it begins.
    #[must_use]
    pub fn new(state: State, kept: Option<Kept>) -> Self {
        Self {
            state,
            kept,
            outputs: Default::default(),
            frames: 0,
            scale: 1.0,
            has_news: true,
            chords: Vec::new(),
            given: Given::default(),
            picture: None,
        }
    }

    /// Something happened that no event of the window tells of.
    pub const fn has_news(&mut self) {
        self.has_news = true;
    }

    /// Whether something happened that no event of the window tells of; asked once.
    pub const fn take_news(&mut self) -> bool {
        std::mem::replace(&mut self.has_news, false)
    }

    /// Keeps the session as it stands.
    pub fn keep(&mut self) {
        let Some(kept) = &mut self.kept else { return };
        match kept.keep(self.state.session().as_ref()) {
            Keeping::Done => {}
            Keeping::Refused => {
                self.has_news = true;
                self.state.file_note = Some(Note {
                    title: NOT_KEPT,
                    what: "The storage that this browser gives is full, or it gives none.".to_owned(),
                    meanwhile: "Changes will be gone when the page is closed: save them as a file.",
                });
            }
            Keeping::TakesAgain => {
                self.has_news = true;
                if self.state.file_note.as_ref().is_some_and(|note| note.title == NOT_KEPT) {
                    self.state.file_note = None;
                }
            }
        }
    }

    /// A frame was drawn, and this came of its panels. Returns what the person did there.
    pub fn drawn(&mut self, mut output: PanelOutput, scale: f32) -> Vec<Action> {
        self.frames = self.frames.wrapping_add(1);
        self.scale = scale;
        let actions = std::mem::take(&mut output.actions);
        self.outputs.swap(0, 1);
        self.outputs[1] = output;
        actions
    }

    /// What is shown, as a line of JSON: for tests, and for reading the page without seeing it.
    #[must_use]
    pub fn report(&self) -> String {
        let [before, last] = &self.outputs;
        let line = |output| Line::of(&self.state, output, self.scale);
        serde_json::to_string(&line(last).after(Some(&line(before)))).unwrap_or_default()
    }

    /// Whether a place of the page, in points, is in the picture and under no control.
    #[must_use]
    pub fn is_picture(&self, x: f32, y: f32) -> bool {
        let place = kiss3d::egui::pos2(x, y);
        !self.outputs[1].places.values().any(|rect| rect.contains(place))
    }
}

const NOT_KEPT: &str = "Changes are not kept";
