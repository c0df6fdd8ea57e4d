//! Numbers and switches of a goal, within what a scene's file allows.

use kiss3d::egui::{Button, DragValue, RichText, Ui};
use sim_core::facts::Facts;
use sim_core::plan::Weight;
use sim_core::units::{Quantity, Unit};

use crate::panels::output::PanelOutput;

/// A number that is dragged or typed.
pub(super) fn number<Q: Quantity>(
    ui: &mut Ui,
    value: &mut Q,
    facts: &Facts,
    name: String,
    output: &mut PanelOutput,
) {
    let (suffix, decimals) = match facts.unit {
        Unit::Degree => (facts.unit.sign(), 1),
        Unit::Millimetre => ("", 2),
    };
    let now = value.number();
    let mut number = now;
    let field = ui
        .add(
            DragValue::new(&mut number)
                .range(facts.min..=facts.max)
                .speed(facts.step / 10.0)
                .fixed_decimals(decimals)
                .suffix(suffix),
        )
        .on_hover_text(facts.doc);
    output.note(name, &field);
    if field.changed() && number.total_cmp(&now).is_ne() {
        *value = Q::from_number(number);
    }
}

/// An angle in plain degrees, of moulds.
pub(super) fn degrees(ui: &mut Ui, value: &mut f64, most: f64, name: String, output: &mut PanelOutput) {
    let field = ui
        .add(DragValue::new(value).range(0.0..=most).speed(0.1).max_decimals(1).suffix(Unit::Degree.sign()));
    output.note(name, &field);
}

/// How much a change counts beside others.
pub(super) fn weight(ui: &mut Ui, weight: &mut Weight, name: String, output: &mut PanelOutput) {
    let now = weight.get();
    let mut number = now;
    let field =
        ui.add(DragValue::new(&mut number).range(0.001..=1000.0).speed(0.01).max_decimals(3)).on_hover_text(
            "How much a change of one degree counts beside the other settings: the larger, the less this one changes",
        );
    output.note(name, &field);
    if field.changed() && number.total_cmp(&now).is_ne() {
        *weight = Weight::new(number).unwrap_or(*weight);
    }
}

/// A small button that is in or out.
pub(super) fn switch(ui: &mut Ui, words: &str, is_in: bool, name: String, output: &mut PanelOutput) -> bool {
    let button = ui.add(Button::new(RichText::new(words).small()).selected(is_in));
    output.note(name, &button);
    button.clicked()
}

/// Switches that put things into a list or take them out.
pub(super) fn members<T: Copy + PartialEq>(
    ui: &mut Ui,
    list: &mut Vec<T>,
    all: impl IntoIterator<Item = (T, String)>,
    name: &str,
    output: &mut PanelOutput,
) {
    for (one, words) in all {
        let is_in = list.contains(&one);
        if switch(ui, &words, is_in, format!("{name}={words}"), output) {
            if is_in {
                list.retain(|member| *member != one);
            } else {
                list.push(one);
            }
        }
    }
}
