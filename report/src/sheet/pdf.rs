//! The sheet as PDF.

use super::content::Sheet;
use super::page;
use super::paper::Paper;
use crate::figures::pdf::of_page;

/// The file.
pub(super) fn bytes(sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, String> {
    let (svg, width, height) = page::svg(sheet, paper);
    of_page(&svg, (width, height), &sheet.title)
}
