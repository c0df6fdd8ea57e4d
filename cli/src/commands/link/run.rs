//! `eminentia link`: a set-up into a link, and out of one.

use std::path::Path;

use files::address::{Address, AddressNote, Opens, reference};
use files::link::{Sent, Shown};
use files::{MadeFrom, Source, scene_with_head};
use sim_core::scene::Scene;
use sim_core::units::Unit;
use words::name::spoken;
use words::number::with_unit;

use super::args::Link;
use super::failure::LinkFailure;
use crate::failure::Outcome;
use crate::input;
use crate::output::{Output, printable_line};
use crate::say;

/// Longer than any address of ours.
const MOST_ADDRESS_BYTES: u64 = 100_000;

/// Makes a link of a set-up, or prints what a link carries.
pub(crate) fn perform(args: &Link) -> Outcome {
    let text = match &args.read {
        Some(address) => read(address, args.second)?,
        None => made(args)? + "\n",
    };
    Output::Standard.write(false, |out| out.write_all(text.as_bytes()))?;
    Ok(())
}

fn made(args: &Link) -> Outcome<String> {
    let source = input::scene_source(args.scene.path.as_deref());
    let scene = input::changed(source.read()?, &args.with)?;
    let beside = args.beside.as_deref().map(Source::named);
    let first =
        |scene: &Scene| scene.excursions.first().map(|excursion| excursion.movement().name().to_owned());
    let excursion = args.excursion.clone().or_else(|| args.at.and_then(|_| first(&scene)));
    let sent = Sent {
        shown: excursion.map(|excursion| Shown { excursion, driven: args.at }),
        beside: beside.as_ref().map(Source::read).transpose()?,
        ..Sent::from(scene)
    };
    let made = match &args.page {
        Some(page) => page.carrying(&sent, args.only_picture),
        None => reference(&sent, args.only_picture),
    };
    let named = |source: &Source| source.name();
    Ok(made.map_err(|error| LinkFailure::NotMade {
        error,
        scene: named(&source),
        beside: beside.as_ref().map(named).unwrap_or_default(),
    })?)
}

/// The scene that an address carries, with a head that says where it came from.
fn read(address: &str, second: bool) -> Outcome<String> {
    let Address { opens, notes, .. } = Address::read(&given(address)?);
    let is_of_set_up = |note: &&AddressNote| matches!(note, AddressNote::SetUp(_) | AddressNote::SetUpSent);
    let sent = match (opens, notes.iter().find(is_of_set_up)) {
        (Some(Opens::SetUp(sent)), _) => Ok(sent),
        (_, Some(note)) => Err(LinkFailure::NotRead(note.clone())),
        (Some(Opens::Scene(scene)), None) => Err(LinkFailure::BuiltIn { what: "scene", name: scene.name }),
        (Some(Opens::Lesson(lesson)), None) => {
            Err(LinkFailure::BuiltIn { what: "lesson", name: lesson.name })
        }
        (None, None) => Err(LinkFailure::NoSetUp),
    }?;
    notes.iter().for_each(|note| say::warning(note));
    let notes = told(&sent);
    notes.iter().for_each(|note| say::hint(note));
    let scene = if second { sent.beside.as_ref().ok_or(LinkFailure::NoSecond)? } else { &sent.scene };
    let made = MadeFrom {
        what: "link",
        title: &scene.title,
        sha256: None,
        by: "link",
        day: &files::day::today(),
        notes: &notes,
    };
    Ok(scene_with_head(scene, &made))
}

fn given(address: &str) -> Outcome<String> {
    if address != "-" {
        return Ok(address.to_owned());
    }
    let unreadable = LinkFailure::Unreadable { most: MOST_ADDRESS_BYTES };
    let bytes =
        Source::named(Path::new("-")).bytes(MOST_ADDRESS_BYTES).ok().map(std::borrow::Cow::into_owned);
    Ok(bytes.and_then(|bytes| String::from_utf8(bytes).ok()).ok_or(unreadable)?)
}

/// What a link carries beside its scene.
fn told(sent: &Sent) -> Vec<String> {
    let mut told = Vec::new();
    if let Some(Shown { excursion, driven }) = &sent.shown {
        let own = sent.scene.excursions.iter().find(|own| own.movement().name() == excursion);
        let unit = own.map_or(Unit::Millimetre, |own| own.drive().facts().unit);
        let at = driven.map_or_else(String::new, |driven| format!(", at {}", with_unit(driven, unit, 2)));
        told.push(format!("The link shows the excursion {}{at}.", spoken(excursion)));
    }
    if let Some(beside) = &sent.beside {
        told.push(format!("It carries a second set-up, B: {}", printable_line(&beside.title)));
    }
    told
}
