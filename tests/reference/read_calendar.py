"""Reads a calendar file back with icalendar (PyPI), an independent reader, and checks RFC 5545's line rules.

By hand: pip install icalendar; python read_calendar.py FILE.ics
"""

import sys

import icalendar

data = open(sys.argv[1], "rb").read()
assert data.endswith(b"\r\n"), "the last line ends in CRLF"
lines = data[:-2].split(b"\r\n")
assert all(b"\n" not in line and b"\r" not in line for line in lines), "every line ends in CRLF"
longest = max(map(len, lines))
assert longest <= 75, f"a line has {longest} octets"
for line in lines:
    line.decode("utf-8")

calendar = icalendar.Calendar.from_ical(data)
events = [part for part in calendar.walk("VEVENT")]
uids = [str(event["UID"]) for event in events]
assert len(set(uids)) == len(uids), "identifiers are unique"
for event in events:
    start = event.decoded("DTSTART")
    assert start.tzinfo is None, "times are floating"
    if "DTEND" in event:
        assert event.decoded("DTEND") > start
    assert event.decoded("DTSTAMP").utcoffset().total_seconds() == 0
    assert len(event.walk("VALARM")) == 1
    assert not event.errors, event.errors
first = min(events, key=lambda event: event.decoded("DTSTART"))
print(f"{len(events)} events, longest line {longest} octets; first: {first['SUMMARY']} at {first.decoded('DTSTART')}")
print(str(first["DESCRIPTION"]))
