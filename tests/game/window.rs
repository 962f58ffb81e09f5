//! The real window under a virtual display, with real mouse and key events: `FAULTWRIGHT_WINDOW_TESTS=1`.
//!
//! Needs Xvfb, a software Vulkan driver, `xdotool` and `import` of `ImageMagick`. Pictures are kept in
//! `target/screenshots`. One walkthrough must come to the same record here and in the game in text.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Frames under a software driver are slow: how long to wait between moving, pressing and looking.
const PATIENCE: Duration = Duration::from_millis(900);

/// One display at a time: two software drivers at once are too slow to wait for.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

fn wanted() -> bool {
    let wanted = std::env::var_os("FAULTWRIGHT_WINDOW_TESTS").is_some_and(|value| value == "1");
    if !wanted {
        let mut err = std::io::stderr().lock();
        writeln!(
            err,
            "skipped: the real window is tested with FAULTWRIGHT_WINDOW_TESTS=1"
        )
        .expect("the stage is set");
    }
    wanted
}

/// A virtual display with the window on it; both end with it.
struct Stage {
    display: String,
    server: Child,
    game: Child,
    home: tempfile::TempDir,
    _alone: MutexGuard<'static, ()>,
}

impl Drop for Stage {
    fn drop(&mut self) {
        for child in [&mut self.game, &mut self.server] {
            // Already gone is as good.
            let _ended = child.kill();
            let _ended = child.wait();
        }
    }
}

impl Stage {
    fn open(number: u32, size: &str) -> Self {
        let alone = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
        let display = format!(":{number}");
        let screen = format!("{}x24", size.split('@').next().expect("the stage is set"));
        let server = Command::new("Xvfb")
            .args([&display, "-screen", "0", &screen])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts");
        sleep(Duration::from_secs(1));
        let home = tempfile::tempdir().expect("the stage is set");
        let game = Command::new(env!("CARGO_BIN_EXE_faultwright"))
            .env("DISPLAY", &display)
            .env("FAULTWRIGHT_WINDOW", size)
            .env("FAULTWRIGHT_HOME", home.path())
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the stage is set");
        let stage = Self {
            display,
            server,
            game,
            home,
            _alone: alone,
        };
        let window = stage.find();
        sleep(Duration::from_secs(3));
        stage.tool(&["windowfocus", &window]);
        sleep(PATIENCE);
        stage
    }

    fn find(&self) -> String {
        let patience = Instant::now() + Duration::from_secs(30);
        loop {
            let found = self.tool(&["search", "--name", "^Faultwright$"]);
            if let Some(window) = found.lines().next() {
                return window.to_owned();
            }
            assert!(Instant::now() < patience, "no window came up");
            sleep(Duration::from_millis(200));
        }
    }

