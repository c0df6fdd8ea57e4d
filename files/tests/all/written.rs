//! What is written is read again, and says where it comes from.

use files::cast::{PlyForm, write_obj, write_ply, write_stl_binary};
use proptest::prelude::*;
use sim_core::cast::Surface;
use sim_core::cusp::Tooth;

use super::shapes::{ball, read};

/// A ball with a colour for each vertex and a label for some triangles.
fn ball_of_all(radius: f64, shift: u8) -> Surface {
    let (vertices, triangles) = ball(radius, 2);
    let colours =
        (0..vertices.len()).map(|at| [at as u8, shift.wrapping_mul(at as u8), 255 - at as u8]).collect();
    let teeth = (0..triangles.len()).map(|at| [36, 37, 0][at * 3 / triangles.len()]);
    let teeth = teeth.map(|number| Tooth::new(number).ok()).collect();
    let surface = Surface::new(vertices, triangles).expect("sound");
    surface.with_colours(colours).expect("one each").with_teeth(teeth).expect("one each")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn ply_and_obj_keep_every_digit_and_colour(radius in 1.0..200.0_f64, shift: u8) {
        let surface = ball_of_all(radius, shift);
        for form in [PlyForm::Ascii, PlyForm::BinaryLittleEndian, PlyForm::BinaryBigEndian] {
            let mut file = Vec::new();
            write_ply(&surface, form, "An invented ball.", &mut file).expect("written");
            let again = read("a.ply", &file).expect("read").surface;
            prop_assert_eq!(again.vertices(), surface.vertices());
            prop_assert_eq!(again.triangles(), surface.triangles());
            prop_assert_eq!(again.colours(), surface.colours());
        }
        let mut file = Vec::new();
        write_obj(&surface, "An invented ball.", &mut file).expect("written");
        prop_assert_eq!(read("a.obj", &file).expect("read").surface, surface);
    }

    #[test]
    fn stl_keeps_what_32_bits_hold(radius in 1.0..200.0_f64) {
        let surface = ball_of_all(radius, 0);
        let mut file = Vec::new();
        write_stl_binary(&surface, "An invented ball.", &mut file).expect("written");
        prop_assert_eq!(file.len(), 84 + 50 * surface.triangles().len());
        let again = read("a.stl", &file).expect("read").surface;
        prop_assert_eq!(again.vertices().len(), surface.vertices().len());
        for triangle in 0..surface.triangles().len() {
            for (one, other) in again.corners(triangle).iter().zip(surface.corners(triangle)) {
                prop_assert_eq!(*one, other.map(|number| f64::from(number as f32)));
            }
        }
    }
}

#[test]
fn every_file_says_what_wrote_it_and_that_its_data_is_invented() {
    let surface = ball_of_all(30.0, 1);
    let comment = "Invented;\nfor a lesson\u{7}.\n";
    let mut files = [Vec::new(), Vec::new(), Vec::new()];
    write_stl_binary(&surface, comment, &mut files[0]).expect("written");
    write_ply(&surface, PlyForm::BinaryBigEndian, comment, &mut files[1]).expect("written");
    write_obj(&surface, comment, &mut files[2]).expect("written");
    let starts = files.map(|file| String::from_utf8_lossy(&file[..120]).into_owned());
    assert_eq!(
        starts[0][..80],
        format!("{:80}", "eminentia, for teaching and research. Invented; for a lesson .")
    );
    assert!(starts[1].contains("comment written by eminentia, for teaching and research\n"), "{}", starts[1]);
    assert!(
        starts[2].starts_with("# written by eminentia, for teaching and research\n# Invented;\n# for a l"),
        "{}",
        starts[2]
    );
}

#[test]
fn the_header_of_stl_is_cut_at_80_bytes_of_ascii() {
    let mut file = Vec::new();
    write_stl_binary(&ball_of_all(30.0, 1), &"größer ".repeat(30), &mut file).expect("written");
    assert!(file[..80].is_ascii());
    assert!(read("a.stl", &file).is_ok());
}
