//! Drag curves and ballistic coefficients.
