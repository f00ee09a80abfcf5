//! A disk that is full at every write in turn, in every command that writes beside a maker's files.

use rayon::prelude::*;

use super::{ALL, copied, is_whole, own, tree};
use crate::commands::Failure;
use crate::commands::disk::Real;
use crate::commands::disk::testing::Full;
use crate::commands::shelf::Shelf;

#[test]
fn a_full_disk_leaves_every_command_done_or_not_begun_and_no_fuller() {
    for step in ALL {
        let base = step.base();
        let (before, after) = (tree(base.path()), {
            let copy = copied(base.path());
            step.run(&Real, copy.path());
            own(&tree(copy.path()))
        });
        let writes = {
            let (copy, disk) = (copied(base.path()), Full::after(usize::MAX));
            step.run(&disk, copy.path());
            usize::MAX - disk.left()
        };
        assert!(writes > 1, "{step:?}: {writes} writes");
        (0..writes).into_par_iter().for_each(|at| {
            let copy = copied(base.path());
            let folder = copy.path();
            let failed = step.try_run(&Full::after(at), folder).unwrap_err();
            assert!(
                matches!(failed, Failure::Write { .. }),
                "{step:?}, {at}: {failed}"
            );
            let left = tree(folder);
            let temporary = left.keys().find(|name| {
                let name = name.to_string_lossy();
                name.contains(".coming-part") || name.ends_with(".new") || name.ends_with(".old")
            });
            assert_eq!(temporary, None, "{step:?}, write {at}");
            drop(Shelf::open(&Real, &folder.join("out"), folder).unwrap());
            is_whole(folder, "out");
            let now = own(&tree(folder));
            for (name, bytes) in own(&before) {
                let either = [Some(&bytes), after.get(&name)];
                assert!(
                    either.contains(&now.get(&name)),
                    "{step:?}, write {at}: {name:?}"
                );
            }
        });
    }
}
