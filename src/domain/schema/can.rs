//! The fields of a part, and the same as fields of the original of a position.

use super::{Absent, LIFE, PRACTICE, RIPPLE, RUBYCON, VISHAY, fields};
use crate::domain::can::{EnduranceBasis, LifeBasis, Mounting, Technology, can_fields};
use crate::domain::{Can, Position};
use Absent::{Assumed, Derived, Unknown, UnknownBut};

macro_rules! tables {
    (
        words { $($word:ident: $choice:ident, $word_in:ident, $word_absent:expr, $word_label:literal, $word_meaning:literal
            $(, $word_formula:expr, $word_source:expr)?;)* }
        tables { $($table:ident: $first:ident $second:ident, $table_in:ident, $table_absent:expr, $table_label:literal,
            $table_meaning:literal $(, $table_formula:expr, $table_source:expr)?;)* }
        numbers { $($name:ident: $unit:ident $bounds:ident, $in:ident, $absent:expr, $label:literal, $meaning:literal
            $(, $formula:expr, $source:expr)?;)* }
    ) => {
        fields! {
            /// Every field of a part, by its name in the catalogue.
            pub(super) CAN: Can;
            "" [] {
                $(word $word ($choice) $word_in, $word_absent, $word_label, $word_meaning
                    $(, $word_formula, $word_source)?;)*
                $(pairs $table ($first $second) $table_in, $table_absent, $table_label, $table_meaning
                    $(, $table_formula, $table_source)?;)*
                $(number $name ($unit $bounds) $in, $absent, $label, $meaning $(, $formula, $source)?;)*
            }
        }
        fields! {
            /// The same as fields of the original of a position.
            pub(super) ORIGINAL: Position;
            "original." [.original.can] {
                $(word $word ($choice) $word_in, $word_absent, $word_label, $word_meaning
                    $(, $word_formula, $word_source)?;)*
                $(pairs $table ($first $second) $table_in, $table_absent, $table_label, $table_meaning
                    $(, $table_formula, $table_source)?;)*
                $(number $name ($unit $bounds) $in, $absent, $label, $meaning $(, $formula, $source)?;)*
            }
        }
    };
}

can_fields!(tables);
