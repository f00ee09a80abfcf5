//! The yard and its thicknesses in words.

use crate::job::{Mix, Settings, Span};
use crate::measure::{Length, Ruler, Unit, Volume};

/// A thickness as the trade writes it. In inches `5/4`, or inches when it is no whole quarter; in
/// millimetres always those.
pub fn thickness(thickness: Length, unit: Unit) -> String {
    let quarter = Length::from_inches(0.25);
    let quarters = thickness.nm() / quarter.nm();
    if unit == Unit::Inch && quarters > 0 && quarter * quarters == thickness {
        format!("{quarters}/4")
    } else {
        let ruler = Ruler::of(unit).for_finished(thickness);
        ruler.show_with_unit(thickness)
    }
}

/// So much wood to buy, as the bare number in [`Unit::bulk`]: whole board feet, or cubic metres to
/// the litre.
pub fn amount(unit: Unit, value: f64) -> String {
    match unit {
        Unit::Inch => format!("{value:.0}"),
        Unit::Mm => Volume::new(value).in_bulk(unit),
    }
}

/// The same a digit finer in board feet, for what is reckoned and not bought.
pub fn fine_amount(unit: Unit, value: f64) -> String {
    match unit {
        Unit::Inch => format!("{value:.1}"),
        Unit::Mm => Volume::new(value).in_bulk(unit),
    }
}

/// What was asked for, as it was written.
pub fn asked(unit: Unit, value: f64) -> String {
    let bulk = value / unit.volumes_in_bulk();
    format!("{}", (bulk * 1e9).round() / 1e9)
}

/// What the yard is taken to have, in one sentence.
pub fn yard(settings: &Settings) -> String {
    let yard = &settings.yard;
    let ruler = settings.ruler();
    let on_sale: Vec<String> = yard
        .thickness
        .iter()
        .map(|s| thickness(s.thickness, settings.unit))
        .collect();
    let tone = match (yard.tone.least.value(), yard.tone.most.value()) {
        (least, most) if least == most => format!("{least}"),
        (least, most) => format!("{least} to {most}"),
    };
    format!(
        "{} {} boards, {} long, {} wide, tone {tone}; bow {}, cup {}, twist {}, crook {}",
        on_sale.join(", "),
        yard.grade.name(),
        mix(&yard.length, ruler),
        mix(&yard.width, ruler),
        span(&yard.bow, ruler),
        span(&yard.cup, ruler),
        span(&yard.twist, ruler),
        span(&yard.crook, ruler),
    )
}

fn span(span: &Span<Length>, ruler: Ruler) -> String {
    if span.least == span.most {
        return ruler.show_with_unit(span.least);
    }
    let least = ruler.show(span.least);
    format!("{least} to {}", ruler.show_with_unit(span.most))
}

fn mix(mix: &Mix<Length>, ruler: Ruler) -> String {
    let sum: f64 = mix.parts.iter().map(|part| part.1).sum();
    let one = |(part, share): &(Span<Length>, f64)| {
        let share = match mix.parts.len() {
            1 => String::new(),
            _ => format!(" ({:.0} %)", 100.0 * share / sum),
        };
        format!("{}{share}", span(part, ruler))
    };
    mix.parts.iter().map(one).collect::<Vec<_>>().join(" or ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metric_estimate_shows_no_quarter_and_an_inch_one_does() {
        let five_quarters = Length::from_mm(31.75);
        assert_eq!(thickness(five_quarters, Unit::Inch), "5/4");
        assert_eq!(thickness(five_quarters, Unit::Mm), "31.8 mm");
        assert_eq!(thickness(Length::from_mm(27.0), Unit::Mm), "27 mm");
        assert_eq!(thickness(Length::from_mm(25.4), Unit::Mm), "25.4 mm");
    }

    #[test]
    fn wood_is_bought_by_the_cubic_metre_and_litre_or_by_the_foot() {
        assert_eq!(amount(Unit::Inch, 63.7), "64");
        assert_eq!(amount(Unit::Mm, 150.4), "0.150");
        assert_eq!(asked(Unit::Mm, 60.0), "0.06");
        assert_eq!(asked(Unit::Inch, 60.0), "60");
    }

    #[test]
    fn the_metric_yard_is_told_in_round_millimetres() {
        assert_eq!(
            yard(&Settings::of(Unit::Mm)),
            "27 mm, 34 mm, 41 mm, 54 mm FAS boards, 2500 to 3600 mm long, 150 to 250 mm wide, \
             tone 3 to 7; bow 0 to 6 mm, cup 0 to 2 mm, twist 0 to 3 mm, crook 0 to 6 mm"
        );
    }
}
