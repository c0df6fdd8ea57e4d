//! How closely a table formed to the teeth repeats them, and what is to be kept in mind before it is printed.

use sim_core::units::Length;

use crate::number::length;

/// Beside a table printed for a tip without extent.
pub const POINT: &str = "CAUTION: this table is formed for a pin whose tip is a point. A real pin has a tip: state its \
    radius with --tip-radius, or it rides off this surface.";

/// Beside every table that is printed.
pub const PRINTED: &str = "CAUTION: layers and shrinkage of the print and the true form of the tip add to the error \
    told here. Before the table is used, check it on the instrument: pin flush on it at rest, the casts' own \
    contacts in every excursion, measured at the tip.";

/// What a printed table may be off without anybody minding: what the thinner films with which contacts are
/// marked measure (common practice, no source).
const CLOSE: Length = Length::from_mm(0.03);

/// How closely the table repeats the teeth, in a sentence; `None` where it could not be held against them.
#[must_use]
pub fn closeness(error: Option<Length>) -> String {
    let Some(error) = error else {
        return "The table could not be held against the teeth in any movement of the scene.".to_owned();
    };
    let finer = if error.mm() < CLOSE.mm() {
        ""
    } else {
        " A finer step makes it less; where edges of front teeth pass each other and the jaw drops, no table \
          follows closely."
    };
    format!("In the scene's movements it repeats the teeth to within {}.{finer}", length(error, 3))
}

#[cfg(test)]
mod tests {
    use super::closeness;
    use sim_core::units::Length;

    #[test]
    fn a_coarse_table_is_told_how_to_become_finer() {
        let said = |mm: f64| closeness(Some(Length::from_mm(mm)));
        assert_eq!(said(0.0123), "In the scene's movements it repeats the teeth to within 0.012 mm.");
        assert!(
            said(0.17)
                .starts_with("In the scene's movements it repeats the teeth to within 0.170 mm. A finer")
        );
        assert!(closeness(None).contains("could not be held"));
    }
}
