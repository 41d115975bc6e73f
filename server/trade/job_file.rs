//! The JSON files that carry a job in and a plan out.
