//! Why a file can't be used as a picture, and what to do.

/// Why a file can't be used as a picture. The text goes on from the file's name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PictureTrouble {
    /// Another kind of file.
    #[error("it is neither a JPEG nor a PNG picture")]
    NotAPicture,
    /// A phone's own format.
    #[error("it is a HEIC or AVIF picture, which can't be read here")]
    Heic,
    /// The end of the file is missing.
    #[error("the picture is cut short: its end is missing")]
    CutShort,
    /// Too many pixels.
    #[error("the picture is {width} by {height} pixels, more than 200 million")]
    TooLarge {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Too few pixels to measure anything.
    #[error("the picture is {width} by {height} pixels, too small to measure")]
    TooSmall {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Something else is wrong inside.
    #[error("the picture is damaged: {0}")]
    Damaged(String),
}

impl PictureTrouble {
    /// What to do about it.
    pub fn cure(&self) -> &'static str {
        match self {
            PictureTrouble::NotAPicture => "save or export it as a JPEG",
            PictureTrouble::Heic => {
                "share or export it from the phone as a JPEG, or set its camera to the most \
                 compatible format"
            }
            PictureTrouble::CutShort => "copy it from the phone once more",
            PictureTrouble::TooLarge { .. } => "export it smaller: 12 million pixels are plenty",
            PictureTrouble::TooSmall { .. } => "use the picture as the camera took it",
            PictureTrouble::Damaged(_) => "open it in another program and save it anew as a JPEG",
        }
    }
}
