//! Small trees that judge a spot. How they were grown stands in `benches/photo/grow.rs`, which also
//! writes their file; the wood they learned from is named in its first lines.

use std::sync::LazyLock;

/// One tree: at each node a figure and its bound, at each leaf what it adds to the score.
///
/// Nodes stand as in a heap: below node `n` are `2n + 1` (at most the bound) and `2n + 2`.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// Which figure is asked, and its bound; three nodes for two questions deep.
    pub nodes: Vec<(usize, f64)>,
    /// What each leaf adds.
    pub leaves: Vec<f64>,
}

/// Trees whose answers are added.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trees {
    /// The score without any.
    pub start: f64,
    /// The trees.
    pub trees: Vec<Tree>,
}

impl Tree {
    /// What it adds for these figures.
    pub fn answer(&self, features: &[f64]) -> f64 {
        let mut node = 0;
        while let Some(&(feature, bound)) = self.nodes.get(node) {
            node = 2 * node + 1 + usize::from(features[feature] > bound);
        }
        self.leaves[node - self.nodes.len()]
    }
}

impl Trees {
    /// How sure a spot with these figures is a defect, 0 to 1.
    pub fn confidence(&self, features: &[f64]) -> f64 {
        let answers = self.trees.iter().map(|tree| tree.answer(features));
        1.0 / (1.0 + (-(self.start + answers.sum::<f64>())).exp())
    }

    /// Their file: the start, then one tree a line, nodes before leaves.
    pub fn write(&self) -> String {
        let mut text = format!("start {:.4}\n", self.start);
        for tree in &self.trees {
            let nodes = tree
                .nodes
                .iter()
                .map(|(feature, bound)| format!("{feature}:{bound:.4}"));
            let leaves = tree.leaves.iter().map(|leaf| format!("{leaf:.4}"));
            text += &nodes.chain(leaves).collect::<Vec<_>>().join(" ");
            text += "\n";
        }
        text
    }

    /// Reads their file; a line that is no tree is left out.
    pub fn read(text: &str) -> Trees {
        let mut trees = Trees::default();
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            if let Some(start) = line.strip_prefix("start ") {
                trees.start = start.trim().parse().unwrap_or(0.0);
            } else {
                trees.trees.extend(read_tree(line));
            }
        }
        trees
    }
}

fn read_tree(line: &str) -> Option<Tree> {
    let (mut nodes, mut leaves) = (Vec::new(), Vec::new());
    for word in line.split_whitespace() {
        match word.split_once(':') {
            Some((feature, bound)) => {
                let feature: usize = feature.parse().ok()?;
                (feature < super::FEATURES).then_some(())?;
                nodes.push((feature, bound.parse().ok()?));
            }
            None => leaves.push(word.parse().ok()?),
        }
    }
    (leaves.len() == nodes.len() + 1 && !nodes.is_empty()).then_some(Tree { nodes, leaves })
}

/// The trees that ship with the program.
pub fn shipped() -> &'static Trees {
    static SHIPPED: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("trees.txt")));
    &SHIPPED
}
