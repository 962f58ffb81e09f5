//! The data folder: journals of attempts under way, records of finished ones.
//!
//! A journal is only ever appended to, each line in the system's hands before what it says comes to pass, so that a
//! killed program loses nothing but a torn last line. A finished record is written beside its place and renamed
//! into it. Nothing is deleted that is not safe in a record; a file that cannot be read stays where it is and is
//! reported.

use std::ffi::OsStr;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use anyhow::{Context as _, Result, anyhow, bail};
use faultwright_sim::text::{RECORD_LIMIT, size_accepted};

use crate::record::{Chain, Head, Record};

const JOURNAL: &str = "journal";
const RECORD: &str = "record";

/// The data folder.
#[derive(Debug, Clone)]
pub struct Shelf {
    folder: PathBuf,
}

/// A journal that nobody is writing: an attempt to be resumed or handed in.
#[derive(Debug, Clone)]
pub struct Waiting {
    /// The journal.
    pub path: PathBuf,
    /// Scenario, seed, when begun.
    pub head: Head,
    /// Tick it has come to.
    pub tick: u64,
    /// How often it was resumed before.
    pub resumed: usize,
}

/// What stands on the shelf.
#[derive(Debug, Default)]
pub struct Contents {
    /// Journals to be resumed or handed in, oldest first.
    pub waiting: Vec<Waiting>,
    /// Journals another process is writing now.
    pub in_use: Vec<PathBuf>,
    /// Finished records, oldest first.
    pub records: Vec<PathBuf>,
    /// Files that cannot be read, and why. They are left alone.
    pub unreadable: Vec<(PathBuf, String)>,
}

impl Shelf {
    /// A shelf in this folder, which is made if need be.
    ///
    /// # Errors
    /// When the folder cannot be made.
    pub fn at(folder: impl Into<PathBuf>) -> Result<Self> {
        let folder = folder.into();
        for inner in [Self::journals_of(&folder), Self::records_of(&folder)] {
            fs::create_dir_all(&inner)
                .with_context(|| format!("cannot make the folder {}", inner.display()))?;
        }
        Ok(Self { folder })
    }

    /// Where `FAULTWRIGHT_HOME` says, else the platform's data folder.
    ///
    /// # Errors
    /// When there is no such folder and none can be made.
    pub fn standard() -> Result<Self> {
        match std::env::var_os("FAULTWRIGHT_HOME").filter(|home| !home.is_empty()) {
            Some(home) => Self::at(home),
            None => {
                let folders =
                    directories::ProjectDirs::from("", "", "faultwright").ok_or_else(|| {
                        anyhow!("no home folder is known; name one in FAULTWRIGHT_HOME")
                    })?;
                Self::at(folders.data_dir())
            }
        }
    }

    fn journals_of(folder: &Path) -> PathBuf {
        folder.join("journals")
    }

    fn records_of(folder: &Path) -> PathBuf {
        folder.join("records")
    }

    /// The folder of finished records.
    pub fn records(&self) -> PathBuf {
        Self::records_of(&self.folder)
    }

    /// Begins a journal with this head.
    ///
    /// # Errors
    /// When the file cannot be made or written.
    pub fn begin(&self, head: &Head) -> Result<Journal> {
        let (text, chain) = head.write()?;
        let stem = format!("{}-{}", stamp(head.started), file_safe(&head.scenario));
        let mut number = 1_u32;
        let (mut file, path) = loop {
            let name = if number == 1 {
                format!("{stem}.{JOURNAL}")
            } else {
                format!("{stem}-{number}.{JOURNAL}")
            };
            let path = Self::journals_of(&self.folder).join(name);
            if self.record_path(&path)?.exists() {
                number += 1;
                continue;
            }
            match OpenOptions::new()
                .read(true)
                .append(true)
                .create_new(true)
                .open(&path)
            {
                Ok(file) => break (file, path),
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => number += 1,
                Err(error) => {
                    return Err(error).with_context(|| format!("cannot make {}", path.display()));
                }
            }
        };
        take(&file).with_context(|| format!("cannot lock {}", path.display()))?;
        file.write_all(text.as_bytes())
            .with_context(|| format!("cannot write {}", path.display()))?;
        let record = self.record_path(&path)?;
        Ok(Journal {
            file,
            path,
            record,
            chain,
            sound: text.len() as u64,
            broken: false,
        })
    }

