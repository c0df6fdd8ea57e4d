//! The loop: picture and panels on the canvas of the page.

use std::cell::RefCell;
use std::rc::Rc;

use kiss3d::context::Context;
use kiss3d::egui::FontDefinitions;
use kiss3d::window::NumSamples;
use viewer::action::Action;
use viewer::drawing::Drawing;
use viewer::easel::Easel;
use viewer::frame::{self, Hands};
use viewer::pace::Pace;
use viewer::state::State;

use crate::app::App;
use crate::{answering, bell, page};

/// Shows the viewer on the canvas until the page is closed. `is_software` says that no graphics card draws.
pub async fn show(app: Rc<RefCell<App>>, is_software: bool) {
    let samples = if is_software { NumSamples::One } else { NumSamples::Four };
    let mut title = app.borrow().state.title();
    page::set_title(&title);
    // The canvas fills its page; this size is none.
    let mut easel = Easel::in_window(&title, (1, 1), samples).await;
    Context::get().device.set_device_lost_callback(|_, said| page::failed(&lost(&said)));
    frame::prepare(&easel);
    easel.panels().set_fonts(faces());
    let mut pace = Pace::of(easel.panels(), page::seconds);
    let mut drawing = Drawing::new();
    loop {
        let has_news = answering::take_in(&mut app.borrow_mut());
        let chords = std::mem::take(&mut app.borrow_mut().chords);
        let turn = pace.turn(&mut easel, &app.borrow().state, &chords, has_news);
        if turn.keep {
            app.borrow_mut().keep();
        }
        let Some(actions) = turn.draw else {
            bell::rung(pace.wanted_in()).await;
            continue;
        };
        {
            let app = &mut *app.borrow_mut();
            let output =
                frame::turn(&mut easel, page::seconds(), actions, &mut InPage { app, pace: &mut pace });
            frame::draw(&mut easel, &mut drawing, &app.state);
            if let Some((name, state)) = app.picture.take() {
                frame::show_panels(&mut easel, &state, page::seconds());
                frame::draw(&mut easel, &mut drawing, &state);
                // Right behind it: later the browser has taken it off the canvas.
                page::download_picture(&name);
                app.has_news();
            }
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            let actions = app.drawn(output, easel.scale() as f32);
            if app.frames == 1 {
                page::has_begun();
            }
            let mut hands = InPage { app, pace: &mut pace };
            actions.into_iter().for_each(|action| hands.act(action));
            let now = app.state.title();
            if now != title {
                page::set_title(&now);
                title = now;
            }
        }
        page::next_frame().await;
    }
}

/// The viewer with the time that a page gives it.
struct InPage<'p> {
    app: &'p mut App,
    pace: &'p mut Pace,
}

impl Hands for InPage<'_> {
    fn state(&self) -> &State {
        &self.app.state
    }

    fn act(&mut self, action: Action) {
        self.pace.disturb();
        answering::act(self.app, action);
    }

    fn pass(&mut self) {
        self.pace.pass(&mut self.app.state);
    }
}

/// The faces of the desktop but for one of pictographs, a tenth of the page, of which the viewer's own words need none.
/// `web/unused.py` empties it.
fn faces() -> FontDefinitions {
    const PICTOGRAPHS: &str = "NotoEmoji-Regular";
    let mut faces = FontDefinitions::default();
    faces.font_data.remove(PICTOGRAPHS);
    for family in faces.families.values_mut() {
        family.retain(|face| face != PICTOGRAPHS);
    }
    faces
}

fn lost(said: &str) -> String {
    format!("The browser has taken the graphics away. {said}")
}
