//! The van's stock in words.

use faultwright_desk::Words;

/// The key of a stock name's wording.
fn key(stock: &str) -> String {
    format!("window-stock-{}", stock.replace('.', "-"))
}

/// Whether a stock name has wording.
pub fn known(stock: &str) -> bool {
    STOCK.contains(&key(stock).as_str())
}

/// Stock of the van in words; a name without wording is said as it is written.
pub fn stock(words: &Words, stock: &str) -> String {
    if known(stock) {
        words.key(&key(stock))
    } else {
        stock.replace('-', " ")
    }
}

/// Stock that has wording here.
const STOCK: &[&str] = &[
    "window-stock-blank-2",
    "window-stock-block-m4",
    "window-stock-block-m6",
    "window-stock-breaker-16-1p-trio",
    "window-stock-breaker-16-3p",
    "window-stock-breaker-16-3p-c",
    "window-stock-breaker-16-3p-d",
    "window-stock-breaker-20-2p",
    "window-stock-breaker-20-3p",
    "window-stock-breaker-30-2p",
    "window-stock-breaker-40-2p",
    "window-stock-breaker-50-1p-pair",
    "window-stock-breaker-50-2p",
    "window-stock-breaker-50-2p-other",
    "window-stock-breaker-60-2p",
    "window-stock-connector-brass",
    "window-stock-contactor-20",
    "window-stock-contactor-20-120v",
    "window-stock-contactor-20-24v",
    "window-stock-contactor-30",
    "window-stock-contactor-30-120v",
    "window-stock-contactor-50",
    "window-stock-contactor-50-120v",
    "window-stock-cover-screw",
    "window-stock-drum-rollers-belt",
    "window-stock-elements-11r1",
    "window-stock-elements-17r6",
    "window-stock-elements-26r5",
    "window-stock-elements-6r75",
    "window-stock-elements-8r3",
    "window-stock-elements-9r0",
    "window-stock-joint-paste",
    "window-stock-knockout-seal",
    "window-stock-lock-kit",
    "window-stock-motor-5-5",
    "window-stock-plug-30",
    "window-stock-receptacle-30",
    "window-stock-receptacle-50",
    "window-stock-ring-m5",
    "window-stock-ring-m6",
    "window-stock-splice-6-cu",
    "window-stock-wire-10-cu",
    "window-stock-wire-10-nm-b",
    "window-stock-wire-12-nm-b",
    "window-stock-wire-1m5-silicone",
    "window-stock-wire-2m5-pvc",
    "window-stock-wire-2m5-silicone",
    "window-stock-wire-6-al",
    "window-stock-wire-6-cu",
    "window-stock-wire-6-cu-200c",
    "window-stock-wire-8-cu",
    "window-stock-wire-nut",
];