    fn tool(&self, args: &[&str]) -> String {
        let output = Command::new("xdotool")
            .env("DISPLAY", &self.display)
            .args(args)
            .output()
            .expect("xdotool runs");
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    fn key(&self, key: &str) {
        self.tool(&["key", key]);
        sleep(PATIENCE);
    }

    fn click(&self, x: u32, y: u32) {
        self.tool(&["mousemove", &x.to_string(), &y.to_string()]);
        sleep(PATIENCE);
        self.tool(&["mousedown", "1"]);
        sleep(Duration::from_millis(60));
        self.tool(&["mouseup", "1"]);
        sleep(PATIENCE);
    }

    fn picture(&self, name: &str) -> PathBuf {
        sleep(PATIENCE);
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/screenshots");
        std::fs::create_dir_all(&folder).expect("the stage is set");
        let path = folder.join(format!("{name}.png"));
        let done = Command::new("import")
            .env("DISPLAY", &self.display)
            .args(["-window", "root"])
            .arg(&path)
            .status()
            .expect("import runs");
        assert!(done.success());
        path
    }

    fn colours(path: &Path) -> u64 {
        let output = Command::new("identify")
            .args(["-format", "%k"])
            .arg(path)
            .output()
            .expect("identify runs");
        String::from_utf8_lossy(&output.stdout)
            .trim()
            .parse()
            .expect("the stage is set")
    }

    /// Begins the job with a seed through the page of choices, by keyboard, and waits for its journal.
    fn begin(&self, seed: &str) {
        self.key("Return");
        self.key("Tab");
        self.tool(&["type", "--delay", "80", seed]);
        sleep(PATIENCE);
    }

    fn files(&self) -> Vec<PathBuf> {
        let mut found = Vec::new();
        let mut todo = vec![self.home.path().to_owned()];
        while let Some(folder) = todo.pop() {
            for entry in std::fs::read_dir(folder)
                .expect("the stage is set")
                .flatten()
            {
                let path = entry.path();
                if path.is_dir() {
                    todo.push(path);
                } else {
                    found.push(path);
                }
            }
        }
        found
    }
}

/// Lines of a journal or record that tell what was done and what came of it: everything after the head, without
/// running digits and without promised time, which depends on the speed of the machine.
fn matter(text: &str) -> Vec<String> {
    text.lines()
        .skip(2)
        .filter_map(|line| {
            let (body, _) = line.rsplit_once(" ~")?;
            let mut words = body.splitn(3, ' ');
            let (_, tick, rest) = (words.next()?, words.next()?, words.next()?);
            (rest != "beat").then(|| format!("{tick} {rest}"))
        })
        .collect()
}

fn journal(files: &[PathBuf]) -> Option<String> {
    files
        .iter()
        .find(|path| {
            path.extension()
                .is_some_and(|extension| extension == "journal" || extension == "record")
        })
        .and_then(|path| std::fs::read_to_string(path).ok())
}

#[test]
fn a_job_is_begun_by_keys_and_comes_to_the_same_as_in_text() {
    if !wanted() {
        return;
    }
    let stage = Stage::open(191, "1280x720");
    stage.picture("1-cautions");
    stage.begin("11");
    let choice = stage.picture("2-choice");
    assert!(Stage::colours(&choice) > 20);
    // The cards come after the seed in the order of Tab; the fifth is the glaze firing.
    for _ in 0..5 {
        stage.tool(&["key", "Tab"]);
        sleep(Duration::from_millis(400));
    }
    stage.key("Return");
    sleep(Duration::from_secs(2));
    let job = stage.picture("3-job");
    assert!(Stage::colours(&job) > 200, "the drawing is there");
    // Go to the store; take the ring off.
    stage.key("g");
    stage.picture("4-go");
    stage.key("1");
    sleep(Duration::from_secs(4));
    stage.picture("5-board");
    // By mouse: the board's list, its first row.
    stage.click(660, 480);
    stage.picture("6-list");
    stage.key("1");
    sleep(Duration::from_secs(3));
    stage.picture("7-looked");
    let text = journal(&stage.files()).expect("a journal is kept");
    let ours = matter(&text);
    let acts: Vec<String> = ours
        .iter()
        .filter_map(|line| line.split_once(" act ").map(|(_, act)| act.to_owned()))
        .collect();
    assert_eq!(acts, ["go store", "look board"], "{ours:?}");
    let scenario = if text.contains("\"scenario\":\"glaze-trips\"") {
        "glaze-trips"
    } else {
        panic!("{}", text.lines().nth(1).unwrap_or_default())
    };

    let home = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_faultwright"))
        .args(["terminal", scenario, "--seed", "11"])
        .env("FAULTWRIGHT_HOME", home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(format!("{}\nquit\n", acts.join("\n")).as_bytes())
        .unwrap();
    child.wait().unwrap();
    let theirs = std::fs::read_dir(home.path().join("journals"))
        .unwrap()
        .flatten()
        .map(|entry| entry.path())
        .collect::<Vec<_>>();
    let theirs = matter(&journal(&theirs).expect("the game in text keeps a journal"));
    assert_eq!(ours, theirs);
}

#[test]
fn the_window_is_drawn_large_and_at_twice_the_scale() {
    if !wanted() {
        return;
    }
    for (number, size, name) in [(192, "1920x1080", "large"), (193, "1920x1080@2", "twice")] {
        let stage = Stage::open(number, size);
        stage.begin("7");
        for _ in 0..3 {
            stage.tool(&["key", "Tab"]);
            sleep(Duration::from_millis(400));
        }
        stage.key("Return");
        sleep(Duration::from_secs(3));
        let picture = stage.picture(name);
        assert!(Stage::colours(&picture) > 200, "{name}");
    }
}
