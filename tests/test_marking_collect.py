"""Links, bombs, odd names and damaged packs are listed, never followed or unpacked."""

import io
import os
import struct
import tracemalloc
import zipfile
from datetime import datetime

import pytest

from leverarm.marking import collect
from leverarm.marking.collect import Missing, collected_files
from leverarm.quantities import Refusal

GOOD = b'{"lever-arm answers": 1}\n'


def zipped(path, entries, compression=zipfile.ZIP_DEFLATED):
    with zipfile.ZipFile(path, "w", compression) as pack:
        for name, data in entries:
            pack.writestr(name, data)
    return path


def opened(place):
    """name -> bytes or the reason, for everything in a place."""
    with collected_files(place) as (files, skipped):
        told = {one.file: one.reason for one in skipped}
        for came in files:
            try:
                told[came.name] = came.read()
            except Missing as why:
                told[came.name] = str(why)
    return told


# Folders ------------------------------------------------------------------------------------


def test_a_folder_with_folders_is_read_in_order(tmp_path):
    for name in ("b/two.txt", "a/one.txt", "three.txt"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(GOOD)
    assert list(opened(tmp_path)) == ["a/one.txt", "b/two.txt", "three.txt"]


def test_the_date_of_a_file_is_told(tmp_path):
    (tmp_path / "one.txt").write_bytes(GOOD)
    os.utime(tmp_path / "one.txt", (0, datetime(2031, 3, 14, 17).timestamp()))
    with collected_files(tmp_path) as (files, _):
        assert files[0].received == datetime(2031, 3, 14, 17)


@pytest.mark.skipif(not hasattr(os, "symlink") or os.name == "nt", reason="needs symbolic links")
def test_links_are_listed_and_never_followed(tmp_path):
    secret = tmp_path / "secret.txt"
    secret.write_bytes(b"secret")
    place = tmp_path / "in"
    place.mkdir()
    (place / "file.txt").symlink_to(secret)
    (place / "folder").symlink_to(tmp_path)
    (place / "nowhere.txt").symlink_to(tmp_path / "gone")
    (place / "loop").symlink_to(place)
    assert opened(place) == dict.fromkeys(
        ("file.txt", "folder", "nowhere.txt", "loop"), collect.LINK
    )


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_is_listed_and_never_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.txt")
    assert opened(tmp_path) == {"pipe.txt": collect.SPECIAL}


def test_large_hidden_and_packed_files_are_listed_unread(tmp_path):
    with open(tmp_path / "large.txt", "wb") as file:
        file.truncate(3_000_000_000 if os.name != "nt" else 2_000_000)
    (tmp_path / ".hidden").write_bytes(GOOD)
    (tmp_path / "more.zip").write_bytes(b"PK")
    (tmp_path / ".ipynb_checkpoints").mkdir()
    tracemalloc.start()
    told = opened(tmp_path)
    assert tracemalloc.get_traced_memory()[1] < 2e6
    tracemalloc.stop()
    assert told == {
        "large.txt": collect.TOO_LARGE,
        ".hidden": collect.HIDDEN,
        ".ipynb_checkpoints": collect.HIDDEN,
        "more.zip": "zip file: more.zip was given; a zip file that can be opened is allowed; "
        "fetch it again.",
    }


def test_a_file_that_grew_or_went_away_meanwhile_is_said(tmp_path):
    for name in ("grows.txt", "goes.txt"):
        (tmp_path / name).write_bytes(GOOD)
    with collected_files(tmp_path) as (files, _):
        (tmp_path / "grows.txt").write_bytes(b"x" * 1_000_001)
        (tmp_path / "goes.txt").unlink()
        for came, says in zip(files, ("cannot be opened", "larger than 1 MB")):
            with pytest.raises(Missing, match=says):
                came.read()


def test_folders_too_deep_and_files_too_many_are_listed(tmp_path, monkeypatch):
    deep = tmp_path / "/".join("d" * 12)
    deep.mkdir(parents=True)
    (deep / "one.txt").write_bytes(GOOD)
    assert "folders more than 8 deep" in next(iter(opened(tmp_path).values()))
    monkeypatch.setattr(collect, "MOST_FILES", 2)
    for number in range(3):
        (tmp_path / f"{number}.txt").write_bytes(GOOD)
    assert opened(tmp_path)["2.txt"].startswith("more than 20,000 files")


@pytest.mark.parametrize("name", ["nothing", "not_a_zip.zip"])
def test_a_place_that_is_neither_is_refused(tmp_path, name):
    (tmp_path / "not_a_zip.zip").write_bytes(b"PK\3\4 but no more")
    with pytest.raises(Refusal, match="a folder or a zip file"), collected_files(tmp_path / name):
        pass


# Zip files ----------------------------------------------------------------------------------


def test_a_zip_is_read_without_unpacking(tmp_path):
    place = zipped(tmp_path / "all.zip", [("a/one.txt", GOOD), ("two.txt", GOOD), ("empty/", b"")])
    before = sorted(path.name for path in tmp_path.iterdir())
    assert opened(place) == {"a/one.txt": GOOD, "two.txt": GOOD}
    assert sorted(path.name for path in tmp_path.iterdir()) == before


@pytest.mark.parametrize(
    "name",
    [
        "../../evil.txt",
        "/etc/passwd",
        "C:\\windows\\evil.txt",
        "a\\..\\b.txt",
        "<script>.txt",
        "=HYPERLINK(1).txt",
        "a\nb.txt",
        "\u202egnp.txt",
        "x" * 3000 + ".txt",
    ],
)
def test_odd_names_do_no_harm(tmp_path, name):
    told = opened(zipped(tmp_path / "all.zip", [(name, GOOD)]))
    assert list(told.values()) == [GOOD] and [path.name for path in tmp_path.iterdir()] == [
        "all.zip"
    ]


def test_a_bomb_is_listed_and_never_unpacked(tmp_path):
    place = zipped(
        tmp_path / "all.zip",
        [("bomb.txt", b"0" * 900_000), ("big.txt", b"0" * 50_000_000), ("good.txt", GOOD)],
    )
    tracemalloc.start()
    told = opened(place)
    assert tracemalloc.get_traced_memory()[1] < 3e6
    tracemalloc.stop()
    assert (
        told["good.txt"] == GOOD
        and told["big.txt"] == "unpacks to more than 200 times its size, not opened"
    )
    assert told["bomb.txt"] == "unpacks to more than 200 times its size, not opened"


def test_a_bomb_that_lies_about_its_size_stops_at_the_bound(tmp_path):
    """The table of contents claims 500 kB; the stream holds 30 MB."""
    data = os.urandom(3000) * 10_000
    place = zipped(tmp_path / "all.zip", [("liar.txt", data)])
    raw = place.read_bytes()
    place.write_bytes(raw.replace(struct.pack("<I", len(data)), struct.pack("<I", 500_000)))
    tracemalloc.start()
    told = opened(place)
    assert tracemalloc.get_traced_memory()[1] < 4e6
    tracemalloc.stop()
    assert told["liar.txt"] in ("damaged, cannot be read", collect.TOO_LARGE)


def test_a_zip_in_a_zip_links_locks_and_odd_packing_are_listed(tmp_path):
    inner = io.BytesIO()
    with zipfile.ZipFile(inner, "w") as pack:
        pack.writestr("x.txt", GOOD)
    place = zipped(
        tmp_path / "all.zip",
        [
            ("inner.zip", inner.getvalue()),
            ("/".join("d" * 10) + "/x.txt", GOOD),
            ("__MACOSX/._a", b""),
        ],
    )
    with zipfile.ZipFile(place, "a") as pack:
        link = zipfile.ZipInfo("link.txt")
        link.external_attr = 0o120777 << 16
        pack.writestr(link, "/etc/passwd")
        pack.writestr("odd.txt", GOOD, compress_type=zipfile.ZIP_BZIP2)
    told = opened(place)
    assert told["link.txt"] == collect.LINK and told["odd.txt"].startswith(
        "packed in an unusual way"
    )
    assert (
        told["inner.zip"].startswith("a zip file inside") and told["__MACOSX/._a"] == collect.HIDDEN
    )
    assert told["/".join("d" * 10) + "/x.txt"].startswith("folders more than 8 deep")


def test_a_locked_file_is_listed(tmp_path):
    place = zipped(tmp_path / "all.zip", [("one.txt", GOOD)])
    raw = bytearray(place.read_bytes())
    for mark, at in ((b"PK\1\2", 8), (b"PK\3\4", 6)):
        raw[raw.find(mark) + at] |= 1
    place.write_bytes(raw)
    assert opened(place) == {"one.txt": "locked with a password, not opened"}


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_the_same_name_twice_and_too_much_in_all_are_listed(tmp_path, monkeypatch):
    place = zipped(
        tmp_path / "all.zip", [("one.txt", GOOD), ("one.txt", GOOD), ("two.txt", os.urandom(900))]
    )
    with collected_files(place) as (files, skipped):
        assert [came.name for came in files] == ["one.txt", "two.txt"] and skipped[
            0
        ].reason.startswith("the same name twice")
    monkeypatch.setattr(collect, "MOST_TOTAL", 500)
    assert "no more is read" in opened(place)["two.txt"]


def test_a_table_of_contents_without_end_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(collect, "MOST_ZIP_LIST", 5)
    place = zipped(tmp_path / "all.zip", [(f"{n}.txt", b"") for n in range(9)])
    with pytest.raises(Refusal, match="9 entries"):
        opened(place)


def test_a_damaged_zip_is_refused_or_its_files_are_listed(tmp_path):
    """One byte changed at every place of a small zip: a sentence or a reason each time."""
    place = zipped(tmp_path / "all.zip", [("one.txt", GOOD * 5), ("two.txt", GOOD)])
    whole = place.read_bytes()
    for at in range(len(whole)):
        place.write_bytes(whole[:at] + bytes([whole[at] ^ 0x41]) + whole[at + 1 :])
        try:
            told = opened(place)
        except Refusal:
            continue
        assert all(isinstance(what, (bytes, str)) for what in told.values())


def test_a_zip_date_that_is_none_is_no_date(tmp_path):
    place = tmp_path / "all.zip"
    with zipfile.ZipFile(place, "w") as pack:
        pack.writestr(zipfile.ZipInfo("one.txt", (2031, 3, 14, 17, 0, 0)), GOOD)
        pack.writestr(zipfile.ZipInfo("two.txt", (2031, 13, 40, 17, 0, 0)), GOOD)
    with collected_files(place) as (files, _):
        assert [came.received for came in files] == [datetime(2031, 3, 14, 17), None]
