//! Hours by month, day and label, and back.

use weather::{Calendar, Stamp};

#[test]
fn every_hour_comes_back_from_its_stamp() {
    for calendar in [Calendar::Common, Calendar::Leap] {
        for h in 0..calendar.hours() {
            assert_eq!(calendar.index(calendar.stamp(h)), Some(h));
        }
    }
}

#[test]
fn the_last_hour_is_24_o_clock_on_31_december() {
    let last = Stamp { month: 12, day: 31, hour_ending: 24 };
    assert_eq!(Calendar::Common.index(last), Some(8759));
    assert_eq!(Calendar::Leap.index(last), Some(8783));
    assert_eq!(Calendar::Common.stamp(8759), last);
}

#[test]
fn march_begins_after_59_or_60_days() {
    let first = Stamp { month: 3, day: 1, hour_ending: 1 };
    assert_eq!(Calendar::Common.index(first), Some(59 * 24));
    assert_eq!(Calendar::Leap.index(first), Some(60 * 24));
    assert_eq!(Calendar::Common.day_of_year(59 * 24), 60);
}

#[test]
fn hours_that_no_calendar_has_have_no_index() {
    for (month, day, hour_ending) in
        [(0, 1, 1), (13, 1, 1), (2, 29, 1), (4, 31, 1), (1, 0, 1), (1, 1, 0), (1, 1, 25)]
    {
        assert_eq!(Calendar::Common.index(Stamp { month, day, hour_ending }), None);
    }
}
