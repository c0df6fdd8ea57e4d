//! The panels. They read the state and answer with what the person did; they change nothing.

mod account;
mod asking;
mod bench;
mod choice;
mod closeup;
mod contacts;
mod explained;
mod glossary;
mod header;
mod help;
mod hint;
mod instrument;
mod lesson;
mod notes;
mod number;
mod output;
mod panel_focus;
mod plan;
mod plate;
mod plot;
mod projections;
mod proposal;
mod readings;
mod section;
mod settings;
mod slider;
pub mod style;
mod terms;
mod text;
mod transport;
mod views;

pub use output::PanelOutput;
pub use projections::sheets;

use kiss3d::egui::{
    Align, Area, Context, Id, Layout as Flow, Order, Rect, Ui, UiBuilder, WidgetInfo, WidgetType, vec2,
};

use crate::action::Action;
use crate::appearance::Fold;
use crate::drawing;
use crate::layout::{Layout, Rows};
use crate::page::Room;
use crate::palette;
use crate::projection::Projection;
use crate::state::State;

/// Shows every panel and the marks over the picture.
pub fn show(ctx: &Context, state: &State, layout: &Layout, projection: &Projection) -> PanelOutput {
    let mut output = PanelOutput::default();
    let marks = ctx.layer_painter(kiss3d::egui::LayerId::new(Order::Background, Id::new("marks")));
    if state.room == Room::Instrument {
        drawing::point(&marks.with_clip_rect(layout.picture), state, projection, ctx.pixels_per_point());
    }
    drawing::paint(
        &marks.with_clip_rect(
            layout.picture.intersect(layout.instrument.union(layout.beside).union(layout.legend)),
        ),
        state,
        projection,
        layout,
        ctx.pixels_per_point(),
    );

    if state.appearance.picture_alone {
        if state.room == Room::Instrument {
            projections::show(ctx, state, layout, &mut output);
        }
        if state.appearance.transport_too {
            part(ctx, "transport", layout.transport, |ui| transport_of(ui, state, &mut output));
            notes::show(ctx, state, layout.picture, &mut output);
        }
        part(ctx, "footer", layout.footer, header::caution);
        return output;
    }
    part(ctx, "header", layout.header, |ui| header::show(ui, state, &mut output));
    if state.appearance.settings_folded {
        part(ctx, "settings", layout.settings, |ui| folded(ui, "settings", Fold::Settings, &mut output));
    } else {
        part(ctx, "settings", layout.settings, |ui| match state.room {
            Room::Instrument => settings::show(ui, state, &mut output),
            Room::Bench => bench::dials(ui, state, &mut output),
        });
    }
    if state.room == Room::Instrument {
        projections::show(ctx, state, layout, &mut output);
    }
    part(ctx, "views", layout.strip, |ui| match state.room {
        Room::Instrument => views::show(ui, state, &mut output),
        Room::Bench => bench::looks(ui, state, &mut output),
    });
    part(ctx, "transport", layout.transport, |ui| transport_of(ui, state, &mut output));
    if state.appearance.readings_folded {
        part(ctx, "readings", layout.readings, |ui| folded(ui, "numbers", Fold::Readings, &mut output));
    } else {
        part(ctx, "readings", layout.readings, |ui| match state.room {
            Room::Instrument => readings::show(ui, state, &mut output),
            Room::Bench => bench::readings(ui, state, &mut output),
        });
    }
    part(ctx, "footer", layout.footer, header::caution);
    notes::show(ctx, state, layout.picture, &mut output);
    if let Some(proposal) = &state.proposal {
        proposal::show(ctx, proposal, layout.strip, &mut output);
    }
    asking::show(ctx, state, &mut output);
    if let Some(glossary) = &state.glossary {
        glossary::show(ctx, glossary, &mut output);
    }
    if state.help {
        help::show(ctx, state.place, &mut output);
    }
    if !state.appearance.settings_folded {
        let hint = output.hint.clone();
        part_over(ctx, "hint", layout.settings, |ui| hint::show(ui, layout.settings, hint.as_deref()));
    }
    panel_focus::obey(ctx, state, layout, &output);
    style::ring_the_focus(ctx);
    output.focus_id = ctx.memory(|memory| memory.focused());
    output
}

fn transport_of(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    match state.room {
        Room::Instrument => transport::show(ui, state, output),
        Room::Bench => bench::records(ui, state, output),
    }
}

/// What is in the middle of the window, in words, from which its heights follow.
#[must_use]
pub fn rows(state: &State) -> Rows {
    if state.room == Room::Bench {
        return Rows { strip: bench::looks_words(), excursions: bench::record_words(state), legend: 0.0 };
    }
    Rows {
        strip: views::strip_words(state),
        excursions: transport::excursion_words(state),
        legend: drawing::legend_height(state),
    }
}

