//! A dealt patient: what an observer saw, and the student's answer.

use kiss3d::egui::{RichText, Ui};
use sim_core::frame::Side;
use sim_core::practice::{Check, Direction, Verdict};
use words::number::angle;

use super::super::output::PanelOutput;
use super::super::text::title;
use super::controls::{choice, press, small};
use crate::action::Action;
use crate::bench::{BenchAct, Dial, OnBench, Patient};

pub(super) fn show(ui: &mut Ui, bench: &OnBench, patient: &Patient, output: &mut PanelOutput) {
    title(ui, "What an observer saw");
    for line in
        words::verdict::observed::observed(&patient.deal.observed, &patient.deal.instrument.instrument)
    {
        small(ui, line);
    }
    small(ui, "The tracing, seen from above:");
    super::super::plate::points_alone(ui, &patient.deal.tracing);
    title(ui, "Your answer");
    small(
        ui,
        "Say of each whether it is sound. The settings are those of the dials; leave open what rests on something that must be made again first.",
    );
    for check in Check::ALL {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(check_words(check)).small());
            for (verdict, words) in
                [(Verdict::Accepted, "sound"), (Verdict::Rejected, "at fault"), (Verdict::Open, "not said")]
            {
                let pressed = patient.verdicts.on(check) == verdict;
                let action = Action::Bench(BenchAct::Judge(check, verdict));
                choice(ui, output, &format!("judge:{}={words}", check.name()), words, pressed, action);
            }
        });
        if check == Check::CentricRecord && patient.verdicts.centric_record == Verdict::Rejected {
            ui.horizontal_wrapped(|ui| {
                small(ui, "the first record holds the jaw");
                for direction in Direction::ALL {
                    let words = words::verdict::mark::direction(direction);
                    let pressed = patient.verdicts.centric_off == Some(direction);
                    let action = Action::Bench(BenchAct::CentricOff(Some(direction)));
                    choice(ui, output, &format!("off={}", direction.name()), words, pressed, action);
                }
            });
        }
    }
    for side in Side::BOTH {
        ui.horizontal_wrapped(|ui| {
            for (letter, dial) in [("H", Dial::Inclination(side)), ("L", Dial::Lateral(side))] {
                let mut open = patient.is_open(dial);
                let words = format!("{letter} {side} {}: leave open", angle(bench.set_to(dial), 1));
                let leave = ui.checkbox(&mut open, RichText::new(words).small());
                output.note(format!("open:{}", dial.key()), &leave);
                if leave.changed() {
                    output.actions.push(Action::Bench(BenchAct::LeaveOpen(dial, open)));
                }
            }
        });
    }
    press(ui, output, "hand_in", "Hand in the answer", BenchAct::HandIn);
    small(ui, "Handed in, it is marked and cannot be changed.");
}

/// What is asked of a thing that can be at fault.
pub(super) const fn check_words(check: Check) -> &'static str {
    match check {
        Check::Tracing => "tracing",
        Check::CentricRecord => "centric record",
        Check::ProtrusiveRecord => "protrusive record",
        Check::LateralRecords => "lateral records",
        Check::Guides => "guides zeroed",
        Check::Locks => "locks of the guides",
        Check::Pin => "pin flush",
        Check::Table => "incisal table level",
    }
}
