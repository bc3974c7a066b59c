//! The part of xtask that tests use too: a server for a folder on this machine, with the policy the project recommends.

pub mod receiver;
pub mod server;
