//! Network files.
use crate::text::Problem;

/// A network read from a file.
#[derive(Debug)]
pub struct NetworkFile {}

/// Reads a network file.
///
/// # Errors
/// All problems of the text at once.
pub fn parse(file_name: &str, text: &str) -> Result<NetworkFile, Vec<Problem>> {
    let _ = (file_name, text);
    Ok(NetworkFile {})
}
