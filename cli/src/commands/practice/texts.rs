//! The texts of the files that are dealt.

use sim_core::frame::Side;
use sim_core::practice::{Deal, Form};
use sim_core::tracing::Leg;

/// The key with the truth beside it, for the teacher to read.
pub(super) fn key_text(dealt: &Deal) -> String {
    let mut text = format!(
        "// Key of practice deal {}: for the teacher. It holds the truth; do not hand it out.\n",
        dealt.number
    );
    for side in Side::BOTH {
        let guide = dealt.jaw().guide(side);
        text += &format!(
            "// {side} guide: H {:.2} degrees, L {:.2} degrees\n",
            guide.horizontal_inclination.degrees(),
            guide.lateral_angle.degrees()
        );
    }
    for fault in &dealt.key.faults {
        text += &format!("// {}\n", words::verdict::mark::faults(&[*fault], dealt.centric_off()));
    }
    if let Some(side) = dealt.unlocked() {
        text += &format!("// the {side} guide is the one that is not locked\n");
    }
    text + &dealt.key.to_ron() + "\n"
}

/// The patient's case.
pub(super) fn case_text(dealt: &Deal) -> String {
    let how = match dealt.key.form {
        Form::Coordinates => "// `eminentia program` works it through; fill in what you find in answer.ron.",
        Form::Bench => {
            "// The records as the bench has them: gaps at the six grooves of the split with the guides at trial\n\
             // angles, and what the scales read whenever the split closed, a list a record. They can be worked out\n\
             // by hand, and checked with `eminentia program`. Fill in what you find in answer.ron."
        }
    };
    format!(
        "// Practice deal {}. An invented patient: no person has these records.\n{how}\n{}\n",
        dealt.number,
        dealt.case.to_ron()
    )
}

/// The tracing.
pub(super) fn tracing_text(dealt: &Deal) -> String {
    let mut text = format!(
        "# Practice deal {}: the tracing at which the records were made. Invented.\n\
         # `eminentia tracing` reads it; plotted on paper it can be judged by eye.\n\
         leg,forward_mm,left_mm\n",
        dealt.number
    );
    for leg in Leg::ALL {
        for at in dealt.tracing.leg(leg) {
            text += &format!("{},{:.3},{:.3}\n", leg.name(), at.forward.mm(), at.left.mm());
        }
    }
    text
}

/// What an observer saw.
pub(super) fn observed_text(dealt: &Deal) -> String {
    let lines = words::verdict::observed::observed(&dealt.observed, &dealt.instrument.instrument);
    format!(
        "Practice deal {}: what an observer saw of an invented patient and of the instrument as it was found.\n\n{}\n",
        dealt.number,
        lines.join("\n")
    )
}

/// The instrument as it stands.
pub(super) fn instrument_text(dealt: &Deal) -> String {
    format!(
        "// Practice deal {}: the instrument as it stands before anything is set. Invented.\n\
         // `eminentia baseline` tells what departs from the zeroed instrument.\n{}\n",
        dealt.number,
        dealt.instrument.to_ron()
    )
}
