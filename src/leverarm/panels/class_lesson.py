"""The list of lessons that a class can be led through, and the class view of the one chosen."""

import ipywidgets as w

from leverarm.data import lessons, toml_file
from leverarm.panels.base import Panel
from leverarm.panels.class_view import class_view
from leverarm.panels.class_work import keep_last_lesson, last_lesson
from leverarm.panels.controls import dropdown


class ClassLesson(Panel):
    """A list of lessons, and the class view of the one that is chosen.

    view        the ClassView shown
    """

    def build(self) -> list[w.Widget]:
        label = toml_file("class_view").part("words").text("choose")
        numbers = [f"{number:02d}" for number in lessons()]
        first = "02" if "02" in numbers else numbers[0]
        self.lesson = dropdown(
            label,
            numbers,
            last_lesson(numbers, first),
            on_change=lambda _: self.attempt(self._open),
        )
        self.place = w.Box()
        self._open()
        return [self.lesson, self.place]

    def draw(self) -> None:
        """The view chosen draws itself."""

    def _open(self) -> None:
        self.view = class_view(self.lesson.value)
        keep_last_lesson(self.lesson.value)
        self.place.children = (self.view.widget,)


def class_lesson() -> ClassLesson:
    """A lesson to be chosen and led: .lesson, .view."""
    return ClassLesson()
