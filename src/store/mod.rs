//! Files: reading layouts and presets with errors that say where, saving without losing anything.
