//! The sheet of a case: one page to hand to the laboratory or to an examiner.
//!
//! Everything on it is put into words once, in `content`; `html` and `page` (which `pdf` turns into
//! PDF) only set it. It is one page: lists that could burst it are cut, and say so; the whole is in
//! what `eminentia program` prints.

mod content;
mod html;
mod kind;
mod page;
mod paper;
pub(crate) mod pdf;

pub use content::{Disclusion, Gap, SettingRow, Sheet, TracingPart};
pub use kind::{Kind, SheetError};
pub use paper::Paper;
