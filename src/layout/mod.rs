//! The document: a garment with a burst, its binds, thread and sections; checked from its raw file form; and all its figures.
