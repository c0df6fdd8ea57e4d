//! The loop: picture and panels on the canvas of the page.

use std::cell::RefCell;
use std::future::{Future, poll_fn};
use std::pin::pin;
use std::rc::Rc;

use kiss3d::context::Context;
use kiss3d::egui::FontDefinitions;
use kiss3d::window::{CanvasSetup, NumSamples, Window};
use viewer::drawing::Drawing;
use viewer::frame;
use viewer::pace::Pace;

use crate::app::App;
use crate::{answering, bell, page};

/// Shows the viewer on the canvas until the page is closed. `is_software` says that no graphics card draws.
pub async fn show(app: Rc<RefCell<App>>, is_software: bool) {
    let samples = if is_software { NumSamples::One } else { NumSamples::Four };
    let mut title = app.borrow().state.title();
    page::set_title(&title);
    // The canvas fills its page; this size is none.
    let setup = CanvasSetup { samples, ..CanvasSetup::default() };
    let mut window = Window::new_with_setup(&title, 1, 1, setup).await;
    Context::get().device.set_device_lost_callback(|_, said| page::failed(&lost(&said)));
    frame::prepare(&mut window);
    window.egui_context().set_fonts(faces());
    let mut pace = Pace::of(window.egui_context(), page::seconds);
    let mut drawing = Drawing::new();
    loop {
        let has_news = answering::take_in(&mut app.borrow_mut());
        let chords = std::mem::take(&mut app.borrow_mut().chords);
        let turn = pace.turn(&mut window, &app.borrow().state, &chords, has_news);
        if turn.keep {
            app.borrow_mut().keep();
        }
        let Some(actions) = turn.draw else {
            bell::rung(pace.wanted_in()).await;
            continue;
        };
        let (mut camera, output) = {
            let mut app = app.borrow_mut();
            actions.into_iter().for_each(|action| answering::act(&mut app, action));
            pace.pass(&mut app.state);
            frame::compose(&mut window, &mut drawing, &app.state)
        };
        window.render_3d(&mut drawing.root, &mut camera).await;
        let picture = app.borrow_mut().picture.take();
        if let Some((name, state)) = picture {
            let (mut camera, _) = frame::compose(&mut window, &mut drawing, &state);
            drawn(window.render_3d(&mut drawing.root, &mut camera), || page::download_picture(&name)).await;
            app.borrow_mut().has_news();
        }
        let mut app = app.borrow_mut();
        #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
        let actions = app.drawn(output, window.scale_factor() as f32);
        if app.frames == 1 {
            page::has_begun();
        }
        for action in actions {
            pace.disturb();
            answering::act(&mut app, action);
        }
        let now = app.state.title();
        if now != title {
            page::set_title(&now);
            title = now;
        }
    }
}

/// Draws a frame, and does something right behind it: later the browser has taken it off the canvas.
async fn drawn(frame: impl Future<Output = bool>, then: impl FnOnce()) {
    let mut frame = pin!(frame);
    let mut then = Some(then);
    poll_fn(|context| {
        let polled = frame.as_mut().poll(context);
        if let Some(then) = then.take() {
            then();
        }
        polled
    })
    .await;
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
