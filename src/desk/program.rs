//! The program's own name, for lines that say what to type next.

/// `faultwright-desk` where that is what runs, else `faultwright`: whatever its file was renamed to, help names one
/// of the two.
pub fn name() -> &'static str {
    const DESK: &str = "faultwright-desk";
    let desk = std::env::current_exe()
        .ok()
        .and_then(|path| path.file_stem().map(|stem| stem == DESK));
    if desk == Some(true) {
        DESK
    } else {
        "faultwright"
    }
}
