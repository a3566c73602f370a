//! Thickness ladder, outline, section properties, drawing import.
