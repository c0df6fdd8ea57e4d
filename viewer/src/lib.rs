//! The 3D viewer: an articulator and its teeth in motion, with the settings beside them and the
//! separations of the cusps as numbers and curves.
//!
//! For teaching and research; settings are verified on the patient, and local rules and licensed
//! practice decide.
//!
//! | module | what lives there |
//! | --- | --- |
//! | [`arguments`] | the command line |
//! | [`state`] | everything the viewer knows, one plain value |
//! | [`casts`] | the casts on the members, how they are looked at, what is read off them |
//! | [`course`] | an excursion solved once, which everything else reads |
//! | [`planning`] | the goal being set, and its answer |
//! | [`action`] | what a person can do; nothing else changes the state |
//! | [`keys`], [`mouse`] | how it is asked for |
//! | [`projection`], [`layout`] | millimetres to pixels, and the parts of the window |
//! | [`drawing`], [`material`], [`camera`], [`palette`] | the picture |
//! | [`panels`] | sliders, plot, numbers, help |
//! | [`frame`], [`window`], [`export`] | one frame, shown in a window or written as a file |
//! | [`report`] | the state as lines of JSON |
//! | [`surroundings`] | whether there is something to draw with |

pub mod action;
pub mod arguments;
pub mod camera;
pub mod casts;
pub mod drawing;
pub mod error;
pub mod export;
pub mod frame;
pub mod keys;
pub mod layout;
pub mod material;
pub mod mouse;
pub mod palette;
pub mod panels;
pub mod planning;
pub mod projection;
pub mod report;
pub mod solved;
pub mod start;
pub mod state;
pub mod surroundings;
pub mod window;
