//! The screens that the system has: a projector is one of them.

/// A screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Screen {
    /// What the system calls it; may be empty.
    pub(super) name: String,
    /// Its width and height, px.
    size: [u32; 2],
    /// Whether the program's own window is on it.
    pub(super) is_own: bool,
}

impl Screen {
    /// How it stands in a list, by its number from 1.
    pub(super) fn said(&self, number: usize) -> String {
        let Self { name, size: [width, height], .. } = self;
        let name = if name.is_empty() { String::new() } else { format!("{name}, ") };
        format!("Screen {number}: {name}{width} x {height}")
    }
}

/// The screens in the system's order; none where the window doesn't know of any.
pub(super) fn screens(frame: &eframe::Frame) -> Vec<Screen> {
    let Some(window) = frame.winit_window() else { return Vec::new() };
    let own = window.current_monitor();
    let screen = |monitor: _| {
        let is_own = own.as_ref() == Some(&monitor);
        let size = monitor.size();
        Screen { name: monitor.name().unwrap_or_default(), size: [size.width, size.height], is_own }
    };
    window.available_monitors().map(screen).collect()
}
