"""Reads a take-off list with programs that are not ours: its calendar with three readers, its page with a strict one.

Usage: readers.py LIST.ics LIST.json LIST.html
"""

import datetime
import json
import sys

import html5lib
import icalendar
import ics
import vobject

# The reader `ics` understands alarms whose action it knows; an hour of the day is what we count in.
HOUR = datetime.timedelta(hours=1)


def by_icalendar(text):
    for event in icalendar.Calendar.from_ical(text).walk("VEVENT"):
        alarms = [alarm["TRIGGER"].dt / HOUR for alarm in event.walk("VALARM")]
        assert "DTEND" not in event, event
        yield str(event["UID"]), event["DTSTART"].dt, str(event["STATUS"]), str(event["SUMMARY"]), alarms


def by_vobject(text):
    for event in vobject.readOne(text).contents.get("vevent", []):
        alarms = [alarm.trigger.value / HOUR for alarm in event.contents.get("valarm", [])]
        yield event.uid.value, event.dtstart.value, event.status.value, event.summary.value, alarms


def by_ics(text):
    for event in ics.Calendar(text).events:
        assert event.all_day, event
        alarms = [alarm.trigger / HOUR for alarm in event.alarms]
        yield event.uid, event.begin.date(), event.status, event.name, alarms


# Hours after midnight at which a telephone rings for a milking.
RINGS = {"morning": 5, "day": 7, "evening": 15}


def expected(listed):
    """What must be confirmed: name, day and alarm of everything that is not felt all round already."""
    wanted = [on for on in listed["on"] if on["do"] != "felt"]
    return {(f"{on['id']}@crushbook", on["off_by"], RINGS[on["milking"]]) for on in wanted}


def main(calendar, listed, page):
    with open(calendar, encoding="utf-8", newline="") as file:
        text = file.read()
    readings = {reader.__name__: sorted(reader(text)) for reader in (by_icalendar, by_vobject, by_ics)}
    first = readings["by_icalendar"]
    assert first, "a calendar with nothing in it shows nothing"
    for name, reading in readings.items():
        assert reading == first, f"{name} reads otherwise:\n{reading}\n{first}"
    with open(listed, encoding="utf-8") as file:
        wanted = expected(json.load(file))
    confirmed = {(uid, day.isoformat(), *alarms) for uid, day, status, _, alarms in first if status == "CONFIRMED"}
    assert confirmed == wanted, (confirmed, wanted)
    assert not any(alarms for _, _, status, _, alarms in first if status != "CONFIRMED"), first
    with open(page, "rb") as file:
        html5lib.HTMLParser(strict=True).parse(file)
    cancelled = len(first) - len(confirmed)
    print(f"{len(confirmed)} entries and {cancelled} cancelled ones, read alike by {len(readings)} readers; the page is closed")


main(*sys.argv[1:])
