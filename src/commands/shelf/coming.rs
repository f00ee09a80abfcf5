//! A plan on its way in: written, decided on, and put in its place.

use std::fs;
use std::path::Path;

use super::ours::{LIST, listed};
use super::{BEFORE, Shelf, UNDONE, read_if_there, wrote};
use crate::commands::disk::replace_with_backup;
use crate::commands::{Failure, Output};
use crate::job::DONE_CSV;

const COMING: &str = ".coming";
const COMING_PART: &str = ".coming-part";
const ORDER: &str = ".coming/order";
const FILES: &str = "files";
/// What the job's done.csv says from the coming plan on, when that changes with it.
const MARKS: &str = "marks";

/// What is to be done with a coming plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Order {
    /// Where the present plan goes: a shelf and a number on it.
    pub shelf: (&'static str, u32),
    /// The number of the earlier plan that the coming one is, if it is one.
    pub taken: Option<u32>,
}

impl Order {
    fn text(self) -> String {
        let (shelf, number) = self.shelf;
        let taken = self.taken.map(|taken| format!("{BEFORE}/{taken}"));
        format!("{shelf}/{number}\n{}\n", taken.unwrap_or_default())
    }

    /// An order as [`Order::text`] writes it, and no other: what it names is moved and removed.
    fn read(text: &str) -> Option<Order> {
        let (first, second) = text.strip_suffix('\n')?.split_once('\n')?;
        let (shelf, number) = first.split_once('/')?;
        let shelf = [BEFORE, UNDONE].into_iter().find(|known| *known == shelf)?;
        let taken = match second {
            "" => None,
            _ => Some(
                second
                    .strip_prefix(BEFORE)?
                    .strip_prefix('/')?
                    .parse()
                    .ok()?,
            ),
        };
        let order = Order {
            shelf: (shelf, number.parse().ok()?),
            taken,
        };
        (order.text() == text).then_some(order)
    }
}

impl Shelf<'_> {
    /// Ends what a crash left half done.
    pub(super) fn settle(&self) -> Result<(), Failure> {
        let path = self.at(ORDER)?;
        let Some(order) = read_if_there(&path)? else {
            return Ok(());
        };
        let order = std::str::from_utf8(&order).ok().and_then(Order::read);
        let Some(order) = order else {
            return Err(Failure::NotOurs {
                path,
                folder: self.out.join(COMING),
            });
        };
        self.shelve(order)?;
        self.put_in_place()?;
        self.put_marks()?;
        if let Some(taken) = order.taken {
            self.remove_folder(&format!("{BEFORE}/{taken}"))?;
        }
        self.remove_folder(COMING_PART)?;
        self.rename(COMING, COMING_PART)?;
        self.remove_folder(COMING_PART)
    }

    /// Writes the new plan beside the present one, decides on it, and puts it in its place.
    pub(super) fn bring(
        &self,
        outputs: &[Output],
        order: &Order,
        marks: Option<&str>,
    ) -> Result<(), Failure> {
        let written = self.write_coming(outputs, order, marks);
        let decided = written.and_then(|()| self.rename(COMING_PART, COMING));
        if decided.is_err() {
            // A full disk needs the room; what can't be removed now is by the next plan.
            let _ = self.remove_folder(COMING_PART);
        }
        decided?;
        self.settle()
    }

    fn write_coming(
        &self,
        outputs: &[Output],
        order: &Order,
        marks: Option<&str>,
    ) -> Result<(), Failure> {
        self.remove_folder(COMING_PART)?;
        let mut names: Vec<&str> = outputs.iter().map(|(name, _)| name.as_str()).collect();
        names.sort_unstable();
        let list = names.join("\n") + "\n";
        for (name, bytes) in outputs {
            self.write(&format!("{COMING_PART}/{FILES}/{name}"), bytes)?;
        }
        self.write(&format!("{COMING_PART}/{FILES}/{LIST}"), list.as_bytes())?;
        self.write(&format!("{COMING_PART}/order"), order.text().as_bytes())?;
        match marks {
            Some(marks) => self.write(&format!("{COMING_PART}/{MARKS}"), marks.as_bytes()),
            None => Ok(()),
        }
    }

    /// Copies the present plan to its place on the shelf, unless that is done already.
    fn shelve(&self, order: Order) -> Result<(), Failure> {
        let (shelf, number) = order.shelf;
        let place = format!("{shelf}/{number}");
        let names = listed(self.out);
        if names.is_empty() || self.at(&place)?.exists() {
            return Ok(());
        }
        let part = format!("{place}-part");
        self.remove_folder(&part)?;
        for name in names.iter().map(String::as_str).chain([LIST]) {
            // The maker may have thrown a drawing away.
            if let Some(bytes) = read_if_there(&self.at(name)?)? {
                self.write(&format!("{part}/{name}"), &bytes)?;
            }
        }
        self.rename(&part, &place)
    }

    /// Moves the new files in, clears away those the old plan had and the new one has not, and
    /// last of all says whose files they are.
    fn put_in_place(&self) -> Result<(), Failure> {
        let files = format!("{COMING}/{FILES}");
        let new = listed(&self.at(&files)?);
        if !self.at(&format!("{files}/{LIST}"))?.exists() {
            return Ok(());
        }
        for name in &new {
            let from = format!("{files}/{name}");
            if let Some(bytes) = read_if_there(&self.at(&from)?)? {
                self.make_room(name, &bytes)?;
                self.rename(&from, name)?;
            }
        }
        for name in listed(self.out).iter().filter(|name| !new.contains(name)) {
            let path = self.at(name)?;
            wrote(&path, self.disk.remove_file(&path))?;
            self.remove_if_empty(Path::new(name).parent());
        }
        self.rename(&format!("{files}/{LIST}"), LIST)
    }

    /// What done.csv says from the coming plan on.
    fn put_marks(&self) -> Result<(), Failure> {
        let Some(marks) = read_if_there(&self.at(&format!("{COMING}/{MARKS}"))?)? else {
            return Ok(());
        };
        let done = self.folder.join(DONE_CSV);
        // Once is enough: the second time the text before would be lost from its backup.
        if read_if_there(&done)?.as_ref() == Some(&marks) {
            return Ok(());
        }
        wrote(&done, replace_with_backup(self.disk, &done, &marks))
    }

    /// Removes folders of the output folder that hold nothing any more.
    fn remove_if_empty(&self, folder: Option<&Path>) {
        let folders = folder.into_iter().flat_map(Path::ancestors);
        for folder in folders.filter(|folder| *folder != Path::new("")) {
            // Where something else is in it, it stays.
            if fs::remove_dir(self.out.join(folder)).is_err() {
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_order_reads_back_and_no_other_text_is_one() {
        for shelf in [(BEFORE, 1), (UNDONE, 12)] {
            for taken in [None, Some(3)] {
                let order = Order { shelf, taken };
                assert_eq!(Order::read(&order.text()), Some(order));
            }
        }
        for text in [
            "",
            "before/1",
            "before/1\n",
            "before/1\n../../victim\n",
            "before/1\nbefore/../../victim\n",
            "../../victim\n\n",
            "before/../../victim\n\n",
            "before/+1\n\n",
            "/etc/1\n\n",
            "before/1\n\nbefore/2\n",
        ] {
            assert_eq!(Order::read(text), None, "{text:?}");
        }
    }
}
