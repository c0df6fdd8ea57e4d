//! The page "Why": a number in its parts, where they come from, and what moves it.

use kiss3d::egui::{Button, Label, RichText, ScrollArea, Sense, Stroke, Ui, vec2};
use sim_core::account::{Account, Number, Part, PartKind};
use sim_core::excursion::Drive;
use sim_core::frame::Side;
use words::number::{change, decimals, with_unit};
use words::verdict::account::{
    formula, meaning, no_slopes, number, part, sentence, slope, slopes_hold, source, values, way,
};

use super::output::PanelOutput;
use super::style;
use super::text::title;
use crate::action::Action;
use crate::palette;
use crate::state::State;

/// Decimals of an amount.
const PLACES: usize = 3;
/// Width of a bar's half, at the usual size of words.
const HALF_BAR: f32 = 44.0;
/// Width of an amount before its bar.
const AMOUNT: f32 = 56.0;
/// Slopes shown; the rest moves the number less.
const MOST_SLOPES: usize = 12;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ScrollArea::vertical().id_salt("account").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        choose(ui, state, output);
        ui.separator();
        match state.explaining.found.as_ref().map(|found| &found.account) {
            Some(Ok(account)) => told(ui, state, account, output),
            Some(Err(why)) => {
                ui.label(why);
            }
            None => {}
        }
    });
}

