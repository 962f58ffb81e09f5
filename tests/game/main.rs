//! The window: colours and type, panels by their labels, the page of a job without a window, and the real window.

mod drawing;
mod instruments;
mod journey;
mod launch;
mod layout;
mod page;
mod panels;
mod sites;
mod support;
mod theme;
mod whole;
mod window;
mod wording;