/// The button that shows a folded panel again.
fn folded(ui: &mut Ui, words: &str, panel: Fold, output: &mut PanelOutput) {
    let arrow = if panel == Fold::Settings { "»" } else { "«" };
    let unfold = ui.button(arrow);
    unfold.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, format!("show the {words}")));
    output.note(format!("unfold={words}"), &unfold);
    if unfold.clicked() {
        output.actions.push(Action::Fold(panel));
    }
}

/// Something written over a panel, which catches no mouse.
fn part_over(ctx: &Context, name: &str, rect: Rect, contents: impl FnOnce(&mut Ui)) {
    Area::new(Id::new(name))
        .order(Order::Middle)
        .interactable(false)
        .fixed_pos(rect.min)
        .constrain(false)
        .fade_in(false)
        .show(ctx, |ui| {
            ui.set_clip_rect(rect);
            contents(ui);
        });
}

/// A panel that fills a rectangle, whatever its contents.
fn part(ctx: &Context, name: &str, rect: Rect, contents: impl FnOnce(&mut Ui)) {
    Area::new(Id::new(name)).order(Order::Middle).fixed_pos(rect.min).constrain(false).fade_in(false).show(
        ctx,
        |ui| {
            ui.set_min_size(rect.size());
            ui.set_max_size(rect.size());
            ui.set_clip_rect(rect);
            ui.painter().rect_filled(rect, 0.0, palette::PANEL.egui());
            ui.painter().rect_stroke(
                rect,
                0.0,
                kiss3d::egui::Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.35)),
                kiss3d::egui::StrokeKind::Inside,
            );
            let inner = rect.shrink2(vec2(10.0, 5.0));
            let mut inside =
                ui.new_child(UiBuilder::new().max_rect(inner).layout(Flow::top_down(Align::Min)));
            inside.set_clip_rect(rect.shrink(1.0));
            contents(&mut inside);
        },
    );
}

#[cfg(test)]
mod tests {
    use kiss3d::egui::accesskit::Role;
    use kiss3d::egui::{RawInput, pos2};

    use super::*;
    use crate::action::Action;
    use crate::frame::lay_out;
    use crate::page::Page;
    use crate::place::Place;

    /// The controls that a screen reader would be told of, with what it would say.
    fn spoken(state: &State) -> Vec<(Role, Option<String>)> {
        let ctx = Context::default();
        ctx.enable_accesskit();
        style::set(&ctx, state.appearance);
        let mut nodes = Vec::new();
        // Panels need a frame to find their size.
        for _ in 0..2 {
            let screen = Rect::from_min_size(pos2(0.0, 0.0), vec2(1280.0, 800.0));
            let input = RawInput { screen_rect: Some(screen), ..RawInput::default() };
            let (layout, projection) = lay_out(state, [1280.0, 800.0], 1.0);
            let mut output = ctx.run_ui(input, |ui| {
                show(ui.ctx(), state, &layout, &projection);
            });
            output.textures_delta.clear();
            let update = output.platform_output.accesskit_update.expect("an update");
            nodes = update
                .nodes
                .iter()
                .map(|(_, node)| {
                    let words = node.label().or_else(|| node.value()).map(str::to_owned);
                    (node.role(), words)
                })
                .collect();
        }
        nodes
    }

    /// Whatever is written in the window or on its controls.
    fn written(state: &State) -> String {
        spoken(state).into_iter().filter_map(|(_, words)| words).collect::<Vec<_>>().join("\n")
    }

    /// Asserts which of these words stand in the window.
    fn says(state: &State, there: &[&str], absent: &[&str]) {
        let written = written(state);
        for words in there {
            assert!(written.contains(words), "{words:?} is missing in:\n{written}");
        }
        for words in absent {
            assert!(!written.contains(words), "{words:?} stands in:\n{written}");
        }
    }

