//! The sheet of a case or a scene: one page to set an instrument from, to hand to the laboratory or to an examiner.
//!
//! Everything on it is put into words once: `content` puts it together, from `set_up`, `settings`, `planned` and
//! `disclusion`. `html` and `page` (which `pdf` turns into PDF) only set it. It is one page: lists that could burst it
//! are cut, and say so; the whole is in what `eminentia program` prints.

mod content;
mod disclusion;
mod graduation;
mod html;
mod kind;
#[cfg(feature = "paper")]
mod page;
mod paper;
#[cfg(feature = "paper")]
mod pdf;
mod planned;
mod printable;
mod set_up;
mod settings;

pub use content::{Beside, Centric, Gap, Sheet, SheetOptions, TracingPart};
pub use disclusion::Disclusion;
pub use graduation::{Graduation, NoGraduation};
pub use kind::{Kind, SheetError};
pub use paper::Paper;
pub use settings::{SettingRow, Settings};
