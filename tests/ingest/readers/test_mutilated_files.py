"""
No file raises out of the reading, however it is mutilated.

GROUNDCHECK_MUTILATIONS sets how many files of each kind are tried; 20,000 take some minutes a kind. The
number in a failure repeats the file that failed.
"""

import io
import os
import random
import re
import zipfile

import pytest

MUTILATIONS = int(os.environ.get("GROUNDCHECK_MUTILATIONS", "150"))
_DIGITS = re.compile(rb"\d+")


def mutilated(content, chance):
    """A few bytes changed, taken out, put in or doubled; or the end cut off."""
    content = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 8, 40))):
        at = chance.randrange(max(len(content), 1))
        what = chance.randrange(6)
        if what == 0:
            content[at : at + 1] = bytes([chance.randrange(256)])
        elif what == 1:
            del content[at : at + chance.randrange(1, 30)]
        elif what == 2:
            content[at:at] = chance.randbytes(chance.randrange(1, 30))
        elif what == 3:
            content[at:at] = content[at : at + 200]
        elif what == 4:
            number = _DIGITS.search(content, at)
            if number:
                content[number.start() : number.end()] = chance.choice((b"0", b"99999999999", b"-1", b"65536"))
        elif chance.random() < 0.2:
            del content[at:]
    return bytes(content)


def within(content, chance):
    """A zip file with one of its parts mutilated, and sound sums."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        chosen = chance.choice(old.namelist())
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, mutilated(part, chance) if name == chosen else part)
    return stream.getvalue()


@pytest.mark.parametrize("kind", [".xlsx", ".xlsb", ".xls", ".ods", ".parquet", ".csv", ".tsv"])
def test_a_mutilated_file_is_read_or_listed(read_one, content_of, kind):
    sound = content_of[kind]
    listed = 0
    for number in range(MUTILATIONS):
        chance = random.Random(number)
        inner = sound.startswith(b"PK") and chance.random() < 0.7
        source = read_one(within(sound, chance) if inner else mutilated(sound, chance), f"a{kind}")
        if source.problem:
            assert source.sheets == [], number
            listed += 1
    # The mutilation is worth its name; a text survives most of it.
    assert listed > (0 if kind in (".csv", ".tsv") else MUTILATIONS // 10)


def test_bytes_of_no_kind_are_listed(read_one):
    for number in range(MUTILATIONS):
        content = random.Random(number).randbytes(1 + number * 7)
        for name in ("a.xlsx", "a.xls", "a.csv", "a.parquet"):
            source = read_one(content, name)
            assert source.problem or source.sheets, number
