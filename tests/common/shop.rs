//! A maker's folder, and commands run on it.

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use assert_cmd::assert::Assert;
use tempfile::TempDir;

/// A job's folder of its own for one test.
pub struct Shop {
    pub folder: TempDir,
}

impl Shop {
    /// With the job `grainrow start` writes.
    pub fn with_the_example() -> Shop {
        let shop = Shop::empty();
        shop.run(&["start"]).code(0);
        shop
    }

    pub fn empty() -> Shop {
        Shop {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join("job").join(name)
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn write(self, name: &str, text: &str) -> Shop {
        fs::write(self.path(name), text).unwrap();
        self
    }

    /// Runs a command on the job's folder: the first word, the folder, the rest.
    pub fn run(&self, words: &[&str]) -> Assert {
        Command::cargo_bin("grainrow")
            .unwrap()
            .env_remove("NO_COLOR")
            .current_dir(self.folder.path())
            .arg(words[0])
            .arg("job")
            .args(&words[1..])
            .assert()
    }
}
