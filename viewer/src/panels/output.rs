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
    /// Whatever the keyboard can be put on, and where it is.
    pub ids: Vec<(Id, Rect)>,
    /// What the control under the mouse or the keyboard is for.
    pub hint: Option<String>,
    /// What the panels themselves call whatever the keyboard is on, number fields included.
    pub focus_id: Option<Id>,
}

impl PanelOutput {
    /// Says what a control is for, while the mouse or the keyboard is on it. The mouse goes before.
    pub(super) fn explain(&mut self, response: &Response, words: &str) {
        if response.hovered() || (response.has_focus() && self.hint.is_none()) {
            self.hint = Some(words.to_owned());
        }
    }

    /// Notes where a control is, and brings it into sight when the keyboard reaches it.
    pub(super) fn note(&mut self, name: impl Into<String>, response: &Response) {
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        let name = name.into();
        if response.enabled() && response.sense.is_focusable() {
            self.ids.push((response.id, response.rect));
        }
        if response.has_focus() {
            self.focus = Some(name.clone());
        }
        self.places.insert(name, response.rect);
    }
}
