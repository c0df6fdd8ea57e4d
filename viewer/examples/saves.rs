//! Saves a set-up again and again as the window does, each time with other settings, until it is ended from outside.
//!
//!     cargo build --release -p viewer --example saves
//!     target/release/examples/saves SCENE FILE [TIMES]
//!
//! `tests/faults/kills.py` ends it at random instants and looks at what stands in the file.

use std::error::Error;
use std::path::Path;

use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::Setting;
use viewer::action::Action;
use viewer::native::whole_file;
use viewer::out;
use viewer::state::State;

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let (Some(scene), Some(file)) = (words.next(), words.next()) else {
        return Err("SCENE FILE [TIMES]".into());
    };
    let times = words.next().map_or(Ok(u64::MAX), |times| times.parse())?;
    let mut state = State::open(Scene::from_ron(&std::fs::read_to_string(scene)?)?)?;
    for time in 1..=times {
        let inclination = if time % 2 == 1 { 2.0 } else { 4.0 };
        state.act(Action::Set(Setting::OcclusalPlane, Side::Right, inclination));
        // One day, so that all that is saved is known beforehand.
        whole_file::write(Path::new(&file), out::scene_text(&state, "2026-01-01").as_bytes())?;
    }
    Ok(())
}
