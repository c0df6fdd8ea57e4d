//! Sessions in the storage that the browser gives: nothing of it leaves the machine.

use viewer::session::{Offer, Session, left_ago};

use crate::page;

/// What is kept of this tab.
#[derive(Debug)]
pub struct Kept {
    name: String,
    written: Option<String>,
    was_refused: bool,
}

/// What became of keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    /// It is kept, or there was nothing to keep.
    Done,
    /// The browser has begun to refuse.
    Refused,
    /// The browser takes texts again.
    TakesAgain,
}

impl Kept {
    /// Begins to keep this tab's session.
    #[must_use]
    pub fn begin() -> Self {
        Self { name: page::own_name(), written: None, was_refused: false }
    }

    /// Keeps the session as it stands, where it is another than the one kept.
    pub fn keep(&mut self, session: Option<&Session>) -> Keeping {
        let text = session.map(Session::to_text);
        if text == self.written {
            return Keeping::Done;
        }
        let is_kept = match &text {
            Some(text) => page::keep(&self.name, &framed(page::ms_since_epoch(), text)),
            None => {
                page::forget(&self.name);
                true
            }
        };
        if is_kept {
            self.written = text;
        }
        match (is_kept, std::mem::replace(&mut self.was_refused, !is_kept)) {
            (false, false) => Keeping::Refused,
            (true, true) => Keeping::TakesAgain,
            _ => Keeping::Done,
        }
    }

    /// The latest session that a tab left which is open no more; what cannot be read is cleared away.
    #[must_use]
    pub fn left_behind(&self) -> Option<Offer> {
        let mut latest: Option<(f64, Offer)> = None;
        for name in page::kept_names().into_iter().filter(|name| *name != self.name && !page::is_held(name)) {
            let text = page::kept(&name).unwrap_or_default();
            let read = unframed(&text).and_then(|(when, text)| Some((when, Session::from_text(text)?)));
            let Some((when, (session, scene))) = read else {
                page::forget(&name);
                continue;
            };
            if latest.as_ref().is_none_or(|(other, _)| *other < when) {
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "whole minutes, not negative"
                )]
                let minutes = ((page::ms_since_epoch() - when) / 60_000.0).max(0.0) as u64;
                latest = Some((when, Offer { session, title: scene.title, left: left_ago(minutes), name }));
            }
        }
        latest.map(|(_, offer)| offer)
    }
}

/// A session's text behind the time at which it was kept, in milliseconds since 1970.
fn framed(when: f64, text: &str) -> String {
    format!("{when}\n{text}")
}

fn unframed(text: &str) -> Option<(f64, &str)> {
    let (when, text) = text.split_once('\n')?;
    Some((when.parse().ok().filter(|when: &f64| when.is_finite())?, text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_read_back_with_its_time_and_a_damaged_one_is_not() {
        assert_eq!(unframed(&framed(1.5e12, "a\nb")), Some((1.5e12, "a\nb")));
        for damaged in ["", "no time", "soon\n{}", "NaN\n{}"] {
            assert_eq!(unframed(damaged), None, "{damaged}");
        }
    }
}
