//! The lines that a link packs: the scene, then what else there is.

use sim_core::scene::Scene;
use words::quoted;

use super::error::{LinkError, SetUp};
use super::sent::{Sent, Shown};

const EXCURSION: &str = "excursion";
const DRIVEN: &str = "driven";
const VIEW: &str = "view";
const BESIDE: &str = "beside";

pub(super) fn written(sent: &Sent) -> String {
    let mut text = sent.scene.to_ron_on_one_line();
    let mut line = |key: &str, value: &str| text += &format!("\n{key} {value}");
    if let Some(Shown { excursion, driven }) = &sent.shown {
        line(EXCURSION, excursion);
        if let Some(driven) = driven {
            line(DRIVEN, &driven.to_string());
        }
    }
    if let Some(viewpoint) = &sent.viewpoint {
        line(VIEW, viewpoint);
    }
    if let Some(beside) = &sent.beside {
        line(BESIDE, &beside.to_ron_on_one_line());
    }
    text
}

/// What lines say; whether it goes together is for `check`.
pub(super) fn read(text: &str) -> Result<Sent, LinkError> {
    let mut lines = text.split('\n');
    let scene = scene(SetUp::Scene, lines.next().unwrap_or_default())?;
    let (mut excursion, mut driven, mut viewpoint, mut beside) = (None, None, None, None);
    for line in lines {
        let (key, value) = line.split_once(' ').unwrap_or((line, ""));
        let slot = match key {
            EXCURSION => &mut excursion,
            DRIVEN => &mut driven,
            VIEW => &mut viewpoint,
            BESIDE => &mut beside,
            _ => return Err(LinkError::Line { given: quoted::value(line) }),
        };
        if slot.replace(value).is_some() {
            return Err(LinkError::Line { given: quoted::value(line) });
        }
    }
    let number = |given: &str| {
        given.parse().map_err(|_| LinkError::Line { given: quoted::value(&format!("{DRIVEN} {given}")) })
    };
    let driven = driven.map(number).transpose()?;
    let shown = match (excursion, driven) {
        (Some(excursion), driven) => Some(Shown { excursion: excursion.to_owned(), driven }),
        (None, Some(_)) => return Err(LinkError::DrivenAlone),
        (None, None) => None,
    };
    let beside = beside.map(|text| self::scene(SetUp::Beside, text)).transpose()?;
    Ok(Sent { scene, beside, shown, viewpoint: viewpoint.map(str::to_owned) })
}

fn scene(which: SetUp, text: &str) -> Result<Scene, LinkError> {
    Scene::from_ron(text).map_err(|error| LinkError::unsound(which, &error))
}
