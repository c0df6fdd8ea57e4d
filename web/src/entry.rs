//! What the page calls.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::{Array, Uint8Array};
use sim_core::scene::Scene;
use viewer::history::History;
use viewer::input::Typed;
use viewer::place::Place;
use viewer::reading::shelf::shelf;
use viewer::state::State;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen_futures::spawn_local;

use crate::app::App;
use crate::handed::{Handed, Parcel, lay_down};
use crate::kept::Kept;
use crate::{address, answering, bell, numbers, page, window};

thread_local! {
    static APP: RefCell<Option<Rc<RefCell<App>>>> = const { RefCell::new(None) };
}

/// Does something with the viewer, once it has begun.
fn with<T>(does: impl FnOnce(&mut App) -> T) -> Option<T> {
    let app = APP.with_borrow(Clone::clone)?;
    // While it is at work already, it can wait: whatever asks will ask again.
    let mut app = app.try_borrow_mut().ok()?;
    Some(does(&mut app))
}

/// Begins: with a picture by `webgpu` or `webgl2`, or without one by `nothing`.
#[wasm_bindgen]
pub fn begin(by: &str, is_software: bool) {
    std::panic::set_hook(Box::new(|panic| page::failed(&panic.to_string())));
    let state = match State::open(Scene::thirty_degree()) {
        Ok(state) => state,
        Err(error) => return page::failed(&error.to_string()),
    };
    let asked = address::asked();
    let kept = (!asked.only_picture).then(Kept::begin);
    let mut app = App::new(state, kept);
    app.state.place = Place::Page;
    app.state.teaching.shelf = shelf();
    address::go(&mut app, asked);
    // There was nothing before that one could go back to.
    app.state.history = History::default();
    if let Some(offer) = app.kept.as_ref().and_then(Kept::left_behind) {
        app.state.offer(offer);
    }
    let app = Rc::new(RefCell::new(app));
    APP.set(Some(app.clone()));
    match by {
        "webgpu" => spawn_local(window::show(app, is_software)),
        #[cfg(target_arch = "wasm32")]
        "webgl2" => spawn_local(async move {
            match crate::graphics::make_webgl2_ready().await {
                Ok(()) => window::show(app, is_software).await,
                Err(why) => page::failed(&format!("WebGL2 does not draw: {why}.")),
            }
        }),
        _ => {}
    }
}

/// Something happened in the page: the viewer looks at it.
#[wasm_bindgen]
pub fn ring() {
    bell::ring();
}

/// The page has another size, or is seen again: a frame is to be drawn.
#[wasm_bindgen]
pub fn refresh() {
    with(App::has_news);
    bell::ring();
}

/// The address has another part behind `#`.
#[wasm_bindgen(js_name = addressChanged)]
pub fn address_changed() {
    with(|app| {
        address::go(app, address::asked());
        app.has_news();
    });
    bell::ring();
}

/// Takes files that were dropped or chosen together: their names and what is in them.
#[wasm_bindgen]
pub fn give(names: Vec<String>, contents: &Array) {
    let files = names.into_iter().zip(contents.iter());
    let files = files.map(|(name, bytes)| Handed::new(&name, Uint8Array::new(&bytes).to_vec()));
    lay_down(Parcel::Files(files.collect()));
    bell::ring();
}

/// A file was dropped or chosen that is too large to be read.
#[wasm_bindgen(js_name = tooLarge)]
pub fn too_large(name: String, bytes: f64) {
    lay_down(Parcel::TooLarge { name, bytes });
    bell::ring();
}

/// A letter was typed with the control key (on a Mac, the command key): the graphics crate tells of none in a browser.
#[wasm_bindgen]
pub fn chord(letter: &str, is_shifted: bool) {
    let Some(letter) = letter.chars().next() else { return };
    with(|app| app.chords.push(Typed { letter, is_shifted }));
    bell::ring();
}

/// The page may be gone soon: what was changed is kept now.
#[wasm_bindgen(js_name = keepNow)]
pub fn keep_now() {
    with(App::keep);
}

/// What is shown, as a line of JSON.
#[wasm_bindgen]
#[must_use]
pub fn report() -> String {
    with(|app| app.report()).unwrap_or_default()
}

/// Frames drawn so far.
#[wasm_bindgen]
#[must_use]
pub fn frames() -> u32 {
    with(|app| app.frames).unwrap_or_default()
}

/// Whether a place of the page, in its own pixels, is in the picture and under no control.
#[wasm_bindgen(js_name = isPicture)]
#[must_use]
pub fn is_picture(x: f32, y: f32) -> bool {
    with(|app| app.is_picture(x, y)).unwrap_or(true)
}

/// Settings, excursions and numbers, as JSON: for a page without a picture.
#[wasm_bindgen(js_name = numbersNow)]
#[must_use]
pub fn numbers_now() -> String {
    with(|app| {
        answering::take_in(app);
        numbers::now(app)
    })
    .unwrap_or_default()
}

/// Does what is asked of a page without a picture, and says what is wrong with it.
#[wasm_bindgen(js_name = numbersAct)]
#[must_use]
pub fn numbers_act(what: &str, value: &str) -> Option<String> {
    let wrong = with(|app| {
        let wrong = numbers::act(app, what, value).err();
        app.keep();
        wrong
    });
    wrong.flatten()
}
