//! The packet as a document: parts made of blocks, before it becomes HTML or PDF.
//!
//! Both are made from the same document, so no mark can differ between them.

use super::phrase::Phrase;
use crate::draw::Drawing;
use crate::measure::Ruler;

/// The id of the part that shows the case.
pub const OVERVIEW: &str = "overview";

/// The whole packet.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// The job's title.
    pub title: String,
    /// The date the maker gave, if any.
    pub date: Option<String>,
    /// What every sheet says at its foot.
    pub notice: Option<String>,
    /// Which plan it is, where it replaces another.
    pub plan: Option<String>,
    /// How lengths are written first.
    pub ruler: Ruler,
    /// The parts, each beginning on a sheet of its own.
    pub parts: Vec<Part>,
    /// Where to read of each front.
    pub fronts: Vec<FrontIndex>,
}

/// Where to read of one front.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontIndex {
    /// Its name.
    pub name: String,
    /// The boards it is cut from: the id of the board's part, if it has one, and its name.
    pub boards: Vec<(Option<String>, String)>,
    /// Its place on the fitting sheet, counted from 1.
    pub fitted: Option<usize>,
}

/// A part of the packet: one board, the cutting list, and so on.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name within the packet: small letters, digits and hyphens.
    pub id: String,
    /// Its heading.
    pub title: String,
    /// Figures beside the heading, if any.
    pub subtitle: Phrase,
    /// What it says.
    pub blocks: Vec<Block>,
    /// Columns it runs down on paper and on wide screens.
    pub columns: usize,
}

/// A piece of a part.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading below the part's own.
    Heading(String),
    /// A paragraph.
    Text(Phrase),
    /// A drawing.
    Picture(Picture),
    /// A photograph to open below a drawing, on a screen: paper has the drawing.
    Photo(Photo),
    /// Names with values.
    Figures(Vec<(String, Phrase)>),
    /// A table.
    Table(Table),
    /// Names, each with a sentence or two beside it.
    Lines(Vec<(String, Phrase)>),
    /// Things to do, to be ticked.
    Steps(Vec<Phrase>),
    /// Two groups of blocks, side by side where there is room.
    Pair {
        /// The group on the left.
        left: Vec<Block>,
        /// The group on the right.
        right: Vec<Block>,
        /// The left one's share of the width.
        share: f64,
    },
    /// Groups of blocks side by side, as many as there is room for.
    Beside(Vec<Vec<Block>>),
    /// Blocks that run down so many columns.
    Columns(usize, Vec<Block>),
    /// The same said in two ways: in tables for paper, and in cards for a screen as narrow as a
    /// hand.
    Either {
        /// On paper.
        paper: Vec<Block>,
        /// On a screen.
        screen: Vec<Block>,
    },
    /// A caution.
    Caution {
        /// What it is about.
        title: String,
        /// What it says.
        words: Phrase,
    },
}

/// A photograph.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// What it shows.
    pub about: String,
    /// The picture, as a JPEG file without metadata.
    pub jpeg: Vec<u8>,
}

/// A drawing, once for each unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// With lengths in inches.
    pub inch: Drawing,
    /// With lengths in millimetres.
    pub mm: Drawing,
    /// The same for a screen as narrow as a hand, in inches and in millimetres.
    pub narrow: Option<[Drawing; 2]>,
    /// The same for paper, in the document's unit: in several heights, the highest first, each one
    /// drawing or several. Without any it is printed larger or smaller as there is room.
    pub heights: Vec<Vec<Drawing>>,
}

/// Rows of cells under a head.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows, a cell for each column.
    pub rows: Vec<Vec<Phrase>>,
    /// Read at arm's length: set larger.
    pub large: bool,
    /// Read at the bench: figures set to be read there on paper.
    pub bench: bool,
}

/// A column of a table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// What it has in common with the columns beside it; nothing when empty.
    pub group: String,
    /// Its head.
    pub head: String,
    /// Figures stand at the right.
    pub figures: bool,
}

impl Table {
    /// Whether its columns have heads; if not, each row begins with its own.
    pub fn is_headed(&self) -> bool {
        self.columns.iter().any(|column| !column.head.is_empty())
    }
}

impl Column {
    /// A column of words.
    pub fn words(head: &str) -> Column {
        Column {
            head: head.to_owned(),
            ..Column::default()
        }
    }

    /// A column of figures.
    pub fn figures(head: &str) -> Column {
        Column {
            head: head.to_owned(),
            figures: true,
            ..Column::default()
        }
    }

    /// The same as one of a group.
    pub fn of(self, group: &str) -> Column {
        Column {
            group: group.to_owned(),
            ..self
        }
    }

    /// What it says, with its group before it.
    pub fn full_name(&self) -> String {
        format!("{} {}", self.group, self.head).trim().to_owned()
    }
}

impl Part {
    /// An empty part.
    pub fn new(id: impl Into<String>, title: impl Into<String>) -> Part {
        Part {
            id: id.into(),
            title: title.into(),
            subtitle: Phrase::default(),
            blocks: Vec::new(),
            columns: 1,
        }
    }

    /// Whether it is the sheet of one board.
    pub fn is_board(&self) -> bool {
        self.id.starts_with("board-")
    }

    /// Adds a heading.
    pub fn heading(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Heading(words.into()));
    }

    /// Adds a paragraph.
    pub fn text(&mut self, words: impl Into<Phrase>) {
        self.blocks.push(Block::Text(words.into()));
    }

    /// Adds a table, unless it has no row.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks.push(Block::Table(table));
        }
    }

    /// Adds things to do, unless there are none.
    pub fn steps(&mut self, steps: Vec<Phrase>) {
        if !steps.is_empty() {
            self.blocks.push(Block::Steps(steps));
        }
    }
}

impl Picture {
    /// A drawing made once for each unit.
    pub fn of(ruler: Ruler, draw: impl Fn(Ruler) -> Drawing) -> Picture {
        let [inch, mm] = super::phrase::both(ruler);
        Picture {
            inch: draw(inch),
            mm: draw(mm),
            narrow: None,
            heights: Vec::new(),
        }
    }
}
