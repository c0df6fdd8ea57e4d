//! Damaged input, the same each time; `cargo run --release -p fuzz -- --seconds 3600` takes other.

/// Some are read all the same: damage in a comment, or a number that another may stand for.
#[test]
fn three_thousand_damaged_inputs_are_taken_as_they_should() {
    let came = fuzz::inputs(1, |number| number < 3000).expect("the corpus");
    assert_eq!((came.inputs, came.failed), (3000, 0), "see fuzz/failures/");
    assert!(came.read > 100 && came.read < 1500, "{came:?}");
}
