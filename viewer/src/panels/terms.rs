//! What the trade's terms of a label mean, for whoever points at it.

use kiss3d::egui::Response;
use words::glossary::used_in;

/// Says on hover what the terms of a label mean, beside it.
pub(super) fn on_hover(response: Response, label: &str) -> Response {
    match meanings(label) {
        Some(meanings) => response.on_hover_text(meanings),
        None => response,
    }
}

/// What the terms of a label mean, a line each; none where it uses none.
pub(super) fn meanings(label: &str) -> Option<String> {
    let lines: Vec<String> =
        used_in(label).iter().map(|term| format!("{}: {}", term.term, term.meaning)).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::meanings;

    /// Titles and heads of the panels, as far as they are trade's words.
    const LABELS: [&str; 19] = [
        "Settings",
        "Condylar guides",
        "Anterior guide",
        "Instrument",
        "Invented casts",
        "early translation, working-side walls",
        "cusp",
        "separation",
        "clearance",
        "condyle, mm",
        "advance",
        "medial",
        "drop",
        "Separation, clearance",
        "Section, contacts",
        "Plan",
        "Clearances wanted, mm",
        "Contact wanted",
        "Inclines for gliding contact (current settings)",
    ];

    #[test]
    fn every_title_and_head_of_the_panels_is_explained() {
        for label in LABELS {
            assert!(meanings(label).is_some(), "{label}");
        }
        assert_eq!(meanings("Undo"), None);
    }
}
