//! What the panels answer with.

use std::collections::BTreeMap;

use kiss3d::egui::{Id, Rect, Response};

use crate::action::Action;

/// What came of the panels in one frame.
#[derive(Debug, Default)]
pub struct PanelOutput {
    /// What the person did.
    pub actions: Vec<Action>,
    /// Where the controls are, in points: for the report.
    pub places: BTreeMap<String, Rect>,
    /// The control that the keyboard is on.
    pub focus: Option<String>,
    /// What the panels themselves call whatever the keyboard is on, number fields included.
    pub focus_id: Option<Id>,
}

impl PanelOutput {
    /// Notes where a control is, and brings it into sight when the keyboard reaches it.
    pub(super) fn note(&mut self, name: impl Into<String>, response: &Response) {
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        let name = name.into();
        if response.has_focus() {
            self.focus = Some(name.clone());
        }
        self.places.insert(name, response.rect);
    }
}
