//! Required inclines as CSV: one row a place and excursion.

use std::io::{self, Write};

use sim_core::plan::{FacetPlace, Glide, RequiredInclines, Role};
use sim_core::units::{Angle, Length};

use crate::output::{Column, Row, Rows, column, exact};
use report::planned::{Answer, Planned};

struct InclineRow<'r> {
    needed: &'r RequiredInclines,
    role: Role,
    /// Left at the tooth by a balance.
    gap: Option<Length>,
}

impl InclineRow<'_> {
    fn place(&self) -> &FacetPlace {
        &self.needed.place
    }

    fn glide(&self) -> &Glide {
        self.needed.glide(self.role)
    }

    /// The rule of proportion speaks of protrusion only.
    fn of_rule(&self, angle: impl Fn(&RequiredInclines) -> Angle) -> Option<f64> {
        (self.role == Role::Protrusive).then(|| degrees(angle(self.needed)))
    }
}

fn degrees(angle: Angle) -> f64 {
    exact(angle.degrees())
}

impl Row for InclineRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("tooth", |row| row.place().tooth.number().into()),
            column("name", |row| row.place().name.as_deref().into()),
            column("x_mm", |row| exact(row.place().at.x).into()),
            column("y_mm", |row| exact(row.place().at.y).into()),
            column("z_mm", |row| exact(row.place().at.z).into()),
            column("excursion", |row| row.role.name().into()),
            column("tangent_deg", |row| degrees(row.glide().tangent.along_way).into()),
            column("tangent_to_axis_deg", |row| degrees(row.glide().tangent.to_axis).into()),
            column("tangent_direction_deg", |row| degrees(row.glide().tangent.direction).into()),
            column("tangent_sagittal_deg", |row| row.glide().tangent.sagittal.map(degrees).into()),
            column("tangent_transverse_deg", |row| row.glide().tangent.transverse.map(degrees).into()),
            column("chord_deg", |row| degrees(row.glide().chord.along_way).into()),
            column("chord_to_axis_deg", |row| degrees(row.glide().chord.to_axis).into()),
            column("chord_direction_deg", |row| degrees(row.glide().chord.direction).into()),
            column("chord_sagittal_deg", |row| row.glide().chord.sagittal.map(degrees).into()),
            column("chord_transverse_deg", |row| row.glide().chord.transverse.map(degrees).into()),
            column("by_proportion_deg", |row| row.of_rule(|needed| needed.by_proportion).into()),
            column("proportion_is_off_deg", |row| row.of_rule(RequiredInclines::rule_is_off).into()),
            column("gap_mm", |row| row.gap.map(|gap| exact(gap.mm())).into()),
        ]
    }
}

/// Writes the inclines of all teeth and cusps; for a balance, with the gap left at each tooth.
pub(super) fn write(planned: &Planned, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<InclineRow<'_>>(out)?;
    for needed in planned.teeth.iter().chain(&planned.cusps) {
        for role in Role::ALL {
            rows.put(&InclineRow { needed, role, gap: gap(planned, &needed.place, role) })?;
        }
    }
    rows.end()
}

fn gap(planned: &Planned, place: &FacetPlace, role: Role) -> Option<Length> {
    let Some(Answer::Balanced(balanced)) = planned.answer.as_ref().filter(|_| place.name.is_none()) else {
        return None;
    };
    let left = balanced.gaps.iter().find(|gap| gap.tooth == place.tooth && gap.role == role);
    left.map(|left| left.gap)
}
