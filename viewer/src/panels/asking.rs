//! Cards in the middle of the window: what it asks.

use kiss3d::egui::{Button, Context, Id, Key, Label, RichText, ScrollArea, TextEdit, TextWrapMode, Ui};

use super::output::PanelOutput;
use super::style;
use super::text::card_window;
use crate::action::Action;
use crate::asking::{Answer, Asking};
use crate::page::Room;
use crate::palette;
use crate::place::Place;
use crate::state::State;
use crate::writing::{OutKind, WriteCard};

pub(super) fn show(ctx: &Context, state: &State, output: &mut PanelOutput) {
    let Some(asking) = &state.asking else { return };
    let width = 460.0 * style::scale(ctx);
    card_window("asking").show(ctx, |ui| {
        ui.set_width(width.min(ctx.content_rect().width() - 60.0));
        match asking {
            Asking::Open(path) => {
                if state.place.is_page() {
                    choose(ui, output);
                } else {
                    open(ui, path, output);
                }
                listed(ui, state, output);
            }
            Asking::Save { path, .. } => save(ui, path, state.place, output),
            Asking::Replace { path, why, .. } => {
                ui.heading("Replace this file?");
                ui.label(words::quoted::path(path));
                ui.label(why);
                answers(ui, output, &[("Replace it", Answer::Go)]);
            }
            Asking::Write(card) => write(ui, state, card, output),
            Asking::WriteOver(writing) => {
                ui.heading("Replace this file?");
                ui.label(words::quoted::path(&writing.path));
                ui.label("There is a file of this name. What is in it now will be gone.");
                answers(ui, output, &[("Replace it", Answer::Go)]);
            }
            Asking::Close => {
                ui.heading("There are changes that are not saved");
                ui.label(
                    "Closed now, they are kept on this machine and offered when the viewer is opened again.",
                );
                answers(ui, output, &[("Save first", Answer::SaveFirst), ("Close (F10)", Answer::Go)]);
            }
            Asking::TakeUp(offer) => {
                ui.heading("Changes were left unsaved");
                ui.label(format!("{}, left {}.", offer.title, offer.left));
                answers(ui, output, &[("Take them up", Answer::Go), ("Throw them away", Answer::Discard)]);
            }
        }
    });
}

fn open(ui: &mut Ui, path: &str, output: &mut PanelOutput) {
    ui.heading("Open a scene");
    ui.label("Type its path, choose it below, or drop a file on the window.");
    path_field(ui, path, output);
    answers(
        ui,
        output,
        &[("Open", Answer::Go), ("Open as B", Answer::Beside), ("Choose in a dialog", Answer::Browse)],
    );
}

/// As [`open`], where there are no paths.
fn choose(ui: &mut Ui, output: &mut PanelOutput) {
    ui.heading("Open files of this device");
    ui.label(
        "Choose a scene, a case, a lesson or the points of a tracing here, or drop them on the page; a scene together with \
         the casts that it names. The page reads them itself: nothing is sent anywhere.",
    );
    answers(ui, output, &[("Choose files…", Answer::Browse)]);
    ui.label(
        RichText::new("Scenes and lessons that come with the program are on the page Lessons (E).")
            .small()
            .color(palette::PENCIL.egui()),
    );
}

/// Files to choose from.
fn listed(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let shelf = &state.shelf;
    let lists: &[_] = if state.place.is_page() {
        &[("given to this page", &shelf.beside)]
    } else {
        &[("opened lately", &shelf.recent), ("in this folder", &shelf.beside)]
    };
    ScrollArea::vertical().max_height(260.0 * style::scale(ui.ctx())).show(ui, |ui| {
        for (title, files) in lists {
            if files.is_empty() {
                continue;
            }
            ui.label(RichText::new(*title).small().color(palette::PENCIL.egui()));
            for file in *files {
                let name = file.file_name().unwrap_or(file.as_os_str()).to_string_lossy().into_owned();
                ui.horizontal(|ui| {
                    let button = ui.button(&name);
                    output.note(format!("file={name}"), &button);
                    if button.clicked() {
                        output.actions.push(Action::Answer(Answer::This(file.clone())));
                    }
                    let beside = ui.small_button("as B").on_hover_text("Beside the set-up that is shown");
                    output.note(format!("beside={name}"), &beside);
                    if beside.clicked() {
                        output.actions.push(Action::Answer(Answer::ThisBeside(file.clone())));
                    }
                    let folder = file.parent().map(words::quoted::path).unwrap_or_default();
                    ui.add(Label::new(RichText::new(folder).small()).wrap_mode(TextWrapMode::Truncate));
                });
            }
        }
    });
}

