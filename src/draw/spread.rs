//! Labels along a line that want to stand each at its own mark, but must not overlap.

/// Where labels go whose middles want to be at `wanted` (ascending) and that need `needs` of
/// room each: in order, not overlapping, within `low..high`, moved as little as can be (least
/// sum of squares). `None` when they do not all fit.
///
/// Neighbours that would overlap are pooled into a block, which stands where its members'
/// wishes average: the pool-adjacent-violators method (Ayer and others, Annals of Mathematical
/// Statistics 26, 1955, p. 641), exact for this sum of squares. Blocks that stick out at an end
/// are moved to it, which keeps the order and stays exact.
pub fn spread(wanted: &[f64], needs: &[f64], low: f64, high: f64) -> Option<Vec<f64>> {
    if needs.iter().sum::<f64>() > high - low + 1e-9 {
        return None;
    }
    let mut blocks: Vec<Block> = Vec::new();
    for (&want, &need) in wanted.iter().zip(needs) {
        let mut block = Block {
            count: 1,
            need,
            sum: want - need / 2.0,
        };
        while let Some(before) = blocks.last() {
            if before.start(low, high) + before.need <= block.start(low, high) {
                break;
            }
            block = before.joined(&block);
            blocks.pop();
        }
        blocks.push(block);
    }
    let mut places = Vec::with_capacity(wanted.len());
    let mut needs = needs.iter();
    for block in &blocks {
        let mut at = block.start(low, high);
        for need in needs.by_ref().take(block.count) {
            places.push(at + need / 2.0);
            at += need;
        }
    }
    Some(places)
}

/// Labels that touch one another.
struct Block {
    count: usize,
    need: f64,
    /// Sum over the labels of where the block's start would be if that label had its wish.
    sum: f64,
}

impl Block {
    fn start(&self, low: f64, high: f64) -> f64 {
        (self.sum / self.count as f64)
            .min(high - self.need)
            .max(low)
    }

    fn joined(&self, after: &Block) -> Block {
        Block {
            count: self.count + after.count,
            need: self.need + after.need,
            sum: self.sum + after.sum - self.need * after.count as f64,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::spread;
    use proptest::prelude::*;

    #[test]
    fn labels_with_room_stay_at_their_marks() {
        let places = spread(&[10.0, 50.0, 90.0], &[20.0; 3], 0.0, 100.0);
        assert_eq!(places, Some(vec![10.0, 50.0, 90.0]));
    }

    #[test]
    fn two_labels_at_one_mark_stand_on_both_sides_of_it() {
        let places = spread(&[50.0, 50.0], &[20.0; 2], 0.0, 100.0);
        assert_eq!(places, Some(vec![40.0, 60.0]));
    }

    #[test]
    fn too_many_labels_are_refused() {
        assert_eq!(spread(&[1.0, 2.0, 3.0], &[40.0; 3], 0.0, 100.0), None);
    }

    proptest! {
        #[test]
        fn labels_never_overlap_and_stay_inside(
            mut marks in proptest::collection::vec((0.0..500.0f64, 1.0..20.0f64), 1..25)
        ) {
            marks.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (wanted, needs): (Vec<f64>, Vec<f64>) = marks.into_iter().unzip();
            let places = spread(&wanted, &needs, 0.0, 500.0).expect("25 x 20 fit in 500");
            let mut end = 0.0;
            for (place, need) in places.iter().zip(&needs) {
                prop_assert!(place - need / 2.0 >= end - 1e-6);
                end = place + need / 2.0;
            }
            prop_assert!(end <= 500.0 + 1e-6);
        }

        #[test]
        fn no_other_order_keeping_move_of_two_labels_is_smaller(
            a in 20.0..80.0f64, b in 20.0..80.0f64, shift in -10.0..10.0f64
        ) {
            let (a, b) = (a.min(b), a.max(b));
            let cost = |p: &[f64]| (p[0] - a).powi(2) + (p[1] - b).powi(2);
            let best = spread(&[a, b], &[20.0; 2], 0.0, 100.0).expect("fits");
            let other = [best[0] + shift, best[1] + shift];
            prop_assert!(cost(&best) <= cost(&other) + 1e-9);
        }
    }
}
