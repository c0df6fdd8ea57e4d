//! The macro by which a struct of settings is written once.

/// Defines a struct whose numbers a person can set, with everything made from that one list: the
/// fields, a constant for each setting (name, unit, range, meaning, access), and
/// checked reading and writing.
///
/// A number: `field as CONSTANT: Type = "file_key", "label" [symbol "S"], min..=max, step s, zeroed z
/// [, absent d], "doc";` where `CONSTANT` is how code addresses the setting, `symbol` is the letter that
/// the trade writes for it, and `absent` gives the value of an optional one. Under `also`, fields of other
/// types: `field: Type = "file_key" [, absent d], "doc";`.
macro_rules! settings_struct {
    (
        $(#[$meta:meta])*
        pub struct $name:ident {
            $($field:ident as $constant:ident: $kind:ty = $key:literal, $label:literal
              $(symbol $symbol:literal)?, $min:literal..=$max:literal,
              step $step:literal, zeroed $zeroed:expr $(, absent $absent:literal)?, $doc:literal;)*
        }
        $(also { $($other:ident: $other_kind:ty = $other_key:literal $(, absent $other_absent:expr)?,
              $other_doc:literal;)* })?
    ) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $(
                #[doc = $doc]
                #[doc = concat!("\n\nIn a file: `", $key, "`" $(, ", ", $absent, " when absent")?, "; ",
                    $min, " to ", $max, ".")]
                pub $field: $kind,
            )*
            $($(
                #[doc = $other_doc]
                #[doc = concat!("\n\nIn a file: `", $other_key, "`.")]
                pub $other: $other_kind,
            )*)?
        }

        impl $name {
            $(
                #[doc = concat!("The setting `", $key, "`: ", $label, ".")]
                pub const $constant: $crate::facts::Entry<Self> = $crate::facts::Entry {
                    facts: $crate::facts::Facts {
                        key: $key,
                        label: $label,
                        symbol: settings_struct!(@symbol $($symbol)?),
                        unit: <$kind as $crate::units::Quantity>::UNIT,
                        min: $min,
                        max: $max,
                        step: $step,
                        zeroed: $zeroed,
                        doc: $doc,
                    },
                    get: |settings| $crate::units::Quantity::number(settings.$field),
                    set: |settings, number| {
                        settings.$field = $crate::units::Quantity::from_number(number);
                    },
                };
            )*

            /// The numbers of this struct that a person can set, in the order of its fields.
            pub const SETTINGS: &'static [$crate::facts::Entry<Self>] = &[$(Self::$constant),*];
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                struct Fields;
                impl<'de> serde::de::Visitor<'de> for Fields {
                    type Value = $name;
                    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                        f.write_str(concat!("the fields of ", stringify!($name)))
                    }
                    fn visit_map<A: serde::de::MapAccess<'de>>(self, mut map: A) -> Result<$name, A::Error> {
                        use serde::de::Error as _;
                        $(let mut $field: Option<$kind> = None;)*
                        $($(let mut $other: Option<$other_kind> = None;)*)?
                        while let Some($crate::facts::FieldName(name)) = map.next_key()? {
                            match name.as_str() {
                                $($key => {
                                    if $field.is_some() {
                                        return Err(A::Error::duplicate_field($key));
                                    }
                                    $field = Some(map.next_value_seed(
                                        $crate::facts::Checked::new(&$name::$constant.facts))?);
                                })*
                                $($($other_key => {
                                    if $other.is_some() {
                                        return Err(A::Error::duplicate_field($other_key));
                                    }
                                    $other = Some(map.next_value()?);
                                })*)?
                                unknown => return Err($crate::facts::unknown_field(unknown, FIELDS)),
                            }
                        }
                        Ok($name {
                            $($field: match $field {
                                Some(value) => value,
                                None => settings_struct!(@absent $key
                                    $(, <$kind as $crate::units::Quantity>::from_number($absent))?),
                            },)*
                            $($($other: match $other {
                                Some(value) => value,
                                None => settings_struct!(@absent $other_key $(, $other_absent)?),
                            },)*)?
                        })
                    }
                }
                const FIELDS: &[&str] = &[$($key,)* $($($other_key,)*)?];
                deserializer.deserialize_struct(stringify!($name), FIELDS, Fields)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                use serde::ser::SerializeStruct as _;
                let count = [$($key,)* $($($other_key,)*)?].len();
                let mut out = serializer.serialize_struct(stringify!($name), count)?;
                $(out.serialize_field($key, &$crate::units::Quantity::number(self.$field))?;)*
                $($(out.serialize_field($other_key, &self.$other)?;)*)?
                out.end()
            }
        }
    };
    (@symbol) => { None };
    (@symbol $symbol:literal) => { Some($symbol) };
    (@absent $key:literal) => { return Err(A::Error::missing_field($key)) };
    (@absent $key:literal, $value:expr) => { $value };
}