fn save(ui: &mut Ui, path: &str, place: Place, output: &mut PanelOutput) {
    ui.heading("Save the scene as");
    path_field(ui, path, output);
    if place.is_page() {
        ui.label("The browser puts it among its downloads, under a name that is free there.");
        answers(ui, output, &[("Download", Answer::Go)]);
    } else {
        answers(ui, output, &[("Save", Answer::Go), ("Choose in a dialog", Answer::Browse)]);
    }
}

fn write(ui: &mut Ui, state: &State, card: &WriteCard, output: &mut PanelOutput) {
    ui.heading("Write into a file");
    let is_offered = |kind: &OutKind| state.room == Room::Instrument || !kind.is_of_an_excursion();
    ui.horizontal_wrapped(|ui| {
        for kind in OutKind::ALL.into_iter().filter(is_offered) {
            let is_possible = kind.why_not(state.place).is_none();
            let button = Button::selectable(card.kind == kind, kind.label());
            let button = ui.add_enabled(is_possible, button);
            output.note(format!("write={}", kind.label()), &button);
            if button.clicked() {
                output.actions.push(Action::WriteAs(kind));
            }
        }
    });
    for kind in OutKind::ALL.into_iter().filter(is_offered) {
        if let Some(why) = kind.why_not(state.place) {
            let said = RichText::new(format!("Not here: {}; {why}.", kind.label()));
            ui.label(said.small().color(palette::PENCIL.egui()));
        }
    }
    if state.place.is_page() && card.kind.has_size() {
        ui.label("The picture has as many pixels as the page: a larger window makes a larger one.");
    } else if card.kind.has_size() {
        ui.horizontal(|ui| {
            let name = ui.label("size in pixels");
            let mut typed = card.size.clone();
            let field = ui.add(TextEdit::singleline(&mut typed).id(Id::new("size")).desired_width(110.0));
            let field = field.labelled_by(name.id);
            output.note("size", &field);
            if field.changed() {
                output.actions.push(Action::TypeSize(typed));
            }
        });
    }
    path_field(ui, &card.path, output);
    if let Some(problem) = &card.problem {
        ui.label(RichText::new(problem).color(palette::INTERFERENCE.egui()));
    }
    let words = if state.place.is_page() { "Download" } else { "Write" };
    answers(ui, output, &[(words, Answer::Go)]);
}

/// The field in which a path is typed, with the keyboard in it when the card comes up.
fn path_field(ui: &mut Ui, path: &str, output: &mut PanelOutput) {
    let mut typed = path.to_owned();
    let field = ui.add(TextEdit::singleline(&mut typed).id(Id::new("path")).desired_width(f32::INFINITY));
    output.note("path", &field);
    // Asked before the data is taken: both stand behind one lock.
    let now = ui.ctx().cumulative_pass_nr();
    let fresh = ui.data_mut(|data| {
        let known = Id::new("path has had the keyboard");
        let was = data.get_temp::<u64>(known);
        data.insert_temp(known, now);
        was.is_none_or(|was| was + 1 < now)
    });
    if fresh {
        field.request_focus();
    }
    if field.changed() {
        output.actions.push(Action::TypePath(typed));
    }
    if field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter)) {
        output.actions.push(Action::Answer(Answer::Go));
    }
}

fn answers(ui: &mut Ui, output: &mut PanelOutput, answers: &[(&str, Answer)]) {
    ui.horizontal(|ui| {
        for (words, answer) in answers {
            let button = ui.button(*words);
            output.note(format!("answer={words}"), &button);
            if button.clicked() {
                output.actions.push(Action::Answer(answer.clone()));
            }
        }
        let stay = ui.button("Not now (Esc)");
        output.note("answer=stay", &stay);
        if stay.clicked() {
            output.actions.push(Action::Dismiss);
        }
    });
}
