//! How a file is spoiled: bytes, lines, numbers, its end, and parts of another file. Read next: `main.rs`.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Chance of its own for each mutation, so that each can be made again alone.
pub struct Chance(ChaCha8Rng);

impl Chance {
    pub fn new(start: u64, number: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(start);
        rng.set_stream(number);
        Self(rng)
    }

    /// A whole number below `end`, or 0 where `end` is 0.
    pub fn below(&mut self, end: usize) -> usize {
        let end = u64::try_from(end).unwrap().max(1);
        usize::try_from(self.0.next_u64() % end).unwrap()
    }

    fn byte(&mut self) -> u8 {
        u8::try_from(self.below(256)).unwrap()
    }
}

/// What stands in place of a number.
const NUMBERS: [&str; 24] = [
    "0",
    "-0",
    "-1",
    "1e308",
    "-1e308",
    "1e-320",
    "9e999",
    "nan",
    "inf",
    "-inf",
    "NaN",
    "-9900",
    "9999",
    "-999",
    "99.9",
    "99999999",
    "1.5.5",
    "--3",
    "1,5",
    "",
    " ",
    "00000000000000000001",
    "18446744073709551616",
    "٣",
];

/// Pieces that mean something to one format or another.
const PIECES: [&[u8]; 16] = [
    b"\r\n",
    b"\n\n",
    b"\r",
    b",",
    b",,,,",
    b"\"",
    b"#",
    b"# sun_offset_h: 1e300\n",
    b"LOCATION,",
    b"time(UTC),",
    b"Year,Month,Day,Hour,Minute\n",
    b"month,day,hour_ending\n",
    b"\xef\xbb\xbf",
    b"\xff\xfe",
    b"\xe9",
    b"\0",
];

/// Changes a file in one way.
pub fn spoil(bytes: &mut Vec<u8>, other: &[u8], chance: &mut Chance) {
    match chance.below(12) {
        0 | 1 => flip(bytes, chance),
        2 => remove_lines(bytes, chance),
        3 => repeat_line(bytes, chance),
        4 => swap_lines(bytes, chance),
        5..=7 => replace_number(bytes, chance),
        8 => bytes.truncate(chance.below(bytes.len() + 1)),
        9 => insert(bytes, PIECES[chance.below(PIECES.len())], chance),
        10 => join(bytes, other, chance),
        _ => remove(bytes, chance),
    }
}

/// A place: often near the beginning, where headings are.
fn place(bytes: &[u8], chance: &mut Chance) -> usize {
    let reach = if chance.below(2) == 0 { bytes.len().min(800) } else { bytes.len() };
    chance.below(reach)
}

fn flip(bytes: &mut [u8], chance: &mut Chance) {
    let at = place(bytes, chance);
    let new = if chance.below(2) == 0 { chance.byte() } else { b"0123456789.,-+eE:/ \n"[chance.below(20)] };
    if let Some(byte) = bytes.get_mut(at) {
        *byte = new;
    }
}

fn remove(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let at = place(bytes, chance);
    let end = (at + 1 + chance.below(40)).min(bytes.len());
    bytes.drain(at.min(end)..end);
}

fn insert(bytes: &mut Vec<u8>, piece: &[u8], chance: &mut Chance) {
    let at = place(bytes, chance);
    bytes.splice(at..at, piece.iter().copied());
}

/// The line around a place: its first byte and the byte after its end.
fn line_at(bytes: &[u8], at: usize) -> (usize, usize) {
    let first = bytes[..at.min(bytes.len())].iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
    let end =
        bytes[first..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |end| first + end + 1);
    (first, end)
}

fn remove_lines(bytes: &mut Vec<u8>, chance: &mut Chance) {
    for _ in 0..=chance.below(8) {
        let at = place(bytes, chance);
        let (first, end) = line_at(bytes, at);
        bytes.drain(first..end);
    }
}

fn repeat_line(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let from = place(bytes, chance);
    let (first, end) = line_at(bytes, from);
    let line = bytes[first..end].to_vec();
    let to = place(bytes, chance);
    let (at, _) = line_at(bytes, to);
    bytes.splice(at..at, line);
}

fn swap_lines(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let from = place(bytes, chance);
    let (first, end) = line_at(bytes, from);
    let line: Vec<u8> = bytes.drain(first..end).collect();
    let to = place(bytes, chance);
    let (at, _) = line_at(bytes, to);
    bytes.splice(at..at, line);
}

fn replace_number(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let at = place(bytes, chance);
    let is_of_a_number = |byte: &u8| byte.is_ascii_digit() || b".-+".contains(byte);
    let Some(first) = bytes[at..].iter().position(is_of_a_number).map(|first| at + first) else { return };
    let end =
        bytes[first..].iter().position(|byte| !is_of_a_number(byte)).map_or(bytes.len(), |end| first + end);
    let new = if chance.below(3) == 0 {
        // A number that weather may have, so that some files are accepted.
        format!("{}", chance.below(1200))
    } else {
        NUMBERS[chance.below(NUMBERS.len())].to_owned()
    };
    bytes.splice(first..end, new.bytes());
}

/// The beginning of one file and the end of another.
fn join(bytes: &mut Vec<u8>, other: &[u8], chance: &mut Chance) {
    let keep = place(bytes, chance);
    let from = place(other, chance);
    bytes.truncate(keep);
    bytes.extend_from_slice(&other[from..]);
}
