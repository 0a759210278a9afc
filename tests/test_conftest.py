"""The fixture in conftest.py: no callback fails in silence."""

import ipywidgets
import pytest


def fail(*_):
    raise ZeroDivisionError("in a callback")


def test_a_click_that_fails_raises():
    button = ipywidgets.Button()
    button.on_click(fail)
    with pytest.raises(ZeroDivisionError, match="in a callback"):
        button.click()


def test_a_change_that_fails_raises():
    box = ipywidgets.FloatText()
    box.observe(fail, "value")
    with pytest.raises(ZeroDivisionError):
        box.value = 2.0


def test_interact_that_fails_raises():
    panel = ipywidgets.interactive(fail, {"manual": True}, x=(0, 10))
    with pytest.raises(ZeroDivisionError):
        panel.update()


def test_a_message_from_the_browser_that_fails_raises():
    button = ipywidgets.Button()
    button.on_msg(fail)
    with pytest.raises(ZeroDivisionError):
        button._handle_custom_msg({"event": "click"}, [])


def test_a_click_that_works_is_left_alone():
    seen, button = [], ipywidgets.Button()
    button.on_click(seen.append)
    button.click()
    assert seen == [button]
