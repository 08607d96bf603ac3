//! How the tables of fields are written: a row for each field.

/// Writes tables of fields. A table is `visibility NAME: Owner;` and groups of rows, `"prefix of the path" [.place in the owner] { ... }`;
/// a row is how it is reached, where in the owner (its path, but for `as "path"`), what it may hold, section, what its absence means,
/// label, meaning, and where something is computed the formula and its source:
///
/// ```text
/// number stress.dc_v (Volt Volts) Stress, Derived("from the rating"), "Operating voltage (DC)", "Direct voltage across the part.";
/// ```
///
/// A group `/// doc struct Name "prefix." [.place] { ... }` is the type of the file as well, its fields in this order: the owner itself, or what
/// stands at the place. A row then says its type behind the path where `reached as` does not, as `special phases [Option<Vec<Phase>>] (...)`, and
/// has attributes of its own before it.
///
/// | reached as | holds |
/// |---|---|
/// | `number (Unit Bounds)` | a figure; `default` one that goes back to that of a new owner, `within_number` one of something that is there only while it says anything |
/// | `text (Line)` | a text that may be absent; `name` one that may be empty, `within_text` as above, `pairs (First Second)` a table of pairs with their bounds |
/// | `word (Choice)` | one of the words of a choice |
/// | `flag ()` | yes or no; `said` where only yes is written |
/// | `special (kind)` | what shows it by itself: lists and drawings |
/// | `by (kind, access)` | whatever the access says |
macro_rules! fields {
    (@kind number $unit:ident $bounds:ident) => {
        $crate::domain::schema::Kind::Number(
            $crate::domain::schema::Unit::$unit,
            $crate::domain::schema::Bounds::$bounds,
        )
    };
    (@kind default $($of:tt)*) => { fields!(@kind number $($of)*) };
    (@kind within_number $($of:tt)*) => { fields!(@kind number $($of)*) };
    (@kind text $text:ident) => { $crate::domain::schema::Kind::Text($crate::domain::schema::Text::$text) };
    (@kind name $text:ident) => { fields!(@kind text $text) };
    (@kind within_text $text:ident) => { fields!(@kind text $text) };
    (@kind pairs $first:ident $second:ident) => {
        $crate::domain::schema::Kind::Text($crate::domain::schema::Text::Pairs(
            $crate::domain::schema::Bounds::$first,
            $crate::domain::schema::Bounds::$second,
        ))
    };
    (@kind word $choice:ty) => {
        $crate::domain::schema::Kind::Word(<$choice as strum::VariantNames>::VARIANTS)
    };
    (@kind flag) => { $crate::domain::schema::Kind::Flag };
    (@kind said) => { $crate::domain::schema::Kind::Flag };
    (@kind special $kind:expr) => { $kind };
    (@kind by $kind:expr, $access:expr) => { $kind };

    (@access number $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Number(|of| of $($at)+, |of, value| of $($at)+ = value)
    };
    (@access default $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Number(
            |of| Some(of $($at)+),
            |of, value| of $($at)+ = value.unwrap_or(<$owner>::default() $($at)+),
        )
    };
    (@access text $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Text(
            |of| of $($at)+.clone(),
            |of, text| of $($at)+ = text.map(str::to_owned),
        )
    };
    (@access name $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Text(
            |of| Some(of $($at)+.clone()),
            |of, text| text.unwrap_or_default().clone_into(&mut of $($at)+),
        )
    };
    (@access pairs $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Text(
            |of| of $($at)+.as_ref().map(ToString::to_string),
            |of, text| of $($at)+ = text.and_then(|text| text.parse().ok()),
        )
    };
    (@access word $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Word(
            |of| of $($at)+.map(Into::into),
            |of, word| of $($at)+ = word.and_then(|word| word.parse().ok()),
        )
    };
    (@access flag $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Flag(|of| of $($at)+, |of, on| of $($at)+ = on)
    };
    (@access said $owner:ty, ($($at:tt)+) $($of:tt)*) => {
        $crate::domain::schema::Access::Flag(|of| of $($at)+ == Some(true), |of, on| of $($at)+ = on.then_some(true))
    };
    (@access within_number $owner:ty, (. $part:ident . $field:ident) $($of:tt)*) => {
        fields!(@within Number $part $field)
    };
    (@access within_text $owner:ty, (. $part:ident . $field:ident) $($of:tt)*) => {
        fields!(@within Text $part $field)
    };
    (@access special $owner:ty, ($($at:tt)+) $($of:tt)*) => { $crate::domain::schema::Access::Special };
    (@access by $owner:ty, ($($at:tt)+) $kind:expr, $access:expr) => { $access };
    (@within $access:ident $part:ident $field:ident) => {
        $crate::domain::schema::Access::$access(
            |of| of.$part.as_ref()?.$field.clone().map(Into::into),
            |of, value| {
                of.$part.get_or_insert_default().$field = value.map(Into::into);
                of.$part.take_if(|part| *part == Default::default());
            },
        )
    };

    (@formula) => { "" };
    (@formula $formula:expr, $source:expr) => { $formula };
    (@source) => { "" };
    (@source $formula:expr, $source:expr) => { $source };
    (@path $prefix:literal ($first:ident $(. $rest:ident)*)) => {
        concat!($prefix, stringify!($first) $(, ".", stringify!($rest))*)
    };
    (@path $prefix:literal ($($at:tt)+) $path:literal) => { $path };

    (@held $reached:ident [$held:ty] $($of:tt)*) => { $held };
    (@held number $($of:tt)*) => { Option<f64> };
    (@held within_number $($of:tt)*) => { Option<f64> };
    (@held text $($of:tt)*) => { Option<String> };
    (@held within_text $($of:tt)*) => { Option<String> };
    (@held name $($of:tt)*) => { String };
    (@held word ($choice:ty)) => { Option<$choice> };

    (@record [$(#[$about:meta])*] $rows:tt) => {};
    (@record [$(#[$about:meta])* $record:ident] {$(
        $(#[$mark:meta])* $reached:ident $first:ident $(as $path:literal)? $([$held:ty])? ($($of:tt)*) $section:ident,
        $absent:expr, $label:literal, $meaning:literal $(, $formula:expr, $source:expr)?;
    )*}) => {
        $(#[$about])*
        #[derive(Debug, Clone, Default, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(default)]
        pub struct $record {
            $(
                #[doc = $meaning]
                #[doc = concat!("\n\nHolds `", stringify!($($of)*), "`; where it is absent: `", stringify!($absent), "`.")]
                $(#[$mark])*
                #[serde(skip_serializing_if = "crate::domain::written::LeftOut::left_out")]
                pub $first: fields!(@held $reached $([$held])? ($($of)*)),
            )*
            /// Fields of a later version.
            #[serde(flatten)]
            pub extra: $crate::domain::Extra,
        }
    };

    (@table [$(#[$doc:meta])* $visible:vis $all:ident $owner:ty] $($prefix:literal $before:tt {$(
        $(#[$mark:meta])* $reached:ident $first:ident $(. $rest:ident)* $(as $path:literal)? $([$held:ty])? ($($of:tt)*)
        $section:ident, $absent:expr, $label:literal, $meaning:expr $(, $formula:expr, $source:expr)?;
    )*})*) => {
        $(#[$doc])*
        $visible static $all: &[$crate::domain::schema::Field<$owner>] = &[
            $($($crate::domain::schema::Field {
                about: $crate::domain::schema::About {
                    path: fields!(@path $prefix ($first $(. $rest)*) $($path)?),
                    kind: fields!(@kind $reached $($of)*),
                    absent: $absent,
                    label: $label,
                    meaning: $meaning,
                    formula: fields!(@formula $($formula, $source)?),
                    source: fields!(@source $($formula, $source)?),
                    section: $crate::domain::schema::Section::$section,
                },
                access: fields!(@at $reached $owner, $before (. $first $(. $rest)*) $($of)*),
            },)*)*
        ];
    };
    (@at $reached:ident $owner:ty, [$($before:tt)*] ($($at:tt)+) $($of:tt)*) => {
        fields!(@access $reached $owner, ($($before)* $($at)+) $($of)*)
    };
    (
        $(#[$doc:meta])* $visible:vis $all:ident: $owner:ty;
        $($(#[$about:meta])* $(struct $record:ident)? $prefix:literal $before:tt $rows:tt)*
    ) => {
        $(fields!(@record [$(#[$about])* $($record)?] $rows);)*
        fields!(@table [$(#[$doc])* $visible $all $owner] $($prefix $before $rows)*);
    };
}
pub(in crate::domain) use fields;
