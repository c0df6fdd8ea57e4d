//! No bytes make reading panic, go on without end, or take memory out of proportion.

use files::cast::read_bytes;
use proptest::prelude::*;
use sim_core::cast::CastUnit;
use sim_core::cusp::Arch;

use super::shapes::{ascii_ply, ascii_stl, ball, binary_ply, binary_stl, obj};

/// What may be taken for the smallest file: the library for PLY sets aside 65,536 numbers for a list.
const MOST_BYTES: u64 = 1 << 20;
/// … and for each byte of it. Text as short as “0 0 0” is a vertex of 24 bytes, which is held several
/// times over while it is welded, and kept in tables with room to spare.
const MOST_BYTES_A_BYTE: u64 = 200;

/// A valid file of each format, small.
fn valid(which: usize) -> Vec<u8> {
    let body = ball(30.0, 1);
    match which {
        0 => binary_stl(&body, "invented"),
        1 => binary_stl(&body, "solid invented"),
        2 => ascii_stl(&body, "tooth_36").into_bytes(),
        3 => ascii_ply(&body).into_bytes(),
        4 => binary_ply(&body, false),
        5 => binary_ply(&body, true),
        _ => obj(&body).into_bytes(),
    }
}

/// What may happen to a file.
#[derive(Clone, Debug)]
enum Damage {
    Set(f64, u8),
    Insert(f64, Vec<u8>),
    Remove(f64, f64),
    Repeat(f64, f64),
    Swap(f64, f64),
    Cut(f64),
}

fn damage() -> impl Strategy<Value = Damage> {
    let place = || 0.0..1.0_f64;
    // Bytes, and words that mean something in one of the formats.
    let piece = prop_oneof![
        prop::collection::vec(any::<u8>(), 0..12),
        prop::sample::select(vec![
            "solid",
            "endsolid",
            "facet",
            "vertex",
            "\nf 1 2 3\n",
            "\nf -1 -2 -3 -4\n",
            "\ng 36\n",
            "\\\n",
            "ply\n",
            "element face 4294967295\n",
            "element vertex 0\n",
            "property list int int vertex_indices\n",
            "end_header\n",
            " nan ",
            " 1e400 ",
            " -0 ",
            "4294967295",
            "-1",
            "\0\0\0\0",
            "\u{ff}\u{ff}\u{ff}\u{ff}",
        ])
        .prop_map(|word| word.as_bytes().to_vec()),
    ];
    prop_oneof![
        4 => (place(), any::<u8>()).prop_map(|(at, byte)| Damage::Set(at, byte)),
        2 => (place(), piece).prop_map(|(at, piece)| Damage::Insert(at, piece)),
        1 => (place(), place()).prop_map(|(at, to)| Damage::Remove(at, to)),
        1 => (place(), place()).prop_map(|(at, to)| Damage::Repeat(at, to)),
        1 => (place(), place()).prop_map(|(at, to)| Damage::Swap(at, to)),
        1 => place().prop_map(Damage::Cut),
    ]
}

fn apply(bytes: &mut Vec<u8>, damage: &Damage) {
    let place = |part: f64| (part * bytes.len() as f64) as usize;
    let range = |one: f64, other: f64| place(one.min(other))..place(one.max(other));
    match damage {
        Damage::Set(at, byte) => {
            let at = place(*at);
            if let Some(place) = bytes.get_mut(at) {
                *place = *byte;
            }
        }
        Damage::Insert(at, piece) => {
            let at = place(*at);
            bytes.splice(at..at, piece.iter().copied());
        }
        Damage::Remove(one, other) => {
            bytes.drain(range(*one, *other));
        }
        Damage::Repeat(one, other) => {
            let again = bytes[range(*one, *other)].to_vec();
            bytes.extend(again);
        }
        Damage::Swap(one, other) => {
            let (one, other) = (place(*one), place(*other));
            if one < bytes.len() && other < bytes.len() {
                bytes.swap(one, other);
            }
        }
        Damage::Cut(at) => bytes.truncate(place(*at)),
    }
}

/// Reads under every ending; an outcome of any kind will do, and what is read is sound by its type.
/// Memory stays in proportion to the bytes.
fn outcome(bytes: &[u8]) -> Result<(), TestCaseError> {
    let mut outcome = Ok(());
    let taken = allocation_counter::measure(|| outcome = outcomes(bytes)).bytes_max;
    let most = MOST_BYTES + MOST_BYTES_A_BYTE * bytes.len() as u64;
    prop_assert!(taken <= most, "{taken} bytes were taken for a file of {}", bytes.len());
    outcome
}

fn outcomes(bytes: &[u8]) -> Result<(), TestCaseError> {
    for (name, unit) in [("a", Some(CastUnit::Millimetre)), ("a.stl", Some(CastUnit::Inch)), ("a.obj", None)]
    {
        match read_bytes(name, bytes, Arch::Lower, unit) {
            Ok(cast) => {
                let (surface, report) = (&cast.surface, &cast.report);
                prop_assert_eq!(surface.triangles().len(), report.triangles_kept());
                prop_assert!(surface.triangles().len() <= bytes.len());
                prop_assert!(report.closed_shells <= report.shells && report.hollows <= report.closed_shells);
            }
            Err(error) => prop_assert!(error.to_string().len() < 1000, "{error}"),
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn damaged_files_have_an_outcome(which in 0..7_usize, damages in prop::collection::vec(damage(), 1..6)) {
        let mut bytes = valid(which);
        for damage in &damages {
            apply(&mut bytes, damage);
        }
        outcome(&bytes)?;
    }

    #[test]
    fn any_bytes_have_an_outcome(bytes in prop::collection::vec(any::<u8>(), 0..400), start in prop::sample::select(vec![
        "", "solid ", "ply\n", "ply\nformat ascii 1.0\n", "v 0 0 0\n", "f ", "# ",
    ])) {
        outcome(&[start.as_bytes(), &bytes].concat())?;
    }
}
