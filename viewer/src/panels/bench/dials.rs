//! The guides' dials: what is turned, locked, read and set.

use kiss3d::egui::{Id, RichText, ScrollArea, Ui};
use sim_core::frame::Side;
use sim_core::practice::{Form, Level};
use words::number::angle;

use super::super::output::PanelOutput;
use super::super::text::title;
use super::super::{number, slider, style};
use super::controls::{choice, press, push, record_name, small};
use crate::action::Action;
use crate::bench::{BenchAct, Dealing, Dial, LateralFrom, OnBench};
use crate::state::State;

pub(crate) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let room = ui.available_height() - super::super::hint::height(ui);
    ScrollArea::vertical().id_salt("dials").auto_shrink(false).max_height(room).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        if let Some(bench) = &state.bench {
            guides(ui, bench, output);
            readings(ui, bench);
            anterior(ui, bench, output);
        }
        dealing(ui, state, output);
        ui.add_space(6.0);
    });
}

fn guides(ui: &mut Ui, bench: &OnBench, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.heading("Guides");
        let zero = press(ui, output, "bench_zero", "Zero", BenchAct::Zero);
        output.explain(&zero, "Sets both guides to their zero and loosens every screw.");
        let mut tied = bench.tied;
        let tie = ui.checkbox(&mut tied, "both together");
        output.explain(&tie, "From the next turn on, both guides are turned together.");
        output.note("bench_tie", &tie);
        if tie.changed() {
            output.actions.push(Action::Bench(BenchAct::Tie(tied)));
        }
    });
    for (heading, dials) in [
        ("horizontal inclination, H", Side::BOTH.map(Dial::Inclination)),
        ("lateral angle, L", Side::BOTH.map(Dial::Lateral)),
    ] {
        title(ui, heading);
        for dial in dials {
            row(ui, bench, dial, output);
        }
    }
    ui.horizontal_wrapped(|ui| {
        let read = press(ui, output, "read_scales", "Read the scales", BenchAct::ReadScales);
        output.explain(
            &read,
            "Reads the scales of the guides that the record between the casts sets: both inclinations in protrusion, the \
             lateral angle of the side that orbits in a lateral record. Lock them first.",
        );
        if !bench.is_asked() {
            let close = press(ui, output, "turn_to_close", "Turn until it closes", BenchAct::TurnToClose);
            output.explain(&close, "Turns every guide that is not locked until the split closes on this record.");
        }
    });
    for side in Side::BOTH {
        let dial = Dial::Lateral(side);
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(format!("L {side}")).small());
            let rule = press(ui, output, &format!("rule.{side}"), "by rule", BenchAct::LateralByRule(side));
            output.explain(
                &rule,
                "Sets L = H/8 + 12, for want of a record. The rule knows nothing of this patient.",
            );
            if !bench.is_asked() {
                let by = BenchAct::LateralByRecord(side);
                let record = press(ui, output, &format!("record.{side}"), "by record", by);
                output.explain(
                    &record,
                    "Sets the angle at which the medial wall touches its sphere on the lateral record.",
                );
            }
            let from = match bench.lateral_from(side) {
                Some(LateralFrom::Record) => "set by record",
                Some(LateralFrom::Rule) => "set by rule",
                None if bench.is_locked(dial) => "locked, not read",
                None => "not set",
            };
            small(ui, from);
        });
    }
}

