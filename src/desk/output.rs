//! The one place that prints.
//!
//! A reader that goes away (`| head`) ends the output quietly: the rest is dropped and the exit status stays what
//! it was.

use std::io::{self, Write};

/// Where a command writes: results to one side, remarks and problems to the other.
pub struct Output<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
}

impl<'a> Output<'a> {
    /// An output over two writers.
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Self { out, err }
    }

    /// A line of the result.
    pub fn line(&mut self, text: &str) {
        let _reader_gone = writeln!(self.out, "{text}");
    }

    /// Part of a line of the result, shown at once.
    pub fn part(&mut self, text: &str) {
        let _reader_gone = write!(self.out, "{text}").and_then(|()| self.out.flush());
    }

    /// A remark or a problem.
    pub fn remark(&mut self, text: &str) {
        let _reader_gone = writeln!(self.err, "{text}");
    }

    /// Shows what was written so far.
    pub fn flush(&mut self) {
        let _reader_gone = self.out.flush();
    }

    /// The writer of results, for rows in bulk.
    pub fn rows(&mut self) -> Rows<'_> {
        Rows(self.out)
    }
}

/// A writer that never fails: what a reader that went away does not take is dropped.
pub struct Rows<'a>(&'a mut dyn Write);

impl Write for Rows<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        Ok(self.0.write(bytes).unwrap_or(bytes.len()))
    }

    fn flush(&mut self) -> io::Result<()> {
        let _reader_gone = self.0.flush();
        Ok(())
    }
}

/// Runs `work` with the process's own standard output and error.
pub fn with_standard<T>(work: impl FnOnce(&mut Output<'_>) -> T) -> T {
    let mut out = io::BufWriter::new(io::stdout());
    let mut err = io::stderr();
    let result = work(&mut Output::new(&mut out, &mut err));
    let _reader_gone = out.flush();
    result
}
