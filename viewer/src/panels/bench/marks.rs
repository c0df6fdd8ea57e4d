//! The marks of a dealt patient.

use kiss3d::egui::{Grid, Label, RichText, Ui};
use sim_core::practice::{Mark, POINTS_PER_SETTING, POINTS_PER_VERDICT};
use words::number::{angle, as_given, one_decimal};
use words::verdict::mark;

use super::super::text::{heads, title};
use super::answer::check_words;
use super::controls::small;

pub(super) fn show(ui: &mut Ui, marks: &Mark) {
    title(ui, "Marks");
    ui.label(RichText::new(format!("{} of 100 points", one_decimal(marks.points))).heading());
    Grid::new("setting marks").num_columns(4).spacing([8.0, 3.0]).striped(true).show(ui, |ui| {
        heads(ui, &["setting", "set", "true", "points"]);
        for one in &marks.settings {
            ui.label(format!("{} {}", one.setting.symbol.unwrap_or(one.setting.label), one.side));
            ui.label(one.answer.map_or_else(|| "open".to_owned(), |given| angle(given, 1)));
            ui.label(angle(one.truth, 1));
            ui.label(format!("{} of {}", one_decimal(one.points), as_given(POINTS_PER_SETTING)));
            ui.end_row();
        }
    });
    for one in &marks.settings {
        let name = one.setting.symbol.unwrap_or(one.setting.label);
        small(ui, format!("{name} {}: {}.", one.side, mark::setting(one.outcome)));
    }
    ui.add_space(4.0);
    Grid::new("verdict marks").num_columns(3).spacing([8.0, 3.0]).striped(true).show(ui, |ui| {
        heads(ui, &["of", "your verdict", "points"]);
        for one in &marks.verdicts {
            ui.label(check_words(one.check));
            ui.add(Label::new(mark::verdict(one.outcome)).wrap());
            ui.label(format!("{} of {}", one_decimal(one.points), as_given(POINTS_PER_VERDICT)));
            ui.end_row();
        }
    });
    for one in marks.verdicts.iter().filter(|one| !one.faults.is_empty()) {
        small(ui, format!("At fault: {}.", mark::faults(&one.faults, marks.centric_off)));
    }
}
