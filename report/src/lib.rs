//! What people are handed: figures, the sheet of a case, summaries of studies, comparisons, contacts.
//!
//! Values go in and values come out. Nothing here knows the arguments of a program, its environment,
//! its standard output or its exit status, so that the command line, the viewer and Python make the
//! same reports.
//!
//! | module | what it makes |
//! | --- | --- |
//! | [`walk`], [`excursion_summary`] | a scene's excursions gone through, and what people keep of each |
//! | [`rows`], [`excursion_rows`] | rows of a CSV, and those of excursions |
//! | [`curves`] | separation and clearance along excursions, to be drawn |
//! | [`account`] | one number taken apart |
//! | [`comparison`] | two scenes beside each other |
//! | [`contacts`] | what teeth touch, what guides, what is in the way |
//! | [`planned`], [`formed_table`], [`invented_pair`], [`tracing`] | a plan, a table formed to the teeth, invented casts, an examined tracing |
//! | [`remount`] | finished dentures on their instrument again |
//! | [`bench_walk`] | a case walked along the bench |
//! | [`case`], [`anterior`], [`sheet`] | a case worked through, its anterior guide, and its one page |
//! | `study` | a study's table read back, summed up, put into words and pictures |
//! | `objects` | reports as objects for other programs |
//! | [`figures`] | figures as SVG and PNG |
//!
//! Cargo features take what a page in a browser cannot carry: `paper` (sheets and templates as PDF), `raster`
//! (figures as PNG), `studies` (the module `study`), `objects` (the module of that name) and `photos` (what a photo of a tracing told). All are there by
//! default.
//!
//! # Example
//!
//! How far a cusp clears in each excursion of a scene, at the least:
//!
//! ```
//! use report::excursion_summary::ExcursionSummary;
//! use report::walk::SceneWalk;
//! use sim_core::scene::{Scene, THIRTY_DEGREE};
//!
//! let scene = Scene::from_ron(THIRTY_DEGREE)?;
//! let walk = SceneWalk::new(&scene, None);
//! for excursion in walk.excursions() {
//!     let summary = ExcursionSummary::of(&excursion);
//!     assert!(summary.stopped.is_none());
//!     assert_eq!(summary.least.len(), scene.cusps.len());
//! }
//! assert!(walk.stops().is_empty());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

#![deny(clippy::print_stdout, clippy::print_stderr)]

pub mod account;
pub mod anterior;
pub mod bench_walk;
pub mod case;
pub mod comparison;
pub mod contacts;
pub mod curves;
pub mod excursion_rows;
pub mod excursion_summary;
pub mod figures;
pub mod formed_table;
pub mod guidance;
pub mod invented_pair;
#[cfg(feature = "objects")]
pub mod objects;
pub mod planned;
pub mod remount;
pub mod rows;
pub mod sheet;
#[cfg(feature = "studies")]
pub mod study;
pub mod template;
pub mod tracing;
pub mod walk;
