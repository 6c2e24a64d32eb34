//! One test binary for the whole project.
// Each check lives in its own file below this one.
