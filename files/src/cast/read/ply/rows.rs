//! The entries of a PLY file's elements, as the library fills them in.

use ply_rs_bw::ply::{Property, PropertyAccess, PropertyAccessResult};

/// One vertex.
#[derive(Default)]
pub(super) struct VertexRow {
    pub(super) place: [f64; 3],
    pub(super) colour: [f32; 3],
}

impl PropertyAccess for VertexRow {
    fn new() -> Self {
        Self::default()
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        let (place, colour) = (&mut self.place, &mut self.colour);
        match name {
            "x" => set(&mut place[0], scalar(&property)),
            "y" => set(&mut place[1], scalar(&property)),
            "z" => set(&mut place[2], scalar(&property)),
            "red" => set(&mut colour[0], scalar(&property).map(|part| part as f32)),
            "green" => set(&mut colour[1], scalar(&property).map(|part| part as f32)),
            "blue" => set(&mut colour[2], scalar(&property).map(|part| part as f32)),
            _ => PropertyAccessResult::Ignored,
        }
    }
}

/// One face: its corners.
#[derive(Default)]
pub(super) struct FaceRow {
    pub(super) corners: Vec<i64>,
}

impl PropertyAccess for FaceRow {
    fn new() -> Self {
        Self::default()
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        if !is_corners(name) {
            return PropertyAccessResult::Ignored;
        }
        self.corners = match property {
            Property::ListChar(list) => list.into_iter().map(i64::from).collect(),
            Property::ListUChar(list) => list.into_iter().map(i64::from).collect(),
            Property::ListShort(list) => list.into_iter().map(i64::from).collect(),
            Property::ListUShort(list) => list.into_iter().map(i64::from).collect(),
            Property::ListInt(list) => list.into_iter().map(i64::from).collect(),
            Property::ListUInt(list) => list.into_iter().map(i64::from).collect(),
            _ => return PropertyAccessResult::UnsupportedType,
        };
        PropertyAccessResult::Set
    }
}

/// One entry of an element that does not matter here.
pub(super) struct OtherRow;

impl PropertyAccess for OtherRow {
    fn new() -> Self {
        Self
    }
}

/// Whether a face's property is the list of its corners; both names are in use.
pub(super) fn is_corners(name: &str) -> bool {
    matches!(name, "vertex_indices" | "vertex_index")
}

fn set<T>(place: &mut T, value: Option<T>) -> PropertyAccessResult {
    match value {
        Some(value) => {
            *place = value;
            PropertyAccessResult::Set
        }
        None => PropertyAccessResult::UnsupportedType,
    }
}

fn scalar(property: &Property) -> Option<f64> {
    Some(match *property {
        Property::Char(number) => f64::from(number),
        Property::UChar(number) => f64::from(number),
        Property::Short(number) => f64::from(number),
        Property::UShort(number) => f64::from(number),
        Property::Int(number) => f64::from(number),
        Property::UInt(number) => f64::from(number),
        Property::Float(number) => f64::from(number),
        Property::Double(number) => number,
        _ => return None,
    })
}
