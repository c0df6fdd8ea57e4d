//! Casts that stand where casts do not, and what to look at.

use sim_core::cast::Misplaced;

use crate::number::length;

/// What looks wrong, and what to look at.
#[must_use]
pub fn sentence(misplaced: Misplaced) -> String {
    match misplaced {
        Misplaced::Same => {
            "upper and lower cast are one and the same surface; nothing measured between them means anything. \
             Look whether the same scan was named twice"
                .to_owned()
        }
        Misplaced::Exchanged { by } => format!(
            "the upper cast stands below the lower one, on the whole by {}; nothing measured between them \
             means anything. Look whether upper and lower are exchanged, and at the height of their mounting",
            length(by, 1)
        ),
        Misplaced::Through { by } => format!(
            "as they are mounted, the casts pass through each other by {} along the vertical; the jaw opens \
             until they let go, and nothing read there is the patient's. Look at the height and the tilt of \
             their mounting, and at the unit",
            length(by, 1)
        ),
        Misplaced::Apart { by } => format!(
            "as they are mounted, the casts are {} apart along the vertical; teeth, or ridges without teeth, \
             are nearer. Look at the height of their mounting, and at the unit",
            length(by, 1)
        ),
        Misplaced::Beside { by } => format!(
            "the casts stand beside each other and not one over the other: their middles are {} apart in plan, \
             so that hardly a tooth can meet another. Look whether both scans are in the same frame, and at \
             their mounting",
            length(by, 1)
        ),
        Misplaced::Away { forward, aside } => format!(
            "the casts do not stand where teeth are: their middle is {} in front of the condylar axis and {} \
             from the midline. Look whether they are mounted, or still in the scanner's frame",
            length(forward, 1),
            length(aside.abs(), 1)
        ),
    }
}

/// All that looks wrong, each with the names of both files before it.
#[must_use]
pub fn sentences(found: &[Misplaced], [upper, lower]: [&str; 2]) -> Vec<String> {
    found.iter().map(|one| format!("{upper} and {lower}: {}", sentence(*one))).collect()
}

#[cfg(test)]
mod tests {
    use sim_core::units::Length;

    use super::*;

    #[test]
    fn every_sentence_says_what_to_look_at() {
        let by = Length::from_mm(30.04);
        for found in [
            Misplaced::Same,
            Misplaced::Exchanged { by },
            Misplaced::Through { by },
            Misplaced::Apart { by },
            Misplaced::Beside { by },
            Misplaced::Away { forward: -by, aside: -by },
        ] {
            let said = sentences(&[found], ["u.stl", "l.stl"]).remove(0);
            assert!(said.starts_with("u.stl and l.stl: ") && said.contains("Look "), "{said}");
            assert_eq!(said.contains("30.0"), found != Misplaced::Same, "{said}");
        }
    }
}
