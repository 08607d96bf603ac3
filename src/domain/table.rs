//! Short tables of pairs as they stand in one cell: `85:1.7;65:2.1`, `1:0.52;10:0.40`.

use std::fmt;
use std::hash::{Hash, Hasher};
use std::str::FromStr;
use std::sync::Arc;

use serde_with::{DeserializeFromStr, SerializeDisplay};

/// Pairs of numbers, sorted by the first. Cheap to clone, so equal tables can be shared by many parts.
#[derive(Debug, Clone, PartialEq, SerializeDisplay, DeserializeFromStr)]
pub struct PairTable(Arc<[(f64, f64)]>);

// Its numbers are finite.
impl Eq for PairTable {}

impl Hash for PairTable {
    fn hash<H: Hasher>(&self, state: &mut H) {
        // 0 and -0 are equal.
        self.pairs().iter().for_each(|(first, second)| [first + 0.0, second + 0.0].map(f64::to_bits).hash(state));
    }
}

impl PairTable {
    /// A table of at least one pair of finite numbers with distinct first members.
    pub fn new(mut pairs: Vec<(f64, f64)>) -> Option<Self> {
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let finite = pairs.iter().all(|p| p.0.is_finite() && p.1.is_finite());
        let distinct = pairs.windows(2).all(|w| w[0].0 < w[1].0);
        (finite && distinct && !pairs.is_empty()).then(|| Self(pairs.into()))
    }

    /// The pairs, first members rising.
    pub fn pairs(&self) -> &[(f64, f64)] {
        &self.0
    }
}

impl FromStr for PairTable {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        const EXPECTED: &str = "expected pairs of numbers as first:second;first:second, each first number once";
        let number = |s: &str| -> Result<f64, Self::Err> { s.trim().parse::<f64>().map_err(|_| EXPECTED) };
        let pairs = text
            .split(';')
            .filter(|pair| !pair.trim().is_empty())
            .map(|pair| {
                let (first, second) = pair.split_once(':').ok_or(EXPECTED)?;
                Ok::<_, &str>((number(first)?, number(second)?))
            })
            .collect::<Result<Vec<_>, &'static str>>()?;
        Self::new(pairs).ok_or(EXPECTED)
    }
}

impl fmt::Display for PairTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, (first, second)) in self.0.iter().enumerate() {
            let separator = if at == 0 { "" } else { ";" };
            write!(f, "{separator}{first}:{second}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_printed_table_reads_back() {
        let table: PairTable = "85:1.7; 65:2.1".parse().unwrap();
        assert_eq!(table.pairs(), [(65.0, 2.1), (85.0, 1.7)]);
        assert_eq!(table.to_string().parse::<PairTable>().unwrap(), table);
    }

    #[test]
    fn repeated_or_unreadable_pairs_are_refused() {
        for text in ["", "85", "85:", "85:1;85:2", "85:inf", "a:b"] {
            assert!(text.parse::<PairTable>().is_err(), "{text}");
        }
    }
}
