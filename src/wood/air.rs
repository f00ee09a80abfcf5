//! Air, and the moisture wood takes up from it.

use std::fmt;

/// How warm the air is, in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

/// Relative humidity of the air, 0 to 100 per cent.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Humidity(f64);

/// Water in wood, in per cent of the wood's oven-dry weight.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Moisture(f64);

/// The air wood has lain in long enough to come to rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// How warm.
    pub temperature: Temperature,
    /// How damp.
    pub humidity: Humidity,
}

impl Temperature {
    /// Degrees Celsius a shop or a house may have: anything outside is a slip of the pen.
    pub const LOWEST: f64 = -20.0;
    /// See [`Temperature::LOWEST`].
    pub const HIGHEST: f64 = 60.0;

    /// From degrees Celsius; nothing outside -20 to 60.
    pub fn celsius(degrees: f64) -> Option<Temperature> {
        (Temperature::LOWEST..=Temperature::HIGHEST)
            .contains(&degrees)
            .then_some(Temperature(degrees))
    }

    /// From degrees Fahrenheit; nothing outside -4 to 140.
    pub fn fahrenheit(degrees: f64) -> Option<Temperature> {
        Temperature::celsius((degrees - 32.0) / 1.8)
    }

    /// Degrees Celsius.
    pub fn in_celsius(self) -> f64 {
        self.0
    }

    /// Degrees Fahrenheit.
    pub fn in_fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}

impl Humidity {
    /// From per cent; nothing outside 0 to 100.
    pub fn percent(value: f64) -> Option<Humidity> {
        (0.0..=100.0).contains(&value).then_some(Humidity(value))
    }

    /// Per cent.
    pub fn value(self) -> f64 {
        self.0
    }
}

impl Moisture {
    /// Above about this wood no longer swells (fibre saturation), and the movement formula ends.
    ///
    /// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13, limits of Equation 13-3.
    pub const FIBRE_SATURATION: f64 = 30.0;

    /// From per cent; nothing outside 0 to 30.
    pub fn percent(value: f64) -> Option<Moisture> {
        (0.0..=Moisture::FIBRE_SATURATION)
            .contains(&value)
            .then_some(Moisture(value))
    }

    /// Per cent.
    pub fn value(self) -> f64 {
        self.0
    }

    /// Whether the linear movement coefficients are meant for this moisture: 6 to 14 per cent.
    ///
    /// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13, under the worked example.
    pub fn is_within_coefficients(self) -> bool {
        (6.0..=14.0).contains(&self.0)
    }
}

impl fmt::Display for Moisture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.1} %", self.0)
    }
}

impl Air {
    /// The moisture content wood comes to in this air.
    ///
    /// Source: Wood Handbook, FPL-GTR-282 (2021), chapter 4, Equation 4-5 (the same in
    /// FPL-GTR-190, 2010), constants for degrees Celsius. The table beside it covers 30 to
    /// 270 °F and 5 to 95 %; beyond that this extrapolates. Species and the wood's history
    /// matter by more than a tenth of a per cent.
    pub fn equilibrium(&self) -> Moisture {
        let t = self.temperature.in_celsius();
        let h = self.humidity.value() / 100.0;
        let w = 349.0 + 1.29 * t + 0.0135 * t * t;
        let k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
        let k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
        let k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
        let kh = k * h;
        let dissolved = kh / (1.0 - kh);
        let bound = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
        let percent = 1800.0 / w * (dissolved + bound);
        Moisture(percent.clamp(0.0, Moisture::FIBRE_SATURATION))
    }

    /// Whether the published table covers this air: 5 to 95 per cent, and above -1 °C.
    pub fn is_within_table(&self) -> bool {
        (5.0..=95.0).contains(&self.humidity.value()) && self.temperature.in_fahrenheit() >= 30.0
    }
}
