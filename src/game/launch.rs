//! Whether a window can be opened here at all.
//!
//! Without a display or a graphics driver the window library panics while the app is built. Both are found out
//! beforehand or caught, and become words.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex};

use bevy::app::App;

/// Why there is no window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoWindow {
    /// No display to open a window on.
    Display,
    /// A display, and no graphics driver.
    Driver,
}

impl NoWindow {
    /// Key of the wording.
    pub fn key(self) -> &'static str {
        match self {
            Self::Display => "window-no-display",
            Self::Driver => "window-no-driver",
        }
    }
}

/// Asks for a display without opening a window.
#[cfg(all(unix, not(target_os = "macos")))]
pub fn display() -> Result<(), NoWindow> {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    if cfg!(feature = "wayland") && (set("WAYLAND_DISPLAY") || set("WAYLAND_SOCKET")) {
        return Ok(());
    }
    if !set("DISPLAY") {
        return Err(NoWindow::Display);
    }
    x11rb::connect(None)
        .map(drop)
        .map_err(|_refused| NoWindow::Display)
}

/// Elsewhere a display is always there, or the app finds out.
#[cfg(not(all(unix, not(target_os = "macos"))))]
pub fn display() -> Result<(), NoWindow> {
    Ok(())
}

/// Builds the app; a panic of the window library for want of a display or a driver comes back as words.
///
/// Any other panic goes on as it was.
pub fn build(make: impl FnOnce() -> App) -> Result<App, NoWindow> {
    let told = Arc::new(Mutex::new(String::new()));
    let hook = std::panic::take_hook();
    let hears = Arc::clone(&told);
    std::panic::set_hook(Box::new(move |info| {
        if let Ok(mut told) = hears.lock() {
            told.push_str(&info.to_string());
        }
    }));
    let made = catch_unwind(AssertUnwindSafe(make));
    std::panic::set_hook(hook);
    made.map_err(|payload| {
        let told = told.lock().map(|told| told.clone()).unwrap_or_default();
        if told.contains("event loop") || told.contains("XOpenDisplay") || told.contains("DISPLAY")
        {
            NoWindow::Display
        } else if told.contains("GPU") || told.contains("adapter") {
            NoWindow::Driver
        } else {
            std::panic::resume_unwind(payload)
        }
    })
}

/// Whether somebody has put lines on the standard input: a pipe or a file, not an empty device.
#[cfg(unix)]
pub fn piped_input() -> bool {
    use std::os::unix::fs::FileTypeExt as _;
    std::fs::metadata("/dev/stdin").is_ok_and(|found| {
        let kind = found.file_type();
        kind.is_fifo() || kind.is_file() || kind.is_socket()
    })
}

/// Elsewhere: whatever is no keyboard.
#[cfg(not(unix))]
pub fn piped_input() -> bool {
    use std::io::IsTerminal as _;
    !std::io::stdin().is_terminal()
}
