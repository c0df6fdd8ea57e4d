//! An account as an object.

use report::account::AccountReport;
use serde_json::{Value, json};
use sim_core::account::{Part, SettingSlope};
use sim_core::units::Unit;
use words::verdict::account::{formula, no_slopes, part, source, values};

use crate::output::exact;

pub(super) fn object(report: &AccountReport) -> Value {
    let account = &report.account;
    let number = account.number;
    let unit = name_of(number.unit());
    let parts: Vec<Value> = account.parts.iter().map(|part| part_object(report, part)).collect();
    let (slopes, reason) = match &account.slopes {
        Ok(slopes) => (Some(slopes.iter().map(slope_object).collect::<Vec<_>>()), None),
        Err(why) => (None, Some(no_slopes(*why))),
    };
    json!({
        "title": report.title,
        "excursion": report.excursion.movement().name(),
        "advance_mm": exact(report.placement.advance().mm()),
        "number": number.name(),
        "tooth": report.cusp.as_ref().map(|cusp| cusp.tooth().number()),
        "cusp": report.cusp.as_ref().map(|cusp| cusp.name()),
        "unit": unit,
        "value": exact(account.value),
        "parts": parts,
        "slopes": slopes,
        "no_slopes_because": reason,
    })
}

fn part_object(report: &AccountReport, of: &Part) -> Value {
    let moved = of.moved.map(|moved| [moved.forward, moved.left, moved.up].map(|way| exact(way.mm())));
    json!({
        "part": of.kind.name(),
        "words": part(of),
        "amount": exact(of.amount),
        "values": values(of),
        "formula": formula(report.account.number, of),
        "source": source(of),
        "moved_mm": moved,
    })
}

fn slope_object(of: &SettingSlope) -> Value {
    json!({
        "setting": of.mover.key(),
        "for_each": name_of(of.mover.facts().unit),
        "raised": exact(of.slope.raised()),
        "lowered": exact(of.slope.lowered()),
    })
}

const fn name_of(unit: Unit) -> &'static str {
    match unit {
        Unit::Degree => "deg",
        Unit::Millimetre => "mm",
    }
}