    /// Opens a journal to go on with it, and cuts off a torn last line.
    ///
    /// # Errors
    /// When another process has it, when it cannot be read, or when it is flawed: then it can only be handed in.
    pub fn resume(&self, path: &Path) -> Result<(Journal, Record)> {
        let mut file = OpenOptions::new()
            .read(true)
            .append(true)
            .open(path)
            .with_context(|| format!("cannot open {}", path.display()))?;
        take(&file).map_err(|_held| anyhow!("{} is in use by another process", path.display()))?;
        let text =
            read_capped(&mut file).with_context(|| format!("cannot read {}", path.display()))?;
        let record =
            Record::read(&text).map_err(|flaw| anyhow!("{}: {}", path.display(), flaw.plain()))?;
        if let Some(flaw) = &record.flaw {
            bail!("{}: {}", path.display(), flaw.plain());
        }
        if record.torn {
            file.set_len(record.sound_bytes as u64)
                .with_context(|| format!("cannot mend the end of {}", path.display()))?;
            file.seek(SeekFrom::End(0))?;
        }
        let journal = Journal {
            file,
            record: self.record_path(path)?,
            path: path.to_owned(),
            chain: record.chain.clone(),
            sound: record.sound_bytes as u64,
            broken: false,
        };
        Ok((journal, record))
    }

    /// Makes a record of a journal as it stands, without running it: for one that cannot be resumed.
    ///
    /// # Errors
    /// When another process has it or the record cannot be written.
    pub fn hand_in(&self, path: &Path) -> Result<PathBuf> {
        let mut file =
            File::open(path).with_context(|| format!("cannot open {}", path.display()))?;
        take(&file).map_err(|_held| anyhow!("{} is in use by another process", path.display()))?;
        let bytes = read_capped_bytes(&mut file)
            .with_context(|| format!("cannot hand in {}", path.display()))?;
        let record = self.record_path(path)?;
        put_in_place(&record, &bytes)?;
        fs::remove_file(path)
            .with_context(|| format!("cannot take {} off the shelf", path.display()))?;
        Ok(record)
    }

    /// Everything on the shelf.
    ///
    /// # Errors
    /// When the folders cannot be listed.
    pub fn contents(&self) -> Result<Contents> {
        let mut contents = Contents {
            records: files(&Self::records_of(&self.folder), RECORD)?,
            ..Contents::default()
        };
        for path in files(&Self::journals_of(&self.folder), JOURNAL)? {
            match look(&path) {
                Ok(Some(waiting)) => {
                    // Killed between making the record and clearing the journal: the record is what counts.
                    if !self.record_path(&path)?.exists() {
                        contents.waiting.push(waiting);
                    }
                }
                Ok(None) => contents.in_use.push(path),
                Err(why) => contents.unreadable.push((path, format!("{why:#}"))),
            }
        }
        Ok(contents)
    }

    fn record_path(&self, journal: &Path) -> Result<PathBuf> {
        let stem = journal
            .file_stem()
            .ok_or_else(|| anyhow!("{} is no file name", journal.display()))?;
        let mut name = stem.to_owned();
        name.push(OsStr::new("."));
        name.push(OsStr::new(RECORD));
        Ok(self.records().join(name))
    }
}

/// A journal open for writing, by this process alone.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    record: PathBuf,
    chain: Chain,
    /// Length of the file up to its last whole line, bytes.
    sound: u64,
    /// Half a line could not be taken back: nothing may follow it.
    broken: bool,
}

impl Journal {
    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Appends a line. When this returns the line outlives the process. A line that could only be written in part is
    /// taken back, so that the next one does not stand behind half a line.
    ///
    /// # Errors
    /// When it cannot be written: then the act must not follow.
    pub fn append(&mut self, tick: u64, body: &str) -> Result<()> {
        if self.broken {
            bail!(
                "cannot write {}: it ends in half a line that cannot be taken back; resuming mends it",
                self.path.display()
            );
        }
        let mut chain = self.chain.clone();
        let line = chain.seal(tick, body);
        // One call, so that a kill leaves the whole line or a torn last one; `File` keeps nothing back.
        if let Err(why) = self.file.write_all(line.as_bytes()) {
            self.broken = self.file.set_len(self.sound).is_err();
            return Err(why).with_context(|| format!("cannot write {}", self.path.display()));
        }
        self.chain = chain;
        self.sound += line.len() as u64;
        Ok(())
    }

