"""Files are written whole, or the old one stays."""

import os
import stat

import pytest

from leverarm.files import TRIES, write_whole


def test_a_file_is_written_and_replaced(tmp_path):
    path = tmp_path / "note.txt"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two" and [p.name for p in tmp_path.iterdir()] == ["note.txt"]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch, step):
    path = tmp_path / "note.txt"
    write_whole(path, b"old")

    def full(*_):
        raise OSError("no space left")

    monkeypatch.setattr(os, step, full)
    with pytest.raises(OSError, match="no space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old" and [p.name for p in tmp_path.iterdir()] == ["note.txt"]


def test_a_file_held_for_a_moment_is_tried_again(tmp_path, monkeypatch):
    path, real, calls = tmp_path / "note.txt", os.replace, []

    def held(*names):
        calls.append(names)
        if len(calls) < TRIES:
            raise PermissionError("held open")
        real(*names)

    monkeypatch.setattr(os, "replace", held)
    write_whole(path, b"new")
    assert path.read_bytes() == b"new" and len(calls) == TRIES


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_rights_are_kept(tmp_path):
    path = tmp_path / "note.txt"
    write_whole(path, b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
