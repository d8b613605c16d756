//! Direction numbers of the Sobol sequence in 128 dimensions: polynomials, first numbers, and those that follow from them.
//!
//! The numbers are those called `new-joe-kuo-6` by their authors, the second to the 128th dimension of 21 201. Not here: points
//! (`sequence.rs`).
//!
//! # Sources
//! - \[JK\] Joe, Kuo, *Constructing Sobol sequences with better two-dimensional projections*, SIAM Journal on Scientific
//!   Computing 30 (2008): the numbers, as scipy 1.17.1 carries them, and the recurrence.
//!
//! # Notice of the numbers
//! Copyright (c) 2008, Frances Y. Kuo and Stephen Joe. All rights reserved.
//!
//! Redistribution and use in source and binary forms, with or without modification, are permitted provided that the
//! following conditions are met:
//! - Redistributions of source code must retain the above copyright notice, this list of conditions and the following
//!   disclaimer.
//! - Redistributions in binary form must reproduce the above copyright notice, this list of conditions and the following
//!   disclaimer in the documentation and/or other materials provided with the distribution.
//! - Neither the names of the copyright holders nor the names of the University of New South Wales and the University of
//!   Waikato and its contributors may be used to endorse or promote products derived from this software without specific
//!   prior written permission.
//!
//! THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS "AS IS" AND ANY EXPRESS OR IMPLIED WARRANTIES, INCLUDING, BUT NOT
//! LIMITED TO, THE IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE ARE DISCLAIMED. IN NO EVENT
//! SHALL THE COPYRIGHT HOLDERS BE LIABLE FOR ANY DIRECT, INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL
//! DAMAGES (INCLUDING, BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS OR SERVICES; LOSS OF USE, DATA, OR PROFITS; OR
//! BUSINESS INTERRUPTION) HOWEVER CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN CONTRACT, STRICT LIABILITY, OR TORT
//! (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY OUT OF THE USE OF THIS SOFTWARE, EVEN IF ADVISED OF THE
//! POSSIBILITY OF SUCH DAMAGE.

/// In how many dimensions there are numbers.
pub(crate) const DIMENSIONS: usize = 128;
/// Binary digits of a number.
pub(crate) const DIGITS: usize = 32;

/// By dimension, the digits from the most significant on: number j has its lowest one at the j-th digit.
pub(crate) static DIRECTIONS: [[u32; DIGITS]; DIMENSIONS] = directions();

const fn directions() -> [[u32; DIGITS]; DIMENSIONS] {
    let mut all = [[0; DIGITS]; DIMENSIONS];
    // The first dimension has no polynomial: every number of it is one digit further on.
    let mut j = 0;
    while j < DIGITS {
        all[0][j] = 1 << (31 - j);
        j += 1;
    }
    let mut dimension = 1;
    while dimension < DIMENSIONS {
        let (polynomial, first) = FIRST[dimension - 1];
        all[dimension] = of_dimension(polynomial, first);
        dimension += 1;
    }
    all
}

/// Equations 2 and 3 of \[JK\]: `polynomial` holds the coefficients between the first and the last, which are one.
const fn of_dimension(polynomial: u32, first: &[u32]) -> [u32; DIGITS] {
    let degree = first.len();
    let mut v = [0; DIGITS];
    let mut j = 0;
    while j < DIGITS {
        if j < degree {
            v[j] = first[j] << (31 - j);
        } else {
            v[j] = v[j - degree] ^ (v[j - degree] >> degree);
            let mut k = 1;
            while k < degree {
                if (polynomial >> (degree - 1 - k)) & 1 == 1 {
                    v[j] ^= v[j - k];
                }
                k += 1;
            }
        }
        j += 1;
    }
    v
}

