//! The command line as a person or a program meets it: what is printed, exit codes, and that bad
//! input leaves the journal as it was.

mod bad_input;
mod giving;
mod health;
mod honey;
mod mistakes;
mod papers;
mod reading;
mod starting;
mod support;
