//! Where to read of each front: its boards, its place on the fitting sheet.

use crate::draw::board_name;
use crate::fit::Sheet;
use crate::job::Job;
use crate::packet::document::{FrontIndex, Part};
use crate::packet::pieces::PieceOf;
use crate::plan::Plan;

/// Every front in file order.
pub fn fronts(job: &Job, plan: &Plan, fitting: Option<&Sheet>, parts: &[Part]) -> Vec<FrontIndex> {
    let pieces = PieceOf::all(job, plan);
    let part_of = |index: usize| {
        let id = format!("board-{}", index + 1);
        parts.iter().any(|part| part.id == id).then_some(id)
    };
    let boards = |front: usize| {
        let of_front = pieces.iter().filter(|piece| piece.blank.front == front);
        let mut boards = Vec::new();
        for piece in of_front {
            let is_it = |cut: &crate::plan::BoardPlan| std::ptr::eq(cut, piece.cut);
            let index = plan.boards.iter().position(is_it);
            let board = (index.and_then(part_of), board_name(job, piece.cut));
            if !boards.contains(&board) {
                boards.push(board);
            }
        }
        boards
    };
    let fitted = |front: usize| {
        let mut sheet = fitting.iter().flat_map(|sheet| &sheet.fronts);
        sheet.position(|fitted| fitted.front == front)
    };
    let names = job.fronts.iter().enumerate();
    names
        .map(|(index, front)| FrontIndex {
            name: front.name.clone(),
            boards: boards(index),
            fitted: fitted(index).map(|place| place + 1),
        })
        .collect()
}
