//! How a failure is told: `error:`, what and where; an empty line; `hint:`, what would be right.

use std::fmt;
use std::path::Path;
use std::process::ExitCode;

/// Why a command did not do its work.
#[derive(Debug)]
pub struct Failure {
    kind: Kind,
    /// Complete text, without a trailing line break.
    text: String,
    hint: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Work,
    Input,
}

impl Failure {
    /// The input is at fault: exit code 2.
    pub(crate) fn input(message: impl fmt::Display) -> Self {
        Self { kind: Kind::Input, text: format!("error: {message}"), hint: None }
    }

    /// The work failed: exit code 1.
    pub(crate) fn work(message: impl fmt::Display) -> Self {
        Self { kind: Kind::Work, text: format!("error: {message}"), hint: None }
    }

    /// The input is at fault, and its errors are already laid out.
    pub(crate) fn laid_out(text: &str) -> Self {
        Self { kind: Kind::Input, text: text.trim_end().to_owned(), hint: None }
    }

    /// A file that could not be read.
    pub(crate) fn unreadable(path: &Path, cause: &std::io::Error) -> Self {
        let failure = Self::input(format!("{}: cannot be read: {}", path.display(), plain(cause)));
        match cause.kind() {
            std::io::ErrorKind::NotFound => {
                failure.hint("check the name; a relative path starts at the current folder")
            }
            std::io::ErrorKind::IsADirectory => failure.hint("give a file, not a folder"),
            std::io::ErrorKind::NotADirectory => failure.hint("check the path"),
            _ => failure,
        }
    }

    /// Something that could not be written.
    pub(crate) fn unwritable(path: &Path, cause: &std::io::Error) -> Self {
        let why = match cause.kind() {
            std::io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
            _ => plain(cause),
        };
        Self::work(format!("{}: cannot be written: {why}", path.display()))
    }

    /// What would be right.
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Whether the input is at fault, not the work.
    pub fn is_of_input(&self) -> bool {
        self.kind == Kind::Input
    }

    pub(crate) fn exit_code(&self) -> ExitCode {
        match self.kind {
            Kind::Work => ExitCode::from(1),
            Kind::Input => ExitCode::from(2),
        }
    }
}

/// The cause in words, without the number that the operating system gives it.
fn plain(cause: &std::io::Error) -> String {
    match cause.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::IsADirectory => "it is a folder".to_owned(),
        std::io::ErrorKind::PermissionDenied => "permission is denied".to_owned(),
        std::io::ErrorKind::NotADirectory => "a part of the path is a file, not a folder".to_owned(),
        std::io::ErrorKind::AlreadyExists => "a file of that name is in the way".to_owned(),
        _ => {
            let words = cause.to_string();
            words.split_once(" (os error").map_or(words.as_str(), |(plain, _)| plain).to_owned()
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)?;
        match &self.hint {
            Some(hint) => write!(f, "\n\nhint: {hint}"),
            None => Ok(()),
        }
    }
}
