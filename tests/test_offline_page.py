"""The page of lesson 02 without Python: the stage's own data, and it asks nothing of anybody.

That the stage's script works the recorded rows out as Python does stands in test_stage.
"""

import json
import re

from leverarm.handouts import offline_page
from leverarm.quantities import SYSTEMS


def data_of(page):
    return json.loads(re.search(r'id="data">(.*?)</script>', page, re.DOTALL)[1])


def test_the_page_is_one_file_that_asks_nothing_of_anybody():
    page = offline_page.page()
    # The one address is the name of the language of pictures, which nobody fetches.
    assert not re.search(
        r"https?:|\bsrc=|@import|fetch\(|XMLHttp|import\(|localStorage|cookie|\beval\b", page
    )
    assert re.findall(r"url\(([^)]*)\)", page)
    assert all(place.startswith("#") for place in re.findall(r"url\(([^)]*)\)", page))
    assert "default-src 'none'" in page
    for place in ("/*style*/", "/*script*/", "/*data*/"):
        assert place not in page
    assert len(page.encode()) < 260_000


def test_both_units_have_both_acts_and_the_first_answers_nothing():
    told = data_of(offline_page.page())
    assert set(told) == set(SYSTEMS)
    for first in told.values():
        second = first.pop("next")
        text = json.dumps(first, ensure_ascii=False)
        assert "front_said" in first["inputs"] and "overhang" not in first["inputs"]
        assert "overhang" in second["inputs"] and second["plays"]["name"] == "part"
        for answer in ("448", "188", "203", "85", "1.72", "moves to the front"):
            assert not re.search(rf"(?<![\d.]){re.escape(answer)} ?(lb|kg|<|\")", text)


def test_the_command_writes_the_file_and_refuses_other_words(tmp_path, capsys):
    assert offline_page.main([str(tmp_path / "page.html")]) == 0
    assert (tmp_path / "page.html").read_text("utf-8") == offline_page.page()
    assert offline_page.main([]) == 2 and "Name one file" in capsys.readouterr().err
