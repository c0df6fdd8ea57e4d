//! Required inclines as CSV: one row a place and excursion.

use std::io::{self, Write};

use sim_core::plan::Role;

use super::exact;
use super::rows::Rows;
use report::planned::{Answer, Planned};

const COLUMNS: [&str; 19] = [
    "tooth",
    "name",
    "x_mm",
    "y_mm",
    "z_mm",
    "excursion",
    "tangent_deg",
    "tangent_to_axis_deg",
    "tangent_direction_deg",
    "tangent_sagittal_deg",
    "tangent_transverse_deg",
    "chord_deg",
    "chord_to_axis_deg",
    "chord_direction_deg",
    "chord_sagittal_deg",
    "chord_transverse_deg",
    "by_proportion_deg",
    "proportion_is_off_deg",
    "gap_mm",
];

/// Writes the inclines of all teeth and cusps; for a balance, with the gap left at each tooth.
pub(crate) fn write(planned: &Planned, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::under(&COLUMNS, out)?;
    for needed in planned.teeth.iter().chain(&planned.cusps) {
        let place = &needed.place;
        for role in Role::ALL {
            let glide = needed.glide(role);
            let angles = [glide.tangent, glide.chord].map(|incline| {
                (
                    exact(incline.along_way.degrees()),
                    exact(incline.to_axis.degrees()),
                    exact(incline.direction.degrees()),
                    incline.sagittal.map(|angle| exact(angle.degrees())),
                    incline.transverse.map(|angle| exact(angle.degrees())),
                )
            });
            // The rule speaks of protrusion only.
            let rule = (role == Role::Protrusive)
                .then(|| (needed.by_proportion, needed.rule_is_off()))
                .map(|(rule, off)| (exact(rule.degrees()), exact(off.degrees())));
            let gap = match &planned.answer {
                Some(Answer::Balanced(found)) if place.name.is_none() => found
                    .gaps
                    .iter()
                    .find(|own| own.tooth == place.tooth && own.role == role)
                    .map(|own| exact(own.gap.mm())),
                _ => None,
            };
            rows.put((
                (place.tooth.number(), &place.name, exact(place.at.x), exact(place.at.y), exact(place.at.z)),
                role.name(),
                angles,
                (rule.map(|rule| rule.0), rule.map(|rule| rule.1), gap),
            ))?;
        }
    }
    rows.end()
}
