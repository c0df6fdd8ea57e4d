//! Names that settings once had.

/// The name that each had, and the one that it has now.
const FORMER_NAMES: [(&str, &str); 2] =
    [("rear_wall_deg", "lateroretrusion_deg"), ("top_wall_deg", "laterosurtrusion_deg")];

/// What a setting of a former name is called now.
pub(crate) fn name_now(former: &str) -> Option<&'static str> {
    FORMER_NAMES.iter().find(|(then, _)| *then == former).map(|(_, now)| *now)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Scene;
    use crate::setting::{Change, SettingName};

    #[test]
    fn a_former_name_is_answered_with_the_one_that_took_its_place() {
        for (then, now) in FORMER_NAMES {
            let says = format!("{then} is now {now}");
            now.parse::<SettingName>().expect(now);
            for written in [then.to_owned(), format!("left_guide.{then}")] {
                let said = written.parse::<SettingName>().expect_err(&written).to_string();
                assert!(said.contains(&says), "{said}");
                let said = format!("{written}=5").parse::<Change>().expect_err(&written).to_string();
                assert!(said.contains(&says), "{said}");
            }
            let (guide, scene) = ("lateral_angle_deg: 15.0", Scene::thirty_degree().to_ron());
            assert!(scene.contains(guide), "{scene}");
            let scene = scene.replacen(guide, &format!("{guide}, {then}: 5.0"), 1);
            let said = Scene::from_ron(&scene).expect_err(then).to_string();
            assert!(said.contains(&format!("instrument.right_guide: {says}")), "{said}");
        }
    }
}