/// Which number: of a cusp, or of the jaw and its condyles.
fn choose(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let now = state.explaining.number;
    let cusp = now.cusp().unwrap_or(0);
    let mut button = |ui: &mut Ui, words: String, of: Number, name: String| {
        let button = ui.add(Button::new(RichText::new(words).small()).selected(now == of));
        output.note(name, &button);
        if button.clicked() {
            output.actions.push(Action::Explain(of));
        }
    };
    if !state.shown.scene.cusps.is_empty() {
        ui.horizontal_wrapped(|ui| {
            for (place, own) in state.shown.scene.cusps.iter().enumerate() {
                let of = if matches!(now, Number::Separation(_)) {
                    Number::Separation(place)
                } else {
                    Number::Clearance(place)
                };
                button(ui, words::name::cusp(own), of, format!("account_cusp={place}"));
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        let of_cusps = [(Number::Separation(cusp), "separation"), (Number::Clearance(cusp), "clearance")];
        let of_cusps = of_cusps.into_iter().filter(|_| !state.shown.scene.cusps.is_empty());
        let of_jaw = [(Number::IncisalDisplacement, "incisal point"), (Number::Opening, "rotation")];
        for (of, words) in of_cusps.chain(of_jaw) {
            button(ui, words.to_owned(), of, format!("account={}", of.name()));
        }
        for side in Side::BOTH {
            let of_side = [
                (Number::Advance(side), "advance"),
                (Number::Medial(side), "medial"),
                (Number::Drop(side), "drop"),
            ];
            for (of, words) in of_side {
                button(
                    ui,
                    format!("{words} {}", words::name::side(side)),
                    of,
                    format!("account={}", of.name()),
                );
            }
        }
    });
}

fn told(ui: &mut Ui, state: &State, account: &Account, output: &mut PanelOutput) {
    let cusp = account.number.cusp().and_then(|place| state.shown.scene.cusps.get(place));
    let unit = account.number.unit();
    let name = number(account.number, cusp);
    ui.add(
        Label::new(RichText::new(format!("{name}: {}", with_unit(account.value, unit, PLACES))).strong())
            .wrap(),
    );
    small(ui, meaning(account.number));
    title(ui, "Its parts, in the order in which the pose comes about");
    let greatest = account.parts.iter().map(|part| part.amount.abs()).fold(0.0, f64::max);
    for (place, of) in account.parts.iter().enumerate() {
        row(ui, place, of, greatest, account.number, output);
    }
    ui.horizontal(|ui| {
        let sum: f64 = account.parts.iter().map(|part| part.amount).sum();
        amount(ui, RichText::new(decimals(sum, PLACES)).strong());
        ui.label(RichText::new(format!("{} · the sum", unit.sign().trim())).strong());
    });
    if let Some(said) = sentence(account) {
        ui.add(Label::new(said).wrap());
    }
    slopes(ui, state, account);
    formulas(ui, account);
}

fn small(ui: &mut Ui, words: impl Into<String>) {
    ui.add(Label::new(RichText::new(words).small()).wrap());
}

fn amount(ui: &mut Ui, words: RichText) {
    let size = vec2(AMOUNT * style::scale(ui.ctx()), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(
        size,
        kiss3d::egui::Layout::right_to_left(kiss3d::egui::Align::Center),
        |ui| {
            ui.set_min_width(size.x);
            ui.label(words);
        },
    );
}

/// A part: what it adds, as a number and as a bar, what it is, and what goes into it. A drop or a shift of a
/// condyle can be taken apart in its turn.
fn row(ui: &mut Ui, place: usize, of: &Part, greatest: f64, number: Number, output: &mut PanelOutput) {
    let name = format!("{}  {}", place + 1, part(of));
    ui.horizontal(|ui| {
        amount(ui, RichText::new(change(of.amount, PLACES)));
        bar(ui, of.amount, greatest);
        match further(of).filter(|further| *further != number) {
            Some(further) => {
                let button = ui.add(Button::new(name).small().wrap());
                output.note(format!("part={place}"), &button);
                output.explain(&button, "Takes this drop apart in its turn.");
                if button.clicked() {
                    output.actions.push(Action::Explain(further));
                }
            }
            None => {
                ui.add(Label::new(name).wrap());
            }
        }
    });
    let put_in = values(of);
    let said: Vec<String> =
        [Some(put_in).filter(|values| !values.is_empty()), way(of)].into_iter().flatten().collect();
    if !said.is_empty() {
        ui.horizontal(|ui| {
            ui.add_space((AMOUNT + 2.0 * HALF_BAR) * style::scale(ui.ctx()) + 12.0);
            let words = RichText::new(said.join("; ")).small().color(palette::PENCIL.egui());
            ui.add(Label::new(words).wrap());
        });
    }
}

/// The number that a part can be followed to.
const fn further(of: &Part) -> Option<Number> {
    match of.kind {
        PartKind::CondyleDrop { side, .. } => Some(Number::Drop(side)),
        _ => None,
    }
}

/// A bar from the middle: to the right what adds, to the left what takes away.
#[allow(clippy::cast_possible_truncation, reason = "a part of a bar")]
fn bar(ui: &mut Ui, amount: f64, greatest: f64) {
    let half = HALF_BAR * style::scale(ui.ctx());
    let (rect, _) = ui.allocate_exact_size(vec2(2.0 * half, 12.0), Sense::hover());
    let middle = rect.center().x;
    ui.painter().vline(middle, rect.y_range(), Stroke::new(1.0, palette::EDGE.egui()));
    if greatest <= 0.0 {
        return;
    }
    let end = middle + half * (amount / greatest) as f32;
    let (from, to) = if end < middle { (end, middle) } else { (middle, end) };
    let filled = kiss3d::egui::Rect::from_x_y_ranges(from..=to, rect.shrink(2.0).y_range());
    ui.painter().rect_filled(filled, 0.0, palette::ACTIVE.egui());
}

fn slopes(ui: &mut Ui, state: &State, account: &Account) {
    title(ui, "What moves it most");
    match &account.slopes {
        Err(why) => small(ui, no_slopes(*why)),
        Ok(slopes) if slopes.is_empty() => small(ui, "No setting moves it here."),
        Ok(slopes) => {
            for of in slopes.iter().take(MOST_SLOPES) {
                ui.add(Label::new(slope(account.number, of)).wrap());
            }
            if slopes.len() > MOST_SLOPES {
                small(ui, format!("{} more settings move it less.", slopes.len() - MOST_SLOPES));
            }
            let drive = state.shown.solved.excursion.drive();
            small(ui, slopes_hold(matches!(drive, Drive::IncisalDisplacement(_) | Drive::Tracing(_))));
        }
    }
}

/// Each formula once, with the parts that it is of.
fn formulas(ui: &mut Ui, account: &Account) {
    let mut told: Vec<((&str, &str), Vec<String>)> = Vec::new();
    for (place, of) in account.parts.iter().enumerate() {
        let what = (formula(account.number, of), source(of));
        let place = (place + 1).to_string();
        match told.iter_mut().find(|(own, _)| *own == what) {
            Some((_, places)) => places.push(place),
            None => told.push((what, vec![place])),
        }
    }
    title(ui, "Formulas and their sources");
    for ((formula, source), places) in told {
        ui.add(Label::new(format!("{}: {formula}", places.join(", "))).wrap());
        small(ui, source);
    }
}
