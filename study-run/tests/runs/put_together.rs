//! Tables put together of pieces.

use std::fs;

use study_run::{Existing, Form, Pieces};

use crate::support::{Folder, ROWS, STUDY, bytes_of, options};

#[test]
fn pieces_made_in_any_order_make_the_bytes_of_a_run() {
    for (ending, form) in [("parquet", Form::Parquet), ("csv", Form::Csv)] {
        let pieces = Pieces::new(&STUDY, form).unwrap();
        let mut made: Vec<_> = (0..pieces.count())
            .rev()
            .map(|number| pieces.piece(number, &|| false).unwrap().unwrap())
            .collect();
        made.reverse();
        assert!(made.len() > 2);
        assert_eq!(made.iter().map(|piece| piece.rows).sum::<u64>(), ROWS);
        let mut table = pieces.head();
        let mut notes = Vec::new();
        for piece in made {
            notes.push((table.len() as u64, piece.note));
            table.extend(piece.body);
        }
        table.extend(pieces.tail(notes).unwrap());
        let folder = Folder::new();
        let path = folder.path(&format!("table.{ending}"));
        assert!(table == bytes_of(&STUDY, &options(&path, Existing::Refused)), "{ending}");
        assert_eq!(fs::read(path).unwrap(), table);
        assert_eq!(pieces.piece(pieces.count(), &|| false).unwrap(), None);
        assert_eq!(pieces.piece(0, &|| true).unwrap(), None);
    }
}