/// From the second dimension on: the polynomial's inner coefficients, and the first numbers, as many as its degree.
#[rustfmt::skip]
const FIRST: [(u32, &[u32]); DIMENSIONS - 1] = [
    (0, &[1]),
    (1, &[1, 3]),
    (1, &[1, 3, 1]),
    (2, &[1, 1, 1]),
    (1, &[1, 1, 3, 3]),
    (4, &[1, 3, 5, 13]),
    (2, &[1, 1, 5, 5, 17]),
    (4, &[1, 1, 5, 5, 5]),
    (7, &[1, 1, 7, 11, 19]),
    (11, &[1, 1, 5, 1, 1]),
    (13, &[1, 1, 1, 3, 11]),
    (14, &[1, 3, 5, 5, 31]),
    (1, &[1, 3, 3, 9, 7, 49]),
    (13, &[1, 1, 1, 15, 21, 21]),
    (16, &[1, 3, 1, 13, 27, 49]),
    (19, &[1, 1, 1, 15, 7, 5]),
    (22, &[1, 3, 1, 15, 13, 25]),
    (25, &[1, 1, 5, 5, 19, 61]),
    (1, &[1, 3, 7, 11, 23, 15, 103]),
    (4, &[1, 3, 7, 13, 13, 15, 69]),
    (7, &[1, 1, 3, 13, 7, 35, 63]),
    (8, &[1, 3, 5, 9, 1, 25, 53]),
    (14, &[1, 3, 1, 13, 9, 35, 107]),
    (19, &[1, 3, 1, 5, 27, 61, 31]),
    (21, &[1, 1, 5, 11, 19, 41, 61]),
    (28, &[1, 3, 5, 3, 3, 13, 69]),
    (31, &[1, 1, 7, 13, 1, 19, 1]),
    (32, &[1, 3, 7, 5, 13, 19, 59]),
    (37, &[1, 1, 3, 9, 25, 29, 41]),
    (41, &[1, 3, 5, 13, 23, 1, 55]),
    (42, &[1, 3, 7, 3, 13, 59, 17]),
    (50, &[1, 3, 1, 3, 5, 53, 69]),
    (55, &[1, 1, 5, 5, 23, 33, 13]),
    (56, &[1, 1, 7, 7, 1, 61, 123]),
    (59, &[1, 1, 7, 9, 13, 61, 49]),
    (62, &[1, 3, 3, 5, 3, 55, 33]),
    (14, &[1, 3, 1, 15, 31, 13, 49, 245]),
    (21, &[1, 3, 5, 15, 31, 59, 63, 97]),
    (22, &[1, 3, 1, 11, 11, 11, 77, 249]),
    (38, &[1, 3, 1, 11, 27, 43, 71, 9]),
    (47, &[1, 1, 7, 15, 21, 11, 81, 45]),
    (49, &[1, 3, 7, 3, 25, 31, 65, 79]),
    (50, &[1, 3, 1, 1, 19, 11, 3, 205]),
    (52, &[1, 1, 5, 9, 19, 21, 29, 157]),
    (56, &[1, 3, 7, 11, 1, 33, 89, 185]),
    (67, &[1, 3, 3, 3, 15, 9, 79, 71]),
    (70, &[1, 3, 7, 11, 15, 39, 119, 27]),
    (84, &[1, 1, 3, 1, 11, 31, 97, 225]),
    (97, &[1, 1, 1, 3, 23, 43, 57, 177]),
    (103, &[1, 3, 7, 7, 17, 17, 37, 71]),
    (115, &[1, 3, 1, 5, 27, 63, 123, 213]),
    (122, &[1, 1, 3, 5, 11, 43, 53, 133]),
    (8, &[1, 3, 5, 5, 29, 17, 47, 173, 479]),
    (13, &[1, 3, 3, 11, 3, 1, 109, 9, 69]),
    (16, &[1, 1, 1, 5, 17, 39, 23, 5, 343]),
    (22, &[1, 3, 1, 5, 25, 15, 31, 103, 499]),
    (25, &[1, 1, 1, 11, 11, 17, 63, 105, 183]),
    (44, &[1, 1, 5, 11, 9, 29, 97, 231, 363]),
    (47, &[1, 1, 5, 15, 19, 45, 41, 7, 383]),
    (52, &[1, 3, 7, 7, 31, 19, 83, 137, 221]),
    (55, &[1, 1, 1, 3, 23, 15, 111, 223, 83]),
    (59, &[1, 1, 5, 13, 31, 15, 55, 25, 161]),
    (62, &[1, 1, 3, 13, 25, 47, 39, 87, 257]),
    (67, &[1, 1, 1, 11, 21, 53, 125, 249, 293]),
    (74, &[1, 1, 7, 11, 11, 7, 57, 79, 323]),
    (81, &[1, 1, 5, 5, 17, 13, 81, 3, 131]),
    (82, &[1, 1, 7, 13, 23, 7, 65, 251, 475]),
    (87, &[1, 3, 5, 1, 9, 43, 3, 149, 11]),
    (91, &[1, 1, 3, 13, 31, 13, 13, 255, 487]),
    (94, &[1, 3, 3, 1, 5, 63, 89, 91, 127]),
    (103, &[1, 1, 3, 3, 1, 19, 123, 127, 237]),
    (104, &[1, 1, 5, 7, 23, 31, 37, 243, 289]),
    (109, &[1, 1, 5, 11, 17, 53, 117, 183, 491]),
    (122, &[1, 1, 1, 5, 1, 13, 13, 209, 345]),
    (124, &[1, 1, 3, 15, 1, 57, 115, 7, 33]),
    (137, &[1, 3, 1, 11, 7, 43, 81, 207, 175]),
    (138, &[1, 3, 1, 1, 15, 27, 63, 255, 49]),
    (143, &[1, 3, 5, 3, 27, 61, 105, 171, 305]),
    (145, &[1, 1, 5, 3, 1, 3, 57, 249, 149]),
    (152, &[1, 1, 3, 5, 5, 57, 15, 13, 159]),
    (157, &[1, 1, 1, 11, 7, 11, 105, 141, 225]),
    (167, &[1, 3, 3, 5, 27, 59, 121, 101, 271]),
    (173, &[1, 3, 5, 9, 11, 49, 51, 59, 115]),
    (176, &[1, 1, 7, 1, 23, 45, 125, 71, 419]),
    (181, &[1, 1, 3, 5, 23, 5, 105, 109, 75]),
    (182, &[1, 1, 7, 15, 7, 11, 67, 121, 453]),
    (185, &[1, 3, 7, 3, 9, 13, 31, 27, 449]),
    (191, &[1, 3, 1, 15, 19, 39, 39, 89, 15]),
    (194, &[1, 1, 1, 1, 1, 33, 73, 145, 379]),
    (199, &[1, 3, 1, 15, 15, 43, 29, 13, 483]),
    (218, &[1, 1, 7, 3, 19, 27, 85, 131, 431]),
    (220, &[1, 3, 3, 3, 5, 35, 23, 195, 349]),
    (227, &[1, 3, 3, 7, 9, 27, 39, 59, 297]),
    (229, &[1, 1, 3, 9, 11, 17, 13, 241, 157]),
    (230, &[1, 3, 7, 15, 25, 57, 33, 189, 213]),
    (234, &[1, 1, 7, 1, 9, 55, 73, 83, 217]),
    (236, &[1, 3, 3, 13, 19, 27, 23, 113, 249]),
    (241, &[1, 3, 5, 3, 23, 43, 3, 253, 479]),
    (244, &[1, 1, 5, 5, 11, 5, 45, 117, 217]),
    (253, &[1, 3, 3, 7, 29, 37, 33, 123, 147]),
    (4, &[1, 3, 1, 15, 5, 5, 37, 227, 223, 459]),
    (13, &[1, 1, 7, 5, 5, 39, 63, 255, 135, 487]),
    (19, &[1, 3, 1, 7, 9, 7, 87, 249, 217, 599]),
    (22, &[1, 1, 3, 13, 9, 47, 7, 225, 363, 247]),
    (50, &[1, 3, 7, 13, 19, 13, 9, 67, 9, 737]),
    (55, &[1, 3, 5, 5, 19, 59, 7, 41, 319, 677]),
    (64, &[1, 1, 5, 3, 31, 63, 15, 43, 207, 789]),
    (69, &[1, 1, 7, 9, 13, 39, 3, 47, 497, 169]),
    (98, &[1, 3, 1, 7, 21, 17, 97, 19, 415, 905]),
    (107, &[1, 3, 7, 1, 3, 31, 71, 111, 165, 127]),
    (115, &[1, 1, 5, 11, 1, 61, 83, 119, 203, 847]),
    (121, &[1, 3, 3, 13, 9, 61, 19, 97, 47, 35]),
    (127, &[1, 1, 7, 7, 15, 29, 63, 95, 417, 469]),
    (134, &[1, 3, 1, 9, 25, 9, 71, 57, 213, 385]),
    (140, &[1, 3, 5, 13, 31, 47, 101, 57, 39, 341]),
    (145, &[1, 1, 3, 3, 31, 57, 125, 173, 365, 551]),
    (152, &[1, 3, 7, 1, 13, 57, 67, 157, 451, 707]),
    (158, &[1, 1, 1, 7, 21, 13, 105, 89, 429, 965]),
    (161, &[1, 1, 5, 9, 17, 51, 45, 119, 157, 141]),
    (171, &[1, 3, 7, 7, 13, 45, 91, 9, 129, 741]),
    (181, &[1, 3, 7, 1, 23, 57, 67, 141, 151, 571]),
    (194, &[1, 1, 3, 11, 17, 47, 93, 107, 375, 157]),
    (199, &[1, 3, 3, 5, 11, 21, 43, 51, 169, 915]),
    (203, &[1, 1, 5, 3, 15, 55, 101, 67, 455, 625]),
    (208, &[1, 3, 5, 9, 1, 23, 29, 47, 345, 595]),
    (227, &[1, 3, 7, 7, 5, 49, 29, 155, 323, 589]),
    (242, &[1, 3, 3, 7, 5, 41, 127, 61, 261, 717]),
];
