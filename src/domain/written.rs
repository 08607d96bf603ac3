//! How the types that stand in files are written down: choices by a word each, and records whose fields may all be absent.

/// Choices, each with its word in files and on screen: the name of the variant in snake case unless it says another.
macro_rules! words {
    ($($(#[$about:meta])* pub enum $name:ident { $($(#[$of:meta])* $variant:ident,)* })*) => {$(
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        #[derive(strum::EnumString, strum::IntoStaticStr, strum::VariantArray, strum::VariantNames)]
        #[serde(rename_all = "snake_case")]
        #[strum(serialize_all = "snake_case", ascii_case_insensitive)]
        pub enum $name { $($(#[$of])* $variant,)* }

        impl $name {
            /// Every choice, in this order.
            pub const ALL: [Self; [$(stringify!($variant)),*].len()] = [$(Self::$variant),*];

            /// The word for it.
            pub fn word(self) -> &'static str {
                self.into()
            }
        }
    )*};
}

/// Objects of the job file: what is absent or an empty list is not written (but for lists with `serde_with(skip_apply)`), and fields of a
/// later version are kept.
macro_rules! records {
    ($($(#[$about:meta])* pub struct $name:ident { $($(#[$of:meta])* pub $field:ident: $type:ty,)* })*) => {$(
        $(#[$about])*
        #[serde_with::apply(
            Option => #[serde(skip_serializing_if = "Option::is_none")],
            Vec => #[serde(skip_serializing_if = "Vec::is_empty")],
            BTreeMap => #[serde(skip_serializing_if = "BTreeMap::is_empty")],
            Conditions => #[serde(skip_serializing_if = "Conditions::is_empty")],
        )]
        #[derive(Debug, Clone, Default, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(default)]
        pub struct $name {
            $($(#[$of])* pub $field: $type,)*
            /// Fields of a later version.
            #[serde(flatten)]
            pub extra: $crate::domain::Extra,
        }
    )*};
}

pub(in crate::domain) use records;
pub(crate) use words;

/// What is left out of a file where it says nothing.
pub(in crate::domain) trait LeftOut {
    /// Whether it says nothing.
    fn left_out(&self) -> bool {
        false
    }
}

impl LeftOut for String {
    fn left_out(&self) -> bool {
        self.is_empty()
    }
}

impl<T> LeftOut for Option<T> {
    fn left_out(&self) -> bool {
        self.is_none()
    }
}

impl<T> LeftOut for Vec<T> {
    fn left_out(&self) -> bool {
        self.is_empty()
    }
}

impl<K, V> LeftOut for std::collections::BTreeMap<K, V> {
    fn left_out(&self) -> bool {
        self.is_empty()
    }
}
