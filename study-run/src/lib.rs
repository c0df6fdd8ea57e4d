//! Studies from their files to tables.
//!
//! `sim_core::study` computes a row from its number; here a study is read with all that it names, and
//! its rows become Arrow columns.
//!
//! ```
//! use std::path::Path;
//!
//! let scene = sim_core::scene::Scene::thirty_degree().to_ron();
//! let text = format!(r#"(
//!     title: "Steeper guides (invented)",
//!     scene: {scene},
//!     factors: [
//!         (setting: "horizontal_inclination_deg", values: Range(from: 20.0, to: 40.0, steps: 2)),
//!     ],
//!     plan: FullGrid,
//!     record: (measures: [Clearance], advances_mm: [3.0], cusps: ["36.mesiobuccal"]),
//! )"#);
//! let study = study_run::from_text(&text, "steeper.ron", Path::new(""))?;
//! let table = study_run::batch(&study, 0..study.prepared.row_count())?;
//! assert_eq!(table.num_rows(), 3);
//! assert_eq!(table.schema().field(0).name(), "row");
//! assert_eq!(table.schema().field(2).metadata()["unit"], "mm");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod column_file;
mod error;
mod estimate;
mod finished;
mod form;
mod groups;
pub mod input;
mod journal;
mod load;
mod part;
mod run;
mod table;
mod work_file;

pub use error::RunError;
pub use estimate::{Estimate, estimate};
pub use form::Form;
pub use load::{LoadError, Loaded, from_text, load};
pub use part::{NoPart, Part};
pub use run::{Destination, Existing, Finished, Observer, Options, run};
pub use table::{BatchError, Batcher, ROW, VERSION, batch, key, role_name, schema};
