//! Running one piece of work on a row of a chosen width, with a chosen instruction set.
//!
//! The work is generic code marked `#[inline(always)]`; it is inlined under one `target_feature` for each kind of row.
//! This file and `x86` are the only ones with `unsafe`.
#![allow(unsafe_code)]

use crate::Real;
#[cfg(target_arch = "x86_64")]
use crate::row::Row;
#[cfg(target_arch = "x86_64")]
use crate::x86::Avx2Four;

/// A piece of work on rows of numbers.
pub trait Kernel {
    /// What the work returns.
    type Output;
    /// Does the work on rows of `R`. Mark the implementation `#[inline(always)]`, and all that its inner loop calls.
    fn run<R: Real>(self) -> Self::Output;
}

/// Numbers in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Width {
    /// One: plain `f64`.
    One,
    /// Eight.
    Eight,
}

/// Every width.
pub const WIDTHS: [Width; 2] = [Width::One, Width::Eight];

impl Width {
    /// How many numbers there are in the row.
    pub const fn lanes(self) -> usize {
        match self {
            Self::One => 1,
            Self::Eight => 8,
        }
    }
}

/// An instruction set that rows are compiled for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum InstructionSet {
    /// What every machine of this architecture has. Numbers go one at a time.
    Baseline,
    /// 256-bit vectors (x86-64).
    Avx2,
}

/// The instruction sets that this machine has, narrowest first.
pub fn available() -> Vec<InstructionSet> {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx2") {
        return vec![InstructionSet::Baseline, InstructionSet::Avx2];
    }
    vec![InstructionSet::Baseline]
}

/// The widest instruction set that this machine has.
pub fn widest_set() -> InstructionSet {
    available().last().copied().unwrap_or(InstructionSet::Baseline)
}

/// The width that rows really have with this instruction set: wider ones than the machine can hold are run as
/// several rows by whoever fills them.
pub fn width_on(set: InstructionSet, asked: Width) -> Width {
    match set {
        InstructionSet::Baseline => Width::One,
        InstructionSet::Avx2 => asked,
    }
}

/// Runs the work on rows of [`width_on`]`(set, width)`, or answers `None` when the machine lacks the set.
///
/// Call it outside the year loop: it asks the machine each time.
#[inline(always)]
pub fn run_rows<K: Kernel>(set: InstructionSet, width: Width, kernel: K) -> Option<K::Output> {
    if !available().contains(&set) {
        return None;
    }
    let output = match width_on(set, width) {
        #[cfg(target_arch = "x86_64")]
        // SAFETY: only AVX2 has rows of eight, and `available` has just found it on this machine.
        Width::Eight => unsafe { with_avx2(kernel) },
        _ => kernel.run::<f64>(),
    };
    Some(output)
}

/// Runs the work on rows of four, or answers `None` on a machine without registers for them. For a few houses that belong together;
/// many houses go in rows of eight.
///
/// Call it outside the year loop: it asks the machine each time.
#[inline(always)]
pub fn run_fours<K: Kernel>(kernel: K) -> Option<K::Output> {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx2") {
        // SAFETY: AVX2 has just been found on this machine.
        return Some(unsafe { four_with_avx2(kernel) });
    }
    let _ = kernel;
    None
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
unsafe fn four_with_avx2<K: Kernel>(kernel: K) -> K::Output {
    kernel.run::<Row<Avx2Four, 1>>()
}

#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
unsafe fn with_avx2<K: Kernel>(kernel: K) -> K::Output {
    kernel.run::<Row<Avx2Four, 2>>()
}
