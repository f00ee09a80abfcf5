//! The yard and its thicknesses in words.

use crate::job::{Mix, Settings, Span};
use crate::measure::{Length, Ruler};

/// A thickness as the trade writes it: `5/4`, or in inches when it is no whole quarter.
pub fn thickness(thickness: Length) -> String {
    let quarter = Length::from_inches(0.25);
    let quarters = thickness.nm() / quarter.nm();
    if quarters > 0 && quarter * quarters == thickness {
        format!("{quarters}/4")
    } else {
        Ruler::default().show_with_unit(thickness)
    }
}

/// What the yard is taken to have, in one sentence.
pub fn yard(settings: &Settings) -> String {
    let yard = &settings.yard;
    let ruler = settings.ruler();
    let on_sale: Vec<String> = yard
        .thickness
        .iter()
        .map(|s| thickness(s.thickness))
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
