//! Studies: a scene's settings varied by a plan, and what the mechanism makes of each combination.
//!
//! A [`Study`] is what its file says; [`Prepared`] is the study with its base scene, whose rows are
//! computed one by one, each from its number alone. The work goes in four steps:
//!
//! 1. A [`SamplingPlan`] gives each row a number between 0 and 1 for every factor (a grid gives levels).
//! 2. Correlations are imposed, and each factor's [`Distribution`] turns the number into a value.
//! 3. Derived settings follow from factors.
//! 4. The instrument is set so, and the record's measures are read off its poses.
//!
//! [`statistics`] is what is made of the finished table.
//!
//! ```
//! use sim_core::scene::Scene;
//! use sim_core::study::{Prepared, Study};
//!
//! let study = Study::from_ron(r#"(
//!     title: "Steeper guides (invented)",
//!     scene: "thirty_degree.ron",
//!     factors: [
//!         (setting: "horizontal_inclination_deg", values: Range(from: 20.0, to: 40.0, steps: 2)),
//!     ],
//!     plan: FullGrid,
//!     record: (measures: [Clearance], advances_mm: [3.0], cusps: ["36.mesiobuccal"]),
//! )"#)?;
//! let study = Prepared::new(&study, &Scene::thirty_degree(), |_, _| Err("no files".to_owned()))?;
//! assert_eq!(study.row_count(), 3);
//! assert_eq!(study.columns()[1].name, "protrusive.3mm.36.mesiobuccal.clearance_mm");
//! let mut row = study.row_buffer();
//! let mut last = f64::NEG_INFINITY;
//! for number in 0..study.row_count() {
//!     study.compute(number, &mut row)?;
//!     assert!(row.numbers()[1] > last, "steeper guides part the molars more");
//!     last = row.numbers()[1];
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod arc;
mod checkpoint;
mod column;
mod constraint;
mod correlation;
mod distribution;
mod error;
mod file;
mod interference;
mod make;
mod meaning;
mod normal;
mod plan;
mod prepared;
mod published;
mod published_means;
mod record;
mod row;
mod sensitivity;
pub mod statistics;
mod tails;
mod values;
mod warning;

pub use arc::ArcPassed;
pub use checkpoint::excursion_name;
pub use column::{BennettPart, Cell, Column, ColumnKind, ColumnPlace, ColumnRole, Content, Direction, Reach};
pub use constraint::{Constraint, Rule};
pub use correlation::Correlation;
pub use distribution::Distribution;
pub use error::StudyError;
pub use file::{BaseScene, Factor, Study};
pub use normal::{normal_probability, normal_quantile};
pub use plan::{
    FactorStep, MOST_LEVELS, MOST_REPLICATES, MOST_ROWS, PlannedFactor, Sample, SampleUnits, SamplingDesign,
    SamplingPlan, USUAL_LEVELS, USUAL_REPLICATES,
};
pub use prepared::{NoSuchRow, NotOneEach, Prepared};
pub use published::{Figures, MEANS_ALONE, PUBLISHED, Published};
pub use published_means::PublishedMean;
pub use record::{Measure, Recording};
pub use row::RowBuffer;
pub use sensitivity::GroupSensitivity;
pub use tails::{LeftOut, Tail};
pub use values::{Values, ValuesError};
pub use warning::StudyWarning;
