//! The widget.
