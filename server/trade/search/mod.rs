//! Which starts and course lines are worth proposing.
