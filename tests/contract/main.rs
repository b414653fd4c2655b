//! The contracts, each sentence a test through the real binary.

#![allow(clippy::disallowed_methods)] // a test may read and write files

mod skeleton;
