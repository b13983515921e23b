"""What a cell may have been before a spreadsheet took it for a date or a time."""

from datetime import date, datetime, time, timedelta

# Day 0 of the 1900 date system up to February 1900: a ratio such as 600:5 becomes 600 hours and 5 minutes after it.
_EPOCH = datetime(1899, 12, 31)
_FIRST_DATE_MEANT = 1920


def may_have_been(cell: date | time | timedelta) -> str:
    """
    The texts that a date or a time may have been made of, as a clause for a message.

    A date comes of two numbers with a slash or a dash between: day and month, month and day, or month and year where it
    is the first of the month. A time comes of two numbers with a colon between.
    """
    if isinstance(cell, timedelta):
        return f"a time, which may have been {_ratio(cell)}"
    if isinstance(cell, time):
        return f"the time {cell:%H:%M:%S}, which may have been {cell.hour}:{cell.minute}"
    if isinstance(cell, datetime) and _EPOCH.year <= cell.year < _FIRST_DATE_MEANT:
        return f"a time, which may have been {_ratio(cell.replace(tzinfo=None) - _EPOCH)}"
    pairs = [f"{cell.day}/{cell.month}", f"{cell.month}/{cell.day}"]
    if cell.day == 1:
        pairs += [f"{cell.month}/{cell.year % 100}", f"{cell.month}/{cell.year}"]
    day = f"{cell.year:04}-{cell.month:02}-{cell.day:02}"
    return f"the date {day}, which may have been {' or '.join(dict.fromkeys(pairs))}"


def _ratio(length: timedelta) -> str:
    minutes = int(length.total_seconds() // 60)
    return f"{minutes // 60}:{minutes % 60}"