    #[test]
    fn the_cards_say_what_is_possible_where_the_viewer_is_shown() {
        let mut desktop = State::open(sim_core::scene::Scene::thirty_degree()).unwrap();
        desktop.shelf.recent = vec!["lecture/recent.ron".into()];
        desktop.shelf.beside = vec!["beside.ron".into()];
        let mut page = desktop.clone();
        page.place = Place::Page;
        let mut both = |action: Action| {
            desktop.act(action.clone());
            page.act(action);
            (desktop.clone(), page.clone())
        };

        let (desktop, page) = both(Action::AskWhatToOpen);
        says(
            &desktop,
            &["Type its path", "Open as B", "Choose in a dialog", "recent.ron"],
            &["Choose files"],
        );
        says(
            &page,
            &[
                "Choose files…",
                "drop them on the page",
                "nothing is sent anywhere",
                "beside.ron",
                "as B",
                "Lessons (E)",
            ],
            &["Type its path", "recent.ron", "dialog", "in this folder"],
        );

        let (desktop, page) = both(Action::AskWhereToSave);
        says(&desktop, &["Choose in a dialog"], &["Download"]);
        says(&page, &["Download", "downloads"], &["dialog"]);

        let (desktop, page) = both(Action::AskWhatToWrite);
        says(&desktop, &["size in pixels"], &["Not here", "Download"]);
        let refusals = ["Not here: plot (PNG)", "Not here: animation (PNG)", "Not here: folder of pictures"];
        says(&page, &refusals, &["size in pixels"]);
        says(&page, &["Download", "as many pixels as the page", "table (CSV)", "plot (SVG)"], &[]);

        both(Action::Dismiss);
        let (desktop, page) = both(Action::Help);
        says(&desktop, &["close the viewer"], &[]);
        says(&page, &["show this help"], &["close the viewer"]);
        both(Action::Help);

        both(Action::UsualTracer(true));
        let (desktop, page) = both(Action::Page(Page::Tracing));
        says(&desktop, &["Template in its own size (PDF)"], &["(SVG)"]);
        says(&page, &["Template in its own size (SVG)"], &["(PDF)"]);

        let case = sim_core::practice::deal(1, sim_core::practice::Level::First, &[]).unwrap().case;
        let worked = ::report::case::WorkedCase::of(case, "mine.ron".to_owned(), String::new()).unwrap();
        for (state, is_page) in [(desktop, false), (page, true)] {
            let mut state = state;
            state.open_case_read(Ok((worked.clone(), Some("mine.ron".into()))));
            let printed = "write the sheet as HTML, open it and print it";
            let (there, absent): (&[&str], &[&str]) = if is_page {
                (&["Sheet as HTML", printed, "Read again"], &["Reload (F5)"])
            } else {
                (&["Sheet as HTML", "Sheet as PDF", "Reload (F5)"], &[printed])
            };
            says(&state, there, absent);
        }
    }

    #[test]
    fn marks_that_were_not_worked_out_are_not_passed_over() {
        use crate::casts::{Print, Show};
        use sim_core::cast::TooIntricate;
        let mut scene = sim_core::scene::Scene::thirty_degree();
        let fineness = sim_core::units::Length::from_mm(1.5);
        let casts = sim_core::cast::invented::InventedCasts::dentate();
        scene.invented_casts = Some(sim_core::cast::invented::InventedCasts { fineness, ..casts });
        let mut state = State::open(scene).unwrap();
        state.act(Action::Show(Show::Film));
        state.act(Action::Page(Page::Casts));
        says(&state, &["marks of"], &["No marks were worked out"]);
        let mut readout = (**state.readout.as_ref().unwrap()).clone();
        let why = TooIntricate { most: 3_000_000 };
        readout.print = Some(std::sync::Arc::new(Print { film: state.casts.film, marks: Err(why) }));
        state.readout = Some(std::sync::Arc::new(readout));
        let said = words::verdict::unmarked::sentence(why);
        says(&state, &[&said], &["no marks\n", "penetration, mm"]);
        let line = crate::report::Line::of(&state, &PanelOutput::default(), 1.0);
        let line = serde_json::to_value(line).unwrap();
        assert_eq!(line["casts"]["print"]["refused"], said.as_str());
    }

    #[test]
    fn every_control_has_words_for_a_screen_reader() {
        let mut state = State::open(sim_core::scene::Scene::thirty_degree()).unwrap();
        for page in [Page::Cusps, Page::Plan, Page::Account, Page::Tracing, Page::Lesson] {
            state.act(Action::Page(page));
            let spoken = spoken(&state);
            let is_control = |role: Role| {
                matches!(
                    role,
                    Role::Button | Role::CheckBox | Role::Slider | Role::SpinButton | Role::TextInput
                )
            };
            let controls: Vec<_> = spoken.iter().filter(|(role, _)| is_control(*role)).collect();
            assert!(controls.len() > 40, "{page:?}: {}", controls.len());
            let mute: Vec<_> = controls
                .iter()
                .filter(|(_, words)| words.as_ref().is_none_or(|words| words.trim().is_empty()))
                .collect();
            assert!(mute.is_empty(), "{page:?}: {mute:?}");
            let sliders = controls.iter().filter(|(role, _)| *role == Role::Slider);
            let named: Vec<_> = sliders.filter_map(|(_, words)| words.as_deref()).collect();
            assert!(named.contains(&"horizontal condylar inclination, right"), "{named:?}");
        }
    }
}
