//! From measured openings to finished fronts.
