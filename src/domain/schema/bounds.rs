//! Which values a figure may have, and what it is measured in.

/// Least and greatest value, whether the least itself is excluded, whether it must be whole, what is expected in words.
type Limits = (f64, f64, bool, bool, &'static str);

/// The bounds: least and greatest value, whether the least itself is excluded, whether it must be whole; what is expected; what else there is
/// to say.
macro_rules! bounds {
    ($($name:ident ($least:expr, $most:expr, $above:expr, $whole:expr) $expected:literal $(, $more:literal)?;)*) => {
        /// Which values make sense for a figure; anything else is refused where it is entered or read.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Bounds { $(#[doc = $expected] $(#[doc = $more])? $name,)* }

        impl Bounds {
            const fn limits(self) -> Limits {
                match self { $(Self::$name => ($least, $most, $above, $whole, $expected),)* }
            }
        }
    };
}

bounds! {
    Positive (0.0, 1e15, true, false) "expected a number above 0; leave it empty when unknown", "At most 1e15.";
    NotNegative (0.0, 1e15, false, false) "expected 0 or more", "At most 1e15.";
    Signed (-1e15, 1e15, false, false) "expected a number", "Up to 1e15 either way.";
    Celsius (-100.0, 300.0, false, false) "expected a temperature from -100 to 300 °C";
    Volts (-1e4, 1e4, false, false) "expected a voltage within 10 kV either way";
    RatedVolts (0.0, 1e4, true, false) "expected a voltage above 0 and up to 10 kV";
    PeakVolts (0.0, 1e4, false, false) "expected a voltage from 0 to 10 kV";
    Share (0.0, 1.0, true, false) "expected a share above 0 % and up to 100 %";
    Margin (1.0, 1000.0, false, false) "expected a factor of 1 or more, up to 1000";
    HoursOfYear (0.0, 8784.0, true, false) "expected hours above 0 and up to 8784, a leap year", "Hours of a year.";
    Year (1900.0, 2100.0, false, true) "expected a year from 1900 to 2100", "A year of manufacture.";
    Percent (0.0, 100.0, false, false) "expected 0 to 100 %";
    Count (1.0, 1e9, false, true) "expected a whole number from 1 to 1000000000";
    Pieces (0.0, 1e9, false, true) "expected whole pieces from 0 to 1000000000";
    Lot (1.0, 1e6, false, true) "expected whole pieces from 1 to 1000000", "Pieces of an order.";
    Spread (0.0, 1.0, false, false) "expected a relative standard deviation from 0 to 100 %",
        "Wider says nothing any more (our bound, no source).";
    Samples (1.0, 1e6, false, true) "expected a whole number from 1 to 1000000",
        "How many lives are drawn: more than a million takes seconds and gains no digit.";
    Seed (0.0, 9_007_199_254_740_991.0, false, true) "expected a whole number of 0 or more",
        "What a seed can be, exact as a JSON number.";
}

impl Bounds {
    /// `None` when `value` is allowed, else what was expected, in words.
    pub fn complaint(self, value: f64) -> Option<&'static str> {
        let (least, most, above, whole, expected) = self.limits();
        // Written so that NaN fails.
        let inside = value >= least && value <= most && !(above && value == least);
        (!inside || (whole && value.fract() != 0.0)).then_some(expected)
    }

    /// Least and greatest value; the least itself may be excluded.
    pub fn range(self) -> (f64, f64) {
        let (least, most, ..) = self.limits();
        (least, most)
    }

    /// Whether only whole numbers are allowed, so that a file writes them without a decimal point.
    pub fn whole(self) -> bool {
        self.limits().3
    }
}

/// The units with their signs on screen; what the name does not say behind.
macro_rules! units {
    ($($name:ident $symbol:literal $(, $meaning:literal)?;)*) => {
        /// What a figure is measured in, in files and on screen.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[expect(missing_docs, reason = "the names are the units")]
        pub enum Unit { $($(#[doc = $meaning])? $name,)* }

        impl Unit {
            /// The unit as shown; empty for a bare number.
            pub fn symbol(self) -> &'static str {
                match self { $(Self::$name => $symbol,)* }
            }
        }
    };
}

units! {
    Number "", "A bare number.";
    Microfarad "µF";
    Volt "V";
    Ampere "A";
    Microampere "µA";
    Milliohm "mΩ";
    Kilohm "kΩ";
    Ohm "Ω";
    Hertz "Hz";
    Watt "W";
    Microhenry "µH";
    Second "s";
    Hour "h";
    Year "years";
    Day "days";
    Celsius "°C";
    Kelvin "K";
    Millimetre "mm";
    Percent "%";
    Degree "°";
    Share "%", "A share of one in files (0.8), percent on screen (80 %).";
    AirSpeed "m/s", "Feet per minute in files, metres per second on screen.";
    Piece "";
    Money "", "Money in the currency of the job.";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_those_that_are_said() {
        for (bounds, good, bad) in [
            (Bounds::Share, [0.001, 1.0], [0.0, 80.0]),
            (Bounds::Margin, [1.0, 1.25], [0.99, 1001.0]),
            (Bounds::HoursOfYear, [1.0, 8784.0], [0.0, 9999.0]),
            (Bounds::Count, [1.0, 25.0], [0.0, 2.5]),
            (Bounds::Pieces, [0.0, 3.0], [-1.0, 0.5]),
            (Bounds::Lot, [1.0, 1e6], [1.5, 1e6 + 1.0]),
            (Bounds::Spread, [0.0, 1.0], [-0.1, 5.0]),
            (Bounds::Volts, [-325.0, 10_000.0], [-10_001.0, 10_001.0]),
            (Bounds::PeakVolts, [0.0, 6.0], [-200.0, 1e5]),
            (Bounds::Celsius, [-100.0, 300.0], [-101.0, 301.0]),
            (Bounds::Year, [1900.0, 2100.0], [-3.0, 1987.5]),
        ] {
            assert!(good.iter().all(|&value| bounds.complaint(value).is_none()), "{bounds:?}");
            assert!(bad.iter().all(|&value| bounds.complaint(value).is_some()), "{bounds:?}");
            assert!(bounds.complaint(f64::NAN).is_some() && bounds.complaint(f64::INFINITY).is_some(), "{bounds:?}");
        }
    }
}
