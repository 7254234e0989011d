//! Bind spacing: progressions of gaps, solved from what the maker knows, rounded to a rule's marks, corrected by hand.
