use sim_core::scene::Scene;

use super::*;
use crate::built_in::SCENES;

fn thirty() -> Sent {
    Sent::from(Scene::thirty_degree())
}

#[test]
fn every_scene_that_comes_with_the_program_travels() {
    for built_in in SCENES {
        let scene = Scene::from_ron(built_in.text).unwrap();
        let link = Sent::from(scene.clone()).to_link().unwrap();
        println!("{}: {} letters", built_in.name, link.len());
        assert!(link.len() * 10 <= MOST_LINK_LETTERS, "{}: {}", built_in.name, link.len());
        assert_eq!(Sent::from_link(&link), Ok(Sent::from(scene)), "{}", built_in.name);
    }
}

#[test]
fn excursion_place_viewpoint_and_second_set_up_travel_along() {
    let shown = |excursion: &str, driven| Some(Shown { excursion: excursion.to_owned(), driven });
    let steep = Scene::from_ron(crate::built_in::scene_named("steep_guides").unwrap().text).unwrap();
    for sent in [
        Sent { shown: shown("left_lateral", None), ..thirty() },
        Sent { shown: shown("protrusive", Some(0.1 + 0.2)), beside: Some(steep), ..thirty() },
        Sent { shown: shown("protrusive", Some(0.0)), viewpoint: Some("above".to_owned()), ..thirty() },
        Sent {
            viewpoint: Some("a_word_of_20_letters".replace(|c: char| c.is_ascii_digit(), "x")),
            ..thirty()
        },
    ] {
        let link = sent.to_link().unwrap();
        assert_eq!(Sent::from_link(&link).as_ref(), Ok(&sent));
    }
}

/// Neither travels nor is it read where somebody else packed it.
fn refused(sent: &Sent, said: &[&str]) {
    let one_way = sent.to_link().unwrap_err();
    let other = packed::pack(&lines::written(sent)).and_then(|link| Sent::from_link(&link)).unwrap_err();
    assert_eq!(one_way, other);
    for words in said {
        assert!(one_way.to_string().contains(words), "{words}: {one_way}");
    }
}

#[test]
fn cast_files_stay_where_they_are() {
    let mut scene = Scene::thirty_degree();
    let upper = format!("{}/upper.stl", "long/".repeat(40));
    scene.casts = Some(sim_core::scene::CastFiles {
        upper,
        lower: "l\u{1b}.stl".to_owned(),
        unit: None,
        mounting: None,
    });
    let said =
        ["“long/long/", "… (210 characters)”", "“l\\u{1b}.stl”", "cannot carry them", "invented_casts"];
    refused(&Sent::from(scene.clone()), &said);
    refused(&Sent { beside: Some(scene), ..thirty() }, &["the second set-up, B, names the cast files"]);
}

#[test]
fn what_is_shown_must_be_there() {
    let shown = |excursion: &str, driven| Sent {
        shown: Some(Shown { excursion: excursion.to_owned(), driven }),
        ..thirty()
    };
    refused(&shown("opening", None), &["“opening”", "protrusive, right_lateral, left_lateral"]);
    refused(&shown("protrusive", Some(30.5)), &["protrusive at 30.5", "0 to 30 mm"]);
    refused(&shown("protrusive", Some(-0.1)), &["-0.1"]);
    refused(&shown("protrusive", Some(f64::INFINITY)), &["inf"]);
    assert!(shown("protrusive", Some(f64::NAN)).to_link().unwrap_err().to_string().contains("NaN"));
    for wrong in ["", "Oblique", "from above", "a_word_of_more_than_twenty_letters"] {
        refused(&Sent { viewpoint: Some(wrong.to_owned()), ..thirty() }, &["names no viewpoint", "oblique"]);
    }
    // It cannot bring a line of its own.
    let sly = Sent { viewpoint: Some("above\ndriven 3".to_owned()), ..thirty() };
    assert!(sly.to_link().unwrap_err().to_string().contains("above\\ndriven 3"));
}

#[test]
fn an_opening_goes_by_its_angle_and_the_usual_three_by_the_condyle() {
    let text = sim_core::scene::THIRTY_DEGREE;
    let list = &text[text.find("excursions: [").unwrap()..];
    let list = &list[..=list.find(']').unwrap()];
    let with =
        |made: &str| Scene::from_ron(&text.replacen(list, &format!("excursions: [{made}]"), 1)).unwrap();
    let shown = |scene: Scene, excursion: &str, driven| Sent {
        shown: Some(Shown { excursion: excursion.to_owned(), driven: Some(driven) }),
        ..Sent::from(scene)
    };
    let opening = with("Opening(angle_deg: 10.0)");
    assert!(shown(opening.clone(), "opening", 60.0).to_link().is_ok());
    refused(&shown(opening.clone(), "opening", 61.0), &["0 to 60 degrees"]);
    assert!(shown(opening.clone(), "left_lateral", 30.0).to_link().is_ok());
    refused(&shown(opening, "left_lateral", 31.0), &["0 to 30 mm"]);
    let twice = with("Protrusive(advance_mm: 6.0), Protrusive(tracing_mm: 6.0)");
    assert!(shown(twice.clone(), "protrusive", 40.0).to_link().is_ok());
    refused(&shown(twice, "protrusive", 41.0), &["0 to 40 mm"]);
}

