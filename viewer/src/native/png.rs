//! A picture to a PNG file, whole or not at all.

use std::path::Path;

use image::{ExtendedColorType, ImageEncoder, RgbImage, codecs::png::PngEncoder};

use super::error::ViewerError;
use super::whole_file;

/// Writes a picture.
///
/// # Errors
/// [`ViewerError::Unwritable`].
pub(super) fn write(picture: &RgbImage, path: &Path) -> Result<(), ViewerError> {
    let unwritable = |why: String| ViewerError::Unwritable { file: words::quoted::path(path), why };
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes)
        .write_image(picture.as_raw(), picture.width(), picture.height(), ExtendedColorType::Rgb8)
        .map_err(|error| unwritable(error.to_string()))?;
    whole_file::write(path, &bytes).map_err(|error| unwritable(error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_read_back_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.png");
        let picture = RgbImage::from_fn(3, 2, |x, y| image::Rgb([x as u8, y as u8, 7]));
        write(&picture, &path).unwrap();
        assert_eq!(image::open(&path).unwrap().into_rgb8(), picture);
    }

    #[test]
    fn where_there_is_no_folder_nothing_is_written_and_it_is_said() {
        let path = Path::new("/no such folder/a.png");
        let error = write(&RgbImage::new(1, 1), path).unwrap_err();
        assert!(error.to_string().contains("/no such folder/a.png"), "{error}");
        assert_eq!(error.status(), 1);
    }
}
