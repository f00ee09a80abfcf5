//! Cautions in words.

use super::Caution;
use crate::job::{Edge, Mode};
use crate::measure::{Length, Ruler};

/// `the left and right edges are`
fn listed(edges: &[Edge]) -> String {
    let words: Vec<&str> = edges.iter().map(|edge| edge.word()).collect();
    match words.as_slice() {
        [one] => format!("the {one} edge is"),
        _ => format!("the {} edges are", words.join(" and ")),
    }
}

/// The next smaller length that is printed as it is, so that doing what is said works.
fn down(ruler: &Ruler, length: Length) -> Length {
    let step = ruler.step().nm();
    Length::from_nm(length.nm().div_euclid(step) * step)
}

impl Caution {
    /// The caution in words.
    pub fn say(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::Closes {
                mode: Mode::Inset,
                edge,
                season,
                to,
                least,
            } => match *to < Length::ZERO {
                true => format!(
                    "it sticks: the gap at the {} closes when {} (it would overlap by {})",
                    edge.word(),
                    season.when(),
                    show(&-*to)
                ),
                false => format!(
                    "the gap at the {} closes to {} when {}, less than {}",
                    edge.word(),
                    show(to),
                    season.when(),
                    show(least)
                ),
            },
            Caution::Closes {
                edge,
                season,
                to,
                least,
                ..
            } => format!(
                "it covers the frame by only {} at the {} when {}, less than {}",
                show(to),
                edge.word(),
                season.when(),
                show(least)
            ),
            Caution::Opens {
                mode,
                edge,
                season,
                to,
                most,
            } => format!(
                "the {} at the {} opens to {} when {}, more than {}",
                match mode {
                    Mode::Inset => "gap",
                    Mode::Overlay => "overlap",
                },
                edge.word(),
                show(to),
                season.when(),
                show(most)
            ),
            Caution::Crowds { .. } => self.say_crowds(ruler),
            other => other.say_rest(ruler),
        }
    }

    fn say_crowds(&self, ruler: &Ruler) -> String {
        let Caution::Crowds {
            how,
            season,
            divider,
            to,
            least,
            now,
        } = self
        else {
            return String::new();
        };
        let show = |length: &Length| ruler.show_with_unit(*length);
        let start = format!("two such fronts {how} on one divider of {}", show(divider));
        // What is too little between them must come off what they cover, half off each.
        let most = (now[0] + now[1] + *to - *least).half();
        let cure = match most > Length::ZERO {
            true => format!(
                "let each cover it by at most {} today (now {})",
                ruler.show_with_unit(down(ruler, most)),
                match now[0] == now[1] {
                    true => show(&now[0]),
                    false => format!("{} and {}", ruler.show(now[0]), show(&now[1])),
                }
            ),
            false => "no overlap is small enough for that divider".into(),
        };
        match *to < Length::ZERO {
            true => format!("{start} run into each other when {}: {cure}", season.when()),
            false => format!(
                "{start} leave only {} between them when {}, less than {}: {cure}",
                show(to),
                season.when(),
                show(least)
            ),
        }
    }

    fn say_rest(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::OnlyShrinks => "the wood is moister today than the house ever makes it: it \
                                     will only shrink; let it rest in drier air before fitting"
                .into(),
            Caution::BeyondCoefficients { season, moisture } => format!(
                "wood at {moisture} ({}) is outside the 6 to 14 % the movement figures are meant \
                 for: take them as rough",
                season.word()
            ),
            Caution::Leans { corner, degrees } => format!(
                "the {corner} corner is {degrees:.1} degrees from square: measure this opening \
                 again before cutting"
            ),
            Caution::Disagrees { by, adjusted } => format!(
                "the two diagonals disagree by {}; shared out, no measurement is off by more \
                 than {}",
                show(by),
                show(adjusted)
            ),
            Caution::FarFromDrawn {
                what,
                drawn,
                fitted,
            } => format!(
                "its {what} comes out as {}, and fronts.csv says {}: is this its opening?",
                show(fitted),
                show(drawn)
            ),
            Caution::OffArch { measured, expected } => format!(
                "the right corner was measured {} higher than the left, and the arch makes it {}: \
                 measure both corners again",
                show(measured),
                show(expected)
            ),
            Caution::ArchChord { arch, chord, under } => format!(
                "the arch {arch} has a chord of {}, and the openings under it make {} with the \
                 dividers between them ({} if `space_after` is a divider's own width): measure \
                 straight across from where the arch springs to where it lands",
                show(chord),
                show(&under[0]),
                show(&under[1])
            ),
            Caution::SawnOtherwise {
                board,
                name,
                reckoned,
                typed,
            } => format!(
                "board {name} is {} sawn, and {} {} sawn: {}",
                board.word(),
                match typed {
                    true => "what is written for this front says",
                    false => "its size was reckoned as for",
                },
                reckoned.word(),
                match typed {
                    true => "the seasons here are the board's",
                    false => "the seasons here are the board's, the gaps of today are not",
                }
            ),
            Caution::TooSteepToShim => "its wedges are too steep for a shim, whatever the order: \
                                        mark each line by what comes off at its two ends, saw \
                                        beside it and plane to it"
                .into(),
            other => other.say_bevel(ruler),
        }
    }

    fn say_bevel(&self, ruler: &Ruler) -> String {
        let show = |length: &Length| ruler.show_with_unit(*length);
        match self {
            Caution::BevelMeetsItself => "the bevels meet: at its narrowest no flat is left \
                                          between them"
                .into(),
            Caution::TiltedTooFar { tilt } => format!(
                "a saw's blade leans to 45 degrees at the most, and this bevel asks for {tilt:.1}: \
                 cut it with the back of the front flat on the table and the blade tilted {:.1}",
                90.0 - tilt
            ),
            Caution::BladeTooShort { blade, reach } => format!(
                "the bevel takes a blade that stands {} out of the table, and `blade` under \
                 [bevel] says {}: saw from both sides of the edge as far as it reaches and plane \
                 the rest, or make the bevel narrower",
                show(blade),
                show(reach)
            ),
            Caution::ThinEdge { left, least } => format!(
                "the bevel leaves an edge of {}, thinner than {}",
                show(left),
                show(least)
            ),
            Caution::ShortToBevel { edges, least } => format!(
                "{} under {} long, the shortest this shop feeds by hand: bevel there on a carrier \
                 or with a plane",
                listed(edges),
                show(least)
            ),
            Caution::HoleInBevel { pull, edge } => format!(
                "a hole of pull {pull} cuts into the bevel at the {}",
                edge.word()
            ),
            Caution::HoleNearEdge { pull, edge, wood } => match *wood < Length::ZERO {
                true => format!("a hole of pull {pull} runs over the {} edge", edge.word()),
                false => format!(
                    "only {} of wood is left between a hole of pull {pull} and the {} edge or its \
                     bevel",
                    show(wood),
                    edge.word()
                ),
            },
            _ => "the two pulls' holes cross: give this front one pull".into(),
        }
    }
}