/// A dial: its slider, its number, its screw.
fn row(ui: &mut Ui, bench: &OnBench, dial: Dial, output: &mut PanelOutput) {
    let facts = dial.facts();
    let (now, spoken) = (bench.set_to(dial).degrees(), format!("{}, {}", facts.label, dial.side()));
    let now = tidy(now);
    ui.horizontal(|ui| {
        /// Width of the side's name, and of the box for the screw.
        const SIDE: f32 = 34.0;
        const SCREW: f32 = 62.0;
        let scale = style::scale(ui.ctx());
        let size = kiss3d::egui::vec2(SIDE * scale, ui.spacing().interact_size.y);
        ui.allocate_ui(size, |ui| {
            ui.set_min_width(SIDE * scale);
            ui.label(RichText::new(dial.side().name()).small());
        });
        let width =
            ui.available_width() - (number::WIDTH + SCREW) * scale - 4.0 * ui.spacing().item_spacing.x;
        let (response, moved) = slider::show(ui, &spoken, now, (facts.min, facts.max), facts.step, width);
        output.explain(&response, facts.doc);
        output.note(format!("dial:{}", dial.key()), &response);
        if let Some(to) = moved {
            output.actions.push(Action::Bench(BenchAct::Turn(dial, to)));
        }
        if response.drag_stopped() || response.lost_focus() {
            output.actions.push(Action::LetGo);
        }
        let typed = number::show(ui, Id::new(("dial", dial.key())), &spoken, now);
        output.explain(&typed.response, facts.doc);
        output.note(format!("number:{}", dial.key()), &typed.response);
        match typed.typed {
            Some(Ok(to)) => {
                let turn = Action::Bench(BenchAct::Turn(dial, to));
                output.actions.extend([Action::LetGo, turn, Action::LetGo]);
            }
            Some(Err(text)) => output.actions.push(Action::NotANumber(spoken.clone(), text)),
            None => {}
        }
        let mut tight = bench.is_locked(dial);
        let lock = ui.checkbox(&mut tight, RichText::new("lock").small());
        output.explain(
            &lock,
            "Tightens the screw of this dial: it is then not turned before the screw is loosened.",
        );
        output.note(format!("lock:{}", dial.key()), &lock);
        if lock.changed() {
            output.actions.push(Action::Bench(BenchAct::Lock(dial, tight)));
        }
    });
}

/// Degrees without the last digit that turning them to radians and back leaves.
fn tidy(degrees: f64) -> f64 {
    const PLACES: f64 = 1e9;
    (degrees * PLACES).round() / PLACES
}

/// What the scales have read so far.
fn readings(ui: &mut Ui, bench: &OnBench) {
    if bench.readings.is_empty() {
        return;
    }
    title(ui, "Readings");
    for reading in &bench.readings {
        let letter = match reading.dial {
            Dial::Inclination(_) => "H",
            Dial::Lateral(_) => "L",
        };
        let side = reading.dial.side();
        ui.label(format!(
            "{letter} {side} {} on {}",
            angle(reading.angle, 1),
            record_name(bench, reading.record)
        ));
    }
}

fn anterior(ui: &mut Ui, bench: &OnBench, output: &mut PanelOutput) {
    title(ui, "Anterior guide");
    ui.horizontal_wrapped(|ui| {
        let set = press(ui, output, "set_anterior", "Set it", BenchAct::SetAnterior);
        output.explain(&set, "Sets plate and wings as the case has them, after the condylar guides.");
        small(ui, if bench.is_anterior_set() { "set" } else { "not set: pin up, table out of the way" });
    });
}

/// What patient is to be dealt.
fn dealing(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    title(ui, "Practice");
    let now = state.dealing;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("level").small());
        for level in Level::ALL {
            let words = Dealing::level_words(level);
            let action = Action::Dealing(Dealing { level, ..now });
            choice(ui, output, &format!("level={words}"), words, now.level == level, action);
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("records").small());
        for form in Form::ALL {
            let words = Dealing::form_words(form);
            let action = Action::Dealing(Dealing { form, ..now });
            choice(ui, output, &format!("form={words}"), words, now.form == form, action);
        }
    });
    ui.horizontal_wrapped(|ui| {
        let mut with_faults = now.with_faults;
        let faults = ui.checkbox(&mut with_faults, RichText::new("with faults, none to three").small());
        output.note("with_faults", &faults);
        if faults.changed() {
            output.actions.push(Action::Dealing(Dealing { with_faults, ..now }));
        }
    });
    let deal = push(ui, output, "deal", "Deal a patient", Action::DrawPatient);
    output.explain(&deal, "Lays an invented patient on the bench, in place of the case that lies there.");
}
