//! The forms in which a template is written.

use super::content::{Template, TemplateError};
use super::page;
#[cfg(feature = "paper")]
use crate::figures::pdf;
use crate::sheet::{Paper, SheetError};

impl Template {
    /// The page as SVG, in its own size.
    pub fn svg(&self, paper: Paper) -> String {
        page::svg(self, paper)
    }

    /// The page as PDF, in its own size.
    ///
    /// # Errors
    /// [`TemplateError::Page`], a fault of the program.
    #[cfg(feature = "paper")]
    pub fn pdf(&self, paper: Paper) -> Result<Vec<u8>, TemplateError> {
        pdf::of_page(&self.svg(paper), paper.points(), &format!("Template: {}", self.title))
            .map_err(|reason| SheetError { reason }.into())
    }

    /// No PDF: this program was built without.
    ///
    /// # Errors
    /// [`TemplateError::Page`].
    #[cfg(not(feature = "paper"))]
    pub fn pdf(&self, _: Paper) -> Result<Vec<u8>, TemplateError> {
        Err(SheetError::without("SVG").into())
    }
}