    /// Makes the finished record and clears the journal away. Returns the record's path.
    ///
    /// # Errors
    /// When the record cannot be written; the journal then stays.
    pub fn finish(mut self) -> Result<PathBuf> {
        self.file.sync_all()?;
        self.file.seek(SeekFrom::Start(0))?;
        let mut bytes = Vec::new();
        self.file.read_to_end(&mut bytes)?;
        put_in_place(&self.record, &bytes)?;
        fs::remove_file(&self.path)
            .with_context(|| format!("cannot clear {}", self.path.display()))?;
        Ok(self.record)
    }
}

/// Reads the text of a record, however damaged; bytes that are no text become marks, which the chain then reports.
///
/// # Errors
/// When the file cannot be read or is larger than a record may be.
pub fn read_record_text(path: &Path) -> Result<String> {
    let mut file = File::open(path).with_context(|| format!("cannot open {}", path.display()))?;
    read_capped(&mut file).with_context(|| format!("cannot read {}", path.display()))
}

fn read_capped(file: &mut File) -> Result<String> {
    let bytes = read_capped_bytes(file)?;
    Ok(String::from_utf8(bytes)
        .unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned()))
}

fn read_capped_bytes(file: &mut File) -> Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.take(RECORD_LIMIT as u64 + 1).read_to_end(&mut bytes)?;
    if bytes.len() > RECORD_LIMIT {
        let length = file.metadata()?.len().max(bytes.len() as u64);
        bail!(
            "found a file of {length} bytes; accepted: {}",
            size_accepted(RECORD_LIMIT)
        );
    }
    Ok(bytes)
}

/// Takes a journal for this process alone. A program that is just being started holds copies of our open files for a
/// moment, locks and all, so a lock that is held is asked for again within a fifth of a second.
fn take(file: &File) -> std::result::Result<(), TryLockError> {
    for _ in 0..20 {
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => thread::sleep(Duration::from_millis(10)),
            outcome => return outcome,
        }
    }
    file.try_lock()
}

/// What is known of a journal without running it; `None` while another process has it.
fn look(path: &Path) -> Result<Option<Waiting>> {
    let mut file = File::open(path)?;
    if file.try_lock_shared().is_err() {
        return Ok(None);
    }
    let record = Record::read(&read_capped(&mut file)?).map_err(|flaw| anyhow!(flaw.plain()))?;
    if let Some(flaw) = record.flaw {
        bail!(flaw.plain());
    }
    let resumed = record
        .entries
        .iter()
        .filter(|entry| entry.body == "resumed")
        .count();
    let tick = record
        .entries
        .iter()
        .map(|entry| entry.tick)
        .max()
        .unwrap_or(0);
    Ok(Some(Waiting {
        path: path.to_owned(),
        head: record.head,
        tick,
        resumed,
    }))
}

fn files(folder: &Path, extension: &str) -> Result<Vec<PathBuf>> {
    let mut paths = Vec::new();
    for entry in
        fs::read_dir(folder).with_context(|| format!("cannot list {}", folder.display()))?
    {
        let path = entry?.path();
        if path.extension().is_some_and(|found| found == extension) {
            paths.push(path);
        }
    }
    paths.sort();
    Ok(paths)
}

/// Writes a file beside its place, then renames it: it is there whole or not at all.
fn put_in_place(path: &Path, bytes: &[u8]) -> Result<()> {
    let beside = path.with_extension("part");
    let write = || -> io::Result<()> {
        let mut file = File::create(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&beside, path)
    };
    write().with_context(|| format!("cannot write {}", path.display()))
}

/// Now, in seconds since 1970-01-01 UTC.
pub fn unix_now() -> u64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| since.as_secs())
}

/// A moment as `2025-03-01T14-05-09`, UTC: sorts by time and is fit for a file name.
pub fn stamp(unix_s: u64) -> String {
    let (year, month, day) = civil(unix_s / 86_400);
    let s = unix_s % 86_400;
    format!(
        "{year:04}-{month:02}-{day:02}T{:02}-{:02}-{:02}",
        s / 3600,
        s / 60 % 60,
        s % 60
    )
}

/// Year, month and day of a day number since 1970-01-01, by counting in 400-year cycles that begin in March.
fn civil(days: u64) -> (u64, u64, u64) {
    let shifted = days + 719_468;
    let (era, day_of_era) = (shifted / 146_097, shifted % 146_097);
    let year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 {
        month_from_march + 3
    } else {
        month_from_march - 9
    };
    (era * 400 + year_of_era + u64::from(month <= 2), month, day)
}

fn file_safe(name: &str) -> String {
    name.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '-' || c == '_' {
                c
            } else {
                '-'
            }
        })
        .take(60)
        .collect()
}