#[test]
fn a_scene_is_refused_by_its_own_reader() {
    let whole = Scene::thirty_degree().to_ron_on_one_line();
    let link = |text: &str| packed::pack(text).unwrap();
    let said = |text: &str| Sent::from_link(&link(text)).unwrap_err().to_string();
    let steep = whole.replacen("horizontal_inclination_deg:30.0", "horizontal_inclination_deg:300.0", 1);
    let refusal = said(&steep);
    assert!(
        refusal.starts_with("the set-up is refused: field instrument.right_guide.horizontal"),
        "{refusal}"
    );
    assert!(refusal.contains("300") && refusal.contains("-30 to 85 degrees"), "{refusal}");
    assert!(said(&format!("{whole}\nbeside {steep}")).starts_with("the second set-up, B, is refused"));
    assert!(said(&format!("{whole}\nbeside (")).contains("the second set-up"));
    // Deeper than any scene: what reads RON has its own bound.
    let deep = format!("(title:{}", "[".repeat(150_000));
    assert!(said(&deep).starts_with("the set-up is refused"), "{}", said(&deep));
    let long = whole.replacen("(title:", &format!("({}:1,title:", "x".repeat(100_000)), 1);
    assert!(said(&long).chars().count() < 600, "{}", said(&long));
    assert!(!said(&long).contains(&"x".repeat(81)));
}

#[test]
fn lines_are_known_and_stand_once() {
    let whole = Scene::thirty_degree().to_ron_on_one_line();
    let read = |more: &str| Sent::from_link(&packed::pack(&format!("{whole}{more}")).unwrap());
    assert_eq!(read(""), Ok(thirty()));
    assert!(read("\nview above\nexcursion protrusive\ndriven 1e0").is_ok());
    for wrong in [
        "\n",
        "\nzoom 3",
        "\nview above\nview above",
        "\nbeside",
        "\nexcursion protrusive\ndriven 3 mm",
        "\nview above\r",
    ] {
        assert!(read(wrong).is_err(), "{wrong:?}");
    }
    assert_eq!(read("\ndriven 3"), Err(LinkError::DrivenAlone));
    let Err(LinkError::Line { given }) = read(&format!("\n{}", "y".repeat(9_000))) else { panic!("a line") };
    assert_eq!(given, format!("{}… (9,000 characters)", "y".repeat(80)));
}

#[test]
fn a_setting_out_of_its_range_does_not_travel() {
    let mut scene = Scene::thirty_degree();
    scene.instrument.left_guide.horizontal_inclination = sim_core::units::Angle::from_degrees(89.0);
    refused(&Sent::from(scene), &["left_guide.horizontal_inclination_deg is 89", "-30 to 85 degrees"]);
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config::with_cases(1000))]

    /// A link of which only the packed text was tampered with: what is read of it is sound, or it is refused.
    #[test]
    fn a_text_tampered_with_is_refused_or_sound(
        which in 0..SCENES.len(), at in proptest::prelude::any::<proptest::sample::Index>(), gone in 0..9_usize,
        put in "(-|9|99|NaN|inf|[(),:\"\\\\]|\nview |\nbeside |casts:\\(upper:\"a\",lower:\"b\"\\),|\\PC){0,4}",
    ) {
        let scene = Scene::from_ron(SCENES[which].text).unwrap();
        let mut text: Vec<char> = lines::written(&Sent { beside: Some(scene.clone()), ..Sent::from(scene) }).chars().collect();
        let from = at.index(text.len());
        let to = (from + gone).min(text.len());
        text.splice(from..to, put.chars());
        let text: String = text.into_iter().collect();
        match Sent::from_link(&packed::pack(&text).unwrap()) {
            Ok(sent) => for scene in [Some(&sent.scene), sent.beside.as_ref()].into_iter().flatten() {
                proptest::prop_assert!(scene.casts.is_none());
                let again = Scene::from_ron(&scene.to_ron());
                proptest::prop_assert_eq!(again.as_ref().ok(), Some(scene));
            },
            Err(error) => {
                let said = error.to_string();
                proptest::prop_assert!(said.chars().count() < 1_000 && !said.chars().any(char::is_control), "{}", said);
            }
        }
    }
}
