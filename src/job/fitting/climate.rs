//! The air a front is fitted in, and the air it will live in.

use super::{FittingTrouble, Places};
use crate::job::fault::Fault;
use crate::job::settings::{Keys, Section};
use crate::job::table::Cell;
use crate::measure::Unit;
use crate::wood::{Air, Cut, Humidity, Moisture, Temperature};

/// `[climate]` of `job.toml`.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// How moist the wood is on the day the front is fitted.
    pub today: Today,
    /// The driest the house gets.
    pub driest: Air,
    /// The dampest the house gets.
    pub wettest: Air,
    /// How boards are sawn that say nothing about it. Flat sawn wood moves the most.
    pub cut: Cut,
    /// Where in `job.toml` it stands: the section as `climate`, and `cut` when it is written.
    pub places: Places,
}

/// How the wood's moisture on the day of fitting is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Today {
    /// From the shop's air, the wood having lain in it until at rest.
    Shop(Air),
    /// With a moisture meter.
    Measured(Moisture),
}

impl Today {
    /// The wood's moisture.
    pub fn moisture(&self) -> Moisture {
        match self {
            Today::Shop(air) => air.equilibrium(),
            Today::Measured(moisture) => *moisture,
        }
    }
}

impl Section for Option<Climate> {
    const NAME: &'static str = "climate";

    fn read(&mut self, keys: &mut Keys<'_>) {
        let shop = read_air(keys, "shop_temperature", "shop_humidity");
        let driest = read_air(keys, "driest_temperature", "driest_humidity");
        let wettest = read_air(keys, "wettest_temperature", "wettest_humidity");
        let mut moisture = None;
        keys.value("moisture", "a number", &mut moisture, |cell| {
            let percent = cell.number(0.0..=Moisture::FIBRE_SATURATION)?;
            Ok(Moisture::percent(percent))
        });
        let mut cut = Cut::Flat;
        keys.choice("cut", &mut cut);
        check_given_once(keys);
        let today = shop.map(Today::Shop).or(moisture.map(Today::Measured));
        let (Some(today), Some(driest), Some(wettest)) = (today, driest, wettest) else {
            return;
        };
        check_order(keys, &driest, &wettest);
        let mut places = Places::default();
        places.keep("climate", keys.place_of("climate"));
        if keys.has("cut") {
            places.keep("cut", keys.place_of("cut"));
        }
        *self = Some(Climate {
            today,
            driest,
            wettest,
            cut,
            places,
        });
    }
}

/// Reads one air; a temperature without a humidity, or the other way round, is a fault.
fn read_air(
    keys: &mut Keys<'_>,
    temperature_key: &'static str,
    humidity_key: &'static str,
) -> Option<Air> {
    let (mut temperature, mut humidity) = (None, None);
    let expected = "a temperature such as \"68 F\" or \"20 C\"";
    keys.value(temperature_key, expected, &mut temperature, |cell| {
        read_temperature(cell).map(Some)
    });
    keys.value(humidity_key, "a number", &mut humidity, |cell| {
        Ok(Humidity::percent(cell.number(0.0..=100.0)?))
    });
    for (key, other) in [
        (temperature_key, humidity_key),
        (humidity_key, temperature_key),
    ] {
        if keys.has(key) && !keys.has(other) {
            keys.fault_at(key, FittingTrouble::Missing { key: other });
        }
    }
    Some(Air {
        temperature: temperature?,
        humidity: humidity?,
    })
}

/// `68 F`, `20 °C`, or a bare number in the scale that goes with the job's unit.
fn read_temperature(cell: &Cell) -> Result<Temperature, Fault> {
    let text = cell.figures().trim().to_lowercase();
    let (number, fahrenheit) = match text.strip_suffix(['f', 'c']) {
        Some(number) => (number, text.ends_with('f')),
        None => (text.as_str(), cell.unit() == Unit::Inch),
    };
    let number = number.trim_end().trim_end_matches(['°', 'º']).trim_end();
    let degrees: f64 = number
        .parse()
        .ok()
        .filter(|d: &f64| d.is_finite())
        .ok_or_else(|| cell.fault(FittingTrouble::NotATemperature))?;
    let read = match fahrenheit {
        true => Temperature::fahrenheit(degrees),
        false => Temperature::celsius(degrees),
    };
    read.ok_or_else(|| cell.fault(FittingTrouble::no_such_weather(degrees, fahrenheit)))
}

fn check_given_once(keys: &mut Keys<'_>) {
    let about_shop = keys.has("shop_humidity") || keys.has("shop_temperature");
    match (keys.has("moisture"), about_shop) {
        (true, true) => keys.fault_at("moisture", FittingTrouble::TodayTwice),
        (false, false) => keys.fault_at("moisture", FittingTrouble::NoToday),
        _ => {}
    }
    for key in ["driest_humidity", "wettest_humidity"] {
        // With only the temperature given, the missing humidity has been reported.
        let temperature = match key {
            "driest_humidity" => "driest_temperature",
            _ => "wettest_temperature",
        };
        if !keys.has(key) && !keys.has(temperature) {
            keys.fault_at(key, FittingTrouble::Missing { key });
        }
    }
}

fn check_order(keys: &mut Keys<'_>, driest: &Air, wettest: &Air) {
    let (dry, wet) = (driest.equilibrium(), wettest.equilibrium());
    if dry > wet {
        let trouble = FittingTrouble::SeasonsSwapped { dry, wet };
        keys.fault_at("driest_humidity", trouble);
    }
}
