//! The viewer in a page of a browser.
//!
//! State, actions, panels and drawing are the viewer's. Here stands what a page has instead of a computer of
//! its own: files that are handed over and downloaded, storage that the browser gives, an address, and a loop
//! that waits for the browser.
//!
//! For teaching and research; settings are verified on the patient, and local rules and licensed practice decide.
//!
//! | module | what lives there |
//! | --- | --- |
//! | [`page`] | what the page's own scripts do for the viewer |
//! | [`bell`] | waiting until something happens |
//! | [`kept`] | sessions in the browser's storage |
//! | [`handed`] | files that were dropped or chosen |
//! | `graphics` | WebGL2 made ready, where there is no WebGPU |
//! | [`address`] | what the address asks for |
//! | [`app`] | the state with all of these |
//! | [`answering`] | doing for the state what it cannot do |
//! | [`window`] | the loop: picture and panels |
//! | [`numbers`] | settings and numbers without a picture |
//! | [`entry`] | what the page calls |

pub mod address;
pub mod answering;
pub mod app;
pub mod bell;
pub mod entry;
#[cfg(target_arch = "wasm32")]
pub mod graphics;
pub mod handed;
pub mod kept;
pub mod numbers;
pub mod page;
pub mod window;
