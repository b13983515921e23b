"""Which files of a folder are read, what is passed over, and what becomes of files that cannot be opened."""

import os
import stat
import subprocess
import sys

import pytest

from groundcheck.errors import NothingRead, SourceNotFound
from groundcheck.ingest.readers.files import read_files
from groundcheck.ingest.readers.found import find_files

# Also runs at the start of each process: a fresh one imports the script that it is started from.
RUN = """
import os, sys
from pathlib import Path
from groundcheck.ingest.readers import files

sound = files.read_delimited

def dying(content, kind, source):
    if source.file == "1.csv":
        os._exit(6)
    sound(content, kind, source)

files._READERS["text"] = dying

if __name__ == "__main__":
    named = [(path.name, path) for path in sorted(Path(sys.argv[1]).glob("*.csv"))]
    for file in files.read_files(named, workers=2):
        print(file.file, file.problem, len(file.sheets))
"""
TABLE = "Station,Bus\nELM,B1\n"


def put(path, text=TABLE):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return path


def names(found):
    return [name for name, _ in found.files]


def test_folders_are_read_to_the_bottom_in_order_of_names(tmp_path):
    for name in ("b.csv", "a/c/d.tsv", "a/b.xlsx", "z.parquet", "UPPER.CSV"):
        put(tmp_path / name)
    assert sorted(names(find_files(tmp_path))) == ["UPPER.CSV", "a/b.xlsx", "a/c/d.tsv", "b.csv", "z.parquet"]
    assert names(find_files(tmp_path)) == names(find_files(str(tmp_path)))


def test_what_is_passed_over_is_counted_with_the_reason(tmp_path):
    for name in (
        "a.csv",
        "~$a.xlsx",
        ".~lock.a.ods#",
        "Thumbs.db",
        "desktop.ini",
        "notes.txt",
        "map.png",
        ".git/x.csv",
    ):
        put(tmp_path / name)
    found = find_files(tmp_path)
    assert names(found) == ["a.csv"]
    assert found.skipped == {
        "~$a.xlsx": "the lock file of an open workbook",
        ".~lock.a.ods#": "the lock file of an open workbook",
        "Thumbs.db": "hidden, or litter of the system",
        "desktop.ini": "hidden, or litter of the system",
        "notes.txt": "a .txt file, which is read only where it is named itself",
        "map.png": "of no kind that is read",
        ".git": "a hidden folder",
    }


def test_a_link_to_a_folder_above_is_walked_once(tmp_path):
    put(tmp_path / "a" / "b.csv")
    (tmp_path / "a" / "round").symlink_to(tmp_path, target_is_directory=True)
    found = find_files(tmp_path)
    assert names(found) == ["a/b.csv"]
    assert found.skipped == {"a/round": "a link to a folder that is read already"}


def test_a_link_to_nothing_and_a_link_to_itself_are_passed_over(tmp_path):
    put(tmp_path / "a.csv")
    (tmp_path / "gone.csv").symlink_to(tmp_path / "nowhere.csv")
    (tmp_path / "loop.csv").symlink_to(tmp_path / "loop.csv")
    found = find_files(tmp_path)
    assert names(found) == ["a.csv"]
    assert {name: reason[:16] for name, reason in found.skipped.items()} == {
        "gone.csv": "cannot be opened",
        "loop.csv": "cannot be opened",
    }


def test_a_pipe_is_not_waited_for(tmp_path):
    put(tmp_path / "a.csv")
    os.mkfifo(tmp_path / "pipe.csv")
    assert find_files(tmp_path).skipped == {"pipe.csv": "not a file"}
    with pytest.raises(SourceNotFound, match=r"pipe\.csv: neither a file nor a folder"):
        find_files(tmp_path / "pipe.csv")


@pytest.mark.skipif(os.geteuid() == 0, reason="root opens every folder")
def test_a_folder_that_cannot_be_opened_is_named(tmp_path):
    put(tmp_path / "a.csv")
    put(tmp_path / "closed" / "b.csv")
    (tmp_path / "closed").chmod(0)
    try:
        assert find_files(tmp_path).skipped == {"closed": "cannot be opened (Permission denied)"}
    finally:
        (tmp_path / "closed").chmod(stat.S_IRWXU)


def test_a_folder_whose_listing_fails_is_named(tmp_path, monkeypatch):
    put(tmp_path / "a.csv")
    put(tmp_path / "closed" / "b.csv")
    sound = os.scandir

    def scandir(path):
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", str(path))
        return sound(path)

    monkeypatch.setattr(os, "scandir", scandir)
    found = find_files(tmp_path)
    assert names(found) == ["a.csv"]
    assert found.skipped == {"closed": "cannot be opened (Permission denied)"}
    with pytest.raises(NothingRead, match=r"closed.*; \.: cannot be opened \(Permission denied\)"):
        find_files(tmp_path / "closed")


def test_a_file_that_vanishes_before_it_is_read_is_listed(tmp_path):
    put(tmp_path / "a.csv")
    put(tmp_path / "b.csv")
    found = find_files(tmp_path)
    (tmp_path / "a.csv").unlink()
    gone, kept = read_files(found.files)
    assert gone.problem == "cannot be opened (No such file or directory)"
    assert kept.problem is None
    assert kept.path == str(tmp_path / "b.csv")


def test_files_of_one_name_go_by_as_many_folders_as_tell_them_apart(tmp_path):
    paths = [put(tmp_path / name) for name in ("a/x/r.csv", "b/x/r.csv", "c.csv")]
    assert names(find_files(paths)) == ["a/x/r.csv", "b/x/r.csv", "c.csv"]


def test_a_name_that_is_no_text_is_written_out(tmp_path):
    path = os.fsencode(tmp_path) + b"/gr\xf6n.csv"
    with open(path, "wb") as stream:
        stream.write(TABLE.encode())
    assert names(find_files(tmp_path)) == ["gr\\xf6n.csv"]
    assert read_files(find_files(tmp_path).files)[0].path.endswith("gr\\xf6n.csv")


def test_files_read_side_by_side_keep_their_order(tmp_path):
    class Steps:
        done = 0

        def stage(self, name, total):
            raise AssertionError("the caller begins the stage")

        def advance(self, n=1):
            self.done += n

    for number in range(4):
        put(tmp_path / f"{number}.csv", f"Station,Bus\nS{number},B1\n")
    steps = Steps()
    files = read_files(find_files(tmp_path).files, workers=2, progress=steps)
    assert [file.sheets[0].rows[1][0] for file in files] == ["S0", "S1", "S2", "S3"]
    assert steps.done == 4


def test_a_file_whose_reading_ends_the_process_is_listed_and_the_others_are_read(tmp_path):
    """Reading is replaced in the processes by a stand-in that dies on one file, as for want of memory."""
    for number in range(4):
        put(tmp_path / f"{number}.csv", f"Station,Bus\nS{number},B1\n")
    script = put(tmp_path / "scripts" / "run.py", RUN)
    done = subprocess.run([sys.executable, script, tmp_path], check=True, capture_output=True, text=True, timeout=120)
    assert done.stdout.splitlines() == [
        "0.csv None 1",
        "1.csv reading it ended the process, for want of memory: split it 0",
        "2.csv None 1",
        "3.csv None 1",
    ]
