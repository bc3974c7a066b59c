//! The maker's page: every table of the shop book in forms, what an edit does to the pieces the maker cares about, requests, offers, jobs, what
//! the jobs teach, and the price book to publish. One HTML file that opens from disk; nothing is ever sent.
//!
//! [`sheet`] is the book as it is edited, valid or not yet, with an undo without limit; [`form`] says what a place of it may hold. Both are
//! plain data that know no screen.

pub mod form;
pub mod sheet;
