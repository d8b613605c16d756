//! Numbers in lanes: one source for one house and for many.
//!
//! Here: [`Real`], the number trait that the model is written over; rows of four and of eight numbers in the machine's
//! vector registers; masks and selects; [`exp`](Real::exp) and [`ln`](Real::ln) with stated errors;
//! [`run_rows`], which runs a [`Kernel`] on rows of a chosen width with a chosen instruction set, and [`run_fours`], on rows of four.
//! Not here: anything about air or houses. Read next: `psychrometrics::formulas`, the first user.
//!
//! **Same bits everywhere.** Only operations that IEEE 754 rounds correctly are used (add, subtract, multiply,
//! divide, square root, comparison), in one written order, and never a fused multiply-add. So one lane, four
//! lanes, eight lanes, and every instruction set give identical results.
//!
//! All of `unsafe` in this workspace is in `dispatch` and `x86`.

mod dispatch;
mod elementary;
mod real;
#[cfg(target_arch = "x86_64")]
mod row;
#[cfg(target_arch = "x86_64")]
mod x86;

pub use dispatch::{
    InstructionSet, Kernel, WIDTHS, Width, available, run_fours, run_rows, widest_set, width_on,
};
pub use real::{Mask, Real};
