"""What every screen of the yard page is made of: a heading, a body, and a bar at the thumb."""

import json
from collections.abc import Iterable, Mapping

from leverarm.numerals import Numeric
from leverarm.stage.controls import hidden_unless
from leverarm.stage.elements import Element, element

Parts = Iterable[Element]


def screen(name: str, step: int, title: str, body: Parts, bar: Parts) -> Element:
    """A screen: one question, and one black button in a bar at the thumb."""
    top = element(
        "div",
        element("button", "Machines", data_go="machine", data_text="machine", class_="yp-name"),
        element("span", f"step {step} of 5"),
        class_="yp-top",
    )
    return element(
        "section",
        top,
        element("h1", title, tabindex="-1", id=f"yp-{name}"),
        element("div", *body, class_="yp-body"),
        element("div", *bar, class_="yp-bar"),
        data_screen=name,
        aria_labelledby=f"yp-{name}",
        hidden="hidden",
    )


def back(to: str) -> Element:
    """The way back."""
    return element("button", "←", data_go=to, aria_label="Back", class_="yp-back")


def go(text: str, to: str = "", *, second: bool = False, **more: object) -> Element:
    """A button of the bar; black unless it is the second one.

    to      the screen it opens; nothing where it may not yet
    """
    return element(
        "button", text, data_go=to or None, class_="yp-second" if second else "yp-go", **more
    )


def worded(text: str, kind: str = "", shown: Numeric = 1.0, **more: object) -> Element:
    """A paragraph, where it is shown."""
    return element(
        "p", text, class_=f"yp-{kind}" if kind else None, hidden=hidden_unless(shown), **more
    )


def chips(name: str, title: str, choices: Iterable[tuple[str, Mapping[str, float]]]) -> Element:
    """A row of choices of which one holds; each sets its inputs."""
    rows = [
        element(
            "label",
            element(
                "input", type="radio", name=name, value=str(n), data_set=json.dumps(dict(sets))
            ),
            element("span", text),
            class_="yp-chip",
        )
        for n, (text, sets) in enumerate(choices)
    ]
    return element(
        "fieldset",
        element("legend", title),
        element("div", *rows, class_="yp-chips"),
    )


def number_box(
    name: str, label: str, unit: str, low: float, high: float, refusal: str, kind: str = ""
) -> Element:
    """A box for one number, with the sentence that refuses another."""
    typed = element(
        "input",
        type="text",
        inputmode="decimal",
        autocomplete="off",
        data_in=name,
        data_unit=unit,
        data_low=f"{low:.10g}",
        data_high=f"{high:.10g}",
        data_refusal=refusal,
        aria_describedby=f"yp-no-{name}",
    )
    return element(
        "div",
        element("label", element("span", label), typed),
        element("p", "", class_="yp-refusal", id=f"yp-no-{name}", role="alert"),
        class_=f"yp-box {kind}".strip(),
    )


def line_box(name: str, label: str, most: int, hint: str = "blank line") -> Element:
    """A box for a line of words."""
    typed = element(
        "input",
        type="text",
        data_line=name,
        maxlength=str(most),
        placeholder=hint,
        autocomplete="off",
    )
    return element("div", element("label", element("span", label), typed), class_="yp-box")


def facts(rows: Iterable[tuple[str, str, Numeric]]) -> Element:
    """A list of names and numbers, each with whether it stands there."""
    return element(
        "dl",
        *(
            element("div", element("dt", name), element("dd", told), hidden=hidden_unless(shown))
            for name, told, shown in rows
        ),
        class_="yp-facts",
    )
