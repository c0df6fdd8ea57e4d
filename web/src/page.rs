//! What the page's own scripts do for the viewer: `page/browser.js`.

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen(module = "/page/browser.js")]
extern "C" {
    /// The part of the page's address behind `?`, without it.
    pub fn query() -> String;

    /// The part of the page's address behind `#`, without it.
    pub fn fragment() -> String;

    /// Puts this behind `#` in the page's address and into the clipboard. Says by itself where the clipboard refuses.
    pub fn send(fragment: &str);

    /// Hands a file to the person, as a download.
    pub fn download(name: &str, kind: &str, bytes: &[u8]);

    /// Hands what the canvas shows to the person, as a PNG. Only right behind a frame that was drawn.
    #[wasm_bindgen(js_name = downloadPicture)]
    pub fn download_picture(name: &str);

    /// Lets the person choose files, which come as if they were dropped.
    pub fn choose();

    /// Keeps a text under a name. Whether the browser's storage took it.
    pub fn keep(name: &str, text: &str) -> bool;

    /// A text that was kept; none where there is none, or no storage.
    pub fn kept(name: &str) -> Option<String>;

    /// The names of all texts kept by this program.
    #[wasm_bindgen(js_name = keptNames)]
    pub fn kept_names() -> Vec<String>;

    /// Throws a text away.
    pub fn forget(name: &str);

    /// The name of this tab's own session, under which no other tab that is open keeps one.
    #[wasm_bindgen(js_name = ownName)]
    pub fn own_name() -> String;

    /// Whether a tab that is open keeps its session under this name.
    #[wasm_bindgen(js_name = isHeld)]
    pub fn is_held(name: &str) -> bool;

    /// Seconds since the page was opened.
    pub fn seconds() -> f64;

    /// Milliseconds since 1970.
    #[wasm_bindgen(js_name = sinceEpoch)]
    pub fn ms_since_epoch() -> f64;

    /// A whole number below 2⁵³, drawn so that nobody can guess it.
    #[wasm_bindgen(js_name = drawnNumber)]
    pub fn drawn_number() -> f64;

    /// Rings the bell after so many milliseconds.
    #[wasm_bindgen(js_name = ringIn)]
    pub fn ring_in(milliseconds: f64);

    /// Waits until the browser wants the next frame.
    #[wasm_bindgen(js_name = nextFrame)]
    pub async fn next_frame();

    /// Says in the title of the tab what is shown.
    #[wasm_bindgen(js_name = setTitle)]
    pub fn set_title(title: &str);

    /// The picture is there: what told of loading goes.
    #[wasm_bindgen(js_name = hasBegun)]
    pub fn has_begun();

    /// Says something in the browser's console.
    pub fn log(what: &str);

    /// Covers the page with words: the program cannot go on.
    pub fn failed(why: &str);
}
