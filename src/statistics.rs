//! Statistics of repeated readings, in plain `f64` so that published data sets feed straight in.
