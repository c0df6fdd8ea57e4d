//! The 3D viewer: an articulator and its teeth in motion, with the settings beside them and the
//! separations of the cusps as numbers and curves.
//!
//! For teaching and research; settings are verified on the patient, and local rules and licensed
//! practice decide.
//!
//! A module uses those above it in this table, never one below:
//!
//! | module | what lives there |
//! | --- | --- |
//! | [`geometry`], [`projection`] | where things stand, without graphics; millimetres to pixels |
//! | [`solved`] | an excursion solved once, which everything else reads |
//! | [`projections`] | sagittal, frontal and horizontal: paths, angles, the sheet that they are drawn on |
//! | [`palette`] | colours |
//! | [`casts`] | the casts on the members, how they are looked at, what is read off them |
//! | [`mod@bench`] | a case on the bench: its split, its guides, what hands do |
//! | [`explaining`] | a number taken apart, and the glossary |
//! | [`plate`] | the tracing on the plate, and a recorded one under it |
//! | [`planning`] | the goal being set, and its answer |
//! | [`page`], [`appearance`] | what the panel on the right is about, how the window looks |
//! | [`place`] | where it is shown: on a desktop or in a page, and what that leaves out |
//! | [`history`], [`axes`] | undo and redo; the axes of the plot, held while a setting changes |
//! | [`teaching`] | lessons and vivas being given |
//! | [`opened`], [`unshowable`] | a scene as it was opened, what is asked of whoever shows it |
//! | [`kept`] | a second set-up beside the first |
//! | [`state`] | everything the viewer knows, one plain value |
//! | [`session`], [`asking`] | what is kept of a window that was not saved; what the window asks |
//! | [`action`] | what a person can do; nothing else changes the state |
//! | [`reading`], [`out`] | files read into the state from their bytes; what goes out of it into files |
//! | [`keys`], [`mouse`] | how it is asked for |
//! | [`layout`], [`material`], [`drawing`], [`camera`] | the picture |
//! | [`easel`] | what draws it and the panels, onto a window or off screen |
//! | [`panels`] | sliders, plot, numbers, help |
//! | [`frame`], [`input`] | one frame of both, and what a person does in it |
//! | [`pace`] | when the next frame is drawn |
//! | [`report`] | the state as lines of JSON |
//! | [`native`] | command line, files, clock, window: all that not every place has |

pub mod action;
pub mod appearance;
pub mod asking;
pub mod axes;
pub mod bench;
pub mod camera;
pub mod casts;
pub mod drawing;
pub mod easel;
pub mod explaining;
pub mod frame;
pub mod geometry;
pub mod history;
pub mod input;
pub mod kept;
pub mod keys;
pub mod layout;
pub mod material;
pub mod mouse;
#[cfg(not(target_arch = "wasm32"))]
pub mod native;
pub mod opened;
pub mod out;
pub mod pace;
pub mod page;
pub mod palette;
pub mod panels;
pub mod place;
pub mod planning;
pub mod plate;
pub mod projection;
pub mod projections;
pub mod reading;
pub mod report;
pub mod session;
pub mod solved;
pub mod state;
pub mod teaching;
pub mod unshowable;
pub mod writing;
