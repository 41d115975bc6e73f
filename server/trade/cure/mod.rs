//! Products, stages, windows, and the gate that keeps people from working on a wall too early.
